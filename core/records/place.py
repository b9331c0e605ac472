"""Where a practice's records lie: one SQLite file, or a PostgreSQL that several desks share."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit, urlunsplit

from core.errors import Refusal

SQLITE = "sqlite:///"
POSTGRES = ("postgresql://", "postgres://")


@dataclass(frozen=True)
class Place:
    """Where records lie, and the folder beside them for what is not in the database.

    Attributes
    ----------
    url : str
        The address in full; it may hold a password, so `said` is what is shown.
    folder : Path
        Beside the file, or the user's own data folder: papers, backups, this machine's id.
    file : Path or None
        The SQLite file; None on PostgreSQL.
    """

    url: str
    folder: Path
    file: Path | None

    @property
    def papers(self) -> Path:
        """The folder where issued papers are kept."""
        return self.folder / "papers"

    @property
    def backups(self) -> Path:
        """The folder where dated copies are kept."""
        return self.folder / "backups"

    @property
    def said(self) -> str:
        """The place in words for people: no password."""
        if self.file is not None:
            return str(self.file)
        parts = urlsplit(self.url)
        host = parts.netloc.rpartition("@")[2]
        return urlunsplit((parts.scheme, host, parts.path, "", ""))


def place_of(where: Path | str | Place) -> Place:
    """Return the place that a file or an address names.

    Raises
    ------
    Refusal
        When the address is of no kind that records can lie at.
    """
    if isinstance(where, Place):
        return where
    if isinstance(where, Path):
        return Place(f"{SQLITE}{where}", where.parent, where)
    if where.startswith(SQLITE):
        return place_of(Path(where.removeprefix(SQLITE)))
    if where.startswith(POSTGRES):
        return Place(where, user_folder(), None)
    raise Refusal(
        "The records can not be opened under this address.",
        "FINROUNDS_DATABASE takes sqlite:///FILE or postgresql://USER@HOST/NAME.",
    )


def default_place() -> Place:
    """Return where the practice's own records lie: the environment's choice, or the user's."""
    chosen = os.environ.get("FINROUNDS_DATABASE")
    return place_of(chosen if chosen else user_folder() / "practice.db")


def user_folder() -> Path:
    """Return the folder for this user's data, not made yet."""
    import platformdirs

    return Path(platformdirs.user_data_dir("finrounds", appauthor=False))
