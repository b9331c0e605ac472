"""The rows of the practice's screen: what each page asks, and what stands in each row."""

from __future__ import annotations

from core import clock
from core.billing.money import money
from core.dates import said
from core.practice import access, keeping
from core.practice.practice_view import PracticeView
from core.practice.price_list import use
from core.practice.read_medicines import WHERE
from core.records.tables import Person
from tui.widgets import choices
from tui.widgets.field import Choice, Field
from tui.widgets.row import Shown, Widths

GONE = "not in the list any more"
"""Said in a row of what was struck or taken back, until the rows are asked anew."""
PAGES = ("People", "Details", "Prices", "Settings")
SHELF = (
    "A medicine is off until a veterinarian here has read its row. Enter opens the list, and "
    "the shelf: products, lots and the drug log."
)
WIDTHS = {
    "People": Widths(label=22, value=13),
    "Details": Widths(label=18, value=34),
    "Prices": Widths(label=40, value=12),
    "Settings": Widths(label=48, value=5),
}
CHOSEN: dict[str, tuple[Choice, ...]] = {
    "units": choices.UNITS,
    "paper": choices.PAPERS,
    "label_size": choices.LABELS,
    "open_days": choices.DAYS,
    "tax_rounding": choices.ROUNDING,
}
_DETAILS = (
    Field("name", "Name", required=True, section="The practice, as papers print it"),
    Field("address", "Address", required=True),
    Field("phone", "Phone", required=True, hint="printed large on sheets"),
    Field("email", "E-mail"),
    Field("licence", "Practice licence"),
    Field("terms", "Terms of payment", hint="printed on invoices"),
    Field("authority", "Authority", hint="who is told of a suspected listed disease"),
    Field("opens", "Visits from", example="08:00", required=True, section="The day"),
    Field("closes", "Visits until", example="18:00", required=True),
    Field("open_days", "Visits on", "choice", choices=choices.DAYS),
    Field("zone", "Time zone", example="Europe/Lisbon", required=True),
    Field("units", "Units", "choice", choices=choices.UNITS, section="How things are shown"),
    Field("paper", "Paper", "choice", choices=choices.PAPERS),
    Field("label_size", "Labels", "choice", choices=choices.LABELS),
    Field("tax_rounding", "Tax is rounded", "choice", choices=choices.ROUNDING),
)


def fields(page: str, view: PracticeView) -> list[Field]:
    """Return the rows of a page."""
    return {
        "People": _people,
        "Details": lambda _: list(_DETAILS),
        "Prices": _prices,
        "Settings": _settings,
    }[page](view)


def _people(view: PracticeView) -> list[Field]:
    own = Field("pin", "Your PIN", "act", section="You", hint="Enter sets one")
    listed = [
        Field(f"person {p.id}", p.name, "act", section="" if n else "Who may be at work")
        for n, p in enumerate(view.people)
    ]
    return [own, *listed]


def _prices(view: PracticeView) -> list[Field]:
    taxes = [
        Field(
            *(f"tax {t.id}", f"Tax on {t.name}, %", "money"),
            low=0,
            high=100,
            example="7",
            section="" if n else "Taxes",
        )
        for n, t in enumerate(view.taxes)
    ]
    lines = [
        Field(
            *(f"price {p.id}", p.name, "money"),
            low=0,
            high=9_999_999,
            example="45.00",
            section="" if n else f"Prices before tax, in {view.house.currency}",
        )
        for n, p in enumerate(view.prices)
    ]
    return [*taxes, *lines]


def _settings(view: PracticeView) -> list[Field]:
    idle = Field(
        *("idle", "Lock after so many idle minutes", "count"),
        low=0,
        high=access.IDLE_MOST,
        section="The lock",
        hint="0 for never; ! locks at once",
    )
    kept = [
        Field(
            *(f"keep {kind.key}", f"Years: {kind.name}", "count"),
            low=1,
            high=keeping.MOST_YEARS,
            section="" if n else "How long records are kept; the law of the place decides",
        )
        for n, kind in enumerate(view.keeping)
    ]
    shelf = Field(
        *("shelf", WHERE, "act"),
        section="Medicines",
        hint="Enter opens: what is on, and what is left",
    )
    return [idle, *kept, shelf]


def shown(view: PracticeView, field: Field, worker: str) -> Shown:
    """Return what stands in a row."""
    part, _, key = field.key.partition(" ")
    if part == "pin":
        return _pin(view, worker)
    if part == "person":
        person = next((p for p in view.people if p.id == key), None)
        return _person(view, person) if person else Shown(note=GONE)
    if part == "price":
        price = next((p for p in view.prices if p.id == key), None)
        if price is None:
            return Shown(note=GONE)
        amount = money(price.unit_minor, "", view.house.currency_exponent).strip()
        return Shown(
            amount,
            note=price.tax_class,
            detail=f"{price.name}, for {use(price)}. Tax: {price.tax_class}. a adds a price.",
        )
    if part == "tax":
        rate = next(t for t in view.taxes if t.id == key).rate_percent
        return Shown(f"{rate.normalize():f}")
    return _plain(view, part, key)


def _plain(view: PracticeView, part: str, key: str) -> Shown:
    if part == "shelf":
        return Shown("", pending=True, note="Enter", detail=SHELF)
    if part == "idle":
        return Shown(str(view.idle_min), detail="0 for never. ! locks at once, whoever has a PIN.")
    if part == "keep":
        kind = next(k for k in view.keeping if k.key == key)
        return Shown(str(kind.years), detail=f"{kind.how}. {kind.note}")
    value = view.label_size if part == "label_size" else str(getattr(view.house, part))
    return Shown(choices.label(CHOSEN[part], value) if part in CHOSEN else value)


def _pin(view: PracticeView, worker: str) -> Shown:
    if worker not in view.with_pin:
        detail = "Enter sets it, and shows a recovery code once. With a PIN, ! locks the app."
        return Shown("none", pending=True, note="Enter sets one", detail=detail)
    what, at = view.pin_marks[worker]
    day = clock.local(at, view.house.zone).date()
    detail = (
        f"{what}, {said(day, clock.today(view.house.zone))}. Enter changes it; ! locks the app."
    )
    return Shown("set", pending=True, note="Enter changes it", detail=detail)


def _person(view: PracticeView, person: Person) -> Shown:
    parts = ["has a PIN" if person.id in view.with_pin else "no PIN"]
    parts.append(f"licence {person.licence}" if person.licence else "")
    if not person.active:
        parts = ["not at work here any more"]
    note = ", ".join(filter(None, parts))
    detail = f"{person.name}, {person.role}: {note}. Enter changes it; a adds somebody."
    return Shown(person.role, pending=True, note=note, detail=detail)
