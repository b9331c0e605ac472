"""The workup: one visit, walked stage by stage; it opens where it was left."""

from __future__ import annotations

from textual import getters, work
from textual.app import ComposeResult
from textual.containers import Container
from textual.screen import Screen
from textual.widgets import Static

from core.practice import visits
from core.practice.visits import Opened
from core.records.tables import System
from core.units import show
from tui.base import RoundsApp
from tui.keys import bind
from tui.widgets.foot import foot
from tui.workup.papers import Papers
from tui.workup.stage import Stage
from tui.workup.stage_list import StageList
from tui.workup.stages import BUILT, make

SHORT = {"Assessment": "Assess", "Watching": "Watch", "In hand": "In-hand"}
"""Stage names that the bar shortens, so that ten of them and their marks stand in one line."""
MARKS = {"done": "+", "begun": "", "waiting": "?", "passed over": "-"}
"""How the bar marks a stage; the heading and the list of stages say it in words."""


class WorkupScreen(Screen[None]):
    """One visit."""

    app = getters.app(RoundsApp)
    CSS_PATH = "workup.tcss"
    BINDINGS = [
        bind("back", show=True),
        bind("next_stage", show=False),
        bind("previous_stage", show=False),
        bind("other_water", show=False),
        bind("list", show=True),
        bind("print", show=False),
    ]

    def __init__(self, visit_id: str, stage: str = "") -> None:
        super().__init__()
        self.visit_id = visit_id
        self.stage_name = stage or BUILT[0]
        self.opened: Opened | None = None
        self.system: System | None = None

    def compose(self) -> ComposeResult:
        yield Static("", id="heading", markup=False)
        yield Static("", id="stages", markup=False)
        yield Container(id="stage")
        yield foot()

    def on_mount(self) -> None:
        self.open_stage(self.stage_name)

    @work(exclusive=True, group="stage")
    async def open_stage(self, name: str) -> None:
        """Show a stage in place of the one that is open."""
        self.opened = await self.app.look(visits.opened, self.visit_id)
        if self._left:
            return
        self.system = self._here(self.opened)
        stage = make(name, self.opened, self.system)
        self.stage_name = name
        holder = self.query_one("#stage", Container)
        async with self.batch():
            await holder.remove_children()
            await stage.load()
            await holder.mount(stage)
        self.paint_heading()

    @property
    def _left(self) -> bool:
        """Whether this screen was left while something was read for it."""
        return not (self.is_attached and self.display)  # being removed, it is not displayed

    def _here(self, opened: Opened) -> System:
        """Return the water that is worked up, as the record has it now."""
        here = opened.system.id if self.system is None else self.system.id
        return next(s for s in opened.systems if s.id == here)

    def paint_heading(self) -> None:
        """Show whose visit this is, which stage is open and how far each has come."""
        if self.opened is None or self.system is None or self._left:
            return
        system = self.system
        volume = show(system.volume_l, "volume") if system.volume_l else ""
        closed = "   SIGNED" if self.opened.closed else ""
        marks = self.opened.stages
        state = marks.get(self.stage_name)
        said = f"{self.stage_name}: {state.state} {state.why}".rstrip() if state else ""
        left = f" {self.opened.client.name}   {system.name} {volume}{closed}"
        self.query_one("#heading", Static).update(f"{left}   {said}")
        names = [
            self._stage_word(full) + (MARKS.get(marks[full].state, "") if full in marks else "")
            for full in BUILT
        ]
        self.query_one("#stages", Static).update(" " + " ".join(names))

    def _stage_word(self, name: str) -> str:
        short = SHORT.get(name, name)
        return short.upper() if name == self.stage_name else short

    def action_next_stage(self) -> None:
        self._step(1)

    def action_previous_stage(self) -> None:
        self._step(-1)

    def _step(self, by: int) -> None:
        names = list(BUILT)
        at = names.index(self.stage_name) + by
        if 0 <= at < len(names):
            self.stage_name = names[at]  # at once, so that the next key counts from here
            self.open_stage(names[at])

    def action_other_water(self) -> None:
        """Go to the next water of the site, in the same stage."""
        if self.opened is None or self.system is None or len(self.opened.systems) < 2:
            return
        ids = [s.id for s in self.opened.systems]
        self.system = self.opened.systems[(ids.index(self.system.id) + 1) % len(ids)]
        self.open_stage(self.stage_name)

    def action_list(self) -> None:
        """Choose a stage from the list, which says in words how far each has come."""
        if self.opened is not None:
            states = {
                name: m.state + (f": {m.why}" if m.why else "")
                for name, m in self.opened.stages.items()
            }
            self.app.push_screen(StageList(states, self.stage_name), self._chosen)

    def _chosen(self, name: str | None) -> None:
        if name:
            self.open_stage(name)

    def action_print(self) -> None:
        system = "" if self.system is None else self.system.id
        self.app.push_screen(Papers(self.visit_id, system))

    def action_back(self) -> None:
        self.dismiss()

    @work(exclusive=True, group="heading")
    async def on_stage_changed(self, message: Stage.Changed) -> None:
        message.stop()
        await self._read_heading()

    async def _read_heading(self) -> None:
        self.opened = await self.app.look(visits.opened, self.visit_id)
        self.system = self._here(self.opened)
        self.paint_heading()

    @work(exclusive=True, group="heading")
    async def refill(self) -> None:
        """Read the open stage and the heading again: something was saved elsewhere."""
        await self._read_heading()
        assert self.opened is not None
        if self.opened.visit.struck is not None:  # its booking was taken back
            self.dismiss()
            return
        for stage in self.query(Stage):
            stage.opened, stage.system = self.opened, self._here(self.opened)
            # While a row is typed in, the rows stay as they are and only show what is new.
            await (stage.reload() if stage.form.typing else stage.rebuild())

    @property
    def visit_here(self) -> str:
        """The visit that what changed is told of."""
        return self.visit_id

    def on_stage_go_to(self, message: Stage.GoTo) -> None:
        message.stop()
        if message.stage in BUILT:
            self.open_stage(message.stage)
