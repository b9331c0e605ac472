"""Who would receive a medicine: a water and its fish as the calculation of dosing takes them."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Mapping
from typing import Literal, cast

from core.catalogue import load
from core.dosing.medicines import Medicine, from_table
from core.dosing.recipient import Recipient
from core.fish.species import Species
from core.practice import water
from core.practice.fish import species
from core.records import read
from core.records.tables import FishGroup, Reading, System

SLOW_TO_DIE = ("goldfish", "koi", "common_carp")
"""Species that live on without oxygen for long: from memory."""

KNOWN = {"yes": True, "no": False}
IN_HAND = {"no buffer": False, "no second step": False}
"""In hand the buffer is weighed with the agent, and nothing ends without its second step."""


@functools.cache
def medicines() -> Mapping[str, Medicine]:
    """Return every row of the catalogue of medicines by its key."""
    return from_table(load.table("medicines"))


def common_name(group: FishGroup) -> str:
    """Return the species of a group in words."""
    row = species().get(group.species)
    return row.common if row else group.species


def _groups(row: Species) -> frozenset[str]:
    found = {row.group, row.common, row.key.replace("_", " ")}
    if row.key.startswith("goldfish"):
        found.add("goldfish")
    if row.key.startswith(SLOW_TO_DIE):
        found.add("hypoxia-tolerant")
    if row.salt_sensitive:
        found.add("salt-sensitive")
    return frozenset(found)


def of_fish(
    visit_id: str, system: System, groups: Iterable[FishGroup], *, own_bath: bool = False
) -> Recipient:
    """Return the recipient that some fish of a water are, as this visit knows them.

    Parameters
    ----------
    groups : iterable of FishGroup
        The fish that would receive it; none means that they are not known.
    own_bath : bool
        True in hand: the medicine goes into the fish or a bath of its own, and meets
        neither plants nor filter nor what else runs in the water.
    """
    listed = list(groups)
    rows = [species()[g.species] for g in listed if g.species in species()]
    known = bool(rows) and len(rows) == len(listed)
    readings = _readings(visit_id, system)
    kind = str(load.table("system_kinds").get(system.kind, {}).get("water", ""))
    return Recipient(
        food_fish=system.food_fish,
        groups=frozenset().union(*map(_groups, rows)) if known else None,
        scaleless=any(r.scaleless for r in rows) if known else None,
        elasmobranch=any(r.group == "elasmobranch" for r in rows) if known else None,
        invertebrates=False if own_bath else KNOWN.get(system.invertebrates),
        plants=False if own_bath else KNOWN.get(system.plants),
        biofilter=False if own_bath else system.flow != "flowing",
        system=cast(Literal["fresh", "brackish", "marine"], kind) if kind else None,
        running=frozenset() if own_bath else None,
        flowing=False if own_bath else system.flow == "flowing",
        said=IN_HAND if own_bath else {},
        **readings,
    )


def _readings(visit_id: str, system: System) -> dict[str, float | None]:
    place = water.places(system)[0]
    found = {
        r.analyte: r.value
        for r in read.find(Reading, visit=visit_id, system=system.id, place=place)
    }
    return {
        # By titration where it was titrated, which is the finer of the two.
        "alkalinity_mg_l": found.get("alkalinity", found.get("kh")),
        "temperature_c": found.get("temperature"),
        "ph": found.get("ph"),
        "oxygen_mg_l": found.get("oxygen"),
    }
