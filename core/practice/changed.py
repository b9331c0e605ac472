"""What changed: the journal of a visit, a client or a row in readable sentences."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from zoneinfo import ZoneInfo

from core import dates
from core.practice.edit_words import Telling
from core.records import edits, read
from core.records.edits import Edit
from core.records.engine import query
from core.records.tables import Client, Person, Practice, Visit

NEWEST = 200
"""So many edits stand on one page."""

_OF_VISIT = (
    'e."id" IN (SELECT "id" FROM "edit" WHERE "visit" = ? '
    'UNION SELECT "edit" FROM "edit_line" WHERE "in_table" = \'visit\' AND "row" = ?)'
)
_OF_ROW = 'e."id" IN (SELECT "edit" FROM "edit_line" WHERE "in_table" = ? AND "row" = ?)'
_OF_CLIENT = """e."id" IN (
  SELECT "id" FROM "edit" WHERE "visit" IN (SELECT "id" FROM "visit" WHERE "client" = ?)
  UNION SELECT "edit" FROM "edit_line" WHERE "in_table" = 'client' AND "row" = ?
  UNION SELECT "edit" FROM "edit_line" WHERE "in_table" = 'site'
    AND "row" IN (SELECT "id" FROM "site" WHERE "client" = ?)
  UNION SELECT "edit" FROM "edit_line" WHERE "in_table" = 'system' AND "row" IN (
    SELECT y."id" FROM "system" y JOIN "site" s ON s."id" = y."site" WHERE s."client" = ?)
  UNION SELECT "edit" FROM "edit_line" WHERE "in_table" = 'fish_group' AND "row" IN (
    SELECT g."id" FROM "fish_group" g JOIN "system" y ON y."id" = g."system"
    JOIN "site" s ON s."id" = y."site" WHERE s."client" = ?)
  UNION SELECT "edit" FROM "edit_line" WHERE "in_table" = 'hold'
    AND "row" IN (SELECT "id" FROM "hold" WHERE "client" = ?))"""


@dataclass(frozen=True)
class Said:
    """One edit in words.

    Attributes
    ----------
    time : str
        Wall time of the practice.
    who : str
        The person's name.
    elsewhere : bool
        Whether it was made on another machine.
    """

    edit: str
    day: date
    time: str
    who: str
    words: str
    elsewhere: bool


@dataclass(frozen=True)
class Changed:
    """A page of what changed, the newest first.

    Attributes
    ----------
    before : str
        What the next page is asked with; "" when this is the last one.
    """

    title: str
    said: tuple[Said, ...]
    before: str = ""

    def blocks(self, today: date) -> tuple[tuple[str, tuple[tuple[str, str], ...]], ...]:
        """Return what each person did on each day: a heading, then times and sentences."""
        return tuple(
            (
                f"{day:%a} {dates.said(day, today)}, {who}",
                tuple((one.time, one.words + _machine(one)) for one in of),
            )
            for (day, who), of in groupby(self.said, key=lambda one: (one.day, one.who))
        )

    def text(self, today: date) -> str:
        """Return the page in plain text: a sentence for each person and day."""
        return "\n".join(
            f"{head}: {'; '.join(f'{time} {words}' for time, words in told)}."
            for head, told in self.blocks(today)
        )


def _machine(one: Said) -> str:
    return " (on another machine)" if one.elsewhere else ""


def of_visit(visit_id: str, before: str = "", most: int = NEWEST) -> Changed:
    """Return what changed in a visit."""
    visit = read.one(Visit, visit_id)
    client = read.one(Client, visit.client)
    title = f"What changed: {client.name}, visit of {visit.day.day} {visit.day:%b %Y}"
    return _page(title, _OF_VISIT, (visit_id, visit_id), before, most)


def client_of(visit_id: str) -> str:
    """Return the id of a visit's client."""
    return read.one(Visit, visit_id).client


def of_client(client_id: str, before: str = "", most: int = NEWEST) -> Changed:
    """Return what changed for a client: the client, the places, the waters, fish and visits."""
    title = f"What changed: {read.one(Client, client_id).name}, everything"
    return _page(title, _OF_CLIENT, (client_id,) * 6, before, most)


def of_row(table: str, row_id: str, before: str = "", most: int = NEWEST) -> Changed:
    """Return what changed in a single row."""
    return _page("What changed", _OF_ROW, (table, row_id), before, most)


def of_person(person_id: str, before: str = "", most: int = NEWEST) -> Changed:
    """Return what a person has done, at any desk."""
    title = f"What {read.one(Person, person_id).name} did"
    return _page(title, 'e."who" = ?', (person_id,), before, most)


def _page(title: str, where: str, values: Sequence[str], before: str, most: int) -> Changed:
    older = ' AND e."clock" < ?' if before else ""
    sql = (
        f'SELECT {edits.COLUMNS} FROM "edit" e WHERE {where}{older} ORDER BY e."clock" DESC LIMIT ?'
    )
    asked = (*values, before, most + 1) if before else (*values, most + 1)
    found = [edits.from_values(row) for row in query(sql, asked)]
    shown = found[:most]
    return Changed(title, sentences(shown), shown[-1].clock if len(found) > most else "")


def sentences(told: Iterable[Edit]) -> tuple[Said, ...]:
    """Return edits in words, those aside that have nothing to tell."""
    told = list(told)
    practice = read.first(Practice)
    zone = practice.zone if practice else "Etc/UTC"
    people = {p.id: p.name for p in read.find(Person, struck=True)}
    here = edits.this_device()
    telling = Telling(told, practice)
    found = []
    for edit in told:
        local = edit.at.astimezone(ZoneInfo(zone))
        words = telling.words(edit, local.date())
        if words:
            who = people.get(edit.who, "Setting up")
            elsewhere = edit.device != here
            one = Said(edit.id, local.date(), f"{local:%H:%M}", who, words, elsewhere)
            found.append(one)
    return tuple(found)
