"""One practice's open records: writes go to one thread in order, reads run anywhere."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future
from pathlib import Path
from typing import ParamSpec, TypeVar

from core.errors import Refusal
from core.records import engine, trouble
from core.records.journal import Closed
from core.records.place import Place, place_of
from core.records.writer import Writer

P = ParamSpec("P")
R = TypeVar("R")


class Late(Refusal):
    """What was entered came after the signature; it is kept as a proposed addendum."""

    title = Closed.title


class Desk:
    """The door through which a screen reaches the records.

    Parameters
    ----------
    where : Path, str or Place
        A SQLite file, made when it is not there, or an address.
    alone : bool
        Whether a file is held until `close`, so that no other copy of the app works on it.

    Raises
    ------
    Refusal
        When the records can not be opened or were made by a newer version.
    """

    def __init__(self, where: Path | str | Place, *, alone: bool = False) -> None:
        self.place = place_of(where)
        self._held = engine.open_records(self.place, alone=alone)
        self._writer = Writer()

    @property
    def papers(self) -> Path:
        """The folder beside the records where papers are kept."""
        return self.place.papers

    def save(self, write: Callable[P, R], *args: P.args, **kwargs: P.kwargs) -> Future[R]:
        """Queue a write; done means on the disk.

        What comes too late for a signed record is kept as a proposed addendum, which the
        future's error tells.
        """
        return self._writer.submit(_in_time, lambda: write(*args, **kwargs))

    def look(self, read: Callable[P, R], *args: P.args, **kwargs: P.kwargs) -> R:
        """Read on this thread."""
        with trouble.reading(), engine.connection():
            return read(*args, **kwargs)

    def close(self) -> None:
        """Finish what is queued and let go of the records."""
        self._writer.close()
        engine.let_go()
        if self._held is not None:
            self._held.release()


def _in_time(write: Callable[[], R]) -> R:
    try:
        return write()
    except Closed as error:
        from core.practice import late

        told = late.instead(error, write)
        if told is error:
            raise
        raise told from error
