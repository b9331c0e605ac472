"""What fish are put to sleep with: the catalogue's rows, the practice's own, and the stock."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from core.catalogue import load
from core.dosing import products
from core.dosing.kinds import Strength
from core.dosing.medicines import Medicine
from core.numbers import plain
from core.practice.own_products import own_shelf
from core.practice.read_medicines import merged

ENDS = "euthanasia bath"
ROUTES = ("sedation bath", "anaesthetic bath", "maintenance bath", ENDS)


def route_of(row: Medicine) -> str:
    """Return which of the baths of a fish in hand a row is for; "" for none."""
    return next((route for route in row.routes if route in ROUTES), "")


def agents() -> dict[str, tuple[Medicine, ...]]:
    """Return every agent that a fish is put to sleep with, and its rows from weak to strong.

    The practice's own rows are among them; as last read, so that it may be asked while typing.
    """
    found: dict[str, list[Medicine]] = {}
    for row in merged().values():
        if route_of(row) and row.unit == "mg/L":
            found.setdefault(row.name, []).append(row)
    return {name: tuple(sorted(rows, key=low)) for name, rows in found.items()}


def low(row: Medicine) -> float:
    """Return the lowest level of a row; its highest where no lowest is on record."""
    return row.dose_high if row.dose_low is None else row.dose_low


def ranges(agent: str) -> str:
    """Return the levels on record for an agent, by what they are for."""
    said = (
        f"{route_of(row)} {plain(low(row))} to {plain(row.dose_high)}"
        for row in agents().get(agent, ())
    )
    return "; ".join(said) + " mg/L"


def row_for(agent: str, mg_l: float | None) -> Medicine | None:
    """Return the row that a level falls under: the strongest whose lowest it reaches."""
    rows = agents().get(agent, ())
    reached = [row for row in rows if mg_l is not None and low(row) <= mg_l]
    return reached[-1] if reached else next(iter(rows), None)


def stock_of(agent: str) -> products.Product | None:
    """Return a stock solution of an agent: of the practice's own shelf, else the catalogue's."""
    shelf = {**own_shelf(), **products.from_table(load.table("products"))}
    mine = (p for p in shelf.values() if p.agent == agent)
    return next((p for p in mine if isinstance(p.strength, Strength)), None)


def keeping(agent: str) -> str:
    """Return how the stock solution of an agent is kept; "" when nothing is on record."""
    row = load.table("anaesthesia")["stock"]
    if row["agent"] != agent:
        return ""
    return f"Stock of {plain(row['strength_g_l'])} g/L: {row['keep']}."


@dataclass(frozen=True)
class Overdose:
    """What the sources call an overdose of an agent, and the level that is put forward."""

    agent: str
    mg_l: float
    """The least that none of the sources calls too weak."""
    least: float
    """The least that any of them names."""
    says: str
    """Every source with its figures."""


def overdose(agent: str) -> Overdose | None:
    """Return what is on record for killing with an agent; None when nothing is."""
    rows = [r for r in load.table("anaesthesia")["euthanasia"]["strengths"] if r["agent"] == agent]
    rows = rows or [_as_source(r) for r in agents().get(agent, ()) if route_of(r) == ENDS]
    if not rows:
        return None
    said = "; ".join(f"{_span(row)} mg/L ({_by(row)})" for row in rows)
    lows = [float(row["low"]) for row in rows]
    taken = f"put forward: {plain(max(lows))} mg/L, which none of them calls too weak"
    return Overdose(agent, max(lows), min(lows), f"{said}; {taken}" if len(rows) > 1 else said)


def overdoses() -> tuple[str, ...]:
    """Return the agents with which a fish is killed."""
    return tuple(agent for agent in agents() if overdose(agent) is not None)


def _as_source(row: Medicine) -> dict[str, Any]:
    known = row.known.get("dose", "from memory")
    return {"low": low(row), "high": row.dose_high, "sources": list(row.sources), "how": known}


def _span(row: dict[str, Any]) -> str:
    least, most = plain(float(row["low"])), plain(float(row["high"]))
    return least if least == most else f"{least} to {most}"


def _by(row: dict[str, Any]) -> str:
    cites = load.citations()
    named = [cites[key].partition(". ")[0] for key in row["sources"] if key in cites]
    return ", ".join((*named, row["how"]))
