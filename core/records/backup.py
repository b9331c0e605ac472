"""Dated copies of the records, proved, and kept by one rule."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path

from core.errors import Refusal
from core.records import files
from core.records.files import Facts, Progress
from core.records.place import Place

DAYS, MONTHS = 14, 12
UNFINISHED_S = 3600
_STAMP = "%Y-%m-%d-%H%M%S"


@dataclass(frozen=True)
class Made:
    """A backup that was made and proved.

    Attributes
    ----------
    gone : tuple
        Older ones that the rule did not keep.
    """

    file: Path
    facts: Facts
    size: int
    gone: tuple[Dated, ...] = ()


@dataclass(frozen=True)
class Dated:
    """A backup as it lies in its folder, with the moment its name says."""

    file: Path
    moment: datetime


def make(place: Place, at: datetime, progress: Progress | None = None) -> Made:
    """Make a backup in the records' own folder of backups, and let the rule take old ones away.

    Records on a server are written into a file of their own, which opens as any other.

    Raises
    ------
    Refusal
        When the records can not be copied whole.
    """
    _sweep(place.backups, at)
    made = make_in(place, place.backups, at, progress)
    gone = _beyond(place, at.astimezone(UTC).date())
    for one in gone:
        one.file.unlink()
    return Made(made.file, made.facts, made.size, gone)


def _sweep(folder: Path, at: datetime) -> None:
    """Take away what a copy left that was killed; one that is being made is younger."""
    for part in folder.glob(".*.part*"):
        if part.stat().st_mtime < at.timestamp() - UNFINISHED_S:
            part.unlink()


def make_in(place: Place, folder: Path, at: datetime, progress: Progress | None = None) -> Made:
    """Make a backup in any folder; nothing there is ever taken away.

    Raises
    ------
    Refusal
        When the records can not be copied whole.
    """
    return _made(place, folder / f"{_stem(place)}-{files.stamp(at)}.db", progress)


def before_schema(place: Place, number: int, at: datetime) -> Path:
    """Make the backup that stands before a migration; the rule never takes it away."""
    name = f"before-schema-{number}-{files.stamp(at)}.db"
    return _made(place, place.backups / name, None).file


def _stem(place: Place) -> str:
    return place.file.stem if place.file is not None else "practice"


def _made(place: Place, target: Path, progress: Progress | None) -> Made:
    try:
        found = _copied(place, target, progress)
        return Made(target, found, target.stat().st_size)
    except OSError as error:
        raise Refusal(
            f"The backup could not be written in {target.parent}: {error.strerror}.",
            "The records are as they were; make room, or name another folder with --to.",
        ) from error


def _copied(place: Place, target: Path, progress: Progress | None) -> Facts:
    if place.file is None:
        from core.records import from_server

        return from_server.copy(place, target)
    if not place.file.exists():
        raise Refusal(f"There are no records in {place.file} yet.", "Start finrounds once.")
    return files.copy(place.file, target, progress)


def dated(place: Place) -> tuple[Dated, ...]:
    """Return the dated backups of a file, oldest first; others in the folder are not looked at."""
    if not place.backups.is_dir():
        return ()
    start = f"{_stem(place)}-"
    found = (
        Dated(file, moment)
        for file in place.backups.glob("*.db")
        if file.name.startswith(start) and (moment := _moment(file.stem.removeprefix(start)))
    )
    return tuple(sorted(found, key=lambda one: one.moment))


def _moment(text: str) -> datetime | None:
    try:
        return datetime.strptime(text, _STAMP).replace(tzinfo=UTC)
    except ValueError:
        return None


def due(place: Place, at: datetime) -> bool:
    """Whether the day's backup is still to be made: there is a file, and no backup of this day.

    A server is backed up by whoever looks after it, and by hand.
    """
    if place.file is None or not place.file.exists():
        return False
    found = dated(place)
    return not found or found[-1].moment.date() < at.astimezone(UTC).date()


def kept(moments: Iterable[datetime], today: date) -> frozenset[datetime]:
    """Return which backups are kept: the newest of each day and of each month.

    Parameters
    ----------
    moments : iterable of datetime
        When each was made.
    today : date
        Those of a later day are kept, whatever the rule says: some clock was wrong.

    Returns
    -------
    frozenset
        The newest of each of the last 14 days that have one, and of each of the last 12 months
        that have one. Days without a backup do not count, so that a pause or a clock that
        jumped takes nothing away.
    """
    ordered = sorted(moments, reverse=True)
    late = {moment for moment in ordered if moment.date() > today}
    days: dict[date, datetime] = {}
    months: dict[tuple[int, int], datetime] = {}
    for moment in (m for m in ordered if m not in late):
        days.setdefault(moment.date(), moment)
        months.setdefault((moment.year, moment.month), moment)
    return frozenset(late | {*list(days.values())[:DAYS]} | {*list(months.values())[:MONTHS]})


def _beyond(place: Place, today: date) -> tuple[Dated, ...]:
    found = dated(place)
    stay = kept((one.moment for one in found), today)
    return tuple(one for one in found if one.moment not in stay)
