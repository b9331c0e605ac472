"""The papers of a day put into a folder: what was issued, the day's summary, and a plain list.

Nothing is issued here: a paper that is missing is named, and somebody issues it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from core.errors import Refusal
from core.papers.files import write_whole
from core.papers.parts import day as written
from core.practice import day_paper, paperwork
from core.practice.day import DayLine, lines
from core.practice.documents import care_sheet_state
from core.practice.keep import Act
from core.practice.paperwork import Paper
from core.records import read
from core.records.tables import Charge, Document, Practice, Treatment


@dataclass(frozen=True)
class VisitSet:
    """A visit of the day with its papers as issued, and what is not issued yet."""

    line: DayLine
    papers: tuple[Paper, ...]
    lacks: tuple[str, ...]


@dataclass(frozen=True)
class DaySet:
    """What was written, in the order of the day, and the list as plain text."""

    files: tuple[Path, ...]
    text: str


def sets(day: date) -> tuple[VisitSet, ...]:
    """Return the visits of a day that somebody drives to, each with its papers."""
    held = [p for p in paperwork.papers(day, read.find(Practice)[0]) if not p.superseded]
    found = []
    for line in lines(day):
        mine = tuple(p for p in held if p.visit == line.visit)
        lacks = () if line.off else tuple(_lacks(line, {p.kind for p in mine}))
        found.append(VisitSet(line, mine, lacks))
    return tuple(found)


def _lacks(line: DayLine, issued: set[str]) -> Iterator[str]:
    dispensed = bool(read.find(Treatment, visit=line.visit, act="dispensed"))
    if "invoice" not in issued:
        billed = read.first(Charge, visit=line.visit) is not None
        yield "invoice" if billed else "invoice (nothing is charged)"
    if "care sheet" not in issued:
        yield "care sheet"
    elif "OUT OF DATE" in (state := care_sheet_state(line.visit)):
        yield state
    if "visit record" not in issued:
        yield "visit record" if line.state == "signed" else "visit record (not signed)"
    if dispensed and "labels" not in issued:
        yield "labels of what is dispensed"


def write_set(day: date, papers: Path, out: Path, now: datetime) -> DaySet:
    """Write a day's issued papers, its summary and a plain list into a folder, each file whole.

    Parameters
    ----------
    papers : Path
        The folder in which issued papers are kept.
    out : Path
        Made when it is not there.
    now : datetime
        The moment that stands on the summary.

    Raises
    ------
    Refusal
        When the folder can not be written.
    """
    found = sets(day)
    summary = day_paper.drawn(Act("", now), day)
    kept, wrong = _kept(found, papers)
    text = _text(day, found, wrong)
    whole = {
        **kept,
        f"day-summary-{day}.pdf": summary.data,
        f"day-summary-{day}.txt": summary.text.encode(),
        f"list-{day}.txt": text.encode(),
    }
    try:
        out.mkdir(parents=True, exist_ok=True)
        files = tuple(write_whole(out / name, data) for name, data in whole.items())
    except OSError as error:
        raise Refusal(
            f"The papers can not be written to {out}: {error.strerror}.",
            "Name a folder that can be written.",
        ) from error
    return DaySet(files, text)


def _kept(found: tuple[VisitSet, ...], papers: Path) -> tuple[dict[str, bytes], list[str]]:
    """Return the bytes of the issued papers by file name, and what is wrong with any."""
    kept, wrong = {}, []
    for paper in (p for one in found for p in one.papers):
        file = papers / paper.file
        if not file.is_file():
            wrong.append(f"{paper.client}: {paper.kind} {paper.number} is not in {papers}.")
            continue
        data = file.read_bytes()
        if hashlib.sha256(data).hexdigest() != read.one(Document, paper.id).sha256:
            wrong.append(f"{paper.client}: {paper.kind} {paper.number} is NOT as it was issued.")
        kept[paper.file] = data
    return kept, wrong


def _text(day: date, found: tuple[VisitSet, ...], wrong: list[str]) -> str:
    said = [f"Papers of {written(day)}", ""]
    for one in found:
        line = one.line
        said.append(f"{line.starts} {line.client}, {line.system}: {line.stage}")
        said += [f"  {p.kind} {p.number}: {p.file}" for p in one.papers]
        said += [f"  NOT ISSUED YET: {', '.join(one.lacks)}"] if one.lacks else []
    said += [] if found else ["No visits on this day."]
    return "\n".join([*said, *([""] if wrong else []), *wrong]) + "\n"
