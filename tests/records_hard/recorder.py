"""Noting all that is asked of the disk: by SQLite through a VFS, by Python through `os`."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import apsw
import peewee as pw
import pytest
from playhouse.apsw_ext import APSWDatabase

from core.records import sqlite
from tests.records_hard.disk import FOLDER, Cut, Named, NamesSynced, Op, Said, Synced, Wrote

VFS = "recording"
KEEPS_ITS_NAME = apsw.SQLITE_OPEN_MAIN_JOURNAL | apsw.SQLITE_OPEN_WAL
"""Of these SQLite's own VFS syncs the folder too, when they are first synced."""


class Recorder:
    """The log of one folder; paths in it are relative to the folder."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.log: list[Op] = []
        self.bodies: dict[str, int] = {}
        self._count = FOLDER
        self._noted: dict[int, bytes] = {}
        """What of files that Python writes is in the log."""

    def inside(self, path: object) -> str | None:
        """Return a path as the log has it; None for what lies elsewhere."""
        found = Path(os.fsdecode(path)) if isinstance(path, (str, bytes, os.PathLike)) else None
        if found is None or not found.is_relative_to(self.root):
            return None
        return str(found.relative_to(self.root))

    def opened(self, path: str) -> int:
        """Return the body of a file, a new one when the name is new."""
        if path not in self.bodies:
            self._count += 1
            self.name(path, self._count)
        return self.bodies[path]

    def name(self, path: str, body: int | None) -> None:
        """Note that a name was given or taken away."""
        if body is None:
            self.bodies.pop(path, None)
        else:
            self.bodies[path] = body
        self.log.append(Named(path, body))

    def names_synced(self, folder: str) -> None:
        self.log.append(NamesSynced(folder))

    def said(self, what: str) -> None:
        """Note that a person was told that something is saved."""
        self.log.append(Said(what))

    def look(self, path: str) -> None:
        """Note what Python has written to a file since it was last looked at."""
        body, now = self.bodies[path], (self.root / path).read_bytes()
        if now != self._noted.get(body, b""):
            self.log += [Cut(body, 0), Wrote(body, 0, now)]
            self._noted[body] = now


class File(apsw.VFSFile):
    """A file of the database, whose writes and syncs are noted."""

    def __init__(self, recorder: Recorder, name: Any, flags: list[int]) -> None:
        path = recorder.inside(name.filename() if isinstance(name, apsw.URIFilename) else name)
        self._body = None if path is None else recorder.opened(path)
        self._folder = str(Path(path or "").parent)
        self._new_name = bool(flags[0] & KEEPS_ITS_NAME and flags[0] & apsw.SQLITE_OPEN_CREATE)
        self._log = recorder
        super().__init__("", name, flags)

    def _note(self, op: Any, *values: Any) -> None:
        if self._body is not None:
            self._log.log.append(op(self._body, *values))

    def xWrite(self, data: bytes, offset: int) -> None:
        self._note(Wrote, offset, bytes(data))
        super().xWrite(data, offset)

    def xTruncate(self, size: int) -> None:
        self._note(Cut, size)
        super().xTruncate(size)

    def xSync(self, flags: int) -> None:
        super().xSync(flags)
        self._note(Synced)
        if self._new_name:
            self._new_name = False
            self._log.names_synced(self._folder)


class Vfs(apsw.VFS):
    """SQLite's own VFS, with everything noted."""

    def __init__(self, recorder: Recorder) -> None:
        self._recorder = recorder
        super().__init__(VFS, "")

    def xOpen(self, name: Any, flags: list[int]) -> apsw.VFSFile:
        return File(self._recorder, name, flags)

    def xDelete(self, name: str, sync: bool) -> None:
        super().xDelete(name, sync)
        path = self._recorder.inside(name)
        if path is not None:
            self._recorder.name(path, None)
            if sync:
                self._recorder.names_synced(str(Path(path).parent))


class OwnDatabase(APSWDatabase):
    """The app's own database, opened through the recording VFS; nothing else is changed."""

    def __init__(self, database: str, **options: Any) -> None:
        super().__init__(database, vfs=VFS, **options)


@contextmanager
def recording(root: Path, patch: pytest.MonkeyPatch, **pragmas: object) -> Iterator[Recorder]:
    """Note all that the app asks of the disk in a folder, some of its pragmas changed."""
    recorder = Recorder(root)
    vfs = Vfs(recorder)
    with patch.context() as during:
        for name, value in pragmas.items():
            during.setitem(sqlite.PRAGMAS, name, value)
        driver = SimpleNamespace(**{**vars(pw), "SqliteDatabase": OwnDatabase})
        during.setattr(sqlite, "pw", driver)
        watch_os(recorder, during)
        yield recorder
    vfs.unregister()


def watch_os(recorder: Recorder, patch: pytest.MonkeyPatch) -> None:
    """Note what Python itself asks of the disk."""
    handles: dict[int, str] = {}
    real = {name: getattr(os, name) for name in ("open", "fsync", "replace", "mkdir", "unlink")}

    def opening(path: Any, flags: int, *more: Any, **options: Any) -> int:
        found = recorder.inside(path)
        handle: int = real["open"](path, flags, *more, **options)
        if found is not None:
            handles[handle] = found
            if flags & os.O_CREAT:
                recorder.opened(found)
        return handle

    def syncing(handle: int) -> None:
        real["fsync"](handle)
        path = handles.get(handle)
        if path in recorder.bodies:
            recorder.look(path)
            recorder.log.append(Synced(recorder.bodies[path]))
        elif path is not None:
            recorder.names_synced(path)

    def replacing(old: Any, new: Any, **options: Any) -> None:
        before, after = recorder.inside(old), recorder.inside(new)
        if before is not None and after is not None:
            recorder.look(before)
        real["replace"](old, new, **options)
        if before is not None and after is not None:
            recorder.name(after, recorder.bodies[before])
            recorder.name(before, None)

    def making(path: Any, *more: Any, **options: Any) -> None:
        real["mkdir"](path, *more, **options)
        if (found := recorder.inside(path)) is not None:
            recorder.log.append(Named(found, FOLDER))

    def unlinking(path: Any, *more: Any, **options: Any) -> None:
        real["unlink"](path, *more, **options)
        if (found := recorder.inside(path)) is not None:
            recorder.name(found, None)

    for name, noted in zip(real, (opening, syncing, replacing, making, unlinking), strict=True):
        patch.setattr(os, name, noted)
