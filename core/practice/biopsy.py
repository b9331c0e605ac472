"""The slides: each mount of each sample, what was seen on it, its grade and what it speaks for."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass

from core.catalogue import load
from core.errors import BadInput
from core.microscopy.catalogue import Organism, Scale, Stain, Tissue
from core.microscopy.samples import read_number
from core.microscopy.slides import Finding as Seen
from core.microscopy.slides import Speaks, speaks
from core.practice.in_hand import tissues
from core.practice.visits import Opened, opened
from core.records import read
from core.records.tables import Finding, FishGroup, Handling, Practice, Sample, Slide, System

STAGE = "Biopsy"
MOST_COUNTED = 100_000


@functools.cache
def organisms() -> Mapping[str, Organism]:
    """Return everything that a slide can show, by key."""
    return {k: Organism.from_row(k, r) for k, r in load.table("organisms")["organism"].items()}


@functools.cache
def scales() -> Mapping[str, Scale]:
    """Return the scales of counts, by key."""
    return {k: Scale.from_row(k, r) for k, r in load.table("organisms")["scale"].items()}


@functools.cache
def stains() -> Mapping[str, Stain]:
    """Return the ways to prepare a slide, by key."""
    return {k: Stain.from_row(k, r) for k, r in load.table("stains")["stain"].items()}


@dataclass(frozen=True)
class FoundLine:
    """One finding with what it is worth."""

    finding: Finding
    name: str
    speaks: Speaks


@dataclass(frozen=True)
class SlideLine:
    """One mount with its findings, the newest first."""

    slide: Slide
    name: str
    stain: Stain
    found: tuple[FoundLine, ...]

    @property
    def state(self) -> str:
        """What the slide says so far, in words."""
        if self.slide.normal:
            return "nothing abnormal"
        return ", ".join(f.name for f in self.found) or "not read yet"


@dataclass(frozen=True)
class SampleLine:
    """One sample with its slides, the newest first."""

    sample: Sample
    whom: str
    tissue: Tissue
    slides: tuple[SlideLine, ...]


@dataclass(frozen=True)
class BiopsyView:
    """The samples of one water at a visit, got and not got."""

    opened: Opened
    system: System
    samples: tuple[SampleLine, ...]
    not_got: tuple[tuple[str, str, str], ...]
    """Of whom, what, and why not."""
    authority: str


def view(visit_id: str, system_id: str) -> BiopsyView:
    """Return the slides of a water at a visit."""
    rows = read.find(Sample, visit=visit_id, system=system_id)
    hands = {h.id: h for h in read.find(Handling, visit=visit_id)}
    slides: dict[str, list[Slide]] = {}
    for slide in read.find(Slide, visit=visit_id, struck=True):
        slides.setdefault(slide.sample, []).append(slide)
    findings: dict[str, list[Finding]] = {}
    for finding in read.find(Finding, visit=visit_id):
        findings.setdefault(finding.slide, []).insert(0, finding)
    found = opened(visit_id)
    groups = {g.id: g for g in found.groups}
    practice = read.first(Practice)
    system = read.one(System, system_id)
    lines = tuple(
        SampleLine(
            row,
            _whom(hands.get(row.handling or ""), system, groups),
            tissues()[row.tissue],
            _mounts(row, slides.get(row.id, []), findings),
        )
        for row in rows
    )
    missed = ((x.whom, x.tissue.name, x.sample.why) for x in lines if not x.sample.got)
    return BiopsyView(
        found,
        system,
        tuple(line for line in lines if line.sample.got),
        tuple(missed),
        practice.authority if practice else "",
    )


def _whom(hand: Handling | None, system: System, groups: Mapping[str, FishGroup]) -> str:
    if hand is None:
        return system.name
    group = groups.get(hand.group or "")
    return (
        hand.label if group is None or group.name in hand.label else f"{hand.label}, {group.name}"
    )


def _mounts(
    sample: Sample, slides: list[Slide], findings: Mapping[str, list[Finding]]
) -> tuple[SlideLine, ...]:
    found = []
    for mounts, slide in enumerate(slides):
        # A struck mount keeps its letter, so that a labelled slide is never another's.
        if slide.struck is None:
            rows = tuple(map(_found_line, findings.get(slide.id, [])))
            mount = read_number(sample.number).slide(mounts)
            found.append(SlideLine(slide, mount, stains()[slide.stain], rows))
    return tuple(reversed(found))


def _found_line(row: Finding) -> FoundLine:
    seen = Seen(row.finding, read_counts(row.counts), note=row.note)
    return FoundLine(row, organisms()[row.finding].name, speaks(seen, organisms(), scales()))


def read_counts(text: str) -> tuple[int, ...]:
    """Return counts typed field by field: ``3 0 2 5``, or with commas; empty for none.

    Raises
    ------
    BadInput
        For anything but whole numbers that can be counted.
    """
    parts = text.replace(",", " ").replace(";", " ").split()
    if not all(p.isascii() and p.isdigit() and len(p) <= 6 for p in parts):
        raise BadInput(
            "Counts are whole numbers, one a field.", "Type for example 4 3 0 for three fields."
        )
    counts = tuple(int(p) for p in parts)
    if any(c > MOST_COUNTED for c in counts):
        raise BadInput(f"More than {MOST_COUNTED} in a field can not be counted.")
    return counts
