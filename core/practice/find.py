"""Finding anything from a few letters or digits, and where it leads."""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from core.catalogue import load
from core.practice.names import name
from core.records import index
from core.records.engine import query
from core.records.fields import DayField
from core.records.index import Hit

MOST = 20
"""As many as anybody reads; a letter more brings others."""
WORDS = {
    "client": "client",
    "site": "site",
    "fish_group": "fish",
    "problem": "problem",
    "invoice": "invoice",
}
"""What a thing is, in a word, by its table."""


@dataclass(frozen=True)
class Found:
    """One thing that was found, as the list shows it."""

    what: str
    """``client``, ``site``, ``fish``, ``problem`` or ``invoice``."""
    row: str
    line: str
    """What it is called, and what tells it from others."""
    client: str
    client_name: str
    visit: str
    """The visit it leads to; "" when there was none yet."""
    day: date | None
    """The day of that visit."""
    starts: str
    state: str


def find(text: str, today: date | None = None, most: int = MOST) -> tuple[Found, ...]:
    """Return what is found under a text, the likeliest first.

    Parameters
    ----------
    text : str
        Any parts of names, addresses or numbers in any order; a letter may be wrong.
    today : date, optional
        A client leads to the latest visit up to this day, or to the next one to come; without
        it, to the last one in the book.
    """
    hits = index.search(text, most=most, named=_named())
    lines = _lines(hits)
    leads = _Leads(hits, lines, today)
    return tuple(_found(hit, lines[hit.row], leads.of(hit)) for hit in hits if hit.row in lines)


@functools.cache
def _named() -> tuple[tuple[str, str], ...]:
    """Return species and problems by key, with their names."""
    species = load.table("species").items()
    problems = load.table("problems")["problem"].items()
    return (
        *((key, f"{row['common']} {row['scientific']}") for key, row in species),
        *((key, str(row["name"])) for key, row in problems),
    )


_Visit = tuple[str, date | None, str, str]
_NONE: _Visit = ("", None, "", "")
_Line = tuple[str, str, str]
"""What the list shows, the client's name, and the water it swims in, if any."""


def _found(hit: Hit, line: _Line, visit: _Visit | None) -> Found:
    shown, client, _ = line
    return Found(WORDS[hit.table], hit.row, shown, hit.client, client, *(visit or _NONE))


def _together(*parts: str) -> str:
    return ", ".join(flat for flat in map(_flat, parts) if flat)


def _flat(text: str) -> str:
    """Return a text on one line, without signs that a terminal would obey."""
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())


def _client(called: str, phone: str, address: str) -> _Line:
    return _together(called, address, phone), called, ""


def _site(called: str, address: str, client: str) -> _Line:
    return _together(called, address, client), client, ""


def _fish(called: str, tag: str, species: str, system: str, water: str, client: str) -> _Line:
    kind = name("species", species)
    known = kind.casefold() in called.casefold()
    mark = f"tag {tag}" if tag else ""
    return _together(called, "" if known else kind, mark, water, client), client, system


def _problem(words: str, key: str, water: str, client: str) -> _Line:
    called = name("problem", key) if key else ""
    same = called.casefold() == words.casefold()
    return _together(words, "" if same else called, water, client), client, ""


def _invoice(number: str, client: str) -> _Line:
    return _together(number, client), client, ""


_SQL: dict[str, tuple[str, Callable[..., _Line]]] = {
    "client": ('SELECT r."id", r."name", r."phone", r."address" FROM "client" r', _client),
    "site": (
        'SELECT r."id", r."name", r."address", c."name" FROM "site" r '
        'JOIN "client" c ON c."id" = r."client"',
        _site,
    ),
    "fish_group": (
        'SELECT r."id", r."name", r."tag", r."species", r."system", y."name", c."name" '
        'FROM "fish_group" r JOIN "system" y ON y."id" = r."system" '
        'JOIN "site" s ON s."id" = y."site" JOIN "client" c ON c."id" = s."client"',
        _fish,
    ),
    "problem": (
        'SELECT r."id", r."words", r."problem", y."name", c."name" FROM "problem" r '
        'JOIN "system" y ON y."id" = r."system" JOIN "client" c ON c."id" = r."client"',
        _problem,
    ),
    "invoice": (
        'SELECT r."id", r."number", c."name" FROM "invoice" r '
        'JOIN "client" c ON c."id" = r."client"',
        _invoice,
    ),
}


def _lines(hits: Sequence[Hit]) -> dict[str, _Line]:
    """Return what the list shows of each row that was found."""
    found: dict[str, _Line] = {}
    for table, (sql, line) in _SQL.items():
        rows = [hit.row for hit in hits if hit.table == table]
        if rows:
            read = query(f'{sql} WHERE r."id" IN ({_marks(rows)})', rows)
            found.update((row, line(*rest)) for row, *rest in read)
    return found


def _marks(values: Sequence[object]) -> str:
    return ", ".join("?" for _ in values)


# Those to which somebody went, or goes, before those that were called off; then what has been
# before what is to come; of those the nearest.
_LATEST = """
SELECT "of", "id", "day", "starts", "state" FROM (
  SELECT v."{column}" AS "of", v."id", v."day", v."starts", v."state",
    row_number() OVER (PARTITION BY v."{column}" ORDER BY
      CASE WHEN v."state" IN ('cancelled', 'no access') THEN 1 ELSE 0 END,
      CASE WHEN v."day" <= ? THEN 0 ELSE 1 END,
      CASE WHEN v."day" <= ? THEN v."day" END DESC, v."day", v."starts" DESC, v."id"
    ) AS "place"
  FROM "visit" v WHERE v."{column}" IN ({marks}) AND v."struck" IS NULL
) ranked WHERE "place" = 1
"""
_THIS = 'SELECT "id", "id", "day", "starts", "state" FROM "visit" WHERE "id" IN ({marks})'


class _Leads:
    """The visit that each thing leads to: its own, the last of its place, the client's last."""

    def __init__(self, hits: Sequence[Hit], lines: dict[str, _Line], today: date | None) -> None:
        self._water = {row: water for row, (_, _, water) in lines.items()}
        until = DayField().db_value(today or date.max)
        self._own = _visits(_THIS, (), (hit.visit for hit in hits))
        sites = (hit.row for hit in hits if hit.table == "site")
        self._places = {
            "client": _latest("client", until, (hit.client for hit in hits)),
            "site": _latest("site", until, sites),
            "system": _latest("system", until, self._water.values()),
        }

    def of(self, hit: Hit) -> _Visit | None:
        """Return the visit, or None when there was none yet."""
        return (
            self._own.get(hit.visit)
            or self._places["site"].get(hit.row)
            or self._places["system"].get(self._water[hit.row])
            or self._places["client"].get(hit.client)
        )


def _latest(column: str, until: object, ids: Iterable[str]) -> dict[str, _Visit]:
    sql = _LATEST.replace("{column}", column)
    return _visits(sql, (until, until), ids)


def _visits(sql: str, values: tuple[object, ...], ids: Iterable[str]) -> dict[str, _Visit]:
    asked = sorted({key for key in ids if key})
    if not asked:
        return {}
    read = query(sql.replace("{marks}", _marks(asked)), (*values, *asked))
    return {of: (key, date.fromisoformat(day), *rest) for of, key, day, *rest in read}
