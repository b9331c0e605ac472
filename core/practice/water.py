"""The water of a visit: readings as typed, what follows from them, and what to do first."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass, replace

from core.catalogue import load
from core.practice.door import edit
from core.practice.keep import Act, Shown, begin_stage, keep_figures, put
from core.practice.visits import Opened, opened
from core.records import read
from core.records.engine import query
from core.records.tables import Reading, System
from core.sourced import Step, lines, working
from core.water.derived import Derived, derive
from core.water.first import do_first
from core.water.nitrogen import as_nitrogen
from core.water.readings import WaterReadings
from core.water.situation import FirstStep, Presence
from core.water.targets import SystemKind, kinds
from core.water.verdict import Verdict, for_row, judge_all

PLACES = ("here", "tap")
FLOWING_PLACES = ("outlet", "inlet", "tap")
"""A flowing water is judged where it leaves the fish."""


@dataclass(frozen=True)
class Analyte:
    """What is measured, as the catalogue lists it."""

    key: str
    label: str
    field: str
    kind: str
    units: tuple[str, ...]
    bases: tuple[str, ...]
    hard: tuple[float, float]
    soft: tuple[float, float]
    example: str

    @property
    def reading(self) -> str:
        """The name under which limits know it."""
        return {"kh": "alkalinity", "gh": "hardness"}.get(self.key, self.key)


@functools.cache
def analytes() -> tuple[Analyte, ...]:
    """Return what is measured, in the order it is taken: the meter first, then the slow kits."""
    rows = sorted(load.table("analytes").items(), key=lambda item: item[1]["order"])
    return tuple(
        Analyte(
            key,
            row["label"],
            row["field"],
            row["kind"],
            tuple(row["units"]),
            tuple(row.get("bases", ())),
            (row["hard"][0], row["hard"][1]),
            (row["soft"][0], row["soft"][1]),
            row["example"],
        )
        for key, row in rows
    )


@functools.cache
def system_kinds() -> Mapping[str, SystemKind]:
    """Return every kind of system with its limits."""
    return kinds(load.table("system_kinds"), load.table("targets"), load.citations())


def places(system: System) -> tuple[str, ...]:
    """Return where this water may be measured; the first is the one that is judged."""
    return FLOWING_PLACES if system.flow == "flowing" else PLACES


@dataclass(frozen=True)
class Judged:
    """What follows from the readings of one water."""

    readings: WaterReadings
    derived: Derived
    verdicts: dict[str, Verdict]
    first: tuple[FirstStep, ...]

    def word(self, reading: str) -> Verdict | None:
        """Return the gravest verdict on a reading."""
        return for_row(self.verdicts, reading)


@dataclass(frozen=True)
class WaterView:
    """The readings of one system at a visit, place by place, and those of the visit before."""

    opened: Opened
    system: System
    by_place: Mapping[str, Mapping[str, Reading]]
    last: Mapping[str, Reading]
    """The readings of the visit before, at the place that is judged."""
    last_day: str

    @property
    def judged_place(self) -> str:
        """Where the water is judged."""
        return places(self.system)[0]

    def readings(self, place: str) -> Mapping[str, Reading]:
        """Return the readings at a place by analyte."""
        return self.by_place.get(place, {})


def view(visit_id: str, system_id: str) -> WaterView:
    """Return the water of a system as this visit has it."""
    found = opened(visit_id)
    by_place: dict[str, dict[str, Reading]] = {}
    for reading in read.find(Reading, visit=visit_id, system=system_id):
        by_place.setdefault(reading.place, {})[reading.analyte] = reading
    system = read.one(System, system_id)
    day = found.visit.day.isoformat()
    before = query(_BEFORE, (found.visit.site, day, system_id, places(system)[0]))
    last: dict[str, Reading] = {}
    if before:
        rows = read.find(Reading, visit=before[0][0], system=system_id, place=places(system)[0])
        last = {r.analyte: r for r in rows}
    return WaterView(found, system, by_place, last, before[0][1] if before else "")


_BEFORE = """
SELECT v."id", v."day" FROM "visit" v
WHERE v."site" = ? AND v."day" < ? AND EXISTS (
  SELECT 1 FROM "reading" r WHERE r."visit" = v."id" AND r."system" = ? AND r."place" = ?
    AND r."struck" IS NULL)
ORDER BY v."day" DESC, v."starts" DESC LIMIT 1
"""


def as_readings(rows: Mapping[str, Reading]) -> WaterReadings:
    """Return the rows of one place as the calculation takes them."""
    values = {a.field: rows[a.key].value for a in analytes() if a.key in rows}
    below = frozenset(a.field for a in analytes() if a.key in rows and rows[a.key].below)
    return WaterReadings(**values, below=below)


def with_value(
    readings: WaterReadings, analyte: Analyte, value: float | None, below: bool
) -> WaterReadings:
    """Return the readings with one value put in or taken out: what is being typed."""
    kept = readings.below - {analyte.field} | ({analyte.field} if below else set())
    return replace(readings, **{analyte.field: value}, below=frozenset(kept))


def judged(water: WaterView, readings: WaterReadings) -> Judged:
    """Return what follows from readings of this water: figures, verdicts, what to do first."""
    kind = system_kinds()[water.system.kind]
    elevation = water.opened.site.elevation_m
    tap = as_readings(water.readings("tap"))
    return Judged(
        readings,
        derive(readings, kind, elevation),
        judge_all(readings, kind, elevation),
        do_first(readings, kind, water.system.volume_l, elevation, tap, present(water.system)),
    )


def present(system: System) -> frozenset[Presence]:
    """Return what lives or lies in a water that speaks against salt."""
    found: set[Presence] = set()
    if system.plants == "yes":
        found.add("plants")
    if system.invertebrates == "yes":
        found.add("invertebrates")
    if system.zeolite == "yes":
        found.add("zeolite")
    return frozenset(found)


@dataclass(frozen=True)
class Measured:
    """One reading as a screen hands it over: the value typed, in the canonical unit."""

    analyte: str
    value: float
    typed: str
    unit: str = ""
    basis: str = ""
    """``N`` or the ion the kit counts; the record keeps N."""
    below: bool = False
    above: bool = False
    method: str = ""


def in_canon(value: float, basis: str) -> float:
    """Return a value in mg/L as N, whatever ion the kit counts."""
    if basis == "NO2" or basis == "NO3" or basis == "NH3" or basis == "NH4":
        return as_nitrogen(value, basis)
    return value


def record_reading(
    act: Act, visit_id: str, system_id: str, measured: Measured, place: str = "here"
) -> None:
    """Record a reading, or correct the one that stands, and keep what follows from it."""
    where = {"visit": visit_id, "system": system_id, "place": place, "analyte": measured.analyte}
    values = {
        "value": in_canon(measured.value, measured.basis),
        "typed": measured.typed,
        "unit": measured.unit,
        "basis": measured.basis,
        "below": measured.below,
        "above": measured.above,
        "method": measured.method,
        "at": act.at,
    }
    with edit("reading", who=act.by, at=act.at, visit=visit_id) as doing:
        begin_stage(doing, visit_id, "Water")
        put(doing, Reading, where, values)
        keep_figures(doing, act, visit_id, system_id, shown(view(visit_id, system_id)))


def strike_reading(act: Act, reading_id: str, why: str) -> None:
    """Strike a reading with a reason; the figures that stood on it go with it."""
    reading = read.one(Reading, reading_id)
    with edit("reading struck", who=act.by, at=act.at, visit=reading.visit) as doing:
        doing.strike(Reading, reading_id, why)
        water = view(reading.visit, reading.system)
        keep_figures(doing, act, reading.visit, reading.system, shown(water), whole=True)


FIGURES = {
    "unionised_ammonia_mg_l": "toxic ammonia",
    "saturation_mg_l": "oxygen this water can hold",
    "percent_saturation": "oxygen saturation",
    "carbon_dioxide_mg_l": "carbon dioxide",
    "specific_gravity": "specific gravity",
}
"""Formula to the name under which its figure is kept."""


def shown(water: WaterView) -> dict[str, Shown]:
    """Return everything that the screen shows about a water, to be kept with the record."""
    readings = as_readings(water.readings(water.judged_place))
    with working() as steps:
        found = judged(water, readings)
    cites = load.citations()
    kept: dict[str, Shown] = {}
    for step in steps:
        name = FIGURES.get(step.formula.name)
        if name == "specific gravity" and readings.practical_salinity is None:
            continue
        if name and name not in kept and isinstance(step.value, float):
            kept[name] = Shown(
                step.value, step.formula.unit, "\n".join(lines([step], cites)), step.formula.key
            )
    for reading, verdict in found.verdicts.items():
        key = "core.water.verdict.judge"
        kept[f"verdict {reading}"] = Shown(verdict.value, verdict.word, verdict.sentence, key)
    if found.first:
        text = "\n".join(said(f) for f in found.first)
        kept["do first"] = Shown(float(len(found.first)), "", text, "core.water.first.do_first")
    return kept


def said(step: FirstStep) -> str:
    """Return a line of *do first* as it is shown."""
    return f"{step.action.rstrip(':')}: {step.figure}" if step.figure else step.action.rstrip(":")


def working_of(water: WaterView, readings: WaterReadings) -> str:
    """Return the working of every figure of a water."""
    with working() as steps:
        judged(water, readings)
    firsts: dict[str, Step] = {}
    for step in steps:
        if step.formula.name in FIGURES:
            firsts.setdefault(step.formula.name, step)
    return "\n\n".join("\n".join(lines([step], load.citations())) for step in firsts.values())
