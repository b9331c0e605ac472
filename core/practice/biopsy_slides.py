"""Reading a slide: a mount, what was seen on it and how many, or that nothing abnormal was."""

from __future__ import annotations

from typing import Any

from core.errors import BadInput, Refusal
from core.microscopy.slides import Finding as Seen
from core.microscopy.slides import Slide as Mount
from core.microscopy.slides import check_magnification, speaks
from core.practice.biopsy import STAGE, organisms, read_counts, scales, stains
from core.practice.door import edit
from core.practice.keep import Act, begin_stage
from core.practice.names import name
from core.records import read
from core.records.keys import new_key
from core.records.tables import Finding, Sample, Slide


def add_slide(act: Act, sample_id: str, stain: str, magnification: int = 0, fields: int = 0) -> str:
    """Add a mount of a sample, read as the last one with this stain was; return its id.

    Parameters
    ----------
    magnification, fields : int
        0 takes those of the last slide of the visit with this stain; without one the
        lowest magnification the stain is read at, and one field.

    Raises
    ------
    Refusal
        When the sample was not got.
    BadInput
        For a magnification that this stain is not read at.
    """
    sample = read.one(Sample, sample_id)
    if not sample.got:
        raise Refusal("There is no slide of a sample that was not got.", sample.why)
    before = read.find(Slide, visit=sample.visit, stain=stain)
    last = before[-1] if before else None
    row = Slide(
        id=new_key(),
        visit=sample.visit,
        sample=sample_id,
        stain=stain,
        magnification=magnification
        or (last.magnification if last else stains()[stain].magnifications[0]),
        fields=fields or (last.fields if last else 1),
        at=act.at,
    )
    _check(row)
    with edit("slide", who=act.by, at=act.at, visit=sample.visit) as doing:
        begin_stage(doing, sample.visit, STAGE)
        doing.add(row)
    return row.id


def _check(row: Slide) -> None:
    mount = Mount(row.id, "", row.stain, row.magnification, row.fields)
    check_magnification(mount, stains()[row.stain])


def set_slide(act: Act, slide_id: str, **columns: Any) -> None:
    """Correct a slide's magnification, fields or note.

    Raises
    ------
    BadInput
        For a magnification that this stain is not read at, or fewer fields than counts.
    """
    row = read.one(Slide, slide_id)
    wanted = Slide(**{**vars(row), **columns})
    _check(wanted)
    most = max((len(read_counts(f.counts)) for f in read.find(Finding, slide=slide_id)), default=0)
    if wanted.fields < most:
        raise BadInput(f"{most} fields were counted on this slide.", "Correct the counts first.")
    with edit("slide", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.change(Slide, slide_id, **columns)


def nothing_abnormal(act: Act, slide_id: str) -> None:
    """Record that nothing abnormal was seen on a slide: that is a finding too.

    Raises
    ------
    Refusal
        When something was.
    """
    row = read.one(Slide, slide_id)
    if found := read.find(Finding, slide=slide_id):
        raise Refusal(f"{name('finding', found[0].finding)} is on this slide.", "Strike it first.")
    with edit("nothing abnormal", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.change(Slide, slide_id, normal=True)


def normal_slide(act: Act, sample_id: str) -> str:
    """Add a wet mount with nothing abnormal in one act; return the slide's id."""
    visit = read.one(Sample, sample_id).visit
    with edit("nothing abnormal", who=act.by, at=act.at, visit=visit):
        slide = add_slide(act, sample_id, "wet_mount")
        nothing_abnormal(act, slide)
    return slide


def add_finding(act: Act, slide_id: str, key: str, counts: str = "", note: str = "") -> str:
    """Add something seen on a slide; return the finding's id.

    Raises
    ------
    BadInput
        For what the catalogue does not know, or counts that can not be.
    """
    slide = read.one(Slide, slide_id)
    if key not in organisms():
        raise BadInput("That is not in the list.", "Type part of its name.")
    row = Finding(id=new_key(), visit=slide.visit, slide=slide_id, finding=key, note=note)
    with edit("finding", who=act.by, at=act.at, visit=slide.visit) as doing:
        begin_stage(doing, slide.visit, STAGE)
        doing.change(Slide, slide_id, normal=False)
        doing.add(row)
        if counts.strip():
            set_counts(act, row.id, counts)
    return row.id


def set_counts(act: Act, finding_id: str, counts: str) -> None:
    """Set the counts of a finding, field by field, and keep the grade they come to.

    Raises
    ------
    BadInput
        For anything but whole numbers.
    """
    row = read.one(Finding, finding_id)
    numbers = read_counts(counts)
    graded = speaks(Seen(row.finding, numbers), organisms(), scales()).grade
    slide = read.one(Slide, row.slide)
    with edit("counts", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.change(
            Finding,
            finding_id,
            counts=" ".join(map(str, numbers)),
            grade=graded.said if graded else "",
        )
        if len(numbers) > slide.fields:
            doing.change(Slide, slide.id, fields=len(numbers))


def set_note(act: Act, finding_id: str, note: str) -> None:
    """Set the note of a finding, in the words of the person at the lens."""
    row = read.one(Finding, finding_id)
    with edit("finding", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.change(Finding, finding_id, note=note)


def strike_finding(act: Act, finding_id: str, why: str) -> None:
    """Strike a finding, with the reason."""
    row = read.one(Finding, finding_id)
    with edit("finding struck", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.strike(Finding, finding_id, why)


def strike_slide(act: Act, slide_id: str, why: str) -> None:
    """Strike a slide and what was seen on it, with the reason."""
    row = read.one(Slide, slide_id)
    with edit("slide struck", who=act.by, at=act.at, visit=row.visit) as doing:
        for finding in read.find(Finding, slide=slide_id):
            doing.strike(Finding, finding.id, why)
        doing.strike(Slide, slide_id, why)
