"""Numbered labels for samples: jars, slides, swabs and bottles."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from core.errors import Refusal
from core.papers import label_box
from core.papers.blocks import Sheet
from core.papers.label_box import Field, Fields, Grid, Small
from core.papers.parts import PaperSize, Practice, day

GRID = Grid(wide=63, high=34, columns=3, rows=7)


@dataclass(frozen=True)
class SampleLabel:
    """What stands on one sample.

    Parameters
    ----------
    number : str
        Number of the sample, unique in the visit.
    what : str
        Tissue or water, and how it was taken.
    animal, client, system : str
        From which fish, of whom, out of which water.
    taken : date
        Day it was taken.
    time : str
        Wall time, as printed.
    fixative, hazard, tests : str
        What it lies in, what to beware of (formalin), what it is for; may be empty.
    """

    number: str
    what: str
    animal: str
    client: str
    system: str
    taken: date
    time: str = ""
    fixative: str = ""
    hazard: str = ""
    tests: str = ""


@dataclass(frozen=True)
class SampleLabels:
    """The labels of a visit, with the practice and the aware moment they were made."""

    practice: Practice
    visit: str
    issued: datetime
    labels: tuple[SampleLabel, ...]


def pdf(samples: SampleLabels, paper: PaperSize = "A4", first: int = 1) -> bytes:
    """Draw sample labels on sheets of 21, beginning at a place counted from 1.

    Raises
    ------
    Refusal
        When there is none, two bear one number, or a field does not fit at 6 points.
    """
    return label_box.sheets(_about(samples), _small(samples), GRID, paper, first)


def roll_pdf(samples: SampleLabels) -> bytes:
    """Draw each sample label on a page of 63 by 34 mm; raises as `pdf` does."""
    return label_box.roll(_about(samples), _small(samples), GRID)


def text(samples: SampleLabels) -> str:
    """Write the labels as plain text, in the order of the PDF; raises as `pdf` does."""
    return label_box.lines_of(_all(samples))


def _small(samples: SampleLabels) -> list[Small]:
    return [Small(lines) for lines in _all(samples)]


def _all(samples: SampleLabels) -> Sequence[Fields]:
    numbers = [label.number for label in samples.labels]
    if not all(numbers):
        raise Refusal("A sample has no number.", "Number it before its label is printed.")
    if len(set(numbers)) != len(numbers):
        raise Refusal("Two samples of this visit bear one number.", "Number each on its own.")
    if not numbers:
        raise Refusal("There is no sample to label.")
    return [_fields(label, samples.practice) for label in samples.labels]


def _fields(label: SampleLabel, practice: Practice) -> Fields:
    return label_box.kept(
        (
            (
                Field("Number", label.number, named=False, strong=True),
                Field("Sample", label.what, named=False, strong=True),
            ),
            (Field("From", label.animal),),
            (Field("System", label.system, named=False), Field("Of", label.client)),
            (Field("Taken", f"{day(label.taken)} {label.time}".strip()),),
            (Field("In", label.fixative), Field("For", label.tests)),
            (Field("Beware", label.hazard, strong=True),),
            (Field("Practice", practice.name, named=False),),
            (Field("Phone", practice.phone, named=False),),
        )
    )


def _about(samples: SampleLabels) -> Sheet:
    count = f"{len(samples.labels)} samples"
    title = f"Sample labels, visit {samples.visit}"
    return Sheet(samples.practice, title, count, samples.issued, ())
