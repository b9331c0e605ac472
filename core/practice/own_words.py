"""A row of the practice's own read whole: every field with its own source and how it is known."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from core.dosing.medicines import Medicine
from core.numbers import plain
from core.practice.own_row import (
    COMMON,
    NOT_KNOWN,
    Subject,
    food_stance,
    how_words,
    stance,
    subjects,
)

FROM_MEMORY = "THE DOSE OF THIS ROW IS FROM MEMORY: it was read in no source."
BY_PRACTICE = "THE DOSE OF THIS ROW IS COMMON PRACTICE: it was read in no source."
_UNITS = {"alkalinity": "mg/L CaCO3", "heat": "deg C", "oxygen": "mg/L"}
_SIDES = {"alkalinity": "below", "heat": "above", "oxygen": "below"}


def whole(row: Medicine, body: Mapping[str, Any]) -> str:
    """Return a row of the practice's own as lines under their headings."""
    return "\n".join(_lines(row, body))


def _lines(row: Medicine, body: Mapping[str, Any]) -> Iterator[str]:
    yield "Written by this practice: it stands in no catalogue."
    if row.from_memory:
        yield BY_PRACTICE if body["known"]["dose"] == COMMON else FROM_MEMORY
    for label, name in (("name", "name"), ("form", "form"), ("for", "indication")):
        yield f"{label}: {body[name]} ({how_words(body, 'indication')})"
    yield f"route: {' or '.join(body['routes'])} ({how_words(body, 'indication')})"
    yield from ("", "DOSE", *_dose(body))
    yield from ("", "WHO MUST NOT HAVE IT, AND WHEN")
    for subject in subjects(body["routes"]):
        yield _subject(body, subject)
    yield from _more(body, ("avoid", "not_with", "stop_groups", "caution_groups"))
    yield from ("", "FOOD FISH", *_food(body))
    yield from ("", "PEOPLE", _hazards(body))
    yield f"controlled drug: {_yes(body, 'controlled')}"
    yield f"counted as an antimicrobial: {_yes(body, 'antimicrobial')}"
    if goes := [*_more(body, ("switch_off", "stay", "stop_at", "trial", "water_goes", "kit"))]:
        yield from ("", "WITH IT", *goes)


def _hazards(body: Mapping[str, Any]) -> str:
    if not body.get("hazards"):
        return "hazard to people: NOT KNOWN; it is handled as harmful"
    return f"hazard to people: {'; '.join(body['hazards'])} ({how_words(body, 'hazards')})"


def _yes(body: Mapping[str, Any], name: str) -> str:
    return f"{'yes' if body.get(name) else 'no'} ({how_words(body, name)})"


def _dose(body: Mapping[str, Any]) -> Iterator[str]:
    low, high, unit = body.get("dose_low"), plain(body["dose_high"]), body["unit"]
    span = f"at most {high}" if low is None else f"{plain(low)} to {high}"
    of = f", counted as {body['dose_of']}" if body.get("dose_of") else ""
    dose = f"{high} {unit}" if low == body["dose_high"] else f"{span} {unit}"
    yield f"dose: {dose}{of} ({how_words(body, 'dose')})"
    if hours := body.get("interval_h"):
        yield f"again every: {plain(hours)} h ({how_words(body, 'interval')})"
    if times := body.get("repeats"):
        yield f"times in all: {times} ({how_words(body, 'interval')})"
    if body.get("duration"):
        yield f"lasts: {body['duration']} ({how_words(body, 'duration')})"
    yield f"water: {', '.join(body['systems'])} ({how_words(body, 'system')})"


def _subject(body: Mapping[str, Any], subject: Subject) -> str:
    said: str = stance(body, subject)
    name = subject.label.lower()
    if said == NOT_KNOWN:
        return f"{name}: NOT KNOWN whether it harms; it counts as harmful"
    figure = body.get(subject.limit) if subject.limit else None
    if figure is not None:
        side, unit = _SIDES[subject.key], _UNITS[subject.key]
        said = f"harmful {side} {plain(figure)} {unit}"
    return f"{name}: {said} ({how_words(body, subject.key)})"


def _food(body: Mapping[str, Any]) -> Iterator[str]:
    known = how_words(body, "us_food_fish")
    if food_stance(body) == NOT_KNOWN:
        yield "United States: NOT KNOWN whether food fish may have it; it counts as not for them"
    else:
        note = f", {body['us_food_fish_note']}" if body.get("us_food_fish_note") else ""
        yield f"United States: {body['us_food_fish']}{note} ({known})"
        days = body.get("withdrawal_days")
        if days is None:
            yield "withdrawal, United States: NOT KNOWN; the veterinarian sets it"
        else:
            yield f"withdrawal, United States: {days} days ({how_words(body, 'withdrawal')})"
    for one in body.get("elsewhere", ()):
        days = one.get("withdrawal_days")
        until = "withdrawal NOT KNOWN" if days is None else f"withdrawal {days} days"
        how = f"{one['how']}: {one['source']}" if one.get("source") else one["how"]
        yield f"{one['place']}: {one['status']}, {until} ({how})"


def _more(body: Mapping[str, Any], names: tuple[str, ...]) -> Iterator[str]:
    for name in names:
        if value := body.get(name):
            words = value if isinstance(value, str) else ", ".join(value)
            yield f"{name.replace('_', ' ')}: {words} ({how_words(body, name)})"
