"""What the baths of a fish in hand take from the shelf: the first, a weaker one, an overdose.

It is taken when its mark is made on the clock, whoever makes it: agent, level and litres say how
much. The bath of a fish that was in hand before, the same in all three, is the same bath until
somebody says that a fresh one was made. The clock never waits for the log: what could not be
taken stands open until somebody says from which lot. A mark that is taken back brings nothing
back, since the bath was made; who did not use it says so, and it is returned by a line of its own.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from core.dosing.arithmetic import bath_mass
from core.dosing.kinds import ActiveMass
from core.dosing.quantities import concentration, water
from core.dosing.quantity import Quantity
from core.errors import Refusal
from core.practice import own_rows, stock_log, stock_take
from core.practice.door import edit
from core.practice.in_hand_agents import ROUTES, agents
from core.practice.in_hand_euthanasia import GIVEN
from core.practice.in_hand_marks import FIRST, INTO, MAINTAIN
from core.practice.keep import Act
from core.practice.own_products import in_stock_unit
from core.practice.read_medicines import merged
from core.practice.shelf import holding
from core.records import read
from core.records.journal import OpenEdit
from core.records.tables import DepthMark, Figure, Handling, Lot, Product, StockLine, Treatment


def need(row: Handling) -> Quantity | None:
    """Return the agent that the first bath needs; None while level or litres are not said."""
    if not row.agent or row.agent_mg_l is None or row.bath_l is None:
        return None
    return bath_mass.plain(concentration(row.agent_mg_l, "mg/L"), water(row.bath_l, "L"))


def due(row: Handling) -> dict[str, Quantity]:
    """Return what the baths on the clock of a fish need in all, by agent."""
    marks = {mark.event: mark for mark in read.find(DepthMark, handling=row.id)}
    figures = {f.name: f.value for f in read.find(Figure, visit=row.visit, subject=row.id)}
    found: dict[str, list[Quantity]] = {}
    if (first := need(row)) is not None and INTO in marks and shares(row) is None:
        found.setdefault(row.agent, []).append(first)
    for event, name in ((MAINTAIN, "maintenance, agent"), (FIRST, "overdose, agent")):
        if event in marks and name in figures:
            agent = row.agent if event == MAINTAIN else _overdose_of(marks[FIRST].note)
            found.setdefault(agent, []).append(ActiveMass(figures[name], "g"))
    return {agent: ActiveMass(sum(p.m_as("g") for p in x), "g") for agent, x in found.items()}


def _overdose_of(note: str) -> str:
    said = note.partition(GIVEN)[2]
    return next((agent for agent in agents() if said.startswith(agent)), "")


def lines(row: Handling) -> tuple[StockLine, ...]:
    """Return the lines of the log that were written for the baths of a fish."""
    return tuple(x for x in read.find(StockLine, visit=row.visit) if x.handling == row.id)


def shares(row: Handling) -> Handling | None:
    """Return the fish whose bath this one has: the same agent, level and litres, before it."""
    before = (h for h in read.find(Handling, visit=row.visit) if h.number < row.number)
    return next((h for h in before if _alike(h, row) and lines(h)), None)


def _alike(one: Handling, other: Handling) -> bool:
    same = ("system", "agent", "agent_mg_l", "bath_l")
    return all(getattr(one, name) == getattr(other, name) for name in same)


def products_with(agent: str) -> Iterator[Product]:
    """Give the products of the practice's own with an agent, as last read."""
    known = merged()
    for product in own_rows.held().products.values():
        if product.medicine in known and known[product.medicine].name == agent:
            yield product


def source(row: Handling, agent: str, day: date) -> Product:
    """Return the product that a bath is taken from: the one that was taken before, or the only one.

    Raises
    ------
    Refusal
        When no lot can be used, or several products hold the agent.
    """
    before = {read.one(Lot, line.lot).product for line in lines(row)}
    holders = holding(agent, day)
    mine = [p for p in holders if p.product.id in before] or list(holders)
    if not mine:
        raise Refusal(f"no lot with {agent} that can be used is on the shelf.")
    if len(mine) > 1:
        raise Refusal(f"{' and '.join(p.product.name for p in mine)} hold it: say which.")
    return mine[0].product


def gone(row: Handling, product: Product) -> Decimal:
    """Return what was taken of a product for the baths of a fish, whatever came back of it."""
    mine = {lot.id for lot in own_rows.held().lots_of(product.id)}
    taken = (x.amount for x in lines(row) if x.lot in mine and x.kind == "given here")
    return -sum(taken, Decimal(0))


def lacking(row: Handling, agent: str, wanted: Quantity, day: date) -> tuple[Product, Decimal]:
    """Return the product of an agent, and how much of it is on no line of the log yet.

    Raises
    ------
    Refusal
        As `source` does; for a product that it can not be reckoned in.
    """
    product = source(row, agent, day)
    return product, in_stock_unit(product, wanted) - gone(row, product)


def follow(doing: OpenEdit, act: Act, handling_id: str) -> None:
    """Take what the baths of a fish need, within the edit that marked or changed them.

    Nothing is refused here, and nothing is brought back: see the head of this module.
    """
    row = read.one(Handling, handling_id)
    if not (wanted := due(row)):
        return
    own_rows.read_again()
    for agent, amount in wanted.items():
        try:
            product, more = lacking(row, agent, amount, stock_log.day_of(act))
        except Refusal:
            continue
        for lot, much in _split(act, product, more):
            _take(doing, act, row, lot, much, "")


def _split(act: Act, product: Product, amount: Decimal) -> tuple[tuple[Lot, Decimal], ...]:
    """Return what is taken from each lot, the oldest first; nothing when all hold too little."""
    day, found = stock_log.day_of(act), []
    for lot in own_rows.held().lots_of(product.id):
        if amount > 0 and (lot.expires is None or lot.expires >= day):
            much = min(amount, stock_log.left(lot.id))
            amount -= much
            found += [(lot, much)] if much > 0 else []
    return tuple(found) if amount <= 0 else ()


def _take(doing: OpenEdit, act: Act, row: Handling, lot: Lot, amount: Decimal, why: str) -> None:
    kept = _kept_as(row)
    stock_log.write(
        doing,
        act,
        lot,
        "given here",
        amount,
        why=why,
        treatment=kept.id if kept else None,
        handling=row.id,
        visit=row.visit,
    )
    if kept is not None and not kept.lot:
        doing.change(Treatment, kept.id, lot=lot.number, expires=lot.expires)


def _kept_as(row: Handling) -> Treatment | None:
    """Return the bath as the treatment that is kept of it for food fish."""
    given = read.find(Treatment, handling=row.id, act="given here")
    return next((t for t in given if t.route in ROUTES), None)


def take(
    act: Act, handling_id: str, lot_id: str = "", amount: Decimal | None = None, why: str = ""
) -> None:
    """Take a bath of a fish from the shelf: what stands open, or a bath that was made fresh.

    Parameters
    ----------
    lot_id : str
        The oldest lot of the one product that holds the agent when empty.
    amount : Decimal, optional
        In what the stock is counted in; when left out what stands open, else the first bath anew.
    why : str
        Why it is another lot than the oldest.

    Raises
    ------
    Refusal
        Without level or litres, for a lot of another agent, one that has expired or holds less.
    """
    row, day = read.one(Handling, handling_id), stock_log.day_of(act)
    own_rows.read_again()
    product = (
        read.one(Product, read.one(Lot, lot_id).product) if lot_id else source(row, row.agent, day)
    )
    agent = merged()[product.medicine].name
    much = _wanted(row, agent, product) if amount is None else amount
    lot = stock_log.chosen(product.id, lot_id, day, why)
    if lot is None:
        raise Refusal(f"No lot of {product.name} that can be used is on the shelf.")
    with edit("bath from the shelf", who=act.by, at=act.at, visit=row.visit) as doing:
        _take(doing, act, row, lot, much, why.strip())
    own_rows.read_again()


def _wanted(row: Handling, agent: str, product: Product) -> Decimal:
    first, whole = need(row), due(row).get(agent)
    if whole is not None and (more := in_stock_unit(product, whole) - gone(row, product)) > 0:
        return more
    if first is None or agent != row.agent:
        raise Refusal(f"{product.name} is in no bath of this fish.", "Enter the bath first.")
    return in_stock_unit(product, first)


def unused(act: Act, handling_id: str, why: str, witness: str = "") -> None:
    """Bring back what was taken for a bath that was not made, or not used.

    Raises
    ------
    Refusal
        When nothing is gone; without a reason; for a controlled drug without a witness.
    """
    row = read.one(Handling, handling_id)
    net = stock_take.net(iter(lines(row)))
    if not net:
        raise Refusal("Nothing of this bath is gone from the shelf.")
    kept = _kept_as(row)
    with edit("bath not used", who=act.by, at=act.at, visit=row.visit) as doing:
        for lot, amount in net.items():
            stock_log.write(
                doing,
                act,
                read.one(Lot, lot),
                "returned",
                amount,
                why=why,
                witness=witness,
                treatment=kept.id if kept else None,
                handling=row.id,
                visit=row.visit,
            )
    own_rows.read_again()
