"""The dialog for what is given now: stops first, the volume in large digits, then the lot."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from dataclasses import replace

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Digits, Static

from core.dosing.medicines import Medicine
from core.errors import Refusal
from core.numbers import plain
from core.practice import given, giving, giving_context
from core.practice.giving_context import Context, Wanted
from core.practice.read_medicines import merged
from tui.shelf.lots import lot_fields, off_words
from tui.widgets import answers as answered
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Choice, Field
from tui.widgets.foot import foot
from tui.widgets.form import Form
from tui.widgets.row import Widths
from tui.workup.in_hand_words import said

DILUTED = (Choice("d", "diluted", "diluted"), Choice("a", "as it is", "as it is"))
ROUTES = {"injection IM": "m", "injection ICe": "c", "injection IV": "v", "oral": "o"}
OTHER = Choice("o", "other", "another")


class GiveDialog(FormDialog):
    """Asks for medicine, dose, product, lot and place; says what stands against it meanwhile.

    Parameters
    ----------
    title : str
        Which fish.
    at : Context
        The fish as the record knows it now.
    give : callable
        Records it; awaited; may raise `Refusal`.
    """

    REMEMBERS = False

    DEFAULT_CSS = """
    GiveDialog #dose { width: auto; height: 3; margin: 0 2; }
    """
    CSS = """
    GiveDialog #dialog { padding: 0; }
    GiveDialog #dialog #form { max-height: 11; }
    GiveDialog #dialog-below { max-height: 7; }
    """

    def __init__(self, title: str, at: Context, give: Callable[[Wanted], Awaitable[None]]) -> None:
        self._at = at
        self._give = give
        super().__init__(title, self._rows, self._done, self._said, widths=Widths(20, 34))

    def compose(self) -> ComposeResult:
        with Vertical(id="dialog"):
            yield Static(self._title, id="dialog-title", markup=False)
            yield Form(self.fields(), self._shown, self._keep, widths=self._widths, id="form")
            yield Digits("", id="dose")
            yield Static("", id="dialog-below", markup=False)
        yield foot()

    def _rows(self, answers: Answers) -> list[Field]:
        return rows(self._at, answers)

    def _said(self, answers: Answers) -> str:
        """Return what stands against it and what is drawn, in words."""
        wanted = wanted_of(answers)
        if wanted is None:
            return "Stops are looked at before any sum."
        off = off_words(wanted.medicine)
        try:
            return f"{off} {said(giving.worked(self._at, wanted), wanted)}".strip()
        except Refusal as error:
            return f"{off} {error.sentence} {error.todo}".strip()

    def _paint_below(self) -> None:
        super()._paint_below()
        wanted = wanted_of(self.answers)
        digits = self.query_one("#dose", Digits)
        digits.update(_large(self._at, wanted) if wanted else "")
        digits.display = bool(digits.value)

    async def _done(self, answers: Answers) -> None:
        wanted = wanted_of(answers)
        if wanted is not None:
            await self._give(wanted)


def _large(at: Context, wanted: Wanted) -> str:
    """Return the mL to draw; "" while it is not decided whether it is diluted."""
    try:
        found = giving.worked(at, wanted)
    except Refusal:
        return ""
    if found.amount_ml is None or (found.dilution is not None and wanted.diluted is None):
        return ""
    return plain(found.amount_ml)


def _text(answers: Answers, key: str) -> str:
    return answers[key].words if key in answers else ""


def wanted_of(answers: Answers) -> Wanted | None:
    """Return what the answers so far want; None before a medicine is chosen.

    What depends on the medicine stands under keys that end in its own, so that nothing of
    another one is taken over.
    """
    key = _text(answers, "medicine")
    if not key:
        return None
    diluted = _text(answers, f"diluted {key}")
    days, hours = answered.number(answers, f"days {key}"), answered.number(answers, "apart")
    return Wanted(
        key,
        _text(answers, f"route {key}"),
        answered.number(answers, f"dose {key}"),
        _text(answers, f"product {key}"),
        answered.number(answers, f"strength {key}"),
        _text(answers, "syringe"),
        None if not diluted else diluted == "diluted",
        _text(answers, "place"),
        _text(answers, "lot"),
        answers["expires"].day if "expires" in answers else None,
        None if days is None else int(days),
        _text(answers, f"reason {key}"),
        int(answered.number(answers, "repeats") or 1),
        None if hours is None else max(1, round(hours / 24)),
        _text(answers, "from_lot"),
        _text(answers, "lot_why"),
    )


def rows(at: Context, answers: Answers) -> list[Field]:
    """Return the rows that the answers so far ask for."""
    known = giving_context.injectables()
    listed = tuple(Choice("", m.key, f"{m.name}: {m.indication}, {m.form}") for m in known)
    first = Field("medicine", "Medicine", "pick", choices=listed, required=True)
    wanted = wanted_of(answers)
    if wanted is None:
        return [first]
    found = merged()[wanted.medicine]
    course = COURSE if wanted.repeats > 1 else COURSE[:1]
    last = (*lot_fields(wanted.product, answers, at.day), PLACE, _syringe(), *course)
    return [first, *_dose(found, wanted), *_asked(at, wanted), *last]


def _dose(found: Medicine, wanted: Wanted) -> list[Field]:
    key = found.key
    routes = tuple(Choice(ROUTES[r], r, r) for r in found.routes if r in ROUTES)
    rows = []
    if len(routes) > 1:
        rows.append(Field(f"route {key}", "Route", "choice", choices=routes, required=True))
    low = found.dose_high if found.dose_low is None else found.dose_low
    span = plain(low) if low == found.dose_high else f"{plain(low)} to {plain(found.dose_high)}"
    rows.append(
        Field(
            *(f"dose {key}", f"Dose, {found.unit}", "quantity", "plain", "", 0.0001, 100_000),
            example=plain(found.dose_high),
            hint=f"on record {span} {found.unit}",
            required=True,
        )
    )
    return rows + _strength(found, wanted)


def _strength(found: Medicine, wanted: Wanted) -> list[Field]:
    if found.unit == "mL/kg":
        return []
    rows, key = [], found.key
    on_shelf = giving_context.shelf(found)
    listed = tuple(
        Choice(letter, p.key, f"{p.name}, {p.strength}")
        for letter, p in zip("abcdefgh", on_shelf, strict=False)
    )
    if listed:
        choices = (*listed, OTHER)
        rows.append(Field(f"product {key}", "Product", "choice", choices=choices, required=True))
    if not listed or wanted.product == OTHER.value:
        unit = "IU/mL" if found.unit.startswith("IU") else "mg/mL"
        rows.append(
            Field(
                *(f"strength {key}", f"Strength, {unit}", "quantity", "plain", "", 0.001, 100_000),
                example="100",
                hint="from the label",
            )
        )
    return rows


def _asked(at: Context, wanted: Wanted) -> list[Field]:
    """Return the rows that what was worked out asks for: dilution, days, a reason."""
    key, rows = wanted.medicine, []
    try:
        found = giving.worked(at, wanted)
        days = giving.worked(at, replace(wanted, withdrawal_days=None))
    except Refusal:
        return []
    if found.dilution is not None:
        rows.append(Field(f"diluted {key}", "Draw it", "choice", choices=DILUTED, required=True))
    if any("withdrawal" in stop for stop in days.stops):
        rows.append(
            Field(
                *(f"days {key}", "Withdrawal, days", "count"),
                low=1,
                high=3650,
                example="180",
                hint="set by the veterinarian, with the ground",
            )
        )
    if given.needs_reason(found, wanted):
        hint = "why it is given all the same; kept in the record"
        rows.append(
            Field(f"reason {key}", "Reason", hint=hint, example="seen by two of us", required=True)
        )
    return rows


def _syringe() -> Field:
    listed = tuple(Choice("", s.name, s.name) for s in giving_context.syringes())
    hint = "the smallest that holds it, unless said"
    return Field("syringe", "Syringe", "pick", choices=listed, hint=hint)


PLACE = Field("place", "Place", "words", example="left epaxial muscle")
COURSE = (
    Field(
        "repeats",
        "Doses in all",
        "count",
        low=1,
        high=30,
        example="3",
        hint="with this one; the others are offered in Plan",
    ),
    Field("apart", "Hours between", "count", low=24, high=2160, example="72", required=True),
)
