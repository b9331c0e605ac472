"""What is asked of a medicine of the practice's own, row by row, in its order.

Whatever is answered gets a row that says how it is known, *from memory* until somebody says
otherwise; what was read gets another for its source.
"""

from __future__ import annotations

from collections.abc import Iterator

from core.dosing.medicines import NEVER, ROUTES, STATUSES
from core.practice.own_row import (
    COMMON,
    MEMORY,
    NOT_KNOWN,
    READ,
    Subject,
    subjects,
)
from tui.widgets.choices import YES_NO
from tui.widgets.dialog import Answers
from tui.widgets.field import Choice, Entry, Field

STANCES = (
    Choice("h", "harmful", "harmful"),
    Choice("a", "allowed", "allowed"),
    Choice("n", NOT_KNOWN, NOT_KNOWN),
)
HOWS = (
    Choice("m", MEMORY, MEMORY),
    Choice("c", COMMON, COMMON),
    Choice("r", "read", "read"),
    Choice("i", "read in part", "read in part"),
    Choice("w", "computed", "worked out from what was read"),
)
_ROUTES = tuple(Choice("", route, route) for route in sorted(ROUTES))
_STATUSES = tuple(Choice("", status, status) for status in sorted(STATUSES - NEVER))
_WATERS = (
    *("fresh", "brackish", "marine", "fresh, brackish", "brackish, marine"),
    *("fresh, marine", "fresh, brackish, marine"),
)
WATERS = tuple(Choice("", words, words) for words in _WATERS)
LIMITS = {
    "alkalinity": ("Alkalinity at least", "alkalinity", 1.0, 1000.0),
    "heat": ("Temperature at most", "temperature", 1.0, 45.0),
    "oxygen": ("Oxygen at least", "concentration", 0.1, 30.0),
}
MOST_PLACES = 6
_KNOWN = {
    "indication": ("route0",),
    "dose": ("low", "high"),
    "interval": ("every", "times"),
    "duration": ("lasts",),
    "system": ("water",),
    "avoid": ("avoid",),
    "us_food_fish": ("food",),
    "withdrawal": ("days",),
    "hazards": ("hazards",),
}
"""Which answers each word of how it is known stands for."""


def words(answers: Answers, key: str) -> str:
    """Return an answer as words; "" for none."""
    return answers[key].words if key in answers else ""


def routes(answers: Answers) -> tuple[str, ...]:
    """Return the routes that were chosen."""
    found = (words(answers, f"route{n}") for n in range(MOST_PLACES))
    return tuple(dict.fromkeys(r for r in found if r))


def fields(answers: Answers) -> list[Field]:
    """Return the rows that the answers so far ask for."""
    return [*_is(answers), *_dose(answers), *_against(answers), *_food(answers), *_people(answers)]


def _is(answers: Answers) -> Iterator[Field]:
    yield Field("name", "Generic name", section="What it is", example="formalin", required=True)
    yield Field("form", "Active and form", example="37 % formaldehyde w/w", required=True)
    yield Field("for", "For", example="skin flukes of koi", required=True)
    yield Field("route0", "Route", "pick", choices=_ROUTES, required=True)
    for n in range(1, MOST_PLACES):
        if words(answers, f"route{n - 1}"):
            yield Field(f"route{n}", "Or by", "pick", choices=_ROUTES)
    yield from _how(answers, "indication", "What it is")


def _dose(answers: Answers) -> Iterator[Field]:
    yield Field("low", "Lowest dose, with unit", section="Dose", example="5 mg/L")
    yield Field("high", "Highest dose, with unit", example="10 mg/L", required=True)
    yield Field("counts", "The dose counts", example="free copper")
    yield from _how(answers, "dose", "Dose")
    yield Field("every", "Again every", example="48 h, 3 d")
    yield Field("times", "Times in all", "count", low=1, high=60)
    yield from _how(answers, "interval", "Repeats")
    yield Field("lasts", "Lasts", example="30 min, watched")
    yield from _how(answers, "duration", "Lasts")
    yield Field("water", "Water", "pick", choices=WATERS, required=True)
    yield from _how(answers, "system", "Water")


def _how(answers: Answers, name: str, label: str, *, asked: bool | None = None) -> Iterator[Field]:
    """Give the rows of how a field is known, once it is answered."""
    there = any(words(answers, key) for key in _KNOWN.get(name, ())) if asked is None else asked
    if not there:
        return
    yield Field(f"how {name}", f"{label}: how known", "choice", choices=HOWS, required=True)
    if words(answers, f"how {name}") in READ:
        example = "Author (year). Title, page"
        yield Field(f"source {name}", f"{label}: source", example=example, required=True)


def _against(answers: Answers) -> Iterator[Field]:
    section = "Who must not have it; what is not known counts as harmful"
    for subject in subjects(routes(answers)):
        yield Field(subject.key, subject.label, "choice", choices=STANCES, section=section)
        section = ""
        said = words(answers, subject.key)
        if said == "harmful" and subject.limit:
            yield _limit(subject)
        yield from _how(answers, subject.key, subject.label, asked=said not in ("", NOT_KNOWN))
    yield Field("avoid", "Not for, not with", example="loaches; never with zeolite")
    yield from _how(answers, "avoid", "Not for")


def _limit(subject: Subject) -> Field:
    label, quantity, low, high = LIMITS[subject.key]
    return Field(
        f"limit {subject.key}", label, "quantity", quantity, low=low, high=high, required=True
    )


def _food(answers: Answers) -> Iterator[Field]:
    section = "Food fish"
    yield Field("food", "United States", "choice", choices=STANCES, section=section, required=True)
    said = words(answers, "food")
    if said == "allowed":
        yield Field("status", "It stands there as", "pick", choices=_STATUSES, required=True)
        yield Field("note", "On what condition", example="finfish only, by the label")
    yield from _how(
        answers, "us_food_fish", "United States", asked=said not in ("", NOT_KNOWN)
    )  # fmt: skip
    if said == "allowed":
        yield Field("days", "Withdrawal, days", "count", low=0, high=1000)
        yield from _how(answers, "withdrawal", "Withdrawal")
    for n in range(MOST_PLACES):
        if n == 0 or words(answers, f"place{n - 1}"):
            yield from _place(answers, n)


def _place(answers: Answers, n: int) -> Iterator[Field]:
    yield Field(f"place{n}", "Another country", example="Canada")
    if where := words(answers, f"place{n}"):
        yield Field(f"status{n}", "It stands there as", example="not authorised", required=True)
        yield Field(f"days{n}", "Withdrawal there, days", "count", low=0, high=1000)
        yield from _how(answers, f"place{n}", where[:12], asked=True)


def _people(answers: Answers) -> Iterator[Field]:
    yield Field("hazards", "Harm to people", section="People", example="burns skin: gloves")
    yield from _how(answers, "hazards", "Harm")
    yield Field("controlled", "Controlled drug", "choice", choices=YES_NO, required=True)
    yield Field("antimicrobial", "Antimicrobial", "choice", choices=YES_NO, required=True)


def fill_in(answers: Answers) -> None:
    """Say *from memory* of everything that was answered and not said how it is known."""
    for field in fields(answers):
        if field.key.startswith("how ") and field.key not in answers:
            answers[field.key] = Entry(MEMORY, MEMORY)
