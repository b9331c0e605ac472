"""What a disk holds when the power fails: a log of all that was asked of it, and what may remain.

The rules are those that POSIX leaves to a disk. Bytes written are certain only once their file
was synced; until then each may have come through or not, in any order, torn at sectors of 512
bytes. A name made, changed or removed is certain only once its folder was synced; until then of
each name's changes any beginning may have come through. A sector that is not written to is left
alone (SQLite calls this *powersafe overwrite*, and counts on it).
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

SECTOR = 512


@dataclass(frozen=True)
class Named:
    """A name was given to a file or a folder, or (with no body) taken away."""

    path: str
    body: int | None


@dataclass(frozen=True)
class Wrote:
    """Bytes were written to a file."""

    body: int
    offset: int
    data: bytes


@dataclass(frozen=True)
class Cut:
    """A file was cut to a size."""

    body: int
    size: int


@dataclass(frozen=True)
class Synced:
    """All that was written to a file is certain from here on."""

    body: int


@dataclass(frozen=True)
class NamesSynced:
    """All names in a folder are certain from here on."""

    folder: str


@dataclass(frozen=True)
class Said:
    """A person was told that something is saved."""

    what: str


Op = Named | Wrote | Cut | Synced | NamesSynced | Said
FOLDER = 0
"""The body of every folder."""
HOWS = ("nothing", "all", "beginning", "reordered", "torn")
"""How much of what was not synced comes through."""


@dataclass
class Body:
    """The content of one file: what is certain, and what was written since."""

    certain: bytearray = field(default_factory=bytearray)
    since: list[Wrote | Cut] = field(default_factory=list)

    def sync(self) -> None:
        self.certain = put(self.certain, self.since)
        self.since = []

    def after(self, dice: random.Random, how: str) -> bytes:
        """Return what may remain of it."""
        return bytes(put(bytearray(self.certain), through(self.since, dice, how)))


def put(content: bytearray, ops: list[Wrote | Cut]) -> bytearray:
    """Return a content after some writes."""
    for op in ops:
        if isinstance(op, Cut):
            del content[op.size :]
            content.extend(bytes(op.size - len(content)))
        else:
            content.extend(bytes(max(0, op.offset - len(content))))
            content[op.offset : op.offset + len(op.data)] = op.data
    return content


def through(since: list[Wrote | Cut], dice: random.Random, how: str) -> list[Wrote | Cut]:
    """Return which of the writes come through."""
    if how == "nothing":
        return []
    if how == "all":
        return since
    if how == "beginning":
        return since[: dice.randint(0, len(since))]
    if how == "reordered":
        return [op for op in since if dice.random() < 0.5]
    return [piece for op in since for piece in sectors(op) if dice.random() < 0.6]


def sectors(op: Wrote | Cut) -> Iterator[Wrote | Cut]:
    """Give the pieces of a write that lie in one sector each."""
    if isinstance(op, Cut):
        yield op
        return
    start, end = op.offset, op.offset + len(op.data)
    while start < end:
        stop = min(end, (start // SECTOR + 1) * SECTOR)
        yield Wrote(op.body, start, op.data[start - op.offset : stop - op.offset])
        start = stop


@dataclass
class Disk:
    """The state of a disk after a part of the log."""

    bodies: dict[int, Body] = field(default_factory=dict)
    certain: dict[str, int] = field(default_factory=dict)
    since: dict[str, list[int | None]] = field(default_factory=dict)
    """What became of each name since its folder was synced."""
    made: set[str] = field(default_factory=set)
    """Every folder that was made."""
    said: list[str] = field(default_factory=list)

    def take(self, op: Op) -> None:
        """Let one more thing happen."""
        match op:
            case Named(path, body):
                if body == FOLDER:
                    self.made.add(path)
                self.since.setdefault(path, []).append(body)
            case Wrote(body) | Cut(body):
                self.bodies.setdefault(body, Body()).since.append(op)
            case Synced(body):
                self.bodies.setdefault(body, Body()).sync()
            case NamesSynced(folder):
                for path in [p for p in self.since if str(Path(p).parent) == folder]:
                    self._settle(path, self.since.pop(path))
            case Said(what):
                self.said.append(what)

    def _settle(self, path: str, became: list[int | None]) -> None:
        if became[-1] is None:
            self.certain.pop(path, None)
        else:
            self.certain[path] = became[-1]

    def names(self, dice: random.Random, how: str) -> dict[str, int]:
        """Return which names may be there, folders too."""
        found = dict(self.certain)
        for path, became in self.since.items():
            count = {"nothing": 0, "all": len(became)}.get(how)
            kept = became[: dice.randint(0, len(became)) if count is None else count]
            if kept and kept[-1] is None:
                found.pop(path, None)
            elif kept:
                found[path] = kept[-1]
        return found

    def after(self, dice: random.Random, how: str) -> dict[str, bytes]:
        """Return what may remain after a power failure: the content of each file by path."""
        names = self.names(dice, how)
        return {
            path: self.bodies.get(body, Body()).after(dice, how)
            for path, body in names.items()
            if body != FOLDER and self._reachable(path, names)
        }

    def _reachable(self, path: str, names: dict[str, int]) -> bool:
        above = {str(folder) for folder in Path(path).parents}
        return above & self.made <= names.keys()


def states(
    log: list[Op], dice: random.Random, hows: tuple[str, ...] = HOWS, share: float = 0.02
) -> Iterator[tuple[Disk, str]]:
    """Walk through a log; give the disk at moments at which to fail, and how it fails there.

    The power fails just before each sync, in every way; just after somebody was told that
    something is saved, with nothing more coming through; and, one way, at a share of the
    moments in between.
    """
    disk = Disk()
    for op in log:
        if isinstance(op, (Synced, NamesSynced)):
            yield from ((disk, how) for how in hows)
        elif dice.random() < share:
            yield disk, dice.choice(hows)
        disk.take(op)
        if isinstance(op, Said):
            yield disk, "nothing"
    yield from ((disk, how) for how in hows)
