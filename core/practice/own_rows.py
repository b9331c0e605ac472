"""What the practice has of its own beside the catalogue: medicines, products, lots, rows read.

Screens ask while something is typed, on a thread that does not read the records: what was last
read is kept here, for the records that are open, and read again wherever a view is read.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from core.records import engine, read
from core.records.engine import Engine, query
from core.records.fields import UtcField
from core.records.tables import Lot, OwnMedicine, Practice, Product

if TYPE_CHECKING:
    from core.dosing.medicines import Medicine, Prohibition


@dataclass(frozen=True)
class Mark:
    """The last that was said of a row of the medicines: read, and switched on or off."""

    state: str
    fingerprint: str
    note: str
    by: str
    """Name of the veterinarian."""
    at: datetime


@dataclass(frozen=True)
class Own:
    """What the practice has of its own."""

    medicines: Mapping[str, Medicine] = field(default_factory=dict)
    bodies: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    """What each of these rows says, as it was written."""
    struck: Mapping[str, str] = field(default_factory=dict)
    """Names of the rows that were struck."""
    products: Mapping[str, Product] = field(default_factory=dict)
    lots: Mapping[str, Lot] = field(default_factory=dict)
    left: Mapping[str, Decimal] = field(default_factory=dict)
    """What is left of each lot that has a line."""
    marks: Mapping[str, Mark] = field(default_factory=dict)
    zone: str = "Etc/UTC"
    """The practice's time zone."""

    def lots_of(self, product: str) -> tuple[Lot, ...]:
        """Return the lots of a product, the first to expire first; one without a date last."""
        mine = (lot for lot in self.lots.values() if lot.product == product)
        return tuple(sorted(mine, key=lambda lot: (str(lot.expires or "9999"), lot.id)))


@dataclass
class _Held:
    of: Engine | None = None
    own: Own = field(default_factory=Own)


_held = _Held()
_MARKS = """
SELECT r."medicine", r."state", r."fingerprint", r."note", coalesce(p."name", r."by"), r."at"
FROM "medicine_read" r LEFT JOIN "person" p ON p."id" = r."by"
WHERE r."id" IN (SELECT max("id") FROM "medicine_read" GROUP BY "medicine")
"""
_LEFT = """
SELECT "lot", "balance" FROM "stock_line"
WHERE "id" IN (SELECT max("id") FROM "stock_line" GROUP BY "lot")
"""


def held() -> Own:
    """Return what was last read of the open records; read now when nothing was yet."""
    if _held.of is None or _held.of is not engine.any_open():
        return read_again() if engine.connected() else Own()
    return _held.own


def read_again() -> Own:
    """Read it anew, with a fixed number of queries."""
    rows = read.find(OwnMedicine, struck=True)
    bodies = {row.id: json.loads(row.body) for row in rows if not row.struck}
    practice = read.first(Practice)
    own = Own(
        {key: of_body(key, body) for key, body in bodies.items()},
        bodies,
        {row.id: row.name for row in rows if row.struck},
        {row.id: row for row in read.find(Product)},
        {row.id: row for row in read.find(Lot)},
        {lot: Decimal(balance) for lot, balance in query(_LEFT)},
        {key: _mark(*rest) for key, *rest in query(_MARKS)},
        practice.zone if practice else "Etc/UTC",
    )
    _held.of, _held.own = engine.now_open(), own
    return own


def of_body(key: str, body: Mapping[str, Any]) -> Medicine:
    """Return a medicine of the practice's own as the calculation takes it."""
    # Names of the catalogue are asked for at the start, and doses are not reckoned then.
    from core.practice.own_row import medicine_of

    found = medicine_of(key, body)
    return replace(found, prohibited=forbidden(found.name))


def forbidden(name: str) -> Prohibition | None:
    """Return the rule by which the catalogue forbids an agent in food animals, or None.

    The agent may stand in a longer name: a salt of it, or one of two.
    """
    from core.practice.recipient import medicines

    called = name.casefold()
    rows = (m for m in medicines().values() if m.prohibited and m.name.casefold() in called)
    return next((m.prohibited for m in rows), None)


def _mark(state: str, fingerprint: str, note: str, by: str, at: str) -> Mark:
    moment = UtcField().python_value(at)
    assert moment is not None
    return Mark(state, fingerprint, note, by, moment)


def named(key: str) -> str:
    """Return the name of a medicine or a product of the practice's own; else the key itself."""
    own = held()
    found = own.medicines.get(key) or own.products.get(key)
    return found.name if found else own.struck.get(key, key)
