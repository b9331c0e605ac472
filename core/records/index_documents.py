"""What the search index holds of each row: its words, and the client and visit it leads to."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from core.records.engine import query
from core.records.index_words import held_digits, held_words, key_word, may_slip, tails

KINDS = ("client", "site", "fish_group", "problem", "invoice")
"""The tables that are found, in the order in which equals are shown."""


@dataclass(frozen=True)
class Document:
    """One row as it is found."""

    row: str
    kind: int
    """Its place in `KINDS`."""
    client: str
    visit: str
    """"" when it belongs to no one visit."""
    name: str
    """Words of its name, with spaces between."""
    rest: str
    """Other words it is found by."""
    digits: str
    """Its numbers as runs of digits."""

    @property
    def words(self) -> str:
        """Every word under which it is found, each once, in order."""
        ends = {end for run in self.digits.split() for end in tails(run)}
        return " ".join(sorted({*self.name.split(), *self.rest.split(), *ends}))

    @property
    def values(self) -> tuple[object, ...]:
        """Its columns, as the index holds them."""
        known = (self.row, self.kind, self.client, self.visit, self.name, self.rest, self.digits)
        return (*known, self.words)

    def slippery(self) -> set[str]:
        """Return its words in which slips are forgiven."""
        return {word for word in (*self.name.split(), *self.rest.split()) if may_slip(word)}


# Each gives: row, client, visit, name, other words, numbers, key of the catalogue.
_ROWS = {
    "client": """
SELECT r."id", r."id", '', r."name", r."email" || ' ' || r."address", r."phone", ''
FROM "client" r WHERE r."struck" IS NULL
""",
    "site": """
SELECT r."id", r."client", '', r."name", r."address", '', ''
FROM "site" r WHERE r."struck" IS NULL
""",
    "fish_group": """
SELECT r."id", s."client", '', r."name", r."tag", r."tag", r."species"
FROM "fish_group" r JOIN "system" y ON y."id" = r."system" JOIN "site" s ON s."id" = y."site"
WHERE r."struck" IS NULL
""",
    "problem": """
SELECT r."id", r."client", r."visit", r."words", '', '', r."problem"
FROM "problem" r WHERE r."struck" IS NULL
""",
    "invoice": """
SELECT r."id", r."client", r."visit", r."number", '', r."number", ''
FROM "invoice" r WHERE r."struck" IS NULL
""",
}


def documents(table: str, row: str = "") -> Iterator[Document]:
    """Give the document of every row of a table that counts, or of one."""
    one = ' AND r."id" = ?' if row else ""
    for found in query(_ROWS[table] + one, (row,) if row else ()):
        yield document(table, *found)


def document(
    table: str,
    row: str,
    client: str,
    visit: str,
    name: str,
    rest: str,
    numbers: str = "",
    key: str = "",
) -> Document:
    """Return the document of a row.

    Parameters
    ----------
    name, rest : str
        What it is called, and other text under which it is found.
    numbers : str
        Phone or other numbers, however they are written.
    key : str
        Key of the catalogue that says what it is.
    """
    others = held_words(rest)
    if key:
        others += [*held_words(key.replace("_", " ")), key_word(key)]
    runs = " ".join(dict.fromkeys(held_digits(numbers)))
    called = " ".join(held_words(name))
    return Document(row, KINDS.index(table), client, visit, called, " ".join(others), runs)
