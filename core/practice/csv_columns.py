"""What a file of clients can bring: our columns, how a heading is known, what a cell may hold."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from core.errors import BadInput
from core.practice import csv_cells
from core.practice.csv_cells import clean, shown, unit_in
from core.practice.csv_read import CsvFile
from core.records.index_words import words


@dataclass(frozen=True)
class Column:
    """One of our columns.

    Attributes
    ----------
    of : str
        ``client``, ``site`` or ``system``.
    longest : int
        Characters that it may have.
    headings : tuple of str
        Words by which its heading is known, each as `words` gives them, the surest first.
    read : callable
        Gives what is kept from a clean cell and the heading; raises `BadInput`.
    """

    key: str
    of: str
    label: str
    longest: int
    example: str
    headings: tuple[str, ...]
    read: Callable[[str, str], object] = lambda text, _: text


def take(column: Column, cell: str, heading: str) -> object:
    """Return what is kept of a cell; "" for an empty one.

    Raises
    ------
    BadInput
        In one sentence: what is wrong, what is allowed, an example.
    """
    try:
        text = clean(cell)
        if len(text) > column.longest:
            raise BadInput(f"It has {len(text)} characters; {column.longest} are the most.")
        return column.read(text, heading) if text else ""
    except BadInput as error:
        said = f'"{shown(cell)}": {error.sentence}'
        raise BadInput(f"{said} For example {column.example}.") from None


COLUMNS: tuple[Column, ...] = (
    Column(
        *("first", "client", "First name", 100, "Odile"),
        ("first name", "given name", "forename"),
    ),
    Column(
        *("name", "client", "Client's name", 200, "Odile Fennimar"),
        ("client name", "customer name", "owner name", "full name", "name", "client", "customer",
         "owner", "surname", "last name", "contact"),
    ),
    Column(
        *("phone", "client", "Phone", 60, "555 0101"),
        ("phone", "telephone", "mobile", "cell", "tel", "phone number"),
        csv_cells.phone,
    ),
    Column(
        *("email", "client", "E-mail", 200, "odile@pond.example"),
        ("email", "e mail", "mail"),
        csv_cells.email,
    ),
    Column(
        *("address", "client", "Client's address", 400, "3 Reed Row, Reedmark"),
        ("client address", "billing address", "home address", "postal address", "address",
         "street"),
    ),
    Column(
        *("town", "client", "Town", 200, "Reedmark"),
        ("town", "city", "client town", "client city"),
    ),
    Column(
        *("postcode", "client", "Postcode", 40, "RM1 4BD"),
        ("postcode", "postal code", "zip", "zip code", "zipcode", "post code"),
    ),
    Column(
        *("note", "client", "Client's note", 2000, "prefers mornings"),
        ("client note", "client notes", "note", "notes", "remarks", "comment", "comments"),
    ),
    Column(
        *("site", "site", "Site", 200, "home"),
        ("site", "site name", "location", "place", "property"),
    ),
    Column(
        *("site_address", "site", "Site's address", 400, "12 Mill Bank, Reedmark"),
        ("site address", "location address", "service address", "visit address"),
    ),
    Column(
        *("access", "site", "How to get in", 2000, "gate at the side, dog in the yard"),
        ("access", "gate", "entry", "directions"),
    ),
    Column(
        *("travel_min", "site", "Minutes to drive", 20, "30"),
        ("travel min", "travel minutes", "drive minutes", "drive", "travel"),
        csv_cells.minutes,
    ),
    Column(
        *("system", "system", "Water", 200, "garden pond"),
        ("system", "system name", "water", "pond", "tank", "pond name", "tank name", "aquarium"),
    ),
    Column(
        *("kind", "system", "Kind of water", 200, "koi pond"),
        ("system kind", "system type", "pond type", "tank type", "water type", "kind of water",
         "kind", "type"),
        csv_cells.kind,
    ),
    Column(
        *("volume", "system", "Volume", 40, "1200 gal"),
        ("volume", "system volume", "pond volume", "tank volume", "litres", "liters", "gallons",
         "size"),
        csv_cells.volume,
    ),
    Column(
        *("system_note", "system", "Note on water", 2000, "bead filter, two pumps"),
        ("system note", "system notes", "pond notes", "tank notes", "filter"),
    ),
)  # fmt: skip
BY_KEY = {column.key: column for column in COLUMNS}


@dataclass(frozen=True)
class Every:
    """The same in every row, instead of a column of the file."""

    text: str


Match = dict[str, int | Every]
"""Where each of our columns comes from: a column of the file, or the same in every row."""


def guess(header: Sequence[str]) -> Match:
    """Return the column of the file that each of ours is likely to be, none of them twice.

    Examples
    --------
    >>> guess(["Customer", "Tel.", "Pond", "Volume (gal)"])
    {'name': 0, 'phone': 1, 'system': 2, 'volume': 3}
    """
    ranked = sorted(
        (rank, order, at, column.key)
        for order, column in enumerate(COLUMNS)
        for at, heading in enumerate(header)
        if (rank := _rank((" ".join(words(column.label)), *column.headings), heading)) is not None
    )
    found: dict[str, int | Every] = {}
    for _, _, at, key in ranked:
        if key not in found and at not in found.values():
            found[key] = at
    return {column.key: found[column.key] for column in COLUMNS if column.key in found}


def _rank(headings: Iterable[str], heading: str) -> int | None:
    """Return how surely a heading means a column, 0 the surest; None when it does not."""
    said = " ".join(words(heading))
    unit = unit_in(heading)
    bare = said.removesuffix(unit).strip() if unit and said != unit else said
    known = list(headings)
    if bare in known:
        return known.index(bare)
    inside = [n for n, one in enumerate(known) if set(one.split()) < set(bare.split())]
    return 100 + inside[0] if inside else None


def first_values(file: CsvFile, at: int, many: int = 3) -> str:
    """Return the first values of a column that are not empty, as they are shown."""
    cells = (line.cells[at] for line in file.lines if not line.wrong)
    found: list[str] = []
    for cell in cells:
        if cell.strip():
            found.append(shown(cell))
        if len(found) == many:
            break
    return " | ".join(found) or "empty in every line"
