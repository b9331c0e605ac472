"""What taking in a file of clients would do: tried on paper first, with every row that is bad."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import partial

from core.errors import BadInput
from core.practice.csv_cells import Volume, shown
from core.practice.csv_columns import BY_KEY, COLUMNS, Column, Every, Match, take
from core.practice.csv_known import Known, Places, Who, called, in_the_records, who
from core.practice.csv_read import CsvFile, Line
from core.practice.names import name as name_of
from core.records.keys import new_key
from core.records.tables import Client, Row, Site, System

_HOME = "home"
USUAL_DRIVE = Site.travel_min
_TELL_EVERY = 500
Progress = Callable[[int, int], None]
"""Told how many lines of how many have been looked at; what it raises ends the work."""


@dataclass(frozen=True)
class Bad:
    """A cell that can not be taken, or a whole line."""

    line: int
    column: str
    """What the file calls it; "" for a whole line."""
    reason: str

    @property
    def sentence(self) -> str:
        """Say where and why."""
        return f"Line {self.line}, {self.column or 'the whole line'}: {self.reason}"


@dataclass(frozen=True)
class Double:
    """A client who is likely there already."""

    line: int
    name: str
    of: Who
    why: str

    @property
    def sentence(self) -> str:
        """Say who it may be."""
        return (
            f"Line {self.line}: {shown(self.name)} may be {shown(self.of.name)}, "
            f"{self.of.where}: {self.why}."
        )


@dataclass
class Plan:
    """What would be made, in order, and what stands against it."""

    file: CsvFile
    match: Match
    rows: list[Row] = field(default_factory=list)
    bad: list[Bad] = field(default_factory=list)
    doubles: list[Double] = field(default_factory=list)
    known: int = 0
    """Lines that say nothing which is not there already."""
    skipped: frozenset[int] = frozenset()

    @property
    def bad_lines(self) -> set[int]:
        """The lines that can not be taken in."""
        return {bad.line for bad in self.bad}

    def count(self, kind: type[Row]) -> int:
        """Return how many rows of a table would be made."""
        return sum(isinstance(row, kind) for row in self.rows)


def plan(
    file: CsvFile, match: Match, progress: Progress, skipped: frozenset[int] = frozenset()
) -> Plan:
    """Return what a file would bring into the open records; nothing is written.

    Parameters
    ----------
    match : dict
        Where each of our columns comes from.
    skipped : frozenset of int
        Lines that are left out: likely doubles.

    Raises
    ------
    BadInput
        When no column is matched that names the client.
    """
    if "name" not in match and "first" not in match:
        raise BadInput("No column is the client's name.", "Choose the one that holds it.")
    made = Plan(file, match, skipped=skipped)
    making = _Making(made, *in_the_records())
    for number, line in enumerate(file.lines, start=1):
        if line.number not in skipped:
            making.look(line)
        if number % _TELL_EVERY == 0:
            progress(number, len(file.lines))
    return made


@dataclass
class _Water:
    """A water of the file, to find out whether it stands there twice with different words."""

    line: int
    kind: str
    volume: object


class _Making:
    """Goes through the lines, remembering what the earlier ones made."""

    def __init__(self, plan: Plan, known: Known, places: Places) -> None:
        self.plan = plan
        self.known = known
        self.places = places
        self.waters: dict[tuple[str, str], _Water] = {}

    def look(self, line: Line) -> None:
        """Add what a line brings, or what is wrong with it."""
        if line.wrong:
            self.plan.bad.append(Bad(line.number, "", f"{line.wrong}."))
            return
        values: dict[str, object] = {}
        faults = [*self._read(line, values)] or [*self._lacks(line, values)]
        if faults:
            self.plan.bad += faults
            return
        self._add(line, values)

    def _read(self, line: Line, values: dict[str, object]) -> Iterator[Bad]:
        for column in COLUMNS:
            source = self.plan.match.get(column.key)
            if source is None:
                continue
            cell, heading = _cell(line, source, self.plan.file)
            try:
                values[column.key] = take(column, cell, heading)
            except BadInput as error:
                where = heading if isinstance(source, int) else column.label
                yield Bad(line.number, shown(where), error.sentence)

    def _lacks(self, line: Line, values: dict[str, object]) -> Iterator[Bad]:
        """Give what must stand there and does not."""
        if not (_text(values, "name") or _text(values, "first")):
            yield self._empty(line, BY_KEY["name"])
        if (_text(values, "system") or values.get("volume")) and not _text(values, "kind"):
            yield self._empty(line, BY_KEY["kind"])

    def _empty(self, line: Line, column: Column) -> Bad:
        source = self.plan.match.get(column.key)
        called = self.plan.file.column(source) if isinstance(source, int) else column.label
        return Bad(line.number, shown(called), f"It is empty. For example {column.example}.")

    def _add(self, line: Line, values: dict[str, object]) -> None:
        said = partial(_text, values)
        name = " ".join(part for part in (said("first"), said("name")) if part)
        address = ", ".join(p for p in (said("address"), said("town"), said("postcode")) if p)
        one = who(new_key(), line.number, name, said("phone"), said("email"), address)
        there = self.known.same(one)
        more: list[Row] = []
        if there is None:
            if near := self.known.likely(one):
                self.plan.doubles.append(Double(line.number, name, *near))
            self.known.add(one)
            more.append(
                Client(
                    id=one.client,
                    name=name,
                    phone=said("phone"),
                    email=said("email"),
                    address=address,
                    note=said("note"),
                )
            )
        more += self._place(line, (there or one).client, address, values)
        self.plan.rows += more
        self.plan.known += not more and line.number not in self.plan.bad_lines

    def _place(self, line: Line, client: str, address: str, values: dict[str, object]) -> list[Row]:
        said = partial(_text, values)
        water = _water_name(values)
        if not (water or said("site") or said("site_address") or said("access")):
            return []
        sites = self.places.sites[client]
        only = next(iter(sites.values())) if len(sites) == 1 and not said("site") else ""
        named = said("site") or _HOME
        site = only or sites.get(called(named), "")
        if not water:
            return [] if site else [self._site(client, named, address, values)]
        if site and called(water) in self.places.waters[site]:
            self._again(line, site, water, values)
            return []
        more: list[Row] = [] if site else [self._site(client, named, address, values)]
        site = site or more[0].id
        self.places.waters[site].add(called(water))
        self.waters[site, called(water)] = _Water(line.number, said("kind"), values.get("volume"))
        return [*more, _system(site, water, values)]

    def _site(self, client: str, name: str, address: str, values: dict[str, object]) -> Site:
        drive = values.get("travel_min")
        minutes = drive if isinstance(drive, int) else USUAL_DRIVE
        row = Site(
            id=new_key(),
            client=client,
            name=name,
            address=_text(values, "site_address") or address,
            access=_text(values, "access"),
            travel_min=minutes,
        )
        self.places.sites[client][called(name)] = row.id
        return row

    def _again(self, line: Line, site: str, water: str, values: dict[str, object]) -> None:
        """Refuse a water that an earlier line has with another kind or volume."""
        first = self.waters.get((site, called(water)))
        if first and (first.kind, first.volume) != (_text(values, "kind"), values.get("volume")):
            reason = (
                f"{shown(water)} of this client is on line {first.line} with another kind or "
                "volume. Give one of them another name, for example garden pond 2."
            )
            self.plan.bad.append(Bad(line.number, BY_KEY["system"].label, reason))


def _cell(line: Line, source: int | Every, file: CsvFile) -> tuple[str, str]:
    if isinstance(source, Every):
        return source.text, ""
    return line.cells[source], file.column(source)


def _text(values: dict[str, object], key: str) -> str:
    found = values.get(key, "")
    return found if isinstance(found, str) else ""


def _water_name(values: dict[str, object]) -> str:
    """Return what the water is called; one with a volume and no name is called by its kind."""
    if name := _text(values, "system"):
        return name
    kind = _text(values, "kind")
    return name_of("kind", kind).lower() if values.get("volume") and kind else ""


def _system(site: str, name: str, values: dict[str, object]) -> System:
    volume = values.get("volume")
    known = isinstance(volume, Volume)
    return System(
        id=new_key(),
        site=site,
        name=name,
        kind=_text(values, "kind"),
        volume_l=volume.litres if isinstance(volume, Volume) else None,
        volume_typed=volume.typed if isinstance(volume, Volume) else "",
        volume_how="told" if known else "",
        note=_text(values, "system_note"),
    )
