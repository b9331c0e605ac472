"""Keeping an issued paper: whole on the disk under its hash, then a row that says so."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path

from core.errors import BadInput, Refusal
from core.papers.files import write_whole
from core.practice.keep import Act
from core.practice.visits import Opened
from core.records import read
from core.records.journal import OpenEdit
from core.records.keys import new_key
from core.records.tables import Document


@dataclass(frozen=True)
class Issued:
    """A paper that was issued, where it lies, and the same in plain text."""

    document: Document
    file: Path
    text: str


@dataclass(frozen=True)
class Drawn:
    """A paper about to be issued: what it is, its bytes and its plain-text twin."""

    kind: str
    number: str
    data: bytes
    text: str
    content: str = ""
    """Hash of what it says, to find out later whether it is out of date."""


RENUMBERED = ("care sheet",)
"""Kinds whose new version has a new number and supersedes the last one."""


def store(doing: OpenEdit, act: Act, folder: Path, visit: Opened | None, paper: Drawn) -> Issued:
    """Write a paper and add its row; the same bytes again are the same paper.

    The file is whole on the disk before the row is: a row always has its paper. A paper of
    the whole day belongs to no visit.
    """
    sha = hashlib.sha256(paper.data).hexdigest()
    visit_id = visit.visit.id if visit else None
    earlier = read.find(Document, visit=visit_id, kind=paper.kind)
    if paper.kind not in RENUMBERED:
        earlier = tuple(d for d in earlier if d.number == paper.number)
    for document in earlier:
        if document.sha256 == sha:
            return Issued(document, folder / document.file, paper.text)
    row = Document(
        id=new_key(),
        visit=visit_id,
        client=visit.client.id if visit else None,
        kind=paper.kind,
        number=paper.number,
        version=len(earlier) + 1,
        supersedes=earlier[-1].id if earlier else None,
        file=f"{paper.kind.replace(' ', '-')}-{paper.number}-{sha[:12]}.pdf",
        sha256=sha,
        content=paper.content,
        by=act.by,
        at=act.at,
    )
    file = write_whole(folder / row.file, paper.data)
    doing.add(row)
    return Issued(row, file, paper.text)


def folder_of(typed: str) -> Path:
    """Return the folder that was typed.

    Raises
    ------
    BadInput
        When there is no such folder.
    """
    to = Path(typed.strip()).expanduser()
    if not to.is_dir():
        raise BadInput(f"There is no folder {to}.", "Type one that is there, as ~/Documents.")
    return to


def copy_to(file: Path, folder: str) -> Path:
    """Save a copy of an issued paper in a folder, whole; return where it lies.

    Raises
    ------
    Refusal
        When there is no such folder, the paper itself is gone, or it can not be written there.
    """
    to = folder_of(folder)
    try:
        return write_whole(to / file.name, file.read_bytes())
    except OSError as error:
        raise Refusal(
            f"{file.name} can not be saved in {to}: {error.strerror}.", "Type another folder."
        ) from error
