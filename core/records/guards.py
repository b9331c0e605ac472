"""What the database itself refuses: writes beside the journal, and changes to what is closed."""

from __future__ import annotations

from collections.abc import Iterator
from contextvars import ContextVar

from core.records.models import JOURNAL
from core.records.tables import TABLES, Row

Line = tuple[str, str, str]
"""Table, row and act of the one line that the journal is writing at this moment."""

writing: ContextVar[Line | None] = ContextVar("the line being written", default=None)

BESIDE = "finrounds: a write beside the journal"
SIGNED = "finrounds: the visit is signed"
INVOICED = "finrounds: the line stands on an issued invoice"
GROWS = "finrounds: these rows are only added"
NEVER = "finrounds: rows are struck, never deleted"

_ACTS = (("INSERT", "NEW", "add"), ("UPDATE", "OLD", "change"), ("DELETE", "OLD", "remove"))


def journal_writes(table: str, row: str, act: str) -> int:
    """Tell the database whether the journal is writing exactly this line now (1) or not (0)."""
    return int(writing.get() == (table, row, act))


def statements() -> Iterator[str]:
    """Give the SQLite triggers that hold the rules, one statement each."""
    for model in JOURNAL:
        yield from _journal_guards(str(model._meta.table_name))
    for row in TABLES:
        yield from _door(row.table)
        yield from _closing(row)


def _trigger(name: str, table: str, act: str, when: str, refusal: str) -> str:
    return (
        f'CREATE TRIGGER "{name}_{table}_{act.lower()}" BEFORE {act} ON "{table}" WHEN {when} '
        f"BEGIN SELECT RAISE(ABORT, '{refusal}'); END"
    )


def _door(table: str) -> Iterator[str]:
    for act, side, word in _ACTS:
        allowed = f"journal_writes('{table}', {side}.\"id\", '{word}') = 1"
        if act == "UPDATE":
            allowed += ' AND NEW."id" = OLD."id"'
        yield _trigger("door", table, act, f"NOT ({allowed})", BESIDE)
    yield _trigger("kept", table, "DELETE", "1", NEVER)


def _journal_guards(table: str) -> Iterator[str]:
    key = "id" if table == "edit" else "edit"
    allowed = f"journal_writes('{table}', NEW.\"{key}\", 'add') = 1"
    yield _trigger("door", table, "INSERT", f"NOT ({allowed})", BESIDE)
    for act in ("UPDATE", "DELETE"):
        yield _trigger("grows", table, act, "1", GROWS)


def _closing(row: type[Row]) -> Iterator[str]:
    if row.table == "visit":
        yield _trigger("signed", "visit", "UPDATE", 'OLD."signed_at" IS NOT NULL', SIGNED)
    elif row.closing == "visit":
        yield _trigger("signed", row.table, "INSERT", _is_signed("NEW"), SIGNED)
        either = f"{_is_signed('OLD')} OR {_is_signed('NEW')}"
        yield _trigger("signed", row.table, "UPDATE", either, SIGNED)
    elif row.closing == "grows":
        yield _trigger("grows", row.table, "UPDATE", "1", GROWS)
    elif row.closing == "invoice":
        yield _trigger("invoiced", row.table, "UPDATE", 'OLD."invoice" IS NOT NULL', INVOICED)


def _is_signed(side: str) -> str:
    return f'(SELECT "signed_at" FROM "visit" WHERE "id" = {side}."visit") IS NOT NULL'
