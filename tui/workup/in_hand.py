"""In hand: a screen for each fish or scoop; `l` goes to the next, `a` takes another."""

from __future__ import annotations

from textual.app import ComposeResult

from core import clock
from core.errors import BadInput, Refusal
from core.numbers import plain
from core.practice import (
    given,
    giving_context,
    in_hand,
    in_hand_bath,
    in_hand_baths,
    in_hand_clock,
)
from core.practice.giving_context import Wanted
from core.practice.in_hand import Fish, HandView
from core.practice.keep import figures
from core.practice.names import name
from core.practice.visits import Opened
from core.records.tables import System
from tui.keys import bind
from tui.widgets.field import Entry, Field, judge
from tui.widgets.row import Shown, Widths
from tui.workup import in_hand_acts, in_hand_ask, in_hand_fields, in_hand_rows
from tui.workup.in_hand_clock import ClockScreen
from tui.workup.in_hand_give import GiveDialog
from tui.workup.in_hand_strip import Strip
from tui.workup.stage import Stage


class InHandStage(Stage):
    """One fish at a time."""

    TITLE = "In hand"
    WIDTHS = Widths(label=20, value=16)
    BINDINGS = [
        bind("add"),
        bind("place", "next_fish", "Other fish"),
        bind("clock", show=False),
        bind("give", show=False),
        bind("strike", "strike", show=False),
    ]

    def __init__(self, opened: Opened, system: System) -> None:
        super().__init__(opened, system)
        self.view: HandView | None = None
        self.fish_id = ""
        self.taken = 0
        self.strip = Strip()

    @property
    def fish(self) -> Fish | None:
        """The fish whose screen this is."""
        listed = self.view.fish if self.view else ()
        found = next((f for f in listed if f.handling.id == self.fish_id), None)
        return found or (listed[-1] if listed else None)

    def _where(self) -> tuple[str, ...]:
        return (*super()._where(), self.fish_id)

    def compose(self) -> ComposeResult:
        yield self.strip
        yield from super().compose()

    def on_mount(self) -> None:
        super().on_mount()
        self.set_interval(1.0, self._say)

    async def load(self) -> None:
        self.view = await self.app.look(in_hand.view, self.visit_id, self.system.id)
        self.fish_id = self.fish.handling.id if self.fish else ""
        self._say()

    def _say(self) -> None:
        """Put the clock, the last number and the last dose in large digits."""
        said: dict[str, tuple[str, str]] = {}
        fish = self.fish
        elapsed = fish.anaesthesia.elapsed(clock.now()) if fish else None
        if fish and elapsed is not None:
            text = in_hand_clock.clock_text(elapsed)
            said["clock"] = (f"since the bath, {fish.anaesthesia.phase}", text)
        got = [s for s in fish.samples.values() if s.got] if fish else []
        if got:
            last = max(got, key=lambda s: (s.at, s.id))
            said["number"] = (in_hand.tissues()[last.tissue].name, last.number)
        drawn = [t for t in fish.given if t.amount_unit == "mL"] if fish else []
        if drawn:
            row = drawn[-1]
            said["dose"] = (f"mL {name('medicine', row.medicine)}", plain(row.amount))
        self.strip.say(said)

    def fields(self) -> list[Field]:
        if self.fish is None or self.view is None:
            return [in_hand_fields.FIRST]
        return in_hand_fields.fields(self.view, self.fish)

    def shown(self, field: Field) -> Shown:
        return in_hand_rows.shown(self.fish, field) if self.fish else Shown(note=field.hint)

    async def keep(self, field: Field, entry: Entry) -> None:
        part, _, rest = field.key.partition(" ")
        if field.kind == "act":
            await in_hand_acts.enter(self, part, rest)
        elif part == "sample":
            await in_hand_acts.keep_sample(self, rest.split()[1], entry)
        else:
            await self._keep_own(part, entry)

    async def _keep_own(self, part: str, entry: Entry) -> None:
        key = self.fish_id
        if part == "weight":
            await self.app.save(in_hand.set_weight, self.act(), key, entry.number, entry.text)
        elif part in _BATH:
            await self.app.save(in_hand.set_bath, self.act(), key, **{_BATH[part]: entry.value})
        elif part == "days":
            days, ground = in_hand_fields.days_and_ground(entry.words)
            await self.app.save(in_hand_baths.set_withdrawal, self.act(), key, days, ground)
        elif part == "length":
            values = {"length_cm": entry.number, "length_typed": entry.text}
            await self.app.save(in_hand.set_value, self.act(), key, **values)
        else:
            await self.app.save(in_hand.set_value, self.act(), key, **{part: entry.value})
        if part in ("count", "group"):
            await self.rebuild()

    def live(self, field: Field, text: str) -> None:
        part = field.key.split()[0]
        if part not in ("level", "bath") or self.fish is None:
            return
        try:
            entry = judge(field, text, self.app.today())
        except BadInput:
            return
        row = in_hand_rows.with_typed(self.fish.handling, part, entry)
        kills = self.fish.anaesthesia.at(in_hand_clock.FIRST) is not None
        note = in_hand_bath.live_text(row, kills=kills)
        self.form.show_live(field.key, Shown(self.shown(field).value, note=note))
        self.show_detail()

    def below(self) -> str:
        if self.fish is None:
            return f"{in_hand.GLOVES}\nEnter takes the first fish, or a scoop of several, in hand."
        bath, found = self.fish.bath, self.fish.anaesthesia
        lacks = [*in_hand_acts.not_closed(self.view)]
        urgent = [*lacks, *bath.stops, *found.cautions[:1], bath.withdrawal]
        if found.phase == "before":
            # What the agent does to people is said before it is weighed, whatever else is.
            urgent = [*list(filter(None, urgent))[:1], bath.people, bath.text]
            return "\n".join([*list(filter(None, urgent))[:3], in_hand.GLOVES])
        return "\n".join([*list(filter(None, urgent))[:2], in_hand.GLOVES])

    def working_text(self) -> str:
        if self.fish is None:
            return ""
        kept = figures(self.visit_id, self.fish_id).values()
        bath = self.fish.bath
        said = [f.working for f in kept if f.name.endswith("agent")]
        said += [f"Note: {n}" for n in bath.notes]
        return "\n\n".join(said)

    def ask_done(self, made: bool | None) -> None:
        """After a screen over this one: read again when it has made something."""
        if made:
            self.run_worker(self.changed(), exit_on_error=False)

    async def action_finish(self) -> None:
        try:
            await self.app.save(in_hand.finish, self.act(), self.visit_id)
        except Refusal as error:
            self.app.tell(error)
            return
        self.app.notify(f"{self.TITLE} is done.", markup=False)
        self.post_message(self.Changed())

    def action_pass_over(self) -> None:
        lacks = next(in_hand_acts.not_closed(self.view), "")
        if lacks:
            self.app.tell(Refusal(lacks, "i opens its clock."))
        else:
            super().action_pass_over()

    async def pass_over(self, why: str) -> None:
        await self.app.save(in_hand_clock.pass_over, self.act(), self.visit_id, why)

    def on_unmount(self) -> None:
        """Say once more, when another stage is opened, what a euthanasia still lacks."""
        super().on_unmount()
        for said in in_hand_acts.not_closed(self.view):
            self.app.notify(said, title="Not closed", severity="warning", markup=False)

    def action_add(self) -> None:
        assert self.view is not None

        async def done(label: str, count: int, group: str | None) -> None:
            self.app.drafts[self._where()] = self.form.drafts()
            args = (self.visit_id, self.system.id, label, count, group)
            self.fish_id = await self.app.save(in_hand.add_fish, self.act(), *args)
            self.form.index = 0

        self.ask(in_hand_ask.next_fish(self.view, done))

    async def action_next_fish(self) -> None:
        """Go to the next fish in hand, on the same row; what was typed here waits here."""
        if self.view is None or len(self.view.fish) < 2:
            return
        ids = [f.handling.id for f in self.view.fish]
        self.app.drafts[self._where()] = self.form.drafts()
        self.fish_id = ids[(ids.index(self.fish_id) + 1) % len(ids)]
        await self.rebuild()
        self.form.set_drafts(self.app.drafts.get(self._where(), {}))
        for row in self.form.rows:
            row.paint()

    def action_clock(self) -> None:
        if self.fish is not None:
            client = self.opened.client.name
            self.app.push_screen(ClockScreen(self.fish, client), self.ask_done)

    async def action_give(self) -> None:
        if self.fish is None:
            return
        await self.may("treatment", act="given here")
        key, fish = self.fish_id, self.fish

        async def done(wanted: Wanted) -> None:
            await self.app.save(given.give, self.act(), key, wanted)

        at = giving_context.context(fish, self.app.today())
        weight = (
            f"{plain(round(at.weight_g, 2))} g, {at.weight_how}" if at.weight_g else "no weight"
        )
        self.ask(GiveDialog(f"Given here and now: {fish.handling.label}, {weight}", at, done))

    async def action_strike(self) -> None:
        if self.fish is not None:
            await in_hand_acts.strike(self, self.fish)


_BATH = {"agent": "agent", "level": "agent_mg_l", "bath": "bath_l"}
"""Rows of the bath and the columns they stand for."""
