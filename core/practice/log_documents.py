"""The logs as papers that are kept: issued bytes, and a later one of the same days supersedes.

A log whose lines have not changed is the same paper, whenever it is asked for again.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

from core.errors import Refusal
from core.papers import antimicrobial as use_paper
from core.papers import logs as log_paper_page
from core.practice import antimicrobial_paper, letterhead, log_paper
from core.practice.door import edit
from core.practice.issued import Drawn, Issued, store
from core.practice.keep import Act
from core.records import read
from core.records.tables import Document, Practice

NEVER = datetime(1970, 1, 1, tzinfo=UTC)
"""Stands for when it was made where two logs are compared."""


@dataclass(frozen=True)
class Kind:
    """A log that is kept: what it is called, and how it is made, drawn and written."""

    title: str
    make: Callable[[Act, date, date], Any]
    pdf: Callable[..., bytes]
    text: Callable[[Any], str]


KINDS = {
    "dispensing log": Kind(
        "Dispensing log", log_paper.dispensing_log, log_paper_page.pdf, log_paper_page.text
    ),
    "drug log": Kind(
        "Controlled-drug log", log_paper.drug_log, log_paper_page.pdf, log_paper_page.text
    ),
    "antimicrobial use": Kind(
        "Antimicrobials used", antimicrobial_paper.use, use_paper.pdf, use_paper.text
    ),
}
"""The logs, by the kind of their document."""


def number_of(since: date, until: date) -> str:
    """Return the number of a log: its first and its last day.

    Examples
    --------
    >>> number_of(date(2026, 1, 1), date(2026, 11, 25))
    '2026-01-01_2026-11-25'
    """
    return f"{since}_{until}"


def days_of(number: str) -> tuple[date, date]:
    """Return the first and the last day of a log from its number."""
    since, _, until = number.partition("_")
    return date.fromisoformat(since), date.fromisoformat(until)


def drawn(act: Act, kind: str, since: date, until: date) -> Drawn:
    """Draw a log; nothing is written.

    Raises
    ------
    Refusal
        When the days are the wrong way round, or the last has not come yet.
    """
    practice = read.find(Practice)[0]
    if until > letterhead.wall(act.at, practice).date():
        raise Refusal("The last day has not come yet.", "A log is printed up to today.")
    found = KINDS[kind]
    log = found.make(act, since, until)
    data = found.pdf(log, letterhead.paper(practice))
    text = found.text(log)
    return Drawn(kind, number_of(since, until), data, text, _content(found, log))


def _content(kind: Kind, log: Any) -> str:
    said = kind.text(replace(log, issued=NEVER))
    return hashlib.sha256(said.encode()).hexdigest()


def keep(act: Act, log: Drawn, folder: Path) -> Issued:
    """Keep a drawn log; the same lines are the same paper, other lines supersede the last one."""
    if (last := _last(log.kind, log.number)) is not None and last.content == log.content:
        return Issued(last, folder / last.file, log.text)
    with edit(log.kind, who=act.by, at=act.at) as doing:
        return store(doing, act, folder, None, log)


def _last(kind: str, number: str) -> Document | None:
    found = read.find(Document, kind=kind, number=number)
    return found[-1] if found else None


def twin(document: Document) -> str:
    """Return a kept log as plain text; it says when the records say something else by now."""
    act = Act(document.by, document.at)
    kind = KINDS[document.kind]
    log = kind.make(act, *days_of(document.number))
    text = kind.text(log)
    if _content(kind, log) == document.content:
        return text
    return (
        "The records say something else by now: below is what they say. The file has what was "
        f"issued; print it again and the new one supersedes it.\n\n{text}"
    )
