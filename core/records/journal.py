"""The one door: every write belongs to an edit, and the database refuses all others.

An edit is what one person did once. Under it stands one line per row changed, in the form
the database holds the values, so that replaying the lines gives the rows. Edits are chained
by hash on each device.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any

from core.errors import Refusal
from core.records import engine, guards, meanwhile
from core.records.engine import execute, query
from core.records.keys import new_key
from core.records.lean import pw
from core.records.migrate import VERSION
from core.records.models import Edit, columns, database
from core.records.tables import Row

Change = dict[str, list[Any]]
May = Callable[[str, str, str, Change], None]
"""Who, table, act and change: whether it may be written."""


class Closed(Refusal):
    """The row is closed: the visit is signed, or the line stands on an issued invoice.

    Attributes
    ----------
    attempted : OpenEdit or None
        What was being written, none of which is in the records: the last line is the one
        that was refused.
    """

    title = "Closed"
    attempted: OpenEdit | None = None

    @property
    def signed(self) -> bool:
        """Whether it is the signature of the visit that closes it."""
        return self.sentence == _SENTENCES[guards.SIGNED][0]


_SENTENCES = {
    guards.SIGNED: ("This visit is signed.", "Write an addendum; the record itself stays."),
    guards.INVOICED: (
        "This line stands on an issued invoice.",
        "Correct it with a credit note.",
    ),
    guards.GROWS: ("What was issued is never changed.", "Add a new line beside it."),
    guards.BESIDE: ("A write beside the journal was refused.", "Nothing was changed."),
    guards.NEVER: ("Rows are struck, never deleted.", "Nothing was changed."),
}


@dataclass
class OpenEdit:
    """An edit being made; its writes are one transaction."""

    kind: str
    who: str
    at: datetime
    visit: str | None
    reverses: str | None
    may: May | None = None
    """Asked before each line whether this person may write it; it refuses with a sentence."""
    id: str = field(default_factory=new_key)
    lines: list[tuple[str, str, str, str]] = field(default_factory=list)

    def add(self, row: Row) -> None:
        """Add a row."""
        known = columns(row.table)
        values = {name: column.store(getattr(row, name)) for name, column in known.items()}
        change = {n: [None, v] for n, v in values.items() if v is not None}
        names = ", ".join(f'"{name}"' for name in values)
        marks = ", ".join("?" for _ in values)
        sql = f'INSERT INTO "{row.table}" ({names}) VALUES ({marks})'
        self._write(row.table, row.id, "add", change, sql, tuple(values.values()))

    def change(self, kind: type[Row], row_id: str, /, **new: object) -> bool:
        """Change columns of a row; values equal to what stands leave no line.

        Returns
        -------
        bool
            Whether anything was changed.

        Raises
        ------
        Refusal
            When there is no such row.
        """
        if not new:
            return False
        known = columns(kind.table)
        wanted = {name: known[name].store(value) for name, value in new.items()}
        old = _held(kind.table, row_id, list(wanted))
        change = {n: [old[n], v] for n, v in wanted.items() if old[n] != v}
        if not change:
            return False
        sets = ", ".join(f'"{name}" = ?' for name in change)
        values = (*(v for _, v in change.values()), row_id)
        meanwhile.look(kind.table, row_id, change)
        sql = f'UPDATE "{kind.table}" SET {sets} WHERE "id" = ?'
        self._write(kind.table, row_id, "change", change, sql, values)
        return True

    def strike(self, kind: type[Row], row_id: str, why: str) -> None:
        """Strike a row: it stays, with the reason why it no longer counts.

        Raises
        ------
        Refusal
            When no reason is given.
        """
        if not why.strip():
            raise Refusal("A line is struck with a reason.", "Say why in a few words.")
        self.change(kind, row_id, struck=why)

    def _write(
        self,
        table: str,
        row_id: str,
        act: str,
        change: Change,
        sql: str,
        values: tuple[Any, ...],
    ) -> None:
        # Noted first: what is refused can be told, and kept elsewhere.
        self._note(table, row_id, act, change)
        with as_line(table, row_id, act):
            execute(sql, values)

    def _note(self, table: str, row_id: str, act: str, change: Change) -> None:
        if self.may is not None:
            self.may(self.who, table, act, change)
        body = json.dumps(change, ensure_ascii=False, separators=(",", ":"))
        self.lines.append((table, row_id, act, body))


_open: ContextVar[OpenEdit | None] = ContextVar("open edit", default=None)


def closed(error: pw.DatabaseError) -> Closed | None:
    """Return what a person is told when a guard refused a write; None for another error."""
    told = next((s for key, s in _SENTENCES.items() if key in str(error)), None)
    return Closed(*told) if told else None


@contextmanager
def as_line(table: str, row_id: str, act: str) -> Iterator[None]:
    """Tell the database that the journal writes exactly this line, for the length of the block.

    Raises
    ------
    Closed
        When the database refuses it by one of the guards.
    """
    mark = engine.now_open().mark
    mark((table, row_id, act))
    try:
        yield
    except pw.DatabaseError as error:
        told = closed(error)
        # A refused transaction takes no more statements, on PostgreSQL; its mark ends with it.
        guards.writing.set(None)
        if told is None:
            raise
        raise told from error
    except BaseException:
        guards.writing.set(None)
        raise
    else:
        mark(None)


def _held(table: str, row_id: str, names: list[str]) -> dict[str, Any]:
    listed = ", ".join(f'"{name}"' for name in names)
    got = execute(f'SELECT {listed} FROM "{table}" WHERE "id" = ?', (row_id,)).fetchone()
    if got is None:
        raise Refusal("That line is not in the records any more.", "Open the visit again.")
    return dict(zip(names, got, strict=True))


@contextmanager
def edit(
    kind: str,
    *,
    who: str,
    at: datetime,
    visit: str | None = None,
    reverses: str | None = None,
    may: May | None = None,
) -> Iterator[OpenEdit]:
    """Open an edit; it is on the disk, whole, when the block ends, or nothing of it is.

    An edit begun inside an open one joins it.

    Parameters
    ----------
    kind : str
        What was done, a word or two: ``reading``, ``sign``.
    who : str
        Id of the person; ``setup`` before there is one.
    at : datetime
        The moment, aware.
    visit : str, optional
        The visit it belongs to.
    reverses : str, optional
        Id of the edit that this one takes back.
    may : callable, optional
        Asked before each line whether this person may write it.
    """
    outer = _open.get()
    if outer is not None:
        yield outer
        return
    now = OpenEdit(kind, who, at, visit, reverses, may)
    mark = _open.set(now)
    try:
        with database.atomic():
            engine.now_open().take_turn()
            yield now
            if now.lines:
                _close(now)
        meanwhile.made_here(now.id)
    except Closed as error:
        error.attempted = now
        raise
    finally:
        _open.reset(mark)


def _close(done: OpenEdit) -> None:
    device, last_count, last_clock, last_hash = _device()
    count, clock = last_count + 1, _tick(last_clock, done.at)
    values: dict[str, Any] = {
        "id": done.id,
        "device": device,
        "count": count,
        "clock": clock,
        "at": Edit.at.db_value(done.at),
        "who": done.who,
        "kind": done.kind,
        "schema": VERSION,
        "visit": done.visit,
        "reverses": done.reverses,
        "before": last_hash,
    }
    values["hash"] = chain_hash(values, done.lines)
    # Every entry at the screen passes here: the statements are written out, none is built.
    with as_line("edit", done.id, "add"):
        execute(ADD_EDIT, tuple(values.values()))
    with as_line("edit_line", done.id, "add"):
        for position, line in enumerate(done.lines):
            execute(ADD_LINE, (done.id, position, *line))
    execute(_COUNT_ON, (count, clock, values["hash"], device))
    let_index_follow(done.lines)


FOUND_BY = frozenset({"client", "site", "system", "fish_group", "problem", "invoice"})
"""Tables whose rows the search index is made of."""


def let_index_follow(lines: Sequence[tuple[str, str, str, str]]) -> None:
    """Let the search index follow the lines of an edit, inside its transaction."""
    if not FOUND_BY.isdisjoint(line[0] for line in lines):
        # Most entries change nothing that is searched for, and do not wait for its loading.
        from core.records import index

        index.follow(lines)


EDIT_COLUMNS = (
    *("id", "device", "count", "clock", "at", "who", "kind", "schema", "visit"),
    *("reverses", "before", "hash"),
)
"""Columns of an edit in the order of `ADD_EDIT`."""
ADD_EDIT = (
    'INSERT INTO "edit" ("id", "device", "count", "clock", "at", "who", "kind", "schema", "visit",'
    ' "reverses", "before", "hash") VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)'
)
ADD_LINE = (
    'INSERT INTO "edit_line" ("edit", "position", "in_table", "row", "act", "change")'
    " VALUES (?, ?, ?, ?, ?, ?)"
)
_COUNT_ON = 'UPDATE "device" SET "count" = ?, "clock" = ?, "hash" = ? WHERE "id" = ?'
_THIS_DEVICE = 'SELECT "id", "count", "clock", "hash" FROM "device" WHERE "here" = 1 LIMIT 1'
_NAMED_DEVICE = 'SELECT "id", "count", "clock", "hash" FROM "device" WHERE "id" = ?'
_ADD_DEVICE = 'INSERT INTO "device" ("id", "here", "count", "clock", "hash") VALUES (?, ?, ?, ?, ?)'


def chain_hash(edit_values: dict[str, Any], edit_lines: list[tuple[str, str, str, str]]) -> str:
    """Return the hash of an edit: its own columns, its lines, and the hash before it."""
    body = {k: v for k, v in edit_values.items() if k != "hash"}
    text = json.dumps([body, edit_lines], sort_keys=True, ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()


def this_device() -> str:
    """Return this machine's id; asked inside an edit, since it is made when it first writes."""
    return _device()[0]


def _device() -> tuple[str, int, str, str]:
    """Return this machine's id, count, clock and hash; made when it first writes here."""
    named = engine.now_open().this_device()
    sql, asked = (_NAMED_DEVICE, (named,)) if named else (_THIS_DEVICE, ())
    found = query(sql, asked)
    if not found:
        # Where edits of others were taken in, the first one made here comes after them.
        execute(_ADD_DEVICE, (named or new_key(), 0 if named else 1, 0, meanwhile.now(), ""))
        found = query(sql, asked)
    device, count, clock, last = found[0]
    # Among several desks an edit comes after all that this one could see.
    return device, count, max(clock, meanwhile.now()) if named else clock, last


def _tick(last: str, at: datetime) -> str:
    """Return the next hybrid clock: never behind the last one, milliseconds and a counter."""
    millis = int(at.astimezone(UTC).timestamp() * 1000)
    if last:
        last_millis, last_counter = (int(part) for part in last.split("."))
        if millis <= last_millis:
            return f"{last_millis:015d}.{last_counter + 1:06d}"
    return f"{millis:015d}.{0:06d}"


_IN_ORDER = (
    'SELECT l."in_table", l."row", l."change" FROM "edit_line" l '
    'JOIN "edit" e ON e."id" = l."edit" ORDER BY e."clock", l."position"'
)


def replay() -> dict[tuple[str, str], dict[str, Any]]:
    """Return every row as the journal alone tells it, by table and id, empty columns left out."""
    rows: dict[tuple[str, str], dict[str, Any]] = {}
    for table, row_id, body in query(_IN_ORDER):
        change: Change = json.loads(body)
        rows.setdefault((table, row_id), {}).update({n: new for n, (_, new) in change.items()})
    return {k: {n: v for n, v in row.items() if v is not None} for k, row in rows.items()}
