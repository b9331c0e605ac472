"""Who would receive a medicine, and one line of what stands against it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from core.dosing.medicines import Medicine

Weight = Literal["stop", "caution", "note"]


@dataclass(frozen=True)
class Recipient:
    """Who and what would receive the medicine; None is *not known*.

    `groups` are words such as ``salmonid``, ``catfish``, ``goldfish``; `running` names the
    medicines and media (``zeolite``) that are in the water already; `said` holds what was asked
    with the order, by the keys of `core.dosing.dangers.ASKED`; `asked` is the dose ordered, in the
    unit of the row, None while none was typed.
    """

    food_fish: bool | None = None
    groups: frozenset[str] | None = None
    scaleless: bool | None = None
    elasmobranch: bool | None = None
    invertebrates: bool | None = None
    plants: bool | None = None
    biofilter: bool | None = None
    system: Literal["fresh", "brackish", "marine"] | None = None
    alkalinity_mg_l: float | None = None
    temperature_c: float | None = None
    ph: float | None = None
    oxygen_mg_l: float | None = None
    running: frozenset[str] | None = None
    flowing: bool | None = None
    said: Mapping[str, bool] = field(default_factory=dict)
    asked: float | None = None


@dataclass(frozen=True)
class Stop:
    """One line against, or to go with, a medicine.

    `kind` is *stop* (not without a reason kept in the record), *caution* or *note*; `subject`
    names the fact it is about; `rule` is the rule it rests on, or how it is known, and `sources`
    are keys of the catalogue where it was read.
    """

    kind: Weight
    subject: str
    sentence: str
    rule: str
    sources: tuple[str, ...] = ()


def line(medicine: Medicine, kind: Weight, subject: str, sentence: str, *fields: str) -> Stop:
    """Return a line with the ground it has: how the first of `fields` that says so is known."""
    known = next((medicine.known[f] for f in fields if f in medicine.known), "from memory")
    return Stop(kind, subject, sentence, known, () if known == "from memory" else medicine.sources)
