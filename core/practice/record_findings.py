"""What was measured and found at a visit, as its record prints it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from core.numbers import figures as shown_figure
from core.numbers import plain
from core.papers import visit_data as data
from core.practice import in_hand_clock, letterhead
from core.practice.names import name
from core.practice.record_rows import VisitRows
from core.practice.short import short
from core.records import read
from core.records.tables import (
    Feeding,
    FeedStep,
    Figure,
    Finding,
    Handling,
    Lesion,
    Reading,
    Sample,
    SentTest,
    Slide,
    TestResult,
    Weighing,
)
from core.sourced import words
from core.units import show


def water(visit: VisitRows) -> Iterator[data.Reading]:
    """Return each reading with the tap beside it and the verdict that was shown."""
    rows = read.find(Reading, visit=visit.id)
    verdicts = {
        (f.subject, f.name): f
        for f in read.find(Figure, visit=visit.id)
        if f.name.startswith("verdict ")
    }
    taps = {(r.system, r.analyte): r for r in rows if r.place in ("tap", "inlet")}
    several = {r.system for r in rows} != {visit.opened.system.id}
    for row in rows:
        if row.place not in ("here", "outlet"):
            continue
        reading = {"kh": "alkalinity", "gh": "hardness"}.get(row.analyte, row.analyte)
        keys = (f"toxic_{reading}", reading)
        found = [verdicts.get((row.system, f"verdict {key}")) for key in keys]
        kept = [f for f in found if f is not None and f.unit != "no limit"]
        where = f" ({visit.systems.get(row.system, '')})" if several else ""
        tap = taps.get((row.system, row.analyte))
        yield data.Reading(
            name("analyte", row.analyte) + where,
            typed(row),
            typed(tap) if tap else "",
            ", ".join(dict.fromkeys(f.unit for f in kept)),
            " ".join(f.working for f in kept),
            f"{letterhead.wall(row.at, visit.practice):%H:%M}",
        )


def typed(row: Reading) -> str:
    """Return a reading as it was typed, with its unit and basis."""
    basis = f" as {row.basis}" if row.basis else ""
    unit = "" if not row.unit or any(c.isalpha() for c in row.typed) else f" {row.unit}"
    return f"{row.typed}{unit}{basis}".strip()


def do_first(visit: VisitRows) -> Iterator[str]:
    """Return what the screen said to do first."""
    for figure in read.find(Figure, visit=visit.id, name="do first"):
        yield from figure.working.splitlines()


def figures(visit: VisitRows) -> Iterator[data.Figure]:
    """Return the figures that were shown, with their working."""
    for row in read.find(Figure, visit=visit.id):
        if row.name == "do first" or row.name.startswith("verdict "):
            continue
        lines = row.working.splitlines()
        equation = lines[1].strip() if len(lines) > 1 else ""
        sources = [line.strip() for line in lines if line.strip().startswith("source: ")]
        inputs = [line.strip() for line in lines[2:] if not line.strip().startswith("source: ")]
        yield data.Figure(
            row.name,
            f"{_value(row)} {row.unit}".strip(),
            words(row.formula.rsplit(".", 1)[-1]),
            equation,
            "; ".join(inputs),
            "; ".join(dict.fromkeys(s.removeprefix("source: ") for s in sources)),
        )


def _value(row: Figure) -> str:
    """Return a figure; what is weighed out or drawn up stands as it does in the plan."""
    return short(row.value) if row.formula.startswith("core.dosing.") else shown_figure(row.value)


def in_hand(visit: VisitRows) -> Iterator[data.InHand]:
    """Return each fish that was in hand."""
    for fish in visit.hands.values():
        group = visit.groups.get(fish.group or "")
        lesions = "; ".join(
            f"{name('lesion', x.kind)}, {name('place', x.place)}"
            + (f", {plain(x.size_mm)} mm" if x.size_mm else "")
            for x in read.find(Lesion, handling=fish.id)
        )
        yield data.InHand(
            fish.label,
            name("species", group.species) if group else "",
            show(fish.weight_g, "mass") if fish.weight_g is not None else "",
            fish.weight_how,
            show(fish.length_cm, "length") if fish.length_cm is not None else "",
            f"scoop of {fish.count}" if fish.count > 1 else "",
            lesions,
            sedation(fish),
        )


def sedation(fish: Handling) -> str:
    """Return the bath of a fish: agent, level and litres."""
    level = f"{plain(fish.agent_mg_l)} mg/L" if fish.agent_mg_l else ""
    litres = f"in {plain(fish.bath_l)} L" if fish.bath_l and fish.agent else ""
    return " ".join(filter(None, (name("medicine", fish.agent), level, litres)))


def depth(visit: VisitRows) -> Iterator[data.Depth]:
    """Return every moment of each anaesthesia and euthanasia, in order of time."""
    for fish in visit.hands.values():
        clock = in_hand_clock.of(fish)
        for mark in clock.marks:
            since = timedelta(minutes=max(0.0, clock.minutes(mark)))
            yield data.Depth(
                fish.label,
                f"{letterhead.wall(mark.at, visit.practice):%H:%M:%S}",
                in_hand_clock.clock_text(since) if clock.started else "",
                mark.event,
                "" if mark.breaths is None else f"{plain(round(mark.breaths))} a minute",
                mark.note,
                visit.people.get(mark.by, ""),
            )


def samples(visit: VisitRows) -> Iterator[data.Sample]:
    """Return the samples, got and not got."""
    for row in read.find(Sample, visit=visit.id):
        whom = visit.whom(None, row.handling, row.system)
        yield data.Sample(row.number, whom, name("tissue", row.tissue), row.got, row.why)


def slides(visit: VisitRows) -> Iterator[data.Slide]:
    """Return the slides and what was found."""
    samples = {s.id: s for s in read.find(Sample, visit=visit.id)}
    for n, slide in enumerate(read.find(Slide, visit=visit.id), 1):
        sample = samples.get(slide.sample)
        found = tuple(
            (name("finding", f.finding), f.counts, f.grade)
            for f in read.find(Finding, slide=slide.id)
        )
        yield data.Slide(
            str(n),
            f"{sample.number} {name('tissue', sample.tissue)}" if sample else "",
            name("stain", slide.stain),
            f"{slide.magnification}x",
            str(slide.fields),
            found or ((("nothing abnormal", "", ""),) if slide.normal else ()),
        )


def awaited(visit: VisitRows) -> Iterator[data.Awaited]:
    """Return the tests sent out, with results that came."""
    results = {r.test: r.value for r in read.find(TestResult, visit=visit.id)}
    for test in read.find(SentTest, visit=visit.id):
        yield data.Awaited(test.name, test.where, test.due, results.get(test.id, ""))


def _counted(row: Weighing) -> str:
    """Return how many fish a line of the stock stands for, a range where nobody could count."""
    if row.count is not None:
        return str(row.count)
    if row.count_low is None or row.count_high is None:
        return "unknown number"
    return f"{row.count_low} to {row.count_high}"


def feeding(visit: VisitRows) -> data.Feeding | None:
    """Return the feeding check, or None when there was none."""
    fed, steps = read.find(Feeding, visit=visit.id), read.find(FeedStep, visit=visit.id)
    weighed = read.find(Weighing, visit=visit.id)
    if not (fed or steps or weighed):
        return None
    facts = [
        (
            visit.groups[w.group].name if w.group in visit.groups else "fish",
            f"{_counted(w)} x {show(w.weight_g, 'mass')}, "
            + ("estimated from length" if w.how == "from length" else w.how),
        )
        for w in weighed
    ]
    facts += [
        ("Fed", f"{show(f.fed_g, 'mass')} every {plain(f.every_days)} day")
        for f in fed
        if f.fed_g is not None
    ]
    ramp = tuple(
        data.RampStep(f"{s.day:%d %b %Y}", f"{plain(round(s.grams, 1))} g a day", "", s.gate)
        for s in sorted(steps, key=lambda s: (s.system, s.position))
        if s.kind != "hold"
    )
    # What is held says its grams and why in its own sentence: it is no step of a rise.
    return data.Feeding(tuple(facts), ramp, " ".join(s.gate for s in steps if s.kind == "hold"))
