"""A medicine of the practice's own as a person writes it down, and the row that it makes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from core.errors import BadInput
from core.numbers import plain
from core.practice import own_rows
from core.practice.keep import Act
from core.practice.own_medicine import own
from core.practice.own_row import (
    EXTRA,
    NOT_KNOWN,
    READ,
    SUBJECTS,
    Stance,
    food_stance,
    stance,
    subjects,
)
from core.practice.own_units import dose_typed, hours_typed, same_unit

NO_SOURCE = "none: from the practice's own knowledge"
_TYPED = (
    *("name", "form", "routes", "indication", "dose_low", "dose_high", "unit", "dose_of"),
    *("interval_h", "repeats", "duration", "systems", "avoid", "hazards"),
    *("controlled", "antimicrobial", "us_food_fish"),
    *("us_food_fish_note", "withdrawal_days", "sources", "known", *EXTRA),
    *(name for s in SUBJECTS for name in (s.flag, s.unknown, s.limit) if name),
)
"""Columns that are written anew; what else a row says is left as it was."""


@dataclass(frozen=True)
class Elsewhere:
    """What another place than the United States says of food fish."""

    place: str
    status: str
    withdrawal_days: int | None
    how: str
    source: str = ""


@dataclass(frozen=True)
class Written:
    """A medicine as it is written down; texts with units as they were typed.

    `stances` says of each subject of `own_row.SUBJECTS` whether it is harmful or allowed, and
    `limits` beyond which figure; `food` and `status` the same of food fish in the United States.
    `known` says how each field is known, and `grounds` in which source.
    """

    name: str
    form: str
    routes: tuple[str, ...]
    indication: str
    dose_high: str
    systems: tuple[str, ...]
    dose_low: str = ""
    dose_of: str = ""
    interval: str = ""
    repeats: int | None = None
    duration: str = ""
    stances: Mapping[str, Stance] = field(default_factory=dict)
    limits: Mapping[str, float] = field(default_factory=dict)
    avoid: str = ""
    hazards: str = ""
    controlled: bool = False
    antimicrobial: bool = False
    food: Stance = "not known"
    status: str = ""
    status_note: str = ""
    withdrawal_days: int | None = None
    elsewhere: tuple[Elsewhere, ...] = ()
    known: Mapping[str, str] = field(default_factory=dict)
    grounds: Mapping[str, str] = field(default_factory=dict)


def body_of(new: Written, old: Mapping[str, Any] | None = None) -> dict[str, Any]:
    """Return the row that a medicine makes as it is written down.

    Parameters
    ----------
    old : mapping, optional
        The row before; what is not asked of a person stays as it was.

    Raises
    ------
    BadInput
        For a dose or a time that can not be, or a field that is read without its source.
    """
    route = new.routes[0]
    high, unit = dose_typed(new.dose_high, route)
    kept = {name: value for name, value in (old or {}).items() if name not in _TYPED}
    row: dict[str, Any] = {
        **kept,
        "name": new.name,
        "form": new.form,
        "routes": list(new.routes),
        "indication": new.indication,
        "dose_high": high,
        "unit": unit,
        "systems": list(new.systems),
        "us_food_fish": _status(new),
        "known": {name: how for name, how in new.known.items() if how},
        "grounds": _grounds(new),
    }
    row["sources"] = list(dict.fromkeys(row["grounds"].values())) or [NO_SOURCE]
    return row | {name: value for name, value in _optional(new, unit) if value not in (None, "")}


def _optional(new: Written, unit: str) -> Iterator[tuple[str, Any]]:
    low = new.dose_low and same_unit(new.dose_low, new.routes[0], unit)
    yield "dose_low", low or None
    yield "dose_of", new.dose_of
    yield "interval_h", hours_typed(new.interval) if new.interval else None
    yield "repeats", new.repeats
    yield "duration", new.duration
    yield "avoid", [new.avoid] if new.avoid else None
    yield "hazards", [new.hazards] if new.hazards else None
    yield "controlled", new.controlled or None
    yield "antimicrobial", new.antimicrobial or None
    if new.food == "allowed":
        yield "us_food_fish_note", new.status_note
        yield "withdrawal_days", new.withdrawal_days
    yield "elsewhere", [vars(one) for one in new.elsewhere] or None
    asked = subjects(new.routes)
    allowed = [s.key for s in asked if new.stances.get(s.key) == "allowed"]
    yield "allowed", allowed or None
    for subject in asked:
        if new.stances.get(subject.key) == "harmful":
            yield subject.flag or subject.limit, _harm(new, subject.key, subject.label)


def _harm(new: Written, key: str, label: str) -> bool | float:
    if next(s for s in SUBJECTS if s.key == key).flag:
        return True
    figure = new.limits.get(key)
    if figure is None:
        raise BadInput(f"{label}: harmful, and the figure is missing.", "Type where it begins.")
    return figure


def _status(new: Written) -> str:
    if own_rows.forbidden(new.name) and new.food != "allowed":
        return "prohibited"
    if new.food == "allowed":
        if not new.status:
            raise BadInput("Food fish: allowed, and its standing is missing.", "Choose one.")
        return new.status
    return NOT_KNOWN if new.food == NOT_KNOWN else "not for food fish"


def _grounds(new: Written) -> dict[str, str]:
    found = {}
    for name, how in new.known.items():
        if how in READ:
            if not new.grounds.get(name):
                raise BadInput(f"The {name.replace('_', ' ')} is {how}: in which source?")
            found[name] = new.grounds[name]
    return found


def written_of(row: Mapping[str, Any]) -> Written:
    """Return a row as it was written down, to be corrected."""
    unit = row["unit"]
    low, hours = row.get("dose_low"), row.get("interval_h")
    food, whole = food_stance(row), "; ".join(row.get("sources", ()))
    made = Written(
        name=row["name"],
        form=row["form"],
        routes=tuple(row["routes"]),
        indication=row["indication"],
        dose_high=f"{plain(row['dose_high'])} {unit}",
        systems=tuple(row["systems"]),
        dose_low="" if low is None else f"{plain(low)} {unit}",
        dose_of=row.get("dose_of", ""),
        interval=_interval(hours),
        repeats=row.get("repeats"),
        duration=row.get("duration", ""),
        avoid="; ".join(row.get("avoid", ())),
        hazards="; ".join(row.get("hazards", ())),
        controlled=row.get("controlled", False),
        antimicrobial=row.get("antimicrobial", False),
        food=food,
        known=dict(row["known"]),
        grounds={
            name: row.get("grounds", {}).get(name, whole)
            for name, how in row["known"].items()
            if how in READ
        },
    )
    return replace(
        made,
        stances={s.key: stance(row, s) for s in subjects(made.routes)},
        limits={s.key: float(row[s.limit]) for s in SUBJECTS if s.limit and row.get(s.limit)},
        status=row["us_food_fish"] if food == "allowed" else "",
        status_note=row.get("us_food_fish_note", ""),
        withdrawal_days=row.get("withdrawal_days"),
        elsewhere=tuple(Elsewhere(**one) for one in row.get("elsewhere", ())),
    )


def _interval(hours: int | None) -> str:
    if not hours:
        return ""
    return f"{hours // 24} d" if hours % 24 == 0 else f"{hours} h"


def write(act: Act, new: Written, key: str = "") -> str:
    """Write a medicine of the practice's own as it was written down, or correct one.

    Raises
    ------
    BadInput
        For a row that can not be, with a sentence for each fault.
    NotAllowed
        For anybody but a veterinarian.
    """
    return own(act, body_of(new, own_rows.held().bodies.get(key)), key)


def written(key: str) -> Written | None:
    """Return a row of the practice's own as it was written down; None for the catalogue's."""
    body = own_rows.held().bodies.get(key)
    return None if body is None else written_of(body)
