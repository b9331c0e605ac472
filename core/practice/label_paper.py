"""Labels: of what is dispensed, and of the samples taken."""

from __future__ import annotations

from core.catalogue import load
from core.numbers import plain
from core.papers.label import Label
from core.papers.parts import day
from core.papers.sample_labels import SampleLabel, SampleLabels
from core.practice import letterhead
from core.practice.keep import Act
from core.practice.names import name
from core.practice.record_rows import VisitRows, visit_number
from core.practice.stock import fish_here
from core.practice.treatment_said import days_of, each_amount, sentence, short, whom
from core.records import read
from core.records.tables import Sample, System, Treatment


def label_of(act: Act, treatment: Treatment) -> Label:
    """Return the label of something dispensed; the paper names what it lacks."""
    visit = VisitRows(treatment.visit)
    issued = letterhead.wall(act.at, visit.practice)
    return Label(
        number=f"{issued:%Y%m%d}-{treatment.id[-4:]}",
        practice=letterhead.head(visit.practice),
        issued=issued,
        prescriber=visit.people.get(treatment.by, ""),
        client=visit.opened.client.name,
        animals=_animals(visit, treatment),
        ingredients=name("medicine", treatment.medicine),
        strength=treatment.strength,
        quantity=_quantity(treatment),
        dosage=_dosage(treatment),
        frequency=_frequency(treatment),
        route=treatment.route,
        duration=_duration(treatment),
        cautions=_cautions(treatment),
        withdrawal=treatment.withdrawal or _not_food(visit),
        dispensed=issued.date(),
        expires=treatment.expires,
        approved_by=visit.people.get(act.by, ""),
        product=name("product", treatment.product) if treatment.product else "",
        lot=treatment.lot,
    )


def _quantity(treatment: Treatment) -> str:
    """Return what is handed over: every repeat, or the whole of what is given in parts."""
    if treatment.repeats > 1:
        return f"{treatment.repeats} x {short(treatment.amount)} {treatment.amount_unit}"
    return f"{short(treatment.amount)} {treatment.amount_unit}"


def _dosage(treatment: Treatment) -> str:
    """Return the amount of one time, the water or fish it is for, and how it is given."""
    several = len(days_of(treatment)) > 1
    each = f"{each_amount(treatment)}{' each time' if several else ''}"
    to = whom(treatment) if treatment.handling else read.one(System, treatment.system).name
    return f"{each}, for {to}. {sentence(treatment.directions)}".strip()


def _frequency(treatment: Treatment) -> str:
    if treatment.steps > 1 and treatment.repeats == 1:
        return f"once a day, in {treatment.steps} parts"
    if treatment.repeats == 1:
        return "once"
    every = treatment.interval_days or 1
    return f"{treatment.repeats} times " + (
        "every day" if every == 1 else f"every {plain(every)} days"
    )


def _duration(treatment: Treatment) -> str:
    """Return the days of the treatment, from the first to the last."""
    days = days_of(treatment)
    first, last = day(days[0]), day(days[-1])
    return f"on {first}" if first == last else f"from {first} to {last}"


def _animals(visit: VisitRows, treatment: Treatment) -> str:
    here = {one.group.id: one for one in fish_here(treatment.system)}
    if treatment.group in visit.groups:
        group = visit.groups[treatment.group]
        counted = here[group.id].alive if group.id in here else group.count
        return _named(group.name, group.species, counted or group.count)
    return ", ".join(_named(h.group.name, h.group.species, h.alive) for h in here.values())


def _named(called: str, species: str, number: int | None) -> str:
    kind = name("species", species)
    return f"{called} ({kind}, {number})" if number else f"{called} ({kind})"


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
