"""Feeding check: the stock, its food, the ration against its target, and the plan for it."""

from __future__ import annotations

import asyncio
from typing import Any

from core.errors import BadInput, Refusal
from core.feeding.gates import Gate
from core.practice import feeding, feeding_plan, water
from core.practice.feeding_gate import answer
from core.practice.feeding_model import Asked, model_ramp
from core.practice.feeding_plan import PlannedStep, Rise
from core.practice.feeding_view import FeedingView, view
from core.practice.feeding_work import Inputs, shown, work_out
from core.practice.fish import Sized, understand_sized
from core.practice.visits import Opened
from core.records.tables import System
from tui.keys import bind
from tui.widgets.dialog import Answers, reason
from tui.widgets.field import Entry, Field
from tui.widgets.panel import Panel
from tui.widgets.row import Shown, Widths
from tui.workup import feeding_ask, feeding_live, feeding_rows, feeding_words
from tui.workup.feeding_rows import FOOD_KEYS
from tui.workup.stage import Stage


class FeedingStage(Stage):
    """What the fish of one water weigh, what they are fed, and what they should be."""

    TITLE = "Feeding"
    WIDTHS = Widths(label=19, value=22)
    BINDINGS = [
        bind("add"),
        bind("take_all", show=False),
        bind("last", show=False),
        bind("strike", show=False),
    ]

    def __init__(self, opened: Opened, system: System) -> None:
        super().__init__(opened, system)
        self.view: FeedingView | None = None
        self.plan: tuple[PlannedStep, ...] = ()
        self.modelled = ""
        self._typed: Inputs | None = None

    @property
    def seen(self) -> FeedingView:
        """What was read last."""
        assert self.view is not None
        return self.view

    async def load(self) -> None:
        self.view = await self.app.look(view, self.visit_id, self.system.id)
        self.plan = feeding_plan.costed(self.view)
        self._typed = None

    def fields(self) -> list[Field]:
        return feeding_rows.fields(self.seen, self.plan)

    def shown(self, field: Field) -> Shown:
        if field.key == "model" and self.modelled:
            return Shown(note=self.modelled)
        return feeding_rows.shown(self.seen, self.plan, field.key)

    async def keep(self, field: Field, entry: Entry) -> None:
        kind, _, rest = field.key.partition(" ")
        if field.kind == "act":
            await self._do(kind, rest)
            return
        try:
            if kind in ("new", "line"):
                await self._keep_size(entry, kind, rest)
            elif kind in FOOD_KEYS:
                food = self.seen.inputs.food
                columns = feeding_words.food_columns({kind: entry})
                await self._save(feeding.record_food, food.id if food else "", **columns)
            else:
                food = self.seen.inputs.food
                columns = feeding_words.columns_of(kind, entry, food.scoop_g if food else None)
                await self._save(feeding.record_fed, **columns)
        except BadInput as error:
            raise BadInput(f"{field.label}: {error.sentence}", error.todo) from None

    async def _save(self, write: Any, *args: Any, **columns: Any) -> Any:
        here = (self.visit_id, self.system.id)
        return await self.app.save(write, self.act(), *here, *args, **columns)

    async def _keep_size(self, entry: Entry, kind: str, rest: str) -> None:
        sized = understand_sized(entry.text)
        if kind == "line":
            group = feeding_live.line_with(self.seen.inputs, rest).group.id
            await self._save(feeding.record_size, group, sized, rest)
            return
        await self._save(feeding.record_size, rest, sized)
        state = self.form.row.state
        state.draft, state.typing = "", None
        await self.rebuild()
        # The cursor goes on from the line just made, so that the next one can be typed at once.
        self.form.go(self.form.index - 1)

    async def _do(self, kind: str, rest: str) -> None:
        if kind == "take":
            await self.action_take_all()
        elif kind == "jar" and not rest:
            self._ask_jar()
        elif kind == "step":
            step = self.plan[int(rest)]
            self.app.push_screen(Panel(f"{step.grams:g} g a day", step.gate))
        elif kind == "rise":
            self._ask_rise()
        elif kind == "hold":
            self._ask_hold()
        elif kind == "model":
            await self._ask_model()

    def live(self, field: Field, text: str) -> None:
        stands = self.shown(field)
        try:
            self._typed, note = feeding_live.with_typed(self.seen, field, text, self.app.today())
        except BadInput:
            self._typed, note = None, ""
        if self._typed is not None and field.key == "fed":
            found = work_out(self._typed)
            note = found.verdict.sentence if found.verdict else " ".join(found.missing)
        self.form.show_live(field.key, Shown(stands.value, note=note))
        self.paint_below()
        self.show_detail()

    def below(self) -> str:
        seen, typed = self.seen, self._typed
        if typed is None:
            return feeding_words.below(seen, seen.inputs, seen.worked, seen.rise, self.plan)
        rise = answer(Gate(), typed, seen.today)
        return feeding_words.below(seen, typed, work_out(typed), rise, self.plan)

    def working_text(self) -> str:
        if self.form.field.key == "model":
            return self.modelled
        return feeding_words.working(shown(self.seen.worked))

    def action_add(self) -> None:
        """Weigh fish together, or put down another jar when a row of the food is current."""
        kind, _, rest = self.form.field.key.partition(" ")
        if kind in FOOD_KEYS or kind == "jar":
            self._ask_jar()
        elif self.seen.here:

            async def done(group_id: str, sized: Sized) -> None:
                await self._save(feeding.record_size, group_id, sized)

            self.ask(feeding_ask.net(self.seen, rest if kind == "new" else "", done))

    async def action_take_all(self) -> None:
        await self._tried(feeding.take_in_hand)

    async def action_last(self) -> None:
        await self._tried(feeding.food_as_last)

    async def _tried(self, write: Any) -> None:
        try:
            await self._save(write)
        except Refusal as error:
            self.app.tell(error)
        else:
            await self.changed()

    def action_strike(self) -> None:
        """Strike the line, the food or the whole plan that the current row belongs to."""
        kind, _, rest = self.form.field.key.partition(" ")
        food = self.seen.inputs.food
        row_id = food.id if food and kind in FOOD_KEYS else rest
        if kind not in ("line", "jar", "step", *FOOD_KEYS) or not row_id:
            return

        async def done(why: str) -> None:
            if kind == "step":
                await self._save(feeding_plan.strike_plan, why)
            else:
                strike = feeding.strike_line if kind == "line" else feeding.strike_food
                await self.app.save(strike, self.act(), row_id, why)

        words = "the whole plan" if kind == "step" else self.form.field.label
        self.ask(reason(f"Strike {words}", done, "counted twice"))

    def _ask_jar(self) -> None:
        async def done(answers: Answers) -> None:
            await self._save(feeding.record_food, "", **feeding_words.food_columns(answers))

        self.ask(feeding_ask.jar(done))

    def _ask_rise(self) -> None:
        offered = feeding_plan.usual_rise(self.seen)
        feeding_plan.must_not_be_broken(self.seen, Gate())

        async def done(rise: Rise) -> None:
            await self._save(feeding_plan.make_rise, rise)

        self.ask(feeding_ask.rise(self.seen, offered, self.app.today(), done))

    def _ask_hold(self) -> None:
        async def done(grams: float, gate: Gate) -> None:
            await self._save(feeding_plan.hold, grams, gate)

        self.ask(feeding_ask.hold(self.seen, done))

    async def _ask_model(self) -> None:
        feeding_plan.usual_rise(self.seen)
        feeding_plan.must_not_be_broken(self.seen, Gate())
        found = await self.app.look(water.view, self.visit_id, self.system.id)
        tap = water.as_readings(found.readings("tap")).alkalinity_mg_l

        async def done(asked: Asked) -> None:
            self.run_worker(self._search(asked), group="model", exclusive=True)

        self.app.push_screen(feeding_ask.model(tap, done))

    async def _search(self, asked: Asked) -> None:
        """Ask the model on a thread of its own; the keys go on meanwhile."""
        loop = asyncio.get_running_loop()

        def trying(weeks: int) -> None:
            loop.call_soon_threadsafe(self._tell_model, f"trying a rise over {weeks} weeks")

        try:
            ramp = await asyncio.to_thread(model_ramp, self.seen, asked, trying)
        except Refusal as error:
            self._tell_model(f"{error.sentence} {error.todo}".strip())
        else:
            self._tell_model(feeding_words.model_words(ramp, asked.gate))

    def _tell_model(self, words: str) -> None:
        if self.is_mounted:
            self.modelled = words
            self.form.show_live("model", Shown(note=words))
            self.show_detail()
