"""Slides and what was found on them; what a finding speaks for and against."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from core.errors import BadInput
from core.microscopy.catalogue import Organism, Scale, Stain
from core.microscopy.grade import Grade, grade

Vitality = Literal["alive", "dead", "not told"]


@dataclass(frozen=True)
class Finding:
    """One thing seen on a slide, with its counts as counted.

    Parameters
    ----------
    organism : str
        Key of what was seen.
    counts : tuple of int
        One a field; empty when it was seen but not counted.
    vitality : str
        alive, dead or not told.
    note : str
        In the words of the person at the lens.
    """

    organism: str
    counts: tuple[int, ...] = ()
    vitality: Vitality = "not told"
    note: str = ""


@dataclass(frozen=True)
class Slide:
    """One mount or smear.

    Parameters
    ----------
    name : str
        Sample number and letter, such as ``A3-2a``.
    tissue : str
        Key of the tissue.
    stain : str
        Key of the stain.
    magnification : int
        Highest total magnification it was read at.
    fields : int
        Fields looked through.
    findings : tuple of Finding
        Empty means nothing abnormal was seen in those fields, which is a finding too.
    awaited : str
        What is still awaited of it, such as a stain; empty when it was read to the end.

    Raises
    ------
    BadInput
        When it was read without a field.
    """

    name: str
    tissue: str
    stain: str
    magnification: int
    fields: int
    findings: tuple[Finding, ...] = ()
    awaited: str = ""

    def __post_init__(self) -> None:
        if self.fields < 1:
            raise BadInput("No field was looked through.", "Say how many, for example 20.")

    @property
    def clear(self) -> bool:
        """Return whether it was read to the end and nothing abnormal was seen."""
        return not self.findings and not self.awaited


@dataclass(frozen=True)
class Speaks:
    """What one finding is worth: for and against are keys of problems, never a diagnosis."""

    organism: str
    grade: Grade | None
    problems_for: tuple[str, ...]
    problems_against: tuple[str, ...]
    like: tuple[str, ...]
    decide: str
    cautions: tuple[str, ...]
    source: str


def speaks(
    finding: Finding, organisms: Mapping[str, Organism], scales: Mapping[str, Scale]
) -> Speaks:
    """Return what a finding speaks for and against, its grade and the cautions with it.

    Parameters
    ----------
    finding : Finding
        As recorded; without counts it has no grade.
    organisms, scales : mapping
        Catalogue rows by key.

    Raises
    ------
    BadInput
        When the catalogue does not know what was seen.
    """
    row = organisms.get(finding.organism)
    if row is None:
        raise BadInput(f"{finding.organism} is not in the catalogue.", "Choose it from the list.")
    graded = grade(finding.counts, scales[row.scale]) if finding.counts else None
    seen = graded is None or graded.grade > 0
    said = [text for text in (row.zoonotic, row.notifiable) if text and seen]
    return Speaks(
        row.key,
        graded,
        row.speaks_for if seen else (),
        row.speaks_against if seen else (),
        row.like,
        row.decide,
        (*said, *(graded.cautions if graded else ())),
        row.source,
    )


def check_magnification(slide: Slide, stain: Stain) -> None:
    """Refuse a magnification this preparation is not read at.

    Raises
    ------
    BadInput
        Naming the magnifications that are.
    """
    if slide.magnification not in stain.magnifications:
        usual = ", ".join(f"{m}x" for m in stain.magnifications)
        raise BadInput(f"{stain.name} is not read at {slide.magnification}x.", f"Choose {usual}.")
