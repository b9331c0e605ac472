"""Medicines, products and syringes of the practice, and who in a water would receive them."""

from __future__ import annotations

import functools
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Literal

from core.catalogue import load
from core.dosing import products
from core.dosing.medicines import Medicine
from core.dosing.products import Product
from core.dosing.recipient import Recipient, Stop
from core.dosing.stops import check
from core.errors import BadInput, Refusal
from core.numbers import number, plain
from core.practice import read_medicines
from core.practice.fish import species
from core.practice.own_products import own_shelf
from core.practice.recipient import of_fish
from core.practice.stock import fish_here
from core.records import read
from core.records.tables import FishGroup, System, Treatment, Tried, Visit

LASTS_DAYS = 14
"""So long a medicine put into a water counts as being in it (common practice, no source)."""

LAKE_CICHLIDS = ("malawi_cichlid", "tanganyika_cichlid")


def catalogue() -> Mapping[str, Medicine]:
    """Return every row of the medicines by key: the catalogue's and the practice's own."""
    return read_medicines.merged()


def shelf() -> dict[str, Product]:
    """Return the products by key: those of the practice's own shelf, then the catalogue's."""
    return {**own_shelf(), **_catalogue_shelf()}


@functools.cache
def _catalogue_shelf() -> dict[str, Product]:
    return products.from_table(load.table("products"))


@functools.cache
def most_ml_kg() -> dict[str, float]:
    """Return the most a route takes, in mL/kg, by route."""
    rows = load.table("routes")
    return {k: float(row["most_ml_kg"]) for k, row in rows.items() if "most_ml_kg" in row}


def medicine(key: str) -> Medicine:
    """Return a row of the medicines.

    Raises
    ------
    Refusal
        When there is no such row.
    """
    found = catalogue().get(key)
    if found is None and (known := refused_by_name(key)):
        raise Refusal(known, "Choose one of the list.")
    if found is None:
        raise Refusal(f"There is no medicine {key} in the list.", "Choose one of the list.")
    return found


def refused_by_name(name: str) -> str:
    """Return why a medicine is refused that is left out of the list on purpose; "" for others.

    With the rule and the date of its text, or with the work that says it.
    """
    wanted = name.strip().lower()
    rows = load.table("refused_medicines").items()
    row = next((r for key, r in rows if wanted in (key, *r["names"])), None)
    if row is None:
        return ""
    dated = "text of" in row["says"]
    return str(row["says"]) if dated else f"{row['says']} ({load.citations()[row['source']]})"


def refused_names() -> dict[str, str]:
    """Return what is left out on purpose by key, with its names."""
    return {k: ", ".join(r["names"]) for k, r in load.table("refused_medicines").items()}


def label(row: Medicine) -> str:
    """Return a row in one line: name, routes, indication, and how its dose is known."""
    known = row.known["dose"]
    return f"{row.name}, {' or '.join(row.routes)}: {row.indication} (dose {known})"


def dose_words(row: Medicine) -> str:
    """Return the range of a row in words, with what is weighed and how it is known."""
    high = f"{plain(row.dose_high)} {row.unit}"
    if row.dose_low is None:
        text = f"at most {high}"
    else:
        text = high if row.dose_low == row.dose_high else f"{plain(row.dose_low)} to {high}"
    of = f" of {row.dose_of}" if row.dose_of else ""
    rule = f"; {row.dose_rule}" if row.dose_rule else ""
    return f"{text}{of}{rule} ({row.known['dose']})"


_TYPED = re.compile(r"\s*([+-]?[\d.,]+)\s*([^\s\d.,].*?)\s*\Z", re.ASCII)


_AS_FARMS_WRITE = {"gpm": "gal/min", "lpm": "L/min", "lps": "L/s"}
"""Flows as farms write them."""


def typed(text: str, example: str) -> tuple[float, str]:
    """Return a number and its unit as a person typed them; a bare number gives nothing.

    Raises
    ------
    BadInput
        For a number without a unit, or no number.

    Examples
    --------
    >>> typed("2 mg/L", "2 mg/L")
    (2.0, 'mg/L')
    """
    found = _TYPED.match(text)
    if not found:
        raise BadInput(
            f"{text.strip()[:24]} is not a number with its unit."
            if text.strip()
            else "A number with its unit is missing.",
            f"Type for example {example}.",
        )
    return number(found[1]), _AS_FARMS_WRITE.get(found[2].lower(), found[2])


@dataclass(frozen=True)
class Place:
    """A water with the fish that are in it now."""

    system: System
    fish: tuple[FishGroup, ...]


def place(system_id: str) -> Place:
    """Return a water with its fish, after every move."""
    return Place(read.one(System, system_id), tuple(h.group for h in fish_here(system_id)))


def waters_of(group: FishGroup) -> tuple[System, ...]:
    """Return the waters in which a group is now; a dose follows the fish to them."""
    home = read.one(System, group.system)
    near = read.find(System, site=home.site)
    return tuple(s for s in near if any(h.group.id == group.id for h in fish_here(s.id)))


def check_for(
    visit_id: str,
    where: Place,
    row: Medicine,
    group: str | None = None,
    said: Mapping[str, bool] | None = None,
    asked: float | None = None,
) -> tuple[Stop, ...]:
    """Return what stands against a medicine for the fish and the water it would reach.

    In the water it reaches all that live there; by injection or food only one group. `said`
    holds what was asked with the order, by the keys of `core.dosing.dangers.ASKED`; `asked` is the
    dose ordered, in the unit of the row.
    """
    wanted = [f for f in where.fish if row.in_water or group in (None, f.id)]
    found = replace(recipient(visit_id, where.system, wanted), said=said or {}, asked=asked)
    if "zeolite" in row.not_with and where.system.zeolite == "unknown":
        found = replace(found, running=None)
    if not row.in_water:
        found = replace(found, invertebrates=False, plants=False, biofilter=False)
    return check(row, found)


def recipient(visit_id: str, system: System, fish: Sequence[FishGroup]) -> Recipient:
    """Return who and what would receive a medicine put into a water, as far as it is recorded."""
    found = of_fish(visit_id, system, fish)
    kinds = [species()[f.species] for f in fish if f.species in species()]
    groups = found.groups
    if groups is not None and any(s.key in LAKE_CICHLIDS for s in kinds):
        groups |= {"lake cichlid"}
    return replace(
        found,
        groups=groups,
        invertebrates=True if any(s.invertebrate for s in kinds) else found.invertebrates,
        running=running(visit_id, system),
    )


def running(visit_id: str, system: System) -> frozenset[str]:
    """Return what is in a water already: medicines of late, what the owner tried, zeolite."""
    day = read.one(Visit, visit_id).day
    listed = catalogue()
    found = {"zeolite"} if system.zeolite == "yes" else set()
    for row in read.find(Treatment, system=system.id):
        given = row.starts or read.one(Visit, row.visit).day
        last = given + timedelta(days=(row.repeats - 1) * (row.interval_days or 0))
        known = listed.get(row.medicine)
        if known and known.in_water and given <= day <= last + timedelta(days=LASTS_DAYS):
            found.add(known.name)
    found |= {t.agent.strip().lower() for t in read.find(Tried, visit=visit_id, system=system.id)}
    return frozenset(found)


Answer = Literal["refused", "reason", "note"]


def answer(stop: Stop) -> Answer:
    """Return what a line against a medicine asks: refused, a reason to go past it, or a look.

    What the law forbids in food fish is refused whatever the reason.
    """
    if stop.kind == "stop":
        return "refused" if stop.subject in ("food fish", "withdrawal") else "reason"
    return "reason" if stop.kind == "caution" else "note"
