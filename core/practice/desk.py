"""One practice's open records: writes go to one thread in order, reads run anywhere."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future
from pathlib import Path
from typing import ParamSpec, TypeVar

from core.records import engine
from core.records.writer import Writer

P = ParamSpec("P")
R = TypeVar("R")


class Desk:
    """The door through which a screen reaches the records.

    Parameters
    ----------
    file : Path
        The SQLite file; made when it is not there.

    Raises
    ------
    Refusal
        When the file can not be opened or was made by a newer version.
    """

    def __init__(self, file: Path) -> None:
        engine.open_records(file)
        self.file = file
        self._writer = Writer()

    @property
    def papers(self) -> Path:
        """The folder beside the file where papers are kept."""
        return self.file.parent / "papers"

    def save(self, write: Callable[P, R], *args: P.args, **kwargs: P.kwargs) -> Future[R]:
        """Queue a write; done means on the disk."""
        return self._writer.submit(write, *args, **kwargs)

    def look(self, read: Callable[P, R], *args: P.args, **kwargs: P.kwargs) -> R:
        """Read on this thread."""
        with engine.connection():
            return read(*args, **kwargs)

    def close(self) -> None:
        """Finish what is queued and let go of the file."""
        self._writer.close()
