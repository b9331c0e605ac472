"""The clock of one anaesthesia over the whole screen: every moment is one key."""

from __future__ import annotations

from datetime import datetime

from textual import getters
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Digits, Static

from core import clock
from core.errors import Refusal
from core.practice import in_hand, in_hand_clock
from core.practice.in_hand import Fish
from core.practice.keep import Act
from tui.base import RoundsApp
from tui.keys import bind
from tui.widgets.dialog import Answers, FormDialog, reason
from tui.widgets.field import Choice, Field
from tui.widgets.foot import foot
from tui.widgets.row import Widths

YES_NO = (Choice("y", "yes", "yes"), Choice("n", "no", "no"))
LAST = 5
"""So many marks are shown; the record has them all."""


class ClockScreen(ModalScreen[bool]):
    """Shows the time since the bath and takes each moment with one digit."""

    app = getters.app(RoundsApp)
    DEFAULT_CSS = """
    ClockScreen { align: center middle; }
    #clock { width: 80; max-width: 100%; height: 100%; background: $panel; padding: 0 2; }
    #clock-title { text-style: bold; }
    #clock-now { width: auto; height: 3; }
    #clock-caution { text-style: bold; }
    """
    BINDINGS = [
        *(Binding(str(n), f"mark({n})", f"Mark {n}", show=False) for n in range(1, 10)),
        bind("strike", "strike", "Take back the last"),
        Binding("escape,backspace,i", "leave", "Close", key_display="esc"),
    ]

    def __init__(self, fish: Fish, owner: str) -> None:
        super().__init__()
        self.fish = fish
        self._owner = owner
        self._marked = False

    def compose(self) -> ComposeResult:
        with Vertical(id="clock"):
            yield Static(self._title(), id="clock-title", markup=False)
            yield Digits("", id="clock-now")
            for part in ("bath", "keys", "caution", "marks"):
                yield Static("", id=f"clock-{part}", markup=False)
        yield foot()

    def on_mount(self) -> None:
        self.paint_all()
        self.set_interval(1.0, self.paint_time)

    def _title(self) -> str:
        row = self.fish.handling
        return f"{row.label}  minutes and seconds since it went into the bath"

    def paint_time(self) -> None:
        """Show the running time."""
        elapsed = self.fish.anaesthesia.elapsed(clock.now())
        text = in_hand_clock.clock_text(elapsed) if elapsed is not None else "--:--"
        self.query_one("#clock-now", Digits).update(text)

    def paint_all(self) -> None:
        """Show what can be marked now and what was."""
        self.paint_time()
        found = self.fish.anaesthesia
        bath = " ".join(filter(None, (self.fish.handling.agent, self.fish.bath.text)))
        keys = [f"  {n}  {_said(e)}" for n, e in enumerate(in_hand_clock.events(found), 1)]
        parts = {
            "bath": bath,
            "keys": "\n".join(keys),
            "caution": "\n".join((*found.cautions, *_lacks(found.lacking))),
            "marks": "\n".join(("Marked", *found.lines[-LAST:])) if found.lines else "",
        }
        for part, text in parts.items():
            self.query_one(f"#clock-{part}", Static).update(text)

    async def action_mark(self, number: int) -> None:
        """Mark what stands under a digit; the moment is that of the key."""
        listed = in_hand_clock.events(self.fish.anaesthesia)
        if number > len(listed):
            return
        event, now = listed[number - 1], clock.now()
        asks = {
            in_hand_clock.FIRST: self._consent,
            in_hand_clock.SECOND: self._second,
            in_hand_clock.DEAD: self._signs,
        }.get(event)
        if asks is None:
            await self._try(event, "", now)
        else:
            self.app.push_screen(asks(now), self._after)

    async def _try(self, event: str, note: str, at: datetime) -> None:
        try:
            await self._mark(event, note, at)
        except Refusal as error:
            self.app.tell(error)
        await self._after(made=True)

    async def _mark(self, event: str, note: str, at: datetime) -> None:
        act = Act(self.app.worker.id, at)
        await self.app.save(in_hand_clock.mark, act, self.fish.handling.id, event, note)
        self._marked = True

    async def _after(self, made: bool | None) -> None:
        if made:
            self.fish = await self.app.look(in_hand.one, self.fish.handling.id)
            self.paint_all()

    def _consent(self, now: datetime) -> FormDialog:
        field = Field("who", "Whose consent", example=self._owner, required=True)

        async def done(answers: Answers) -> None:
            note = in_hand_clock.CONSENT + answers["who"].words
            await self._mark(in_hand_clock.FIRST, note, now)

        title = "Euthanasia, first step: the overdose. Powder: gloves, goggles, mask"
        return FormDialog(title, [field], done, widths=Widths(label=16, value=44))

    def _second(self, now: datetime) -> FormDialog:
        ways = in_hand_clock.rules()["euthanasia"]["second_steps"]
        listed = tuple(Choice(letter, w, w) for letter, w in zip("abcdefgh", ways, strict=False))
        field = Field("how", "Which", "choice", choices=listed, required=True)

        async def done(answers: Answers) -> None:
            await self._mark(in_hand_clock.SECOND, answers["how"].words, now)

        return FormDialog("Euthanasia, second step", [field], done)

    def _signs(self, now: datetime) -> FormDialog:
        listed = in_hand_clock.rules()["euthanasia"]["signs_of_death"]
        fields = [Field(sign, sign, "choice", choices=YES_NO) for sign in listed]

        async def done(answers: Answers) -> None:
            seen = [s for s in listed if s in answers and answers[s].words == "yes"]
            await self._mark(in_hand_clock.DEAD, "; ".join(seen), now)

        widths = Widths(label=42, value=8)
        return FormDialog("Death confirmed by these signs", fields, done, widths=widths)

    def action_strike(self) -> None:
        async def done(why: str) -> None:
            act = Act(self.app.worker.id, clock.now())
            await self.app.save(in_hand_clock.take_back, act, self.fish.handling.id, why)
            self._marked = True

        self.app.push_screen(reason("Take back the last mark", done, "wrong key"), self._after)

    def action_leave(self) -> None:
        self.dismiss(self._marked)


def _said(event: str) -> str:
    """Return an event with what it looks like, where the catalogue says so."""
    stages = (*in_hand_clock.scale("depth"), *in_hand_clock.scale("recovery"))
    signs = {in_hand_clock.event_of(s): f"{s.name}: {s.signs}" for s in stages}
    if event == in_hand_clock.FIRST:
        return "euthanasia, first step: the overdose"
    if event == in_hand_clock.SECOND:
        return "euthanasia, second step"
    return signs.get(event, event)


def _lacks(lacking: tuple[str, ...]) -> tuple[str, ...]:
    return (f"Not closed yet, missing: {', '.join(lacking)}.",) if lacking else ()
