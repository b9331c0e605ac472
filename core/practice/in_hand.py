"""In hand: one fish or one scoop at a time, with its weight, bath, clock, samples and doses."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from core.catalogue import load
from core.dosing.recipient import Recipient
from core.errors import BadInput, Refusal
from core.fish.size import condition_factor, estimated_weight
from core.microscopy.catalogue import Choice, Tissue
from core.numbers import figures, plain
from core.practice import (
    in_hand_bath,
    in_hand_clock,
    in_hand_food,
    own_rows,
    recipient,
    stock_bath_view,
)
from core.practice.door import edit
from core.practice.fish import species
from core.practice.in_hand_bath import Bath
from core.practice.in_hand_clock import Anaesthesia
from core.practice.in_hand_food import SetDays
from core.practice.in_hand_strike import strike_given as strike_given
from core.practice.keep import Act, begin_stage, put
from core.practice.stock_bath_view import BathStock
from core.practice.visits import Opened, opened
from core.records import read
from core.records.keys import new_key
from core.records.tables import (
    FishGroup,
    Handling,
    Lesion,
    Sample,
    StageMark,
    System,
    Treatment,
)

STAGE = "In hand"
GLOVES = "Gloves; cover cuts. Some infections of fish pass to people through the skin."


@functools.cache
def tissues() -> Mapping[str, Tissue]:
    """Return what can be sampled, by key."""
    return {k: Tissue.from_row(k, r) for k, r in load.table("tissues")["tissue"].items()}


@functools.cache
def choices(table: str, part: str) -> tuple[Choice, ...]:
    """Return a short lettered list of the catalogue: lesions, places, reasons."""
    return tuple(Choice.from_row(k, r) for k, r in load.table(table)[part].items())


@dataclass(frozen=True)
class Fish:
    """One fish, or one scoop, with all that was done while it was in hand."""

    handling: Handling
    group: FishGroup | None
    kind: str
    """Its species in words; "" when the group is not said."""
    anaesthesia: Anaesthesia
    bath: Bath
    stock: BathStock
    lesions: tuple[Lesion, ...]
    samples: Mapping[str, Sample]
    """By tissue; the last one asked of each."""
    given: tuple[Treatment, ...]
    recipient: Recipient
    set_days: SetDays | None
    """Days of withdrawal that the vet set; None for none."""
    by_length: str
    """What the length alone says of the weight; "" when it says nothing."""

    @property
    def weight_each_g(self) -> float | None:
        """The weight of one fish; that of a scoop is of all of them."""
        weight = self.handling.weight_g
        return None if weight is None else weight / self.handling.count


@dataclass(frozen=True)
class HandView:
    """Everything that was in hand at a visit, of one water."""

    opened: Opened
    system: System
    groups: tuple[FishGroup, ...]
    fish: tuple[Fish, ...]
    taken: int
    """How many were in hand at this visit so far, of any water."""


def view(visit_id: str, system_id: str) -> HandView:
    """Return the fish of a water that were in hand at this visit."""
    own_rows.read_again()
    found = opened(visit_id)
    system = read.one(System, system_id)
    groups = {g.id: g for g in found.groups}
    rows = read.find(Handling, visit=visit_id, system=system_id, order="number, id")
    return HandView(
        found,
        system,
        tuple(g for g in found.groups if g.system == system_id) or found.groups,
        tuple(_fish(row, system, groups.get(row.group or "")) for row in rows),
        taken(visit_id),
    )


def taken(visit_id: str) -> int:
    """Return how many fish and scoops were taken in hand at a visit, struck ones too."""
    return len(read.find(Handling, visit=visit_id, struck=True))


def one(handling_id: str) -> Fish:
    """Return one fish in hand."""
    row = read.one(Handling, handling_id)
    group = read.one(FishGroup, row.group) if row.group else None
    return _fish(row, read.one(System, row.system), group)


def _fish(row: Handling, system: System, group: FishGroup | None) -> Fish:
    kind = species().get(group.species) if group else None
    samples = read.find(Sample, handling=row.id)
    who = recipient.of_fish(row.visit, system, [group] if group else [], own_bath=True)
    return Fish(
        row,
        group,
        (kind.common if kind else group.species) if group else "",
        in_hand_clock.of(row),
        in_hand_bath.of(row, system, who),
        stock_bath_view.of(row),
        read.find(Lesion, handling=row.id),
        {s.tissue: s for s in samples},
        read.find(Treatment, handling=row.id),
        who,
        in_hand_food.set_days(row) if system.food_fish else None,
        _by_length(row, group),
    )


def _by_length(row: Handling, group: FishGroup | None) -> str:
    kind = species().get(group.species) if group else None
    if row.length_cm is None or kind is None:
        return ""
    try:
        found = estimated_weight(kind, row.length_cm)
    except BadInput as error:
        return error.sentence
    said = (
        f"{plain(row.length_cm)} cm would say {figures(found.weight_g)} g each "
        f"({figures(found.low_g)} to {figures(found.high_g)}), estimated from length"
    )
    if row.weight_g is None:
        return said
    condition = condition_factor.plain(row.weight_g / row.count, row.length_cm)
    each = figures(row.weight_g / row.count)
    return f"{said}; on the scale it was {each} g, condition {figures(condition)}"


def add_fish(
    act: Act, visit_id: str, system_id: str, label: str, count: int, group: str | None
) -> str:
    """Take the next fish, or a scoop of several, in hand; return its id.

    Raises
    ------
    BadInput
        Without a label, or with one that another fish of the visit already has.
    """
    name = label.strip()
    before = read.find(Handling, visit=visit_id)
    if not name:
        raise BadInput("The fish needs a label.", f"Type for example fish {len(before) + 1}.")
    if any(h.label.casefold() == name.casefold() for h in before):
        raise BadInput(f"{name} was in hand already at this visit.", "Choose another label.")
    row = Handling(
        id=new_key(),
        visit=visit_id,
        system=system_id,
        group=group,
        number=taken(visit_id) + 1,
        label=name,
        count=count,
        at=act.at,
    )
    with edit("fish in hand", who=act.by, at=act.at, visit=visit_id) as doing:
        begin_stage(doing, visit_id, STAGE)
        doing.add(row)
    return row.id


def set_value(act: Act, handling_id: str, **columns: Any) -> None:
    """Set or correct what stands in a fish's own row: its group, count, length, note."""
    row = read.one(Handling, handling_id)
    with edit("fish in hand", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.change(Handling, handling_id, **columns)
        in_hand_bath.keep_sedation(doing, act, handling_id)


def set_weight(act: Act, handling_id: str, weight_g: float, typed: str) -> None:
    """Set the weight on the scale: of the fish, or of all fish of a scoop together."""
    set_value(act, handling_id, weight_g=weight_g, weight_typed=typed, weight_how="weighed")


def set_bath(act: Act, handling_id: str, **columns: Any) -> None:
    """Set agent, level or volume of the bath; what stands against it is looked at first.

    Raises
    ------
    Refusal
        When a stop stands against the agent at this level, naming its rule.
    """
    own_rows.read_again()
    row = read.one(Handling, handling_id)
    with edit("bath", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.change(Handling, handling_id, **columns)
        bath = one(handling_id).bath
        if bath.stops:
            raise Refusal(" ".join(bath.stops), "Choose another agent or level.")
        in_hand_bath.keep_bath(doing, act, row.visit, handling_id, bath)
        in_hand_bath.keep_sedation(doing, act, handling_id)


def strike_fish(act: Act, handling_id: str, why: str) -> None:
    """Strike a fish that was put in by mistake; refused once anything else stands on it.

    Raises
    ------
    Refusal
        When samples, lesions, clock or doses stand on it.
    """
    fish = one(handling_id)
    if fish.samples or fish.lesions or fish.given or fish.anaesthesia.marks:
        raise Refusal(
            f"{fish.handling.label} has samples, lesions, a clock or a dose.", "Strike those first."
        )
    if fish.stock.taken:
        raise Refusal(
            f"{fish.handling.label}: {fish.stock.words}.", "Say first that its bath was not used."
        )
    with edit("fish struck", who=act.by, at=act.at, visit=fish.handling.visit) as doing:
        doing.strike(Handling, handling_id, why)


@dataclass(frozen=True)
class Sore:
    """A lesion as it was seen."""

    kind: str
    place: str
    size_mm: float | None = None
    note: str = ""


def add_lesion(act: Act, handling_id: str, seen: Sore) -> str:
    """Record a lesion of a fish."""
    row = read.one(Handling, handling_id)
    lesion = Lesion(id=new_key(), visit=row.visit, handling=row.id, **vars(seen))
    with edit("lesion", who=act.by, at=act.at, visit=row.visit) as doing:
        begin_stage(doing, row.visit, STAGE)
        doing.add(lesion)
    return lesion.id


def change_lesion(act: Act, lesion_id: str, seen: Sore) -> None:
    """Correct a lesion; the journal keeps what stood."""
    row = read.one(Lesion, lesion_id)
    with edit("lesion", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.change(Lesion, lesion_id, **vars(seen))


def strike_lesion(act: Act, lesion_id: str, why: str) -> None:
    """Strike a lesion, with the reason."""
    row = read.one(Lesion, lesion_id)
    with edit("lesion struck", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.strike(Lesion, lesion_id, why)


def finish(act: Act, visit_id: str) -> None:
    """Mark the stage done.

    Raises
    ------
    Refusal
        While the record of a euthanasia lacks anything, above all its second step.
    """
    in_hand_clock.close_all(visit_id)
    with edit("stage", who=act.by, at=act.at, visit=visit_id) as doing:
        put(doing, StageMark, {"visit": visit_id, "stage": STAGE}, {"state": "done", "why": ""})
