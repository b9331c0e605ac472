"""Plan: what is given, dispensed, prescribed and advised; the owner's steps; the rechecks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date

from rich.cells import cell_len

from core import dates
from core.practice import plan, plan_rechecks, plan_steps, treatments
from core.practice.keep import figures
from core.practice.plan import ACTS, PlanView, TreatmentLine
from core.practice.recheck_visits import outcome
from core.practice.treatment_said import sentence, short
from core.practice.visits import Opened
from core.records.tables import Figure, OwnerStep, Recheck, System
from tui.keys import bind
from tui.saying import counted
from tui.widgets.field import Entry, Field
from tui.widgets.row import Shown, Widths
from tui.widgets.strike import strike_dialog
from tui.workup import plan_ask
from tui.workup.fitting import in_lines
from tui.workup.plan_order import OrderDialog
from tui.workup.plan_recheck import Planned, RecheckDialog
from tui.workup.plan_words import (
    WRITES,
    recheck_words,
    step_word,
    treatment_note,
    treatment_working,
)
from tui.workup.stage import MOST_DETAIL, Stage


class PlanStage(Stage):
    """The plan of one water."""

    TITLE = "Plan"
    WIDTHS = Widths(label=44, value=18)
    BINDINGS = [
        bind("add", "add", "Add"),
        bind("take_all", "take_all", "Take all offered"),
        bind("strike", "strike", "Strike", show=False),
    ]

    def __init__(self, opened: Opened, system: System) -> None:
        super().__init__(opened, system)
        self.view: PlanView | None = None
        self.kept: dict[str, Figure] = {}

    async def load(self) -> None:
        self.view = await self.app.look(plan.view, self.visit_id, self.system.id)
        self.kept = {}
        for line in self.view.treatments:
            found = await self.app.look(figures, self.visit_id, line.treatment.id)
            if "amount" in found:
                self.kept[line.treatment.id] = found["amount"]

    @property
    def seen(self) -> PlanView:
        """The view; there is one once the stage is shown."""
        assert self.view is not None
        return self.view

    def fields(self) -> list[Field]:
        return [*self._treatments(), *self._steps(), *self._rechecks()]

    def _treatments(self) -> list[Field]:
        found = []
        for act in ACTS:
            for n, line in enumerate(self.seen.of(act)):
                section = "" if n else act.capitalize()
                whom = f"{line.whom}: " if line.treatment.handling else ""
                label = f"{whom}{line.name}, {line.treatment.route}"
                found.append(Field(f"treatment {line.treatment.id}", label, "act", section=section))
        return [
            *found,
            Field("order", "Order a treatment: enter", "act", section="To order"),
            Field("correct", "Correct the water, as with salt: enter", "act"),
            Field("level", "Change temperature, pH or salt: enter", "act"),
        ]

    def _steps(self) -> list[Field]:
        rows = [Field(f"step {s.id}", s.words, "act") for s in self.seen.steps]
        rows += [Field(f"offer {o.origin}", o.words, "act") for o in self.seen.step_offers]
        rows.append(Field("line", "Another line for the owner: enter", "act"))
        return _headed(rows, "For the owner")

    def _rechecks(self) -> list[Field]:
        rows = [Field(f"recheck {r.id}", r.reason, "act") for r in self.seen.rechecks]
        rows += [Field(f"look {o.origin}", o.reason, "act") for o in self.seen.recheck_offers]
        rows.append(Field("again", "Another recheck: enter", "act"))
        return _headed(rows, "When we look again")

    def _fitted(self, label: str, note: str) -> str:
        """Return the note of a treatment for the lines under the form, a long label before it."""
        cut = cell_len(label) > self.WIDTHS.label
        whole = f"{label}. {note}" if cut else note
        return in_lines([whole], (self.size.width or 80) - 1, most=MOST_DETAIL)

    def shown(self, field: Field) -> Shown:
        kind, _, key = field.key.partition(" ")
        if (line := self._treatment(key)) is not None:
            amount = f"{short(line.treatment.amount)} {line.treatment.amount_unit}"
            note = treatment_note(line, self._day)
            return Shown(amount, note=note, detail=self._fitted(field.label, note))
        if (step := self._step(key)) is not None:
            return Shown(step_word(step.kind, step.day, self._day), note=step.words)
        if (recheck := self._recheck(key)) is not None:
            target = dates.said(recheck.target, self._day)
            note = recheck_words(recheck, self.seen.booked.get(key), self._day)
            return Shown(f"{target} {recheck.kind}", note=note)
        if kind == "offer":
            offer = next(o for o in self.seen.step_offers if o.origin == key)
            said = step_word(offer.kind, offer.day, self._day)
            return Shown(said, "offer", note=offer.words, pending=True)
        if kind == "look":
            look = next(o for o in self.seen.recheck_offers if o.origin == key)
            said = dates.said(look.window.target, self._day)
            note = f"{look.reason}. {look.note}"
            return Shown(said, "offer", note=note, pending=True)
        return Shown(note=field.hint)

    @property
    def _day(self) -> date:
        return self.opened.visit.day

    def _treatment(self, key: str) -> TreatmentLine | None:
        return next((t for t in self.seen.treatments if t.treatment.id == key), None)

    def _step(self, key: str) -> OwnerStep | None:
        return next((s for s in self.seen.steps if s.id == key), None)

    def _recheck(self, key: str) -> Recheck | None:
        return next((r for r in self.seen.rechecks if r.id == key), None)

    async def keep(self, field: Field, entry: Entry) -> None:
        kind, _, key = field.key.partition(" ")
        act, visit, system = self.act(), self.visit_id, self.system.id
        if kind == "offer":
            await self.app.save(plan_steps.take_steps, act, visit, system, (key,))
            await self.changed()
        elif kind == "look":
            offer = next(o for o in self.seen.recheck_offers if o.origin == key)
            made = await self.app.save(plan_rechecks.take_recheck, act, visit, system, offer)
            await self.changed()
            await self._say_booked(made)
        else:
            await self._open(kind, key)

    async def _open(self, kind: str, key: str) -> None:
        """Open the dialog of a row."""
        await self.may(WRITES.get(kind, "treatment"))
        if kind in ("step", "line"):
            plan_ask.step(self, self._step(key))
        elif kind in ("recheck", "again"):
            self._ask_recheck(self._recheck(key))
        elif kind == "correct":
            plan_ask.correction(self)
        elif kind == "level":
            plan_ask.level(self)
        elif (line := self._treatment(key)) is not None:
            plan_ask.details(self, line)
        else:
            self.ask(OrderDialog(self.seen, self.app.today()))

    async def action_add(self) -> None:
        """Add what the current row's part of the plan holds."""
        kind = self.form.field.key.partition(" ")[0]
        if kind in ("step", "offer", "line"):
            await self._open("line", "")
        elif kind in ("recheck", "look", "again"):
            await self._open("again", "")
        else:
            await self._open("order", "")

    async def action_take_all(self) -> None:
        await self.app.save(plan_steps.take_steps, self.act(), self.visit_id, self.system.id)
        await self.changed()

    def _ask_recheck(self, row: Recheck | None) -> None:
        held = self.seen.booked.get(row.id) if row else None
        of = Planned(self.opened.visit, self.system.id, row, held)
        dialog = RecheckDialog(of, self.seen.vets)

        async def after(made: bool | None) -> None:
            if made:
                await self.changed()
                await self._say_booked(dialog.made)

        self.app.push_screen(dialog, after)

    async def _say_booked(self, recheck: str) -> None:
        said = await self.app.look(outcome, recheck, self.app.today())
        self.app.notify(said, title="When we look again", markup=False)

    async def action_strike(self) -> None:
        kind, _, key = self.form.field.key.partition(" ")
        strikes: dict[str, Callable[..., None]] = {
            **{t.treatment.id: treatments.strike_treatment for t in self.seen.treatments},
            **{s.id: plan_steps.strike_step for s in self.seen.steps},
            **{r.id: plan_rechecks.strike_recheck for r in self.seen.rechecks},
        }
        if (write := strikes.get(key)) is not None:
            await self.may(WRITES.get(kind, "treatment"))
            said = (self.form.field.label, write, key, "the owner will not")
            self.ask(await strike_dialog(self.app, self.act, *said))

    def below(self) -> str:
        seen = self.seen
        found = [f"MOVEMENT STOP. {s}" for s in seen.movement]
        if seen.withdrawal is not None:
            found.append(f"Food fish, what ends last: {seen.withdrawal.sentence}")
        found += [f"Food fish: {s}" for s in seen.unknown_withdrawals]
        if seen.steps and not seen.has_stop_rule:
            found.append("The owner has no stop rule yet.")
        found += [sentence(line.unsaid) for line in seen.treatments if line.unsaid]
        waiting = len(seen.step_offers)
        found.append(
            f"{counted(waiting, 'line')} offered for the owner: v takes all." if waiting else ""
        )
        found += [f"{words}. e goes there." for words in seen.elsewhere]
        return "\n".join(filter(None, found))

    def working_text(self) -> str:
        kind, _, key = self.form.field.key.partition(" ")
        line = self._treatment(key)
        if line is not None:
            kept = self.kept.get(key)
            return treatment_working(line, self._day, kept.working if kept else "")
        if kind == "look":
            look = next(o for o in self.seen.recheck_offers if o.origin == key)
            return f"{look.reason}. {look.note}\nsource: {plan_rechecks.cited(look)}"
        return ""


def _headed(rows: list[Field], section: str) -> list[Field]:
    return [replace(rows[0], section=section), *rows[1:]]
