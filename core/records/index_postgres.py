"""The search index on PostgreSQL: the words of each document as a text vector under GIN."""

from __future__ import annotations

from collections.abc import Sequence

# Ordered by the bytes of the letters, as SQLite does: both engines give the same order.
CREATE = (
    """
CREATE TABLE "search_document" (
  "row" TEXT NOT NULL PRIMARY KEY, "kind" INTEGER NOT NULL, "client" TEXT NOT NULL,
  "visit" TEXT NOT NULL, "name" TEXT COLLATE "C" NOT NULL, "rest" TEXT NOT NULL,
  "digits" TEXT NOT NULL, "words" TEXT NOT NULL,
  "vector" tsvector GENERATED ALWAYS AS
    (array_to_tsvector(string_to_array("words", ' '))) STORED)
""",
    """
CREATE INDEX "search_document_vector" ON "search_document" USING gin ("vector")
  WITH (fastupdate = off)
""",
    """
CREATE TABLE "search_slip" (
  "slip" TEXT COLLATE "C" NOT NULL, "word" TEXT COLLATE "C" NOT NULL,
  PRIMARY KEY ("slip", "word"))
""",
)
TABLES = ("search_document", "search_slip")
MATCHING = 'FROM "search_document" d WHERE d."vector" @@ ?::tsquery'
PROVE = ""
"""The vector is made by the database from the words: there is nothing to prove."""


def match(groups: Sequence[Sequence[tuple[str, bool]]]) -> str:
    """Return the question that asks for one word, or beginning of a word, of every group."""
    return " & ".join(f"({' | '.join(_quoted(*word) for word in group)})" for group in groups)


def _quoted(word: str, begins: bool) -> str:
    bare = word.replace("\\", "\\\\").replace("'", "''")
    return f"'{bare}':*" if begins else f"'{bare}'"
