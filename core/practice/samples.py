"""Samples of a visit: got, each with a number of its own, or not got with the reason."""

from __future__ import annotations

from dataclasses import dataclass

from core.errors import BadInput, Refusal
from core.microscopy.samples import SampleNumber, next_number, read_number
from core.practice.door import edit
from core.practice.keep import Act, begin_stage
from core.records import read
from core.records.engine import query
from core.records.fields import DayField
from core.records.keys import new_key
from core.records.tables import Handling, Lesion, Person, Sample, Visit

_TAKEN = """
SELECT s."visit", s."number" FROM "sample" s JOIN "visit" v ON v."id" = s."visit"
WHERE v."day" = ? AND s."number" <> '' ORDER BY s."id"
"""


@dataclass(frozen=True)
class Round:
    """The letter of a truck and which visit of its day this is: the start of a number."""

    truck: str
    visit: int


def round_of(visit_id: str) -> Round:
    """Return the start of the numbers of a visit.

    The truck is that of the vet, lettered in the order in which vets were entered; a visit
    that has numbers keeps their start when it is moved, and takes one that nobody else has.
    """
    visit = read.one(Visit, visit_id)
    taken = _taken(visit)
    mine = [number for of, number in taken if of == visit_id]
    if mine:
        return Round(mine[0].truck, mine[0].visit)
    truck = _truck(visit.vet)
    same = read.find(Visit, day=visit.day, vet=visit.vet, order="starts, id")
    place = [v.id for v in same].index(visit_id) + 1
    used = {n.visit for _, n in taken if n.truck == truck}
    while place in used:
        place += 1
    return Round(truck, place)


def _truck(vet: str) -> str:
    vets = [p.id for p in read.find(Person, role="veterinarian", struck=True)]
    at = vets.index(vet) if vet in vets else len(vets)
    return chr(ord("A") + at) if at < 26 else f"A{chr(ord('A') + at % 26)}"


def _taken(visit: Visit) -> list[tuple[str, SampleNumber]]:
    rows = query(_TAKEN, (DayField().db_value(visit.day),))
    return [(of, read_number(number)) for of, number in rows]


def next_sample(visit_id: str) -> SampleNumber:
    """Return the number that the next sample of a visit gets; no other of the day has it."""
    start = round_of(visit_id)
    taken = (number for _, number in _taken(read.one(Visit, visit_id)))
    return next_number(start.truck, start.visit, taken)


def got(act: Act, handling_id: str, tissue: str, place: str = "") -> str:
    """Record a sample as got; return its number.

    A sample that has a number keeps it, whatever is corrected about it.
    """
    fish = read.one(Handling, handling_id)
    held = read.first(Sample, handling=handling_id, tissue=tissue)
    where = place or (held.place if held else "") or _lesion_place(handling_id, tissue)
    with edit("sample", who=act.by, at=act.at, visit=fish.visit) as doing:
        begin_stage(doing, fish.visit, "In hand")
        number = held.number if held and held.number else str(next_sample(fish.visit))
        if held is not None:
            again = held.at if held.got else act.at
            doing.change(Sample, held.id, got=True, why="", number=number, place=where, at=again)
            return number
        doing.add(_row(act, fish, tissue, number=number, got=True, place=where))
    return number


def _row(act: Act, fish: Handling, tissue: str, **more: object) -> Sample:
    values: dict[str, object] = {
        "id": new_key(),
        "visit": fish.visit,
        "system": fish.system,
        "handling": fish.id,
        "tissue": tissue,
        "at": act.at,
        **more,
    }
    return Sample(**values)  # type: ignore[arg-type]


def _lesion_place(handling_id: str, tissue: str) -> str:
    """Return where the only lesion of a fish is, for a sample of a lesion."""
    found = read.find(Lesion, handling=handling_id) if tissue == "lesion" else ()
    return found[0].place if len(found) == 1 else ""


def not_got(act: Act, handling_id: str, tissue: str, why: str) -> None:
    """Record that a sample was not got, and why; nothing is numbered that is not there.

    Raises
    ------
    BadInput
        Without a reason.
    Refusal
        When slides or tests stand on the sample.
    """
    if not why.strip():
        raise BadInput("A sample that was not got needs a reason.", "Say why in a few words.")
    fish = read.one(Handling, handling_id)
    held = read.first(Sample, handling=handling_id, tissue=tissue)
    if held is not None and _read_already(held.id):
        raise Refusal(f"Sample {held.number} has slides or tests.", "Strike those first.")
    with edit("sample not got", who=act.by, at=act.at, visit=fish.visit) as doing:
        begin_stage(doing, fish.visit, "In hand")
        if held is not None:
            doing.change(Sample, held.id, got=False, why=why.strip())
            return
        doing.add(_row(act, fish, tissue, number="", got=False, why=why.strip()))


_STANDING = """
SELECT 1 FROM "slide" WHERE "sample" = ? AND "struck" IS NULL
UNION ALL SELECT 1 FROM "sent_test" WHERE "sample" = ? AND "struck" IS NULL
"""


def _read_already(sample_id: str) -> bool:
    return bool(query(_STANDING, (sample_id, sample_id)))


def strike(act: Act, sample_id: str, why: str) -> None:
    """Strike a sample that was put in by mistake; its number is not given again.

    Raises
    ------
    Refusal
        When slides or tests stand on it.
    """
    row = read.one(Sample, sample_id)
    if _read_already(sample_id):
        raise Refusal(f"Sample {row.number} has slides or tests.", "Strike those first.")
    with edit("sample struck", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.strike(Sample, sample_id, why)
