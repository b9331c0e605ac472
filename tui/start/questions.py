"""What the first start asks, and how the answers become a practice."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal

from core.practice import booking, setup
from core.practice.setup import NewPerson
from core.practice.who import Practice
from tui.widgets.choices import DAYS, PAPERS, ROLES, ROUNDING, UNITS
from tui.widgets.field import Entry, Field

MOST_PEOPLE = 12


@dataclass(frozen=True)
class Details:
    """What the first start gives back."""

    practice: Practice
    people: tuple[NewPerson, ...]
    tax: dict[str, Decimal] = field(default_factory=dict)


def usual(zone: str) -> dict[str, Entry]:
    """Return what stands in the form from the start."""
    known = {
        "zone": zone,
        "opens": "08:00",
        "closes": "18:00",
    }
    found = {key: Entry(text, text) for key, text in known.items()}
    found["digits"] = Entry("2", 2)
    chosen = {"units": UNITS[0], "paper": PAPERS[0], "rounding": ROUNDING[0], "open_days": DAYS[0]}
    found |= {key: Entry(choice.label, choice.value) for key, choice in chosen.items()}
    found["role1"] = Entry(ROLES[0].label, ROLES[0].value)
    return found


def fields(answers: dict[str, Entry]) -> list[Field]:
    """Return the rows; one more person is asked for as soon as one is named."""
    return [
        Field("name", "Name", example="Reed Row Fish Vets", required=True, section="The practice"),
        Field("address", "Address", example="1 Reed Row, Milltown", required=True),
        Field("phone", "Phone", example="555 0100", required=True, hint="printed large on sheets"),
        Field("email", "E-mail", example="desk@example.org"),
        Field(
            *("licence", "Practice licence"),
            example="P-1234",
            hint="printed on papers when there is one",
        ),
        *_people(answers),
        *_MONEY,
        *_taxes(),
        *_SHOWN,
    ]


_MONEY = [
    Field(
        "currency",
        "Currency",
        example="EUR",
        required=True,
        section="Money",
        hint="its code of three letters",
    ),
    Field(
        "digits",
        "Decimals of it",
        "count",
        low=0,
        high=3,
        required=True,
        hint="2 for most; 0 for the yen",
    ),
    Field(
        "rounding", "Tax is rounded", "choice", choices=ROUNDING, hint="as the tax office wants it"
    ),
]
_SHOWN = [
    Field("units", "Units", "choice", choices=UNITS, section="How things are shown", required=True),
    Field("paper", "Paper", "choice", choices=PAPERS, required=True),
    Field("zone", "Time zone", example="Europe/Lisbon", required=True),
    Field("opens", "Visits from", example="08:00", required=True),
    Field("closes", "Visits until", example="18:00", required=True),
    Field("open_days", "Visits on", "choice", choices=DAYS, required=True),
]


def _people(answers: dict[str, Entry]) -> list[Field]:
    rows: list[Field] = []
    named = sum(f"person{n}" in answers for n in range(1, MOST_PEOPLE + 1))
    for n in range(1, min(named + 1, MOST_PEOPLE) + 1):
        who = "Your name" if n == 1 else f"Person {n}"
        hint = (
            "a veterinarian signs and prescribes" if n == 1 else "empty when there is nobody else"
        )
        section = "Who is at work" if n == 1 else ""
        rows.append(
            Field(
                *(f"person{n}", who),
                example="Vera Moss",
                hint=hint,
                section=section,
                required=n == 1,
            )
        )
        if n == 1 or f"person{n}" in answers:
            rows.append(Field(f"role{n}", "  role", "choice", choices=ROLES, required=True))
            rows.append(
                Field(
                    f"licence{n}", "  licence", example="V-1234", hint="printed where a vet signs"
                )
            )
    return rows


def _taxes() -> list[Field]:
    return [
        Field(
            f"tax_{code}",
            f"Tax on {code}, %",
            "money",
            low=0,
            high=100,
            example="7",
            required=True,
            hint="prices start from an invented list: look through it before the first invoice",
        )
        for code in setup.tax_classes()
    ]


def checked(key: str, entry: Entry) -> Entry:
    """Return an answer as it will be kept, or refuse it where it stands."""
    rule = {
        "zone": setup.time_zone,
        "currency": setup.currency,
        "opens": booking.wall_time,
        "closes": booking.wall_time,
    }.get(key)
    return entry if rule is None else Entry(rule(entry.words), rule(entry.words))


def details(answers: dict[str, Entry]) -> Details:
    """Return the answers as what `setup.begin` takes."""

    def words(key: str) -> str:
        return answers[key].words if key in answers else ""

    practice = Practice(
        id="",
        name=words("name"),
        address=words("address"),
        phone=words("phone"),
        email=words("email"),
        licence=words("licence"),
        currency=words("currency"),
        currency_exponent=int(words("digits")),
        units=words("units"),
        paper=words("paper"),
        zone=words("zone"),
        tax_rounding=words("rounding"),
        opens=words("opens"),
        closes=words("closes"),
        open_days=words("open_days"),
    )
    people = tuple(
        NewPerson(words(f"person{n}"), words(f"role{n}"), words(f"licence{n}"))
        for n in range(1, MOST_PEOPLE + 1)
        if words(f"person{n}")
    )
    tax = {code: answers[f"tax_{code}"].exact for code in setup.tax_classes()}
    return Details(practice, people, tax)
