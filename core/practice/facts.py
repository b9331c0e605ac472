"""What was recorded at a visit, as facts for the evidence: rows of the record, nothing else."""

from __future__ import annotations

import functools
from collections.abc import Iterator

from core.assessment.problems import Fact
from core.catalogue import load
from core.errors import Refusal
from core.numbers import figures
from core.practice import feeding_view, water
from core.practice.fish import species
from core.practice.names import name
from core.practice.questions import catalogue as questions
from core.practice.stock import fish_here
from core.practice.watching import SEEN_FISH
from core.records import read
from core.records.tables import (
    Answer,
    Feeding,
    Finding,
    FishGroup,
    Handling,
    Lesion,
    Row,
    Sample,
    SentTest,
    Sign,
    Slide,
    System,
    TestResult,
)

CLASSES = {
    "koi": ("koi", "common_carp"),
    "clownfish": ("clownfish",),
    "tang": ("yellow_tang", "brown_tang", "convict_tang", "powder_blue_tang"),
    "round_bodied": ("fancy_goldfish",),
}
"""Facts about the fish that a species answers, beside its group."""
GROUPS = ("cyprinid", "catfish", "salmonid", "cichlid")
RATION = {"under": "below", "inside": "inside", "over": "above"}
WET = "wet_mount"


def facts(visit_id: str, system_id: str) -> tuple[Fact, ...]:
    """Return every fact that a visit recorded about one water and its fish.

    Unknown answers are given as such; what nobody asked or measured is not there at all.
    """
    system = read.one(System, system_id)
    return tuple(fact for part in _PARTS for fact in part(visit_id, system))


def _where(row: Row) -> str:
    return f"{row.table}:{row.id}"


def _answers(visit_id: str, system: System) -> Iterator[Fact]:
    for row in read.find(Answer, visit=visit_id, system=system.id):
        asked = questions().get(row.question)
        if asked is None:
            continue
        state = row.value if row.state == "value" else row.state
        words = f"{asked.question.label}: {state}"
        if row.told_by:
            words += f", told by {row.told_by}"
        yield Fact(f"history.{row.question}", state, None, words, _where(row))


def _signs(visit_id: str, system: System) -> Iterator[Fact]:
    walk = load.table("signs")["walk"]
    for row in read.find(Sign, visit=visit_id, system=system.id):
        key = row.sign
        if row.subject == "system" and key in walk:
            if row.state in ("ok", "problem"):
                words = f"{walk[key]['label']}: {row.state}"
                yield Fact(f"walk.{key}", row.state, None, words, _where(row))
        elif key != SEEN_FISH and row.state in ("seen", "not seen"):
            words = f"{name('sign', key)} {row.state} ({_subject(row)})"
            yield Fact(f"sign.{key}", row.state, row.value, words, _where(row))


def _subject(row: Sign) -> str:
    if row.subject == "system":
        return read.one(System, row.subject_id).name
    key, _, number = row.subject_id.partition("#")
    group = read.first(FishGroup, id=key)
    if group is not None:
        return f"{group.name}, number {number}" if number else group.name
    fish = read.first(Handling, id=row.subject_id)
    return fish.label if fish is not None else row.subject


def _lesions(visit_id: str, system: System) -> Iterator[Fact]:
    for fish in read.find(Handling, visit=visit_id, system=system.id):
        yield Fact("look.hand", "done", None, f"{fish.label} was in hand", _where(fish))
        for row in read.find(Lesion, visit=visit_id, handling=fish.id):
            size = f" {figures(row.size_mm)} mm" if row.size_mm else ""
            words = f"{name('lesion', row.kind)}{size}, {name('place', row.place)} ({fish.label})"
            yield Fact(f"lesion.{row.kind}", "seen", None, words, _where(row))


def _slides(visit_id: str, system: System) -> Iterator[Fact]:
    for sample in read.find(Sample, visit=visit_id, system=system.id):
        for slide in read.find(Slide, visit=visit_id, sample=sample.id):
            yield from _slide(sample, slide)


def _slide(sample: Sample, slide: Slide) -> Iterator[Fact]:
    found = read.find(Finding, slide=slide.id)
    where = f"{name('tissue', sample.tissue)} {sample.number}"
    seen = [f for f in found if not _none(f)]
    if slide.normal or seen:
        state = "abnormal" if seen else "clear"
        yield Fact(f"slide.{sample.tissue}", state, None, f"{where}: {state}", _where(slide))
    for row in found:
        state = "not seen" if _none(row) else "seen"
        grade = f", {row.grade}" if row.grade else ""
        words = f"{name('finding', row.finding)} {state} ({where}{grade})"
        yield Fact(f"found.{row.finding}", state, None, words, _where(row))
    if slide.normal and not seen and slide.stain == WET:
        for key in _looked_for(sample.tissue):
            words = f"{name('finding', key)} not seen ({where})"
            yield Fact(f"found.{key}", "not seen", None, words, _where(slide))


def _none(row: Finding) -> bool:
    counts = row.counts.replace(",", " ").split()
    return bool(counts) and all(c == "0" for c in counts)


@functools.cache
def _looked_for(tissue: str) -> tuple[str, ...]:
    """Return the parasites that a clear wet mount of a tissue would have shown."""
    rows = load.table("organisms")["organism"]
    return tuple(k for k, r in rows.items() if r["group"] == "parasite" and tissue in r["tissues"])


def _results(visit_id: str, system: System) -> Iterator[Fact]:
    for test in read.find(SentTest, visit=visit_id, system=system.id):
        for row in read.find(TestResult, test=test.id):
            for key in answers_of(test.name):
                words = f"{test.name}: {row.value}"
                yield Fact(key, _result(row.value), None, words, _where(row))


def _result(value: str) -> str:
    said = value.strip().lower()
    if said.startswith(("negative", "not detected", "none")):
        return "negative"
    return "positive" if said.startswith(("positive", "detected")) else value.strip()


def answers_of(test_name: str) -> tuple[str, ...]:
    """Return the facts that a test sent out would record, found by its key or its words."""
    rows = load.table("problems")["test"]
    said = set(test_name.lower().replace(",", " ").replace("_", " ").split())
    said |= {"khv"} if "herpesvirus" in said else set()
    for key, row in rows.items():
        if test_name.lower() in (key, row["name"].lower()):
            return tuple(row["answers"])
    for row in rows.values():
        last = row["answers"][0].split(".", 1)
        if last[0] in ("lab", "image") and set(last[1].split("_")) <= said:
            return tuple(row["answers"])
    return ()


def _water(visit_id: str, system: System) -> Iterator[Fact]:
    seen = water.view(visit_id, system.id)
    rows = seen.readings(seen.judged_place)
    if not rows:
        return
    found = water.judged(seen, water.as_readings(rows))
    for key, verdict in found.verdicts.items():
        state = "" if verdict.word == "no limit" else verdict.word
        yield Fact(f"water.{key}", state, verdict.value, verdict.sentence, f"reading:{key}")


def _fish(visit_id: str, system: System) -> Iterator[Fact]:
    del visit_id
    kind = water.system_kinds()[system.kind].water
    for key, water_word in (("freshwater", "fresh"), ("marine", "marine")):
        state = "yes" if kind == water_word else "no"
        yield Fact(f"fish.{key}", state, None, f"{system.name} is {kind} water", _where(system))
    for here in fish_here(system.id):
        row = species().get(here.group.species)
        if row is not None:
            words = f"{here.group.name}: {row.common}"
            for key in (*CLASSES, *GROUPS):
                state = "yes" if row.key in CLASSES.get(key, ()) or row.group == key else "no"
                yield Fact(f"fish.{key}", state, None, words, _where(here.group))


def _ration(visit_id: str, system: System) -> Iterator[Fact]:
    fed = read.first(Feeding, visit=visit_id, system=system.id)
    if fed is None:
        return
    try:
        verdict = feeding_view.view(visit_id, system.id).worked.verdict
    except Refusal:
        return  # What can not be worked out is not a fact.
    if verdict is not None:
        state = RATION[verdict.place]
        yield Fact("feeding.ration", state, verdict.percent, verdict.sentence, _where(fed))


_PARTS = (_answers, _signs, _lesions, _slides, _results, _water, _fish, _ration)
