"""One practice's open records: writes go to one thread in order, reads run anywhere."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future
from pathlib import Path
from typing import ParamSpec, TypeVar

from core.records import engine
from core.records.place import Place, place_of
from core.records.writer import Writer

P = ParamSpec("P")
R = TypeVar("R")


class Desk:
    """The door through which a screen reaches the records.

    Parameters
    ----------
    where : Path, str or Place
        A SQLite file, made when it is not there, or an address.

    Raises
    ------
    Refusal
        When the records can not be opened or were made by a newer version.
    """

    def __init__(self, where: Path | str | Place) -> None:
        self.place = place_of(where)
        engine.open_records(self.place)
        self._writer = Writer()

    @property
    def papers(self) -> Path:
        """The folder beside the records where papers are kept."""
        return self.place.papers

    def save(self, write: Callable[P, R], *args: P.args, **kwargs: P.kwargs) -> Future[R]:
        """Queue a write; done means on the disk."""
        return self._writer.submit(write, *args, **kwargs)

    def look(self, read: Callable[P, R], *args: P.args, **kwargs: P.kwargs) -> R:
        """Read on this thread."""
        with engine.connection():
            return read(*args, **kwargs)

    def close(self) -> None:
        """Finish what is queued and let go of the records."""
        self._writer.close()
        engine.let_go()
