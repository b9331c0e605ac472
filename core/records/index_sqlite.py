"""The search index on SQLite: the words of each document under FTS5."""

from __future__ import annotations

from collections.abc import Sequence

# Words are made plain before they come here, so the tokenizer only parts them at spaces:
# every letter that is not of ASCII is part of a word to it.
CREATE = (
    """
CREATE TABLE "search_document" (
  "number" INTEGER PRIMARY KEY, "row" TEXT NOT NULL UNIQUE, "kind" INTEGER NOT NULL,
  "client" TEXT NOT NULL, "visit" TEXT NOT NULL, "name" TEXT NOT NULL, "rest" TEXT NOT NULL,
  "digits" TEXT NOT NULL, "words" TEXT NOT NULL)
""",
    """
CREATE VIRTUAL TABLE "search_text" USING fts5(
  "words", content='search_document', content_rowid='number',
  tokenize="ascii tokenchars '=_'", prefix='1 2 3 4', detail=none)
""",
    """
CREATE TRIGGER "search_document_in" AFTER INSERT ON "search_document" BEGIN
  INSERT INTO "search_text" ("rowid", "words") VALUES (NEW."number", NEW."words");
END
""",
    """
CREATE TRIGGER "search_document_out" AFTER DELETE ON "search_document" BEGIN
  INSERT INTO "search_text" ("search_text", "rowid", "words")
  VALUES ('delete', OLD."number", OLD."words");
END
""",
    """
CREATE TABLE "search_slip" (
  "slip" TEXT NOT NULL, "word" TEXT NOT NULL, PRIMARY KEY ("slip", "word")) WITHOUT ROWID
""",
)
TABLES = ("search_document", "search_text", "search_slip")
MATCHING = (
    'FROM "search_text" t JOIN "search_document" d ON d."number" = t."rowid" '
    'WHERE "search_text" MATCH ?'
)
PROVE = """INSERT INTO "search_text" ("search_text", "rank") VALUES ('integrity-check', 1)"""
"""Fails when the words under FTS5 are not those of the documents."""


def match(groups: Sequence[Sequence[tuple[str, bool]]]) -> str:
    """Return the question that asks for one word, or beginning of a word, of every group."""
    return " AND ".join(f"({' OR '.join(_quoted(*word) for word in group)})" for group in groups)


def _quoted(word: str, begins: bool) -> str:
    bare = word.replace('"', '""')
    return f'"{bare}"*' if begins else f'"{bare}"'
