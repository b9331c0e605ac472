"""When a dispensed medicine was handed over: by its line of the shelf, or with its labels."""

from __future__ import annotations

from datetime import datetime

from core.practice import stock_take
from core.practice.stock_take import TO_HAND_OVER
from core.records import read
from core.records.engine import query
from core.records.fields import UtcField
from core.records.tables import Figure, StockLine, Treatment

_HANDED = """
SELECT x."at", x."by" FROM "delivery" x JOIN "document" d ON d."id" = x."document"
WHERE x."visit" = ? AND d."kind" = 'labels' AND d."id" > ? ORDER BY x."id"
"""


def handed(row: Treatment) -> tuple[datetime, str] | None:
    """Return when a medicine was handed over, and by whom; None when it was not yet."""
    lines = (x for x in read.find(StockLine, visit=row.visit) if x.treatment == row.id)
    left = next((x for x in lines if x.kind == "dispensed"), None)
    if left is not None:
        return left.at, left.by
    return None if row.struck or ours(row) else with_labels(row)


def ours(row: Treatment) -> bool:
    """Return whether a line of the shelf tells when it was handed over."""
    return read.first(Figure, visit=row.visit, subject=row.id, name=TO_HAND_OVER) is not None


def with_labels(row: Treatment) -> tuple[datetime, str] | None:
    """Return when labels that were issued after an order were handed over, and by whom."""
    found = query(_HANDED, (row.visit, row.id))
    moment = UtcField().python_value(found[0][0]) if found else None
    return None if moment is None else (moment, str(found[0][1]))


def kept_share(row: Treatment) -> float:
    """Return which share of what was handed over did not come back to the shelf, 0 to 1."""
    lines = [x for x in read.find(StockLine, visit=row.visit) if x.treatment == row.id]
    out = -sum(x.amount for x in lines if x.kind == "dispensed")
    if not out:
        return 1.0
    return float(sum(stock_take.net(iter(lines)).values()) / out)
