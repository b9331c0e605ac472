"""Ordering a treatment: what is asked depends on the medicine; the dose is worked out below."""

from __future__ import annotations

from datetime import date

from core import clock
from core.errors import Refusal
from core.practice import medicines, treatment_words, treatments
from core.practice.dose_parts import Ask
from core.practice.keep import Act
from core.practice.plan import PlanView
from core.practice.treatments import Order
from core.records.tables import System
from tui.keys import bind
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Entry, Field
from tui.widgets.panel import Panel
from tui.widgets.row import Widths
from tui.workup.plan_order_fields import ASKS, NONE, OTHER, order_fields, target_of, usual_answers

SHOWN_LINES = 8
OF_MEDICINE = (
    *("dose", "route", "product", "strength", "interval", "hours", "steps"),
    *("from_lot", "lot_why"),
)
"""Answers that another medicine does not take over."""


class OrderDialog(FormDialog):
    """Asks for one treatment and shows, after each answer, what it comes to."""

    REMEMBERS = False

    CSS = """
    OrderDialog #dialog #form { height: auto; max-height: 9; }
    OrderDialog #dialog-below { max-height: 9; }
    """
    BINDINGS = [bind("working", "working", "All of it")]

    def __init__(self, view: PlanView, today: date) -> None:
        first = view.targets[0]
        super().__init__(
            "Order a treatment",
            lambda answers: order_fields(answers, view),
            self._order,
            lambda _: self._text,
            {"whom": Entry(first.label, first.key)},
            widths=Widths(label=20, value=32),
        )
        self.view = view
        self.today = today
        self._text = ""
        self._whole = ""

    async def _keep(self, field: Field, entry: Entry) -> None:
        self.answers[field.key] = entry
        if field.key == "medicine" and (why := medicines.refused_by_name(entry.words)):
            self._text = self._whole = f"REFUSED: {why}"
        elif field.key == "medicine":
            for key in OF_MEDICINE:
                self.answers.pop(key, None)
            self.answers |= usual_answers(entry.words, self._system())
        await self._look()
        await super()._keep(field, entry)

    async def _forgotten(self, field: Field) -> None:
        await self._look()

    def _system(self) -> System:
        target = target_of(self.answers, self.view)
        return next(s for s in self.view.opened.systems if s.id == target.system)

    async def _look(self) -> None:
        """Work the order out on the record as it stands, away from the screen's thread."""
        key = _words(self.answers, "medicine")
        if not key or "dose" not in self.answers or medicines.refused_by_name(key):
            return
        order = order_of(self.answers, self.view)
        visit = self.view.opened.visit.id
        try:
            ready = await self.app.look(treatments.prepare, visit, order, self.today)
        except Refusal as error:
            self._text = self._whole = f"{error.sentence} {error.todo}".strip()
            return
        said = treatment_words.sentences(ready)
        self._text = "\n".join(said[:SHOWN_LINES])
        steps = treatment_words.working_text(ready) if ready.dosed else ""
        self._whole = "\n".join((*said, "", steps))

    def action_working(self) -> None:
        """Show every line of the order and its working."""
        text = self._whole or "Choose a medicine first."
        self.app.push_screen(Panel("Working of this order", text))

    async def _order(self, answers: Answers) -> None:
        act = Act(self.app.worker.id, clock.now())
        order = order_of(answers, self.view)
        await self.app.save(treatments.order_treatment, act, self.view.opened.visit.id, order)


def order_of(answers: Answers, view: PlanView) -> Order:
    """Return the answers as an order."""
    target = target_of(answers, view)
    row = medicines.medicine(answers["medicine"].words)
    product = _words(answers, "product")
    running = _words(answers, "how") == "running" and row.in_water
    count = _number(answers, "steps")
    ask = Ask(
        dose=_words(answers, "dose"),
        route=_words(answers, "route") or row.routes[0],
        product="" if product in (OTHER.value, NONE.value) else product,
        strength=_words(answers, "strength") if product == OTHER.value else "",
        weight=_words(answers, "weight"),
        volume=_words(answers, "volume") if row.in_water else "",
        flow=_words(answers, "flow") if running else "",
        minutes=_words(answers, "minutes"),
        ration=_words(answers, "ration"),
        steps=int(count) if count else 1,
        scoop=_words(answers, "scoop") if row.in_water else "",
    )
    times, every = _number(answers, "repeats"), _number(answers, "interval")
    repeats = int(times) if times and ask.steps == 1 else 1
    days = _number(answers, "withdrawal")
    return Order(
        act=_words(answers, "act") or "advised",
        medicine=row.key,
        ask=ask,
        system=target.system,
        group=target.group,
        handling=target.handling,
        repeats=repeats,
        interval_days=every if repeats > 1 else None,
        starts=_day(answers, "starts"),
        off_hours=_number(answers, "hours"),
        lot=_words(answers, "lot"),
        from_lot=_words(answers, "from_lot"),
        lot_why=_words(answers, "lot_why"),
        expires=_day(answers, "expires"),
        place=_words(answers, "place"),
        directions=_words(answers, "directions"),
        reason=_words(answers, "reason"),
        withdrawal_days=None if days is None else int(days),
        said={
            key.removeprefix(ASKS): answers[key].words == "yes"
            for key in answers
            if key.startswith(ASKS)
        },
    )


def _words(answers: Answers, key: str) -> str:
    return answers[key].words if key in answers else ""


def _number(answers: Answers, key: str) -> float | None:
    return answers[key].number if key in answers else None


def _day(answers: Answers, key: str) -> date | None:
    return answers[key].day if key in answers else None
