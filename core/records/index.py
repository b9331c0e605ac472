"""Finding: an index over clients, sites, fish, problems and invoices that forgives slips.

The index is no record: it is made from the rows, changes with them in the same transaction,
stands outside the journal, and can be made anew at any time (`rebuild`). A document holds the
plain words of a row; a second table holds, for each word, the heads under which it is found
when a letter is wrong. SQLite looks the words up with FTS5, PostgreSQL with its own text search;
what they find is put in order in `index_ask`, the same on both.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from itertools import islice

from core.records.engine import execute, query
from core.records.index_ask import Hit, search
from core.records.index_documents import KINDS, Document, documents
from core.records.index_engine import spoken
from core.records.index_words import slips
from core.records.lean import pw

__all__ = ["Hit", "check", "create", "fill", "follow", "rebuild", "search"]

Line = tuple[str, str, str, str]
"""A line of an edit: table, row, act, change."""
MOST_TOLD = 20
_AT_ONCE = 400
_COLUMNS = ("row", "kind", "client", "visit", "name", "rest", "digits", "words")
_NAMES = ", ".join(f'"{name}"' for name in _COLUMNS)


def create() -> None:
    """Make the tables of the index, empty; `rebuild` fills them."""
    for statement in spoken().CREATE:
        execute(statement)


def rebuild() -> None:
    """Make the whole index anew from the rows; call it inside a transaction."""
    # The tables themselves are made anew: what is damaged can not be emptied.
    for table in spoken().TABLES:
        execute(f'DROP TABLE IF EXISTS "{table}"')
    create()
    fill(_every())


def fill(found: Iterator[Document]) -> None:
    """Take documents into the index, many at a time, that are not in it yet."""
    slippery: set[str] = set()
    for part in _parts(found):
        _add(part)
        slippery.update(word for document in part for word in document.slippery())
    _add_words(sorted(slippery))


def follow(lines: Iterable[Line]) -> None:
    """Let the index follow an edit, inside its transaction."""
    touched = dict.fromkeys(row for line in lines for row in _touched(*line))
    for table, row in touched:
        _renew(row, next(documents(table, row), None))


def _touched(table: str, row: str, act: str, body: str) -> Iterator[tuple[str, str]]:
    """Give the documents that a line of an edit may change."""
    if table in KINDS:
        yield table, row
    if act == "change" and table in _FISH_BELOW and _FISH_BELOW[table][0] in json.loads(body):
        yield from (("fish_group", fish) for (fish,) in query(_FISH_BELOW[table][1], (row,)))


_FISH_BELOW = {
    "system": ("site", 'SELECT "id" FROM "fish_group" WHERE "system" = ? ORDER BY "id"'),
    "site": (
        "client",
        'SELECT g."id" FROM "fish_group" g JOIN "system" y ON y."id" = g."system" '
        'WHERE y."site" = ? ORDER BY g."id"',
    ),
}
"""What makes the fish below lead to another client, and which fish those are."""


def _renew(row: str, new: Document | None) -> None:
    old = _held(row)
    if old == new:
        return
    before, after = old.slippery() if old else set(), new.slippery() if new else set()
    if old is not None:
        execute('DELETE FROM "search_document" WHERE "row" = ?', (row,))
    if new is not None:
        _add((new,))
        _add_words(sorted(after - before))
    for word in sorted(before - after):
        _forget(word)


def _held(row: str) -> Document | None:
    found = query(f'SELECT {_NAMES} FROM "search_document" WHERE "row" = ?', (row,))
    return Document(*found[0][:-1]) if found else None


def _forget(word: str) -> None:
    """Take a word out of those that slips lead to, when no document has it any more."""
    said = spoken()
    if query(f"SELECT 1 {said.MATCHING} LIMIT 1", (said.match([[(word, False)]]),)):
        return
    heads = sorted(slips(word))
    marks = ", ".join("?" for _ in heads)
    execute(f'DELETE FROM "search_slip" WHERE "slip" IN ({marks}) AND "word" = ?', (*heads, word))


def _every() -> Iterator[Document]:
    for table in KINDS:
        yield from documents(table)


def _parts(found: Iterator[Document]) -> Iterator[tuple[Document, ...]]:
    while part := tuple(islice(found, _AT_ONCE)):
        yield part


def _add(found: Sequence[Document]) -> None:
    _insert("search_document", _NAMES, [document.values for document in found])


def _add_words(found: Sequence[str]) -> None:
    pairs = [(slip, word) for word in found for slip in sorted(slips(word))]
    for at in range(0, len(pairs), _AT_ONCE):
        _insert("search_slip", '"slip", "word"', pairs[at : at + _AT_ONCE])


def _insert(table: str, names: str, rows: Sequence[tuple[object, ...]]) -> None:
    marks = f"({', '.join('?' for _ in rows[0])})"
    sql = f'INSERT INTO "{table}" ({names}) VALUES {", ".join(marks for _ in rows)}'
    execute(f"{sql} ON CONFLICT DO NOTHING", [value for row in rows for value in row])


def check() -> list[str]:
    """Return a sentence for each document or word in which the index is not what the rows say."""
    held = {values[0]: values for values in query(f'SELECT {_NAMES} FROM "search_document"')}
    found: list[str] = []
    slippery: set[str] = set()
    for document in _every():
        slippery |= document.slippery()
        stands = held.pop(document.row, None)
        if stands != document.values:
            how = "does not have" if stands is None else "has something else for"
            found.append(f"The index {how} {KINDS[document.kind]} {document.row}.")
    found += [
        f"The index has {KINDS[v[1]]} {row}, which does not count." for row, v in held.items()
    ]
    found += _wrong_words(slippery) + _damage()
    return found[:MOST_TOLD]


def _wrong_words(wanted: set[str]) -> list[str]:
    pairs = {(slip, word) for word in wanted for slip in slips(word)}
    held = set(query('SELECT "slip", "word" FROM "search_slip"'))
    wrong = sorted({word for _, word in pairs ^ held})
    return [f"The index has the wrong slips for the word {word}." for word in wrong]


def _damage() -> list[str]:
    prove = spoken().PROVE
    if not prove:
        return []
    try:
        execute(prove)
    except pw.DatabaseError as error:
        # Proving counts as writing, which records that are only read do not allow.
        if "readonly" in str(error):
            return []
        return [f"The words of the index are damaged: {error}."]
    return []
