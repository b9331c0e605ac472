"""What every table of the records is made of: the row, and the marks of its columns.

A class says under `closing` when the database refuses to change its rows:

- ``visit``: once the visit is signed;
- ``grows``: rows are added and never changed (payments, papers, addenda);
- ``invoice``: once the row stands on an issued invoice;
- ``open``: never closed (clients, bookings).

Rows are never deleted: `struck` holds the reason why a row no longer counts.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, ClassVar, Literal


@dataclass(frozen=True)
class Ref:
    """Marks a column that holds the id of a row in another table."""

    table: str
    indexed: bool = True


@dataclass(frozen=True)
class Indexed:
    """Marks a column that the app looks rows up by."""


@dataclass(frozen=True)
class Since:
    """Marks a column that a table which is older has from this schema number on."""

    schema: int


Closing = Literal["visit", "grows", "invoice", "open"]
VisitId = Annotated[str, Ref("visit")]
PersonId = Annotated[str, Ref("person", indexed=False)]
SystemId = Annotated[str, Ref("system")]


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Row:
    """What every row has: a UUIDv7 key made on the device, and why it was struck, if it was."""

    table: ClassVar[str] = ""
    closing: ClassVar[Closing] = "visit"
    brought_by: ClassVar[int] = 1
    """The schema number that brought the table."""
    id: str
    struck: str | None = None

    def __eq__(self, other: object) -> bool:
        """Compare by table and values; written once, since making it for each table is slow."""
        return type(self) is type(other) and vars(self) == vars(other)

    def __hash__(self) -> int:
        """Hash by the key: rows that are equal have the same one."""
        return hash((self.table, self.id))

    def __repr__(self) -> str:
        """Name the table and every value."""
        values = ", ".join(f"{name}={value!r}" for name, value in vars(self).items())
        return f"{type(self).__name__}({values})"
