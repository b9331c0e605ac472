"""Ordering a treatment: what is asked depends on the medicine; the dose is worked out below."""

from __future__ import annotations

from datetime import date

from core import clock
from core.errors import BadInput, Refusal
from core.practice import doses, medicines, stops_first, treatment_words, treatments
from core.practice.dose_parts import UNKNOWN_FLOW, Ask
from core.practice.keep import Act
from core.practice.plan import PlanView
from core.practice.treatment_fish import own_bath
from core.practice.treatments import Order
from core.records.tables import System
from tui.keys import bind
from tui.shelf.lots import off_words, takes
from tui.widgets import answers as answered
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Entry, Field
from tui.widgets.panel import Panel
from tui.widgets.row import Widths
from tui.workup.plan_cycle import by_cycle, cycle_words
from tui.workup.plan_order_fields import (
    ASKS,
    NONE,
    OTHER,
    for_each,
    order_fields,
    target_of,
    usual_answers,
)

SHOWN_LINES = 8
OF_MEDICINE = (
    *("dose", "route", "product", "strength", "interval", "hours", "steps", "apart", "cycle"),
    *("from_lot", "lot_why", "lot", "expires", "syringe", "scoop", "place"),
    *("withdrawal", "reason", "directions"),
)
"""Answers that another medicine does not take over."""
OF_WHOM = ("weight", "volume", "error", "ration", "how", "flow", "minutes")
"""Answers that somebody else does not take over: a weight is that of these fish."""
OF_PRODUCT = ("strength", "from_lot", "lot_why", "lot", "expires")
"""Answers that another product does not take over."""
OF_VOLUME = ("medicine", "whom", "dose", "route", "product", "strength", "weight", "syringe")
"""When one of these changes, it is said anew whether what is drawn is diluted."""


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
            lambda answers: order_fields(answers, view, dilute=self._dilute),
            self._order,
            lambda _: self._text,
            {"whom": Entry(first.label, first.key)},
            widths=Widths(label=20, value=32),
        )
        self.view = view
        self.today = today
        self._text = ""
        self._whole = ""
        self._dilute = False
        """Whether it is to be said if what is drawn is diluted."""

    async def _keep(self, field: Field, entry: Entry) -> None:
        await self._must_be_understood(field, entry)
        before = self.answers.get(field.key)
        self.answers[field.key] = entry
        if before is None or before.value != entry.value:
            self._follow(field.key)
        await self._look()
        await super()._keep(field, entry)
        if field.key == "cycle":
            # It fills in rows that stand there already.
            self.form.refresh_rows()

    async def _must_be_understood(self, field: Field, entry: Entry) -> None:
        """Refuse beside its row a figure of the wrong kind; nothing is reckoned from the old."""
        key = answered.words(self.answers, "medicine")
        if not key or key in medicines.refused_names():
            return
        try:
            doses.must_be_understood(medicines.medicine(key), field.key, entry.words)
        except BadInput as error:
            self.answers.pop(field.key, None)
            await self._look()
            self._paint_below()
            raise BadInput(f"{field.label}: {error.sentence}", error.todo) from error

    def _follow(self, changed: str) -> None:
        """Drop the answers that were given for something else, and fill in what is usual."""
        dropped = {"medicine": OF_MEDICINE, "whom": OF_WHOM, "product": OF_PRODUCT}
        for key in dropped.get(changed, ()):
            self.answers.pop(key, None)
        if changed in OF_VOLUME:
            self.answers.pop("diluted", None)
        if changed == "cycle":
            self.answers |= by_cycle(self.answers, self.view)
        key = answered.words(self.answers, "medicine")
        if changed not in ("medicine", "whom") or not key or key in medicines.refused_names():
            return
        if changed == "medicine" and for_each(key) and self._whole_water():
            self.answers.pop("whom", None)
        usual = usual_answers(key, self._system())
        self.answers |= {k: v for k, v in usual.items() if changed == "medicine" or k in OF_WHOM}

    def _whole_water(self) -> bool:
        target = target_of(self.answers, self.view)
        return target.group is None and target.handling is None

    async def _forgotten(self, field: Field) -> None:
        if field.key in OF_VOLUME:
            self.answers.pop("diluted", None)
        await self._look()

    def _system(self) -> System:
        target = target_of(self.answers, self.view)
        return next(s for s in self.view.opened.systems if s.id == target.system)

    async def _look(self) -> None:
        """Work the order out on the record as it stands, away from the screen's thread."""
        key = answered.words(self.answers, "medicine")
        self._dilute = False
        if key and (why := medicines.refused_by_name(key)):
            self._text = self._whole = f"REFUSED: {why}"
        elif key and "whom" not in self.answers:
            self._text = self._whole = f"{off_words(key)} Say which fish are injected.".strip()
        elif key and "dose" not in self.answers:
            await self._before_dose(key)
        elif key:
            await self._prepare()

    async def _before_dose(self, key: str) -> None:
        """Say what stands against the medicine before anything is reckoned."""
        of, visit = target_of(self.answers, self.view), self.view.opened.visit.id
        found = await self.app.look(stops_first.words, visit, key, of.system, of.group, of.handling)
        asks = f"{off_words(key)} Type the dose with its unit.".strip()
        self._text = self._whole = "\n".join((*found, asks))

    async def _prepare(self) -> None:
        order = order_of(self.answers, self.view)
        visit = self.view.opened.visit.id
        try:
            ready = await self.app.look(treatments.prepare, visit, order, self.today)
        except Refusal as error:
            self._text = self._whole = f"{error.sentence} {error.todo}".strip()
            return
        self._dilute = doses.asks_dilution(ready.row, ready.ask)
        cycle = cycle_words(ready.row, self.view, order.interval_days, ready.days[0])
        said = (*treatment_words.sentences(ready), *cycle)
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
    product = answered.words(answers, "product")
    runs = row.in_water and not own_bath(row, target.handling)
    running = runs and answered.words(answers, "how") == "running"
    count = answered.number(answers, "steps")
    ask = Ask(
        dose=answered.words(answers, "dose"),
        route=answered.words(answers, "route") or row.routes[0],
        product="" if product in (OTHER.value, NONE.value) else product,
        strength=answered.words(answers, "strength") if product == OTHER.value else "",
        weight=answered.words(answers, "weight"),
        volume=answered.words(answers, "volume") if row.in_water else "",
        flow=(answered.words(answers, "flow") or UNKNOWN_FLOW) if running else "",
        minutes=answered.words(answers, "minutes"),
        error_percent=answered.number(answers, "error"),
        ration=answered.words(answers, "ration"),
        steps=int(count) if count else 1,
        apart_h=int(answered.number(answers, "apart") or 24),
        scoop=answered.words(answers, "scoop") if row.in_water else "",
        syringe=answered.words(answers, "syringe"),
        diluted=answered.words(answers, "diluted") == "diluted" if "diluted" in answers else None,
    )
    times, every = answered.number(answers, "repeats"), answered.number(answers, "interval")
    repeats = int(times) if times and ask.steps == 1 else 1
    days = answered.number(answers, "withdrawal")
    return Order(
        act=answered.words(answers, "act") or "advised",
        medicine=row.key,
        ask=ask,
        system=target.system,
        group=target.group,
        handling=target.handling,
        repeats=repeats,
        interval_days=every if repeats > 1 else None,
        starts=answered.day(answers, "starts"),
        off_hours=answered.number(answers, "hours"),
        lot=answered.words(answers, "lot"),
        from_lot=answered.words(answers, "from_lot") if takes(answers) else "",
        lot_why=answered.words(answers, "lot_why"),
        expires=answered.day(answers, "expires"),
        place=answered.words(answers, "place"),
        directions=answered.words(answers, "directions"),
        reason=answered.words(answers, "reason"),
        withdrawal_days=None if days is None else int(days),
        said={
            key.removeprefix(ASKS): answers[key].words == "yes"
            for key in answers
            if key.startswith(ASKS)
        },
    )
