"""Plans of prevention for a water: quarantine, spring start, food by temperature, filter work.

Each is a template of the catalogue filled in with the volume and the stock that the record has;
what the record does not have is said to be unknown, never guessed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from core.catalogue import load
from core.errors import BadInput, Refusal
from core.feeding.nitrifiers import ammonia_oxidiser_factor
from core.numbers import plain
from core.papers import preventive as paper
from core.papers.preventive import Preventive
from core.practice import letterhead, preventive_food, stock, water
from core.practice.door import edit
from core.practice.issued import Drawn, Issued, store
from core.practice.keep import Act
from core.practice.preventive_food import stocked
from core.practice.record_rows import visit_number
from core.practice.treatment_said import sentence
from core.practice.visits import Opened, opened
from core.records import read
from core.records.tables import Practice, System
from core.units import Locale, show
from core.water.salinity import salt_for_rise_g

UNKNOWN = "(not known: measure it first)"
BUCKET_L = 10.0
"""A bucket that everybody has: our choice."""
COLD_C = 10.0


@dataclass(frozen=True)
class Template:
    """One plan of the catalogue."""

    key: str
    title: str
    kind: str
    """What its papers are filed as."""
    about: str
    lines: tuple[Mapping[str, Any], ...]
    ponds_only: bool = False
    table: bool = False
    record: bool = False


def templates() -> dict[str, Template]:
    """Return the plans by key."""
    return {
        key: Template(
            key,
            row["title"],
            row["kind"],
            row["about"],
            tuple(row["line"]),
            row.get("ponds_only", False),
            row.get("table", False),
            row.get("record", False),
        )
        for key, row in load.table("preventive").items()
    }


def issue(act: Act, visit_id: str, folder: Path, key: str, system_id: str = "") -> Issued:
    """Issue a plan for a water of a visit; the same plan again is the same paper."""
    visit = opened(visit_id)
    practice = read.find(Practice)[0]
    found = plan_of(act, visit, key, system_id)
    drawn = Drawn(
        templates()[key].kind,
        found.number,
        paper.pdf(found, letterhead.paper(practice)),
        paper.text(found),
    )
    with edit("preventive plan", who=act.by, at=act.at, visit=visit_id) as doing:
        return store(doing, act, folder, visit, drawn)


def plan_of(act: Act, visit: Opened, key: str, system_id: str = "") -> Preventive:
    """Return a plan filled in for a water.

    Raises
    ------
    BadInput
        For a plan that there is not.
    Refusal
        For a spring start of what is no pond.
    """
    if key not in templates():
        raise BadInput(f"There is no plan {key}.", f"It is one of {', '.join(templates())}.")
    form = templates()[key]
    system = read.one(System, system_id or visit.system.id)
    if form.ponds_only and load.table("system_kinds")[system.kind]["asks"] != "pond":
        raise Refusal(f"{system.name} is no pond: it has no spring start.", "Choose another plan.")
    practice = read.find(Practice)[0]
    lines = [row for row in form.lines if _stands(row, system)]
    grounds = _grounds(lines)
    said = values(visit, system, _locale(practice))
    dated: dict[date, list[str]] = {}
    always: list[str] = []
    for row in lines:
        words = f"{sentence(row['words'].format(**said))} [{_letter(row, grounds)}]"
        for day in _days(row, visit.visit.day):
            dated.setdefault(day, []).append(words)
        if not _offsets(row):
            always.append(words)
    return Preventive(
        number=f"{visit_number(visit)}-{_short(system, visit)}",
        practice=letterhead.head(practice),
        client=letterhead.party(visit.client),
        issued=letterhead.wall(act.at, practice),
        title=form.title,
        about=form.about,
        facts=tuple(_facts(visit, system, _locale(practice))),
        dated=tuple((day, tuple(dated[day])) for day in sorted(dated)),
        always=tuple(always),
        rations=preventive_food.rations(visit, system) if form.table else None,
        record=form.record,
        grounds=tuple(f"[{letter}] {ground}" for ground, letter in grounds.items()),
        veterinarian=visit.vet.name,
    )


def values(visit: Opened, system: System, locale: Locale) -> dict[str, str]:
    """Return what the words of a template are filled in with, for a water."""
    volume = system.volume_l

    def part(share: float) -> str:
        return show(share * volume, "volume", locale) if volume else UNKNOWN

    salt = show(salt_for_rise_g(volume, 1.0), "mass", locale) if volume else UNKNOWN
    return {
        "water": system.name,
        "volume": part(1.0),
        "tenth": part(0.1),
        "fifth": part(0.2),
        "pump_low": part(0.5),
        "pump_high": part(1.0),
        "salt": salt,
        "bucket": show(BUCKET_L, "volume", locale),
        "stock": ", ".join(_stock(visit, system)) or "none on record",
        "filter": system.filter or "not on record",
        "factor": f"{100 * ammonia_oxidiser_factor(COLD_C):.0f} %",
    }


def _stock(visit: Opened, system: System) -> Iterator[str]:
    """Give each group of a water with its number, and with its weight where it was weighed."""
    weighed = {line.group.id: line.stock.mean_weight_g for line in stocked(visit, system)}
    for here in stock.fish_here(system.id):
        many = "number not known" if here.alive is None else f"{here.alive}"
        each = weighed.get(here.group.id)
        about = f", about {plain(round(each, 1))} g each" if each else ""
        yield f"{here.group.name} ({many}{about})"


def _facts(visit: Opened, system: System, locale: Locale) -> Iterator[tuple[str, str]]:
    said = values(visit, system, locale)
    kind = load.table("system_kinds")[system.kind]["name"]
    how = f" ({system.volume_how})" if system.volume_l and system.volume_how else ""
    same = system.name.lower() == kind.lower()
    yield "Water", system.name if same else f"{system.name}, {kind[0].lower()}{kind[1:]}"
    yield "Volume", f"{said['volume']}{how}"
    yield "Filter", said["filter"]
    yield "Fish", said["stock"]
    yield "At our visit", ", ".join(_measured(visit, system, locale)) or "not measured"


def _measured(visit: Opened, system: System, locale: Locale) -> Iterator[str]:
    seen = water.view(visit.visit.id, system.id)
    rows = seen.readings(seen.judged_place)
    for key in ("temperature", "ph", "kh", "ammonia", "nitrite"):
        row = rows.get(key)
        if row is None:
            continue
        label = load.table("analytes")[key]["label"].split(",")[0]
        shown = show(row.value, "temperature", locale) if key == "temperature" else row.typed
        yield f"{label} {shown}"


def _stands(row: Mapping[str, Any], system: System) -> bool:
    """Whether a line is for the fish that live here."""
    here = {one.group.species for one in stock.fish_here(system.id)}
    return "species" not in row or bool(here & set(row["species"]))


def _offsets(row: Mapping[str, Any]) -> tuple[int, ...]:
    if "every" in row:
        return tuple(range(row["every"], row["until"] + 1, row["every"]))
    return tuple(row["days"]) if "days" in row else ((row["day"],) if "day" in row else ())


def _days(row: Mapping[str, Any], first: date) -> Iterator[date]:
    yield from (first + timedelta(days=n) for n in _offsets(row))


def _ground(row: Mapping[str, Any]) -> str:
    source = load.citations().get(row.get("source", ""), "")
    return f"{row['how']}: {source.rstrip('.')}" if source else str(row["how"])


def _grounds(rows: list[Mapping[str, Any]]) -> dict[str, str]:
    """Return how the lines are known, each ground with its letter."""
    found = dict.fromkeys(_ground(row) for row in rows)
    return dict(zip(found, "abcdefghijkl", strict=False))


def _letter(row: Mapping[str, Any], grounds: Mapping[str, str]) -> str:
    return grounds[_ground(row)]


def _short(system: System, visit: Opened) -> str:
    """Return which of the waters of a visit this is, as its papers count them."""
    return str(1 + [s.id for s in visit.systems].index(system.id))


def _locale(practice: Practice) -> Locale:
    return "us" if practice.units == "us" else "metric"
