"""What salvages of a damaged file brought over without its history: their edits are the mark."""

from __future__ import annotations

from core.records.engine import query
from core.records.salvage import KIND

_DAYS = 'SELECT "at" FROM "edit" WHERE "kind" = ? ORDER BY "at"'
_LINES = 'FROM "edit_line" l JOIN "edit" e ON e."id" = l."edit" WHERE e."kind" = ?'
_ROWS = f'SELECT count(DISTINCT l."row") {_LINES} AND e."at" LIKE ?'
_VISITS = f"""
SELECT l."row", e."at" {_LINES} AND l."in_table" = 'visit'
AND l."act" <> 'add' AND l."change" LIKE '%"signed_at"%'
UNION SELECT s."visit", e."at" FROM "signature" s JOIN "edit_line" l ON l."row" = s."id"
JOIN "edit" e ON e."id" = l."edit" WHERE e."kind" = ? AND l."in_table" = 'signature'
ORDER BY 2
"""


def days() -> tuple[str, ...]:
    """Return the days (UTC) on which records were salvaged, in order."""
    return tuple(dict.fromkeys(at[:10] for (at,) in query(_DAYS, (KIND,))))


def rows(day: str) -> int:
    """Return how many rows the salvages of a day brought over without their history."""
    return int(query(_ROWS, (KIND, f"{day}%"))[0][0])


def visits() -> dict[str, str]:
    """Return the visits whose signature a salvage brought over, and on which day."""
    return {visit: at[:10] for visit, at in query(_VISITS, (KIND, KIND))}
