"""The bath of a fish in hand: grams to weigh, buffer and stock, and what it means for food fish."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from datetime import date

from core.catalogue import load
from core.dosing import products
from core.dosing.anaesthesia import AnaestheticBath, anaesthetic_bath
from core.dosing.kinds import Strength
from core.dosing.medicines import Medicine
from core.dosing.quantities import concentration, water
from core.dosing.recipient import Recipient
from core.dosing.stops import Stop, check
from core.dosing.withdrawal import withdrawal
from core.errors import Refusal
from core.numbers import figures, plain
from core.practice import in_hand_clock, read_medicines, recipient
from core.practice.keep import Act, Shown, keep_figures, put
from core.practice.kept import local_day
from core.practice.recipient import medicines
from core.records import read
from core.records.journal import OpenEdit
from core.records.tables import FishGroup, Handling, System, Treatment
from core.sourced import Step, lines, working

ROUTES = ("sedation bath", "anaesthetic bath", "maintenance bath", "euthanasia bath")


@functools.cache
def agents() -> dict[str, tuple[Medicine, ...]]:
    """Return every agent that a fish is put to sleep with, and its rows from weak to strong."""
    found: dict[str, list[Medicine]] = {}
    for row in medicines().values():
        if row.routes[0] in ROUTES and row.unit == "mg/L":
            found.setdefault(row.name, []).append(row)
    return {name: tuple(sorted(rows, key=_low)) for name, rows in found.items()}


def _low(row: Medicine) -> float:
    return row.dose_high if row.dose_low is None else row.dose_low


def ranges(agent: str) -> str:
    """Return the levels on record for an agent, by what they are for."""
    said = (
        f"{row.routes[0]} {plain(_low(row))} to {plain(row.dose_high)}"
        for row in agents().get(agent, ())
    )
    return "; ".join(said) + " mg/L"


def row_for(agent: str, mg_l: float | None) -> Medicine | None:
    """Return the row that a level falls under: the strongest whose lowest it reaches."""
    rows = agents().get(agent, ())
    reached = [row for row in rows if mg_l is not None and _low(row) <= mg_l]
    return reached[-1] if reached else next(iter(rows), None)


@dataclass(frozen=True)
class Bath:
    """What a bath needs and what goes with it; empty texts while something is not said."""

    agent_g: float | None
    buffer_g: float | None
    stock_ml: float | None
    text: str
    stops: tuple[str, ...]
    cautions: tuple[str, ...]
    notes: tuple[str, ...]
    people: str
    """What the agent does to people; "" when nothing is on record."""
    withdrawal: str
    steps: tuple[Step, ...]

    @property
    def working(self) -> str:
        """Return the working as it is shown."""
        return "\n".join(lines(list(self.steps), load.citations()))


def of(row: Handling, system: System, who: Recipient) -> Bath:
    """Return the bath of a fish in hand."""
    medicine = row_for(row.agent, row.agent_mg_l)
    if medicine is None:
        return Bath(None, None, None, "", (), (), (), "", "", ())
    said = check(medicine, who)
    ends = "euthanasia bath" in medicine.routes
    off = read_medicines.held_refusal(medicine.key)
    stops = () if ends or row.agent_mg_l is None else (*off, *_of(said, "stop"))
    amount, steps = (None, ()) if stops else _amount(row, medicine)
    return Bath(
        amount.agent.m_as("g") if amount else None,
        amount.buffer.m_as("g") if amount and amount.buffer else None,
        amount.stock.m_as("mL") if amount and amount.stock else None,
        _text(row, amount) if amount else "",
        stops,
        (
            *_outside(row, medicine),
            *_of(said, "caution"),
            *((*off, *_of(said, "stop")) if ends else ()),
        ),
        _of(said, "note"),
        f"People: {'; '.join(medicine.hazards)}." if medicine.hazards else "",
        _end(row, medicine, system)[1],
        steps,
    )


def _of(said: tuple[Stop, ...], kind: str) -> tuple[str, ...]:
    return tuple(s.sentence for s in said if s.kind == kind)


def _outside(row: Handling, medicine: Medicine) -> tuple[str, ...]:
    if row.agent_mg_l is None or _low(medicine) <= row.agent_mg_l <= medicine.dose_high:
        return ()
    return (f"{plain(row.agent_mg_l)} mg/L lies outside the rows on record: {ranges(row.agent)}.",)


def stock_of(agent: str) -> products.Product | None:
    """Return the stock solution of an agent on the shelf, if there is one."""
    shelf = products.from_table(load.table("products"))
    mine = (p for p in shelf.values() if p.agent == agent)
    return next((p for p in mine if isinstance(p.strength, Strength)), None)


def _amount(row: Handling, medicine: Medicine) -> tuple[AnaestheticBath | None, tuple[Step, ...]]:
    if row.agent_mg_l is None or row.bath_l is None:
        return None, ()
    stock = stock_of(row.agent)
    with working() as steps:
        found = anaesthetic_bath(
            concentration(row.agent_mg_l, "mg/L"),
            water(row.bath_l, "L"),
            stock.strength if stock else None,
            medicine.buffer_g_per_g,
        )
    return found, tuple(steps)


def _text(row: Handling, bath: AnaestheticBath) -> str:
    parts = [f"weigh {figures(bath.agent.m_as('g'))} g"]
    if bath.buffer is not None:
        parts.append(f" and {figures(bath.buffer.m_as('g'))} g bicarbonate")
    stock = stock_of(row.agent)
    if bath.stock is not None and stock is not None:
        poured = plain(round(bath.stock.m_as("mL"), 1))
        parts.append(f", or pour {poured} mL of {stock.name} ({stock.strength})")
    return f"{''.join(parts)}; made up to {plain(row.bath_l or 0.0)} L"


def live_text(row: Handling) -> str:
    """Return what a bath needs while its level or volume is typed: no record is read."""
    medicine = row_for(row.agent, row.agent_mg_l)
    if medicine is None:
        return ""
    amount, _ = _amount(row, medicine)
    return _text(row, amount) if amount else ranges(row.agent)


def _end(row: Handling, medicine: Medicine, system: System) -> tuple[date | None, str]:
    """Return the day on which food fish of a bath are food again, and the same in words."""
    if not system.food_fish:
        return None, ""
    if "euthanasia bath" in medicine.routes:
        return None, "Food fish: the carcass is not food."
    try:
        found = withdrawal(medicine, local_day(row.at), system.food_fish)
    except Refusal as error:
        return None, error.sentence
    fish = "this fish is" if row.count == 1 else f"these {row.count} fish are"
    days, how = medicine.withdrawal_days, medicine.known.get("withdrawal", "from memory")
    until = f"not food before {found.ends} ({days} days, {how})"
    return found.ends, f"Food fish: {fish} {until}. Keep them apart, or kill them."


def keep_bath(doing: OpenEdit, act: Act, visit: str, handling_id: str, bath: Bath) -> None:
    """Keep the grams that were shown, with their working."""
    key = "core.dosing.anaesthesia.anaesthetic_bath"
    amounts = {"bath, agent": bath.agent_g, "bath, buffer": bath.buffer_g}
    shown = {n: Shown(v, "g", bath.working, key) for n, v in amounts.items() if v is not None}
    keep_figures(doing, act, visit, handling_id, shown)


def keep_sedation(doing: OpenEdit, act: Act, handling_id: str) -> None:
    """Keep a sedation of food fish as something given here, since its withdrawal counts too."""
    row = read.one(Handling, handling_id)
    system = read.one(System, row.system)
    start = in_hand_clock.of(row).at(in_hand_clock.INTO)
    where = {"visit": row.visit, "handling": row.id, "act": "given here", "amount_unit": "g"}
    old = read.first(Treatment, **where)
    medicine = row_for(row.agent, row.agent_mg_l)
    fish = [read.one(FishGroup, row.group)] if row.group else []
    bath = of(row, system, recipient.of_fish(row.visit, system, fish, own_bath=True))
    wanted = system.food_fish and start is not None and medicine is not None
    if not wanted or medicine is None or row.agent_mg_l is None:
        if old is not None:
            doing.strike(Treatment, old.id, "the sedation was taken back")
        return
    ends, words = _end(row, medicine, system)
    values = {
        "system": row.system,
        "group": row.group,
        "medicine": medicine.key,
        "route": medicine.routes[0],
        "dose": row.agent_mg_l,
        "dose_unit": "mg/L",
        "amount": bath.agent_g or 0.0,
        "withdrawal_until": ends,
        "withdrawal": words,
        "directions": f"bath for {row.label}, {row.count} fish",
        "by": act.by,
        "at": start,
    }
    put(doing, Treatment, where, values)
