"""Labels: of what is dispensed, and of the samples taken."""

from __future__ import annotations

from core.catalogue import load
from core.numbers import plain
from core.papers.label import Label
from core.papers.sample_labels import SampleLabel, SampleLabels
from core.practice import letterhead
from core.practice.keep import Act
from core.practice.names import name
from core.practice.record_rows import VisitRows, visit_number
from core.practice.stock import fish_here
from core.records import read
from core.records.tables import Sample, Treatment


def label_of(act: Act, treatment: Treatment) -> Label:
    """Return the label of something dispensed; the paper names what it lacks."""
    visit = VisitRows(treatment.visit)
    issued = letterhead.wall(act.at, visit.practice)
    every = f"every {plain(treatment.interval_days)} days" if treatment.interval_days else ""
    times = f"{treatment.repeats} times" if treatment.repeats > 1 else "once"
    system = visit.opened.system
    total = f"{treatment.repeats} x {plain(round(treatment.amount, 2))} {treatment.amount_unit}"
    return Label(
        number=f"{issued:%Y%m%d}-{treatment.id[-4:]}",
        practice=letterhead.head(visit.practice),
        issued=issued,
        prescriber=visit.people.get(treatment.by, ""),
        client=visit.opened.client.name,
        animals=_animals(visit, treatment),
        ingredients=name("medicine", treatment.medicine),
        strength=treatment.strength,
        quantity=total,
        dosage=f"{plain(round(treatment.amount, 2))} {treatment.amount_unit} each time, "
        f"for {system.name}. {treatment.directions}".strip(),
        frequency=" ".join(filter(None, (times, every))),
        route=treatment.route,
        duration=f"{times} {every}".strip(),
        cautions=_cautions(treatment),
        withdrawal=treatment.withdrawal or _not_food(visit),
        dispensed=issued.date(),
        expires=treatment.expires,
        approved_by=visit.people.get(act.by, ""),
        product=name("product", treatment.product) if treatment.product else "",
        lot=treatment.lot,
    )


def _animals(visit: VisitRows, treatment: Treatment) -> str:
    groups = (
        [visit.groups[treatment.group]]
        if treatment.group in visit.groups
        else [here.group for here in fish_here(treatment.system)]
    )
    return ", ".join(f"{g.name} ({name('species', g.species)}, {g.count or 1})" for g in groups)


def _cautions(treatment: Treatment) -> str:
    row = load.table("medicines").get(treatment.medicine, {})
    return "; ".join(row.get("hazards", ())) or "Gloves. Keep away from children and food."


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
