"""Antimicrobials used by the practice: mg, and mg for each kg of fish treated, by month.

What was given here or handed over counts; what waits to be handed over, and what was only
prescribed or advised, does not. What is not known is said and never guessed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from core.clock import local
from core.dosing.kinds import ActiveMass, Dose, ProductVolume, Purity, Strength
from core.dosing.medicines import BATHS, Medicine
from core.dosing.quantities import active, dose, product, strength
from core.dosing.quantity import spelled
from core.errors import Refusal
from core.numbers import figures, plain
from core.practice.fish import species
from core.practice.handed import handed, kept_share
from core.practice.medicines import catalogue, typed
from core.practice.names import name
from core.records import read
from core.records.engine import query
from core.records.fields import DayField
from core.records.tables import FishGroup, Handling, Practice, Treatment, Weighing

HOW = (
    "Counted: active substance given here, by the day of the visit, and dispensed, by the day it "
    "was handed over; what waits to be handed over is not, nor are prescribed and advised "
    "medicines, nor disinfectants put into water.",
    "Given here counts once, or the first part of several: later ones count when they are "
    "recorded. Dispensed counts the whole that was handed over, less what came back to the shelf. "
    "What is not from the own shelf counts as handed over with its labels, unless it is struck.",
    "Active substance counts as the strength of the product says it: whether that is the base or "
    "the salt is not known here.",
    "Fish treated: what the dose was worked out for; for a bath, the fish in hand or, when every "
    "group in the water was weighed and counted at that visit, their sum. Fish treated twice "
    "count twice.",
    "mg/kg is of the treatments of which both are known.",
)


@dataclass(frozen=True)
class Used:
    """One treatment; None for what is not known, and `unknown` says why."""

    day: date
    client: str
    medicine: str
    act: str
    mg: float | None
    kg: float | None
    unknown: str


@dataclass(frozen=True)
class Month:
    """One medicine in one month."""

    month: str
    medicine: str
    lines: tuple[Used, ...]

    @property
    def mg(self) -> float:
        """Active substance of the treatments of which it is known."""
        return sum(line.mg for line in self.lines if line.mg is not None)

    @property
    def kg(self) -> float:
        """Fish of the treatments of which both figures are known."""
        return sum(line.kg for line in self.both if line.kg is not None)

    @property
    def both(self) -> tuple[Used, ...]:
        """The treatments of which both figures are known."""
        return tuple(x for x in self.lines if x.mg is not None and x.kg is not None)

    @property
    def mg_per_kg(self) -> float | None:
        """Active substance for each kg of fish; None when no treatment has both figures."""
        known = sum(line.mg for line in self.both if line.mg is not None)
        return known / self.kg if self.kg else None

    @property
    def unknown(self) -> str:
        """How many treatments lack what, in words; "" when everything is known."""
        lacking = {
            "the mg": sum(line.mg is None for line in self.lines),
            "the weight of the fish": sum(line.kg is None for line in self.lines),
        }
        said = (f"{what} of {n} of {len(self.lines)}" for what, n in lacking.items() if n)
        return "; ".join(said)


_GIVEN = """
SELECT t."id", v."day", c."name"
FROM "treatment" t JOIN "visit" v ON v."id" = t."visit" JOIN "client" c ON c."id" = v."client"
WHERE v."day" >= ? AND v."day" <= ? AND t."struck" IS NULL AND t."act" = 'given here'
"""
_DISPENSED = """
SELECT t."id", c."name"
FROM "treatment" t JOIN "visit" v ON v."id" = t."visit" JOIN "client" c ON c."id" = v."client"
WHERE t."act" = 'dispensed' AND EXISTS (
  SELECT 1 FROM "delivery" x JOIN "document" d ON d."id" = x."document"
  WHERE x."visit" = v."id" AND d."kind" = 'labels')
"""


def used(since: date, until: date) -> tuple[Used, ...]:
    """Return each antimicrobial given here or handed over from one day to another.

    Raises
    ------
    Refusal
        When the days are the wrong way round.
    """
    if until < since:
        raise Refusal("The last day is before the first.", "Turn them round.")
    found = [*_given(since, until), *_handed_over(since, until)]
    medicines = {key: row for key, row in catalogue().items() if row.antimicrobial}
    lines = ((day, row, client) for day, row, client in found if row.medicine in medicines)
    ordered = sorted(lines, key=lambda line: (line[0], line[1].id))
    return tuple(_used(row, medicines[row.medicine], day, client) for day, row, client in ordered)


def _given(since: date, until: date) -> Iterator[tuple[date, Treatment, str]]:
    days = [DayField().db_value(day) for day in (since, until)]
    for key, day, client in query(_GIVEN, days):
        at = DayField().python_value(day)
        assert at is not None
        yield at, read.one(Treatment, key), client


def _handed_over(since: date, until: date) -> Iterator[tuple[date, Treatment, str]]:
    """Give what left with its labels and did not come back, by the rule of the dispensing log."""
    practice = read.first(Practice)
    for key, client in query(_DISPENSED):
        row = read.one(Treatment, key)
        left = handed(row)
        if practice is None or left is None or kept_share(row) == 0:
            continue
        day = local(left[0], practice.zone).date()
        if since <= day <= until:
            yield day, row, client


def months(lines: tuple[Used, ...]) -> tuple[Month, ...]:
    """Return the use by month and medicine, in that order."""

    def key(line: Used) -> tuple[str, str]:
        return f"{line.day:%Y-%m}", line.medicine

    return tuple(Month(*at, tuple(rows)) for at, rows in groupby(sorted(lines, key=key), key))


def _used(row: Treatment, medicine: Medicine, day: date, client: str) -> Used:
    once, fish = active_mg(row), _fish(row)
    each = once * fish if once is not None and fish is not None else None
    whole = row.act == "dispensed"
    times = row.repeats * kept_share(row) if whole else 1 / max(1, row.steps)
    kg = _kg(row, medicine, each)
    said = {
        "the active substance in it": once is None,
        "how many fish got it": fish is None,
        "the weight of the fish": kg is None,
    }
    return Used(
        day,
        client,
        name("medicine", row.medicine),
        row.act,
        each * times if each is not None else None,
        kg,
        ", ".join(what for what, is_so in said.items() if is_so),
    )


_DILUTED = re.compile(r", made | \(")
"""What follows says from what a dilution was made: at an order, and at a fish in hand."""


def active_mg(row: Treatment) -> float | None:
    """Return the active substance of one time in mg; None when strength or unit do not give it."""
    if row.amount <= 0:
        return None
    held = _DILUTED.split(row.strength)[0]
    if not held or held.endswith("not reckoned in"):
        return _mass_mg(row)
    try:
        of = strength(*typed(held, "100 mg/mL"))
    except Refusal:
        return None
    if isinstance(of, Strength) and spelled(ProductVolume, row.amount_unit):
        drawn = product(row.amount, row.amount_unit)
        return drawn.m_as("mL") * of.m_as("mg/mL")
    if isinstance(of, Purity) and spelled(ActiveMass, row.amount_unit):
        weighed = product(row.amount, row.amount_unit)
        return weighed.m_as("mg") * of.m_as("mg/g") / 1000
    # A liquid named beside an amount in food that was reckoned as active substance.
    return _mass_mg(row) if isinstance(of, Strength) else None


def _mass_mg(row: Treatment) -> float | None:
    if not spelled(ActiveMass, row.amount_unit):
        return None
    return active(row.amount, row.amount_unit).m_as("mg")


def _fish(row: Treatment) -> int | None:
    """Return for how many fish the amount of one time is meant; a bath or feed is for all."""
    if row.route in BATHS:
        return 1
    if row.handling is not None:
        return read.one(Handling, row.handling).count
    if not row.route.startswith("injection"):
        return 1
    if row.group is None:
        return None
    if read.one(FishGroup, row.group).single:
        return 1
    return sum(w.count or 0 for w in read.find(Weighing, visit=row.visit, group=row.group)) or None


def _kg(row: Treatment, medicine: Medicine, mg: float | None) -> float | None:
    """Return the weight of the fish that a treatment reached."""
    per_kg = row.dose_unit.removesuffix("/day")
    by_weight = spelled(Dose, per_kg) and not medicine.unit.endswith(" feed")
    if row.route not in BATHS and by_weight and mg is not None:
        return mg / dose(row.dose, per_kg).m_as("mg/kg")
    if row.handling is not None:
        grams = read.one(Handling, row.handling).weight_g
        return grams / 1000 if grams else None
    return _weighed_kg(row)


def _weighed_kg(row: Treatment) -> float | None:
    """Return what all the fish of a water, or of the group fed, weighed at that visit."""
    whole = row.route in BATHS or row.group is None
    groups = read.find(FishGroup, system=row.system) if whole else ()
    kinds = species()
    wanted = {g.id for g in groups if not (g.species in kinds and kinds[g.species].invertebrate)}
    wanted |= {row.group} if not whole and row.group else set()
    rows = [w for w in read.find(Weighing, visit=row.visit) if w.group in wanted]
    if not wanted or {w.group for w in rows} != wanted or any(w.count is None for w in rows):
        return None
    return sum((w.count or 0) * w.weight_g for w in rows) / 1000


def shown(value: float | None) -> str:
    """Return a figure to three figures, or to the whole mg when it is larger; "" for none.

    Examples
    --------
    >>> shown(4.7619), shown(12345.6), shown(None)
    ('4.76', '12346', '')
    """
    if value is None:
        return ""
    return plain(round(value)) if value >= 1000 else plain(float(figures(value, 3)))
