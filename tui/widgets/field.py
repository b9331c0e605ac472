"""What a form asks for, as data, and how one typed answer is judged."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from core import dates
from core.errors import BadInput
from core.numbers import decimal, plain
from core.units import KINDS, understand
from tui.widgets.typing import readable

FieldKind = Literal["quantity", "count", "choice", "pick", "words", "date", "money", "act"]
MOST_NEAR, LEAST_NEAR = 3, 75
"""So many near labels are offered, and so alike, of 100, they must be."""
LONGEST = 4000
"""No single answer is longer than this; a pasted book is refused, not cut."""

SAID = {"u": "unknown", "unknown": "unknown", "?": "unknown", "n": "no", "no": "no", "none": "no"}
"""What is typed to a question put to a person, when the answer is no value."""


@dataclass(frozen=True)
class Choice:
    """One answer of a closed list: picked by its letter, or in a ``pick`` by typing part of it."""

    letter: str
    value: str
    label: str


@dataclass(frozen=True)
class Field:
    """One row of a form.

    Attributes
    ----------
    key : str
        Name under which the stage knows the row.
    kind : str
        What is typed; ``act`` is nothing: Enter does at once what the row says.
    quantity : str
        For kind ``quantity``: a key of `core.units.KINDS`.
    unit : str
        The unit meant when only a number is typed; shown behind the box.
    low, high : float
        What can be; outside is refused. In the canonical unit of the quantity.
    likely : tuple of float
        What is usual; outside is saved, with a note that asks to look again.
    steps : bool
        Whether ``<0.05`` and ``>4`` may be typed: readings beyond the steps of a kit.
    asked : bool
        A question put to a person: ``u`` (unknown) and ``n`` (no) answer it beside a value.
    """

    key: str
    label: str
    kind: FieldKind = "words"
    quantity: str = "plain"
    unit: str = ""
    low: float | None = None
    high: float | None = None
    likely: tuple[float, float] | None = None
    steps: bool = False
    asked: bool = False
    choices: tuple[Choice, ...] = ()
    example: str = ""
    hint: str = ""
    section: str = ""
    required: bool = False
    past: bool = False
    """A date of something that has happened: none after today."""
    expiry: bool = False
    """A date as a pack prints it: a month means its last day."""
    near: bool = False
    """In a ``pick``: where nothing fits, what is nearly the same is offered."""


@dataclass(frozen=True)
class Entry:
    """One answer, understood."""

    text: str
    value: float | int | str | date | Decimal
    unit: str = ""
    below: bool = False
    above: bool = False
    said: str = "value"
    """``value``, or ``no`` or ``unknown`` where a field is `asked`."""

    @property
    def number(self) -> float:
        """The answer as a number."""
        assert isinstance(self.value, int | float)
        return self.value

    @property
    def words(self) -> str:
        """The answer as text."""
        return str(self.value)

    @property
    def day(self) -> date:
        """The answer as a date."""
        assert isinstance(self.value, date)
        return self.value

    @property
    def exact(self) -> Decimal:
        """The answer as an exact amount of money."""
        assert isinstance(self.value, Decimal)
        return self.value


def judge(field: Field, text: str, today: date) -> Entry:
    """Return what was typed as an entry.

    Raises
    ------
    BadInput
        With one sentence that names the field, what is allowed and an example.
    """
    try:
        if len(text) > LONGEST:
            raise BadInput(f"That is {len(text)} characters; {LONGEST} are the most.")
        if field.asked and (said := SAID.get(text.strip().lower())):
            return Entry(said, said, said=said)
        return _READ[field.kind](field, text.strip(), today)
    except BadInput as error:
        raise BadInput(f"{field.label.strip()}: {error.sentence} {asks(field)}") from None


def asks(field: Field) -> str:
    """Return what a field takes, in words: its range and an example."""
    parts = []
    unit = KINDS[field.quantity].canonical
    if field.low is not None and field.high is not None:
        parts.append(f"Allowed {plain(field.low)} to {plain(field.high)} {unit}".rstrip() + ".")
    if field.choices and field.kind == "choice":
        parts.append("One of " + ", ".join(f"{c.letter} {c.label}" for c in field.choices) + ".")
    if example := example_of(field):
        parts.append(f"For example {example}.")
    if field.asked:
        parts.append("u when not known, n for no.")
    return " ".join(parts)


def example_of(field: Field) -> str:
    """Return an example of an answer."""
    if field.example or field.kind in ("words", "choice"):
        return field.example
    if field.kind == "pick":
        return field.choices[0].label if field.choices else ""
    return {"date": dates.EXAMPLE, "count": "3", "money": "45.00"}.get(
        field.kind, KINDS[field.quantity].example
    )


def _quantity(field: Field, text: str, _: date) -> Entry:
    typed = understand(text, field.quantity, field.unit)
    if (typed.below or typed.above) and not field.steps:
        raise BadInput("A sign < or > is not one number.")
    _in_range(field, typed.value, text)
    return Entry(text, typed.value, typed.unit or field.unit, typed.below, typed.above)


def _in_range(field: Field, value: float | Decimal, text: str) -> None:
    low, high = field.low, field.high
    if (low is not None and value < low) or (high is not None and value > high):
        raise BadInput(f"{_cut(text)} can not be.")


def _cut(text: str) -> str:
    return text if len(text) <= 16 else text[:16] + "…"


def _count(field: Field, text: str, _: date) -> Entry:
    if not (text.isascii() and text.isdigit()):
        raise BadInput("This is not a whole number.")
    if len(text) > 9:
        raise BadInput(f"{_cut(text)} can not be.")
    _in_range(field, int(text), text)
    return Entry(text, int(text))


def _choice(field: Field, text: str, _: date) -> Entry:
    bare = text.lower()
    for choice in field.choices:
        if bare in (choice.letter, choice.value.lower(), choice.label.lower()):
            return Entry(choice.label, choice.value)
    raise BadInput(f"{_cut(text)} is not among the answers." if text else "No answer was chosen.")


def _pick(field: Field, text: str, _: date) -> Entry:
    found = matches(field, text)
    if not text or not found:
        raise BadInput(_not_listed(field, text) if text else "Nothing was chosen.")
    return Entry(found[0].label, found[0].value)


def _not_listed(field: Field, text: str) -> str:
    near = "; ".join(choice.label for choice in nearest(field, text))
    said = f"{_cut(text)} is not in the list."
    return f"{said} Nearest: {near}. Down and Enter takes it." if near else said


def nearest(field: Field, text: str) -> tuple[Choice, ...]:
    """Return the choices that are nearly what was typed, where the field forgives a slip."""
    bare = text.lower().strip()
    if not field.near or len(bare) < 3:
        return ()
    from rapidfuzz import fuzz, process

    labels = [choice.label.lower() for choice in field.choices]
    found = process.extract(
        bare, labels, scorer=fuzz.WRatio, limit=MOST_NEAR, score_cutoff=LEAST_NEAR
    )
    return tuple(field.choices[at] for _, _, at in found)


def matches(field: Field, text: str) -> tuple[Choice, ...]:
    """Return the choices that fit what was typed, the best first: whole, beginning, part."""
    bare = text.lower().strip()
    ranked = [(_rank(choice, bare), n, choice) for n, choice in enumerate(field.choices)]
    return tuple(choice for rank, _, choice in sorted(ranked, key=lambda r: r[:2]) if rank < 9)


def _rank(choice: Choice, bare: str) -> int:
    label = choice.label.lower()
    if bare in (label, choice.value.lower()):
        return 0
    if label.startswith(bare):
        return 1
    if all(any(word.startswith(part) for word in label.split()) for part in bare.split()):
        return 2
    return 3 if bare in label else 9


def _money(field: Field, text: str, _: date) -> Entry:
    value = decimal(text)
    _in_range(field, value, text)
    return Entry(text, value)


def _words(field: Field, text: str, _: date) -> Entry:
    if field.required and not text:
        raise BadInput("Something must stand here.")
    clean = readable("".join(" " if c.isspace() else c for c in text))
    return Entry(clean, clean)


def _date(field: Field, text: str, today: date) -> Entry:
    if field.expiry:
        until = dates.expiry(text, today)
        return Entry(f"{until.day} {until:%b} {until.year}", until)
    day = dates.understand(text, today, past=field.past)
    return Entry(dates.said(day, today), day)


_READ: dict[str, Callable[[Field, str, date], Entry]] = {
    "quantity": _quantity,
    "count": _count,
    "choice": _choice,
    "pick": _pick,
    "money": _money,
    "words": _words,
    "date": _date,
}


def unlikely(field: Field, entry: Entry) -> str:
    """Return a note when a value is possible but unusual, else an empty text."""
    if field.likely is None or not isinstance(entry.value, int | float):
        return ""
    low, high = field.likely
    if low <= entry.value <= high:
        return ""
    unit = KINDS[field.quantity].canonical
    return f"unusual: mostly {plain(low)} to {plain(high)} {unit}".rstrip() + "; look again"
