"""Labels: of what is dispensed, and of the samples taken."""

from __future__ import annotations

import functools
import hashlib
from collections.abc import Sequence
from dataclasses import replace

from core.catalogue import load
from core.errors import BadInput, Refusal
from core.papers import label as paper
from core.papers.label import Label
from core.papers.label_box import Grid
from core.papers.parts import day
from core.papers.sample_labels import SampleLabel, SampleLabels
from core.practice import fed_in, from_memory, letterhead, settings
from core.practice.dose_fish import fish_of_row
from core.practice.keep import Act
from core.practice.medicines import catalogue
from core.practice.names import name
from core.practice.record_rows import VisitRows, visit_number
from core.practice.roles import VET
from core.practice.stock import fish_here
from core.practice.treatment_said import (
    days_of,
    each_amount,
    frequency,
    sentence,
    short,
    whom,
)
from core.records import read
from core.records.tables import Document, FishGroup, Person, Practice, Sample, System, Treatment

SIZE = "label_size"
"""The setting that holds the size of the practice's labels."""
USUAL = "90 x 50 mm"


@functools.cache
def sizes() -> dict[str, Grid]:
    """Return the sizes of labels that can be printed, by their dimensions."""
    rows = load.table("label_sizes")
    return {
        key: Grid(
            *(row["wide"], row["high"], row["columns"], row["rows"]),
            gap=row.get("gap"),
            paper=row.get("paper", ""),
            cut=row.get("cut", False),
        )
        for key, row in rows.items()
    }


def size() -> str:
    """Return the size that the practice prints on."""
    found = settings.get(SIZE, USUAL)
    return found if found in sizes() else USUAL


def set_size(act: Act, chosen: str) -> None:
    """Choose the size of the practice's labels.

    Raises
    ------
    BadInput
        For one that is not in the list.
    """
    if chosen not in sizes():
        raise BadInput(f"There is no label of {chosen}.", f"There are {', '.join(sizes())}.")
    settings.put(act, SIZE, chosen)


def number_of(treatment: Treatment, practice: Practice) -> str:
    """Return the number of a label: the day it was ordered and the end of its key."""
    return f"{letterhead.wall(treatment.at, practice):%Y%m%d}-{treatment.id[-4:]}"


def labels_of(act: Act, visit_id: str) -> list[Label]:
    """Return the labels of what a visit dispenses; not checked unless a veterinarian acts."""
    return [label_of(act, t) for t in read.find(Treatment, visit=visit_id, act="dispensed")]


def content_hash(labels: Sequence[Label]) -> str:
    """Return the hash of what labels say, whoever checked them and whenever they are printed."""
    said = (
        paper.text(replace(one, dispensed=one.issued.date(), approved_by="-")) for one in labels
    )
    return hashlib.sha256("\n".join(said).encode()).hexdigest()


def must_be_checked(visit_id: str) -> None:
    """Refuse to hand a medicine over before a veterinarian has checked its label as it stands.

    Raises
    ------
    Refusal
        When no label is issued, one was issued by somebody else, or what it says has changed.
    """
    issued = read.find(Document, visit=visit_id, kind="labels")
    if not issued:
        raise Refusal(
            "No veterinarian has checked this label, so the medicine is not handed over.",
            "A veterinarian issues the labels: that is the check.",
        )
    last = issued[-1]
    if read.one(Person, last.by).role != VET:
        raise Refusal(
            "This label was not checked by a veterinarian, so the medicine is not handed over.",
            "A veterinarian issues the labels anew.",
        )
    if last.content != content_hash(labels_of(Act(last.by, last.at), visit_id)):
        raise Refusal(
            "What the label says has changed since a veterinarian checked it.",
            "A veterinarian issues the labels anew.",
        )


def label_of(act: Act, treatment: Treatment) -> Label:
    """Return the label of something dispensed; the paper names what it lacks.

    Only a veterinarian's act fills in the check: prepared by somebody else it does not print.
    """
    visit = VisitRows(treatment.visit)
    issued = letterhead.wall(act.at, visit.practice)
    return Label(
        number=number_of(treatment, visit.practice),
        practice=letterhead.head(visit.practice),
        issued=issued,
        prescriber=visit.people.get(treatment.by, ""),
        client=visit.opened.client.name,
        species=_species(visit, treatment),
        animals=_animals(visit, treatment),
        ingredients=name("medicine", treatment.medicine),
        strength=treatment.strength,
        quantity=quantity(treatment),
        dosage=_dosage(treatment),
        frequency=frequency(treatment),
        route=treatment.route,
        duration=_duration(treatment),
        cautions=_cautions(treatment),
        withdrawal=treatment.withdrawal or _not_food(visit),
        dispensed=issued.date(),
        expires=treatment.expires,
        approved_by=_checked_by(act),
        product=name("product", treatment.product) if treatment.product else "",
        lot=treatment.lot,
    )


def quantity(treatment: Treatment) -> str:
    """Return what is handed over: every repeat, or the whole of what is given in parts."""
    times = treatment.repeats * fish_of_row(treatment)
    many = f"{times} x " if times > 1 else ""
    return f"{many}{short(treatment.amount)} {treatment.amount_unit}"


def _dosage(treatment: Treatment) -> str:
    """Return the amount of one time, the water or fish it is for, and how it is given."""
    several = len(days_of(treatment)) > 1
    one = fed_in.words(treatment) or each_amount(treatment)
    each = f"{one}{' each time' if several else ''}"
    to = whom(treatment) if treatment.handling else read.one(System, treatment.system).name
    return f"{each}, for {to}. {sentence(treatment.directions)}".strip()


def _duration(treatment: Treatment) -> str:
    """Return the days of the treatment, from the first to the last."""
    days = days_of(treatment)
    first, last = day(days[0]), day(days[-1])
    return f"on {first}" if first == last else f"from {first} to {last}"


def _checked_by(act: Act) -> str:
    """Return who checks the label: a veterinarian, or nobody."""
    person = read.one(Person, act.by)
    return person.name if person.role == VET else ""


def _fish(visit: VisitRows, treatment: Treatment) -> tuple[tuple[FishGroup, int | None], ...]:
    """Return the groups that a treatment is for, each with how many are alive."""
    here = {one.group.id: one for one in fish_here(treatment.system)}
    if treatment.group in visit.groups:
        group = visit.groups[treatment.group]
        counted = here[group.id].alive if group.id in here else group.count
        return ((group, counted or group.count),)
    return tuple((one.group, one.alive) for one in here.values())


def _species(visit: VisitRows, treatment: Treatment) -> str:
    kinds = (name("species", group.species) for group, _ in _fish(visit, treatment))
    return ", ".join(dict.fromkeys(kinds))


def _animals(visit: VisitRows, treatment: Treatment) -> str:
    found = _fish(visit, treatment)
    named = ", ".join(f"{g.name} ({n})" if n else g.name for g, n in found)
    where = read.one(System, treatment.system).name
    return f"{named}, in {where}" if named else ""


def _cautions(treatment: Treatment) -> str:
    row = catalogue().get(treatment.medicine)
    hazards = "; ".join(row.hazards if row else ()) or "Gloves. Keep away from children and food."
    known = from_memory.said(treatment.medicine)
    return f"{hazards.removesuffix('.')}; {known}" if known else hazards


def _not_food(visit: VisitRows) -> str:
    return "" if visit.opened.system.food_fish else "Not for fish that may be eaten."


def sample_labels(act: Act, visit_id: str) -> SampleLabels:
    """Return the labels of the samples got at a visit."""
    visit = VisitRows(visit_id)
    rows = read.find(Sample, visit=visit_id, got=True)
    labels = tuple(
        SampleLabel(
            number=row.number,
            what=name("tissue", row.tissue),
            animal=visit.whom(None, row.handling, row.system),
            client=visit.opened.client.name,
            system=visit.systems.get(row.system, ""),
            taken=letterhead.wall(row.at, visit.practice).date(),
            time=f"{letterhead.wall(row.at, visit.practice):%H:%M}",
        )
        for row in rows
    )
    return SampleLabels(
        practice=letterhead.head(visit.practice),
        visit=visit_number(visit.opened),
        issued=letterhead.wall(act.at, visit.practice),
        labels=labels,
    )
