"""What comes in for a record that was signed meanwhile: kept, and settled by a veterinarian."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from core.clock import local
from core.errors import Refusal
from core.practice import sign
from core.practice.desk import Late
from core.practice.door import edit
from core.practice.keep import Act
from core.practice.late_words import late_words
from core.practice.who import must_be_vet
from core.records import journal, read
from core.records.engine import query
from core.records.fields import UtcField
from core.records.journal import Closed, OpenEdit
from core.records.keys import new_key
from core.records.noting import noting
from core.records.receive import Lines
from core.records.signed import closing_tables
from core.records.tables import Person, Practice, Proposed, Visit

QUIET = ("stage_mark", "figure")
"""What nobody has typed: how far a stage is, and what is worked out from the rest."""
BOOKED = frozenset(("state", "why", "day", "starts", "minutes", "vet", "kind", "signed_at"))
"""Columns of a visit that say nothing about the fish: a signed visit is not booked anew."""
CLOSING = frozenset(kind.table for kind in closing_tables())
WHY = "it came in after the record was signed"
WAITS = "a proposed addendum for the veterinarian"


def instead(error: Closed, again: Callable[[], object]) -> Refusal:
    """Keep what a signature refused, all of it; return what the person is told.

    Parameters
    ----------
    again : callable
        The write that was refused: it is gone through once more, and only noted, for what
        would have followed on the line that was refused.
    """
    if error.signed and error.attempted is not None:
        error.attempted = _whole(error.attempted, again)
    return keep(error)


def _whole(tried: OpenEdit, again: Callable[[], object]) -> OpenEdit:
    """Return an edit with the lines, too, that would have followed on the refused one."""
    # What can not go on without its first lines says so in its own way; those are noted then.
    with noting(tried) as noted, suppress(Refusal, LookupError, ValueError, TypeError):
        again()
    return noted if len(noted.lines) > len(tried.lines) else tried


def keep(error: Closed) -> Refusal:
    """Keep what a signature refused as a proposed addendum; return what the person is told.

    An edit in which nobody typed anything is not kept: the error itself is returned.
    """
    tried = error.attempted
    if not error.signed or tried is None or not _typed(tried.lines):
        return error
    visit = _visit_of(tried)
    _propose(visit, tried, {"lines": tried.lines})
    return Late(
        f"{_signed_by(visit, tried.at)}; what you entered is kept as {WAITS}.",
        "It stands in the Sign stage.",
    )


def receive_late(edit: Mapping[str, Any], lines: Lines) -> str:
    """Keep an edit made elsewhere, whose visit was signed here, as a proposal; return its id.

    Parameters
    ----------
    edit, lines
        As `core.records.receive.receive` takes them, which raised `Closed`.
    """
    at = UtcField().python_value(edit["at"])
    assert at is not None
    tried = OpenEdit(edit["kind"], edit["who"], at, edit["visit"], None, lines=list(lines))
    return _propose(_visit_of(tried), tried, {"edit": edit["id"], "lines": tried.lines})


def _typed(lines: Lines) -> bool:
    """Say whether an edit holds anything that a person typed about the visit."""
    return any(
        not json.loads(body).keys() <= BOOKED if table == "visit" else table not in QUIET
        for table, _, _, body in lines
    )


def _visit_of(tried: OpenEdit) -> str:
    """Return the signed visit that the edit is about."""
    for table, row, _, body in reversed(tried.lines):
        change = json.loads(body)
        found = row if table == "visit" else change.get("visit", [None, None])[1]
        if found is None and table in CLOSING:
            held = query(f'SELECT "visit" FROM "{table}" WHERE "id" = ?', (row,))
            found = held[0][0] if held else None
        if found is not None and read.one(Visit, found).signed_at is not None:
            return str(found)
    if tried.visit is None:
        raise Refusal("What came in late names no visit.", "Nothing was kept of it.")
    return tried.visit


def _propose(visit: str, tried: OpenEdit, body: Mapping[str, Any]) -> str:
    """Write a proposal in an edit of its own; the same again is the same proposal."""
    words = late_words(tried) or tried.kind
    same = read.first(Proposed, visit=visit, by=tried.who, words=words, outcome="")
    if same is not None:
        return same.id
    row = Proposed(
        id=new_key(),
        visit=visit,
        kind=tried.kind,
        words=words,
        body=json.dumps(body, ensure_ascii=False),
        by=tried.who,
        at=tried.at,
    )
    # Not through the practice's door: whoever entered it could have done so in time.
    with journal.edit("came in late", who=tried.who, at=tried.at, visit=visit) as doing:
        doing.add(row)
    return row.id


def _signed_by(visit_id: str, now: datetime) -> str:
    visit, practice = read.one(Visit, visit_id), read.first(Practice)
    assert visit.signed_at is not None
    zone = practice.zone if practice else "UTC"
    at = local(visit.signed_at, zone)
    day = "" if at.date() == local(now, zone).date() else f"{at.day} {at:%b %Y} "
    who = read.first(Person, id=visit.signed_by)
    return f"This visit was signed at {day}{at:%H:%M} by {who.name if who else 'somebody'}"


@dataclass(frozen=True)
class Proposal:
    """One entry that came in after the signature.

    Attributes
    ----------
    outcome : str
        ``addendum`` or ``set aside``; "" while it waits.
    """

    id: str
    words: str
    by: str
    at: datetime
    """When it was entered, on the practice's wall."""
    outcome: str
    why: str
    settled_by: str

    @property
    def waits(self) -> bool:
        """Whether nobody has settled it."""
        return not self.outcome


def proposals(visit_id: str) -> tuple[Proposal, ...]:
    """Return what came in after a visit was signed, those that wait first."""
    rows = read.find(Proposed, visit=visit_id, order="at, id")
    if not rows:
        return ()
    people = {p.id: p.name for p in read.find(Person, struck=True)}
    zone = read.find(Practice)[0].zone
    found = [
        Proposal(
            row.id,
            row.words,
            people.get(row.by, ""),
            local(row.at, zone),
            row.outcome,
            row.outcome_why,
            people.get(row.settled_by or "", ""),
        )
        for row in rows
    ]
    return tuple(sorted(found, key=lambda one: not one.waits))


def take(act: Act, proposed_id: str, words: str = "") -> str:
    """Take what came in late into the record as an addendum; return the addendum's id.

    Parameters
    ----------
    words : str
        What the veterinarian adds in own words.

    Raises
    ------
    Refusal
        For anybody but a veterinarian, and when it is settled already.
    """
    row = _waiting(act, proposed_id)
    own = f". The veterinarian adds: {words.strip()}" if words.strip() else ""
    with edit("late entry taken", who=act.by, at=act.at, visit=row.visit) as doing:
        addendum = sign.add_addendum(act, row.visit, row.words + own, WHY)
        doing.change(
            Proposed,
            row.id,
            outcome="addendum",
            addendum=addendum,
            settled_by=act.by,
            settled_at=act.at,
        )
    return addendum


def set_aside(act: Act, proposed_id: str, why: str) -> None:
    """Set aside what came in late, with the reason; it stays in the records.

    Raises
    ------
    Refusal
        As `take`, and without a reason.
    """
    row = _waiting(act, proposed_id)
    if not why.strip():
        raise Refusal("It is set aside with a reason.", "Say why in a few words.")
    with edit("late entry set aside", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.change(
            Proposed,
            row.id,
            outcome="set aside",
            outcome_why=why.strip(),
            settled_by=act.by,
            settled_at=act.at,
        )


def _waiting(act: Act, proposed_id: str) -> Proposed:
    must_be_vet(act.by, "settles what came in after the signature")
    row = read.one(Proposed, proposed_id)
    if row.outcome:
        raise Refusal("This was settled already.", "Write an addendum of your own if it is wrong.")
    return row
