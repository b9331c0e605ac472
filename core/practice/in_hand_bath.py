"""The bath of a fish in hand: grams to weigh, buffer and stock, and what it means for food fish."""

from __future__ import annotations

from dataclasses import dataclass

from core.catalogue import load
from core.dosing.anaesthesia import AnaestheticBath, anaesthetic_bath
from core.dosing.medicines import Medicine
from core.dosing.quantities import concentration, water
from core.dosing.recipient import Recipient
from core.dosing.stops import Stop, check
from core.numbers import figures, plain
from core.practice import (
    in_hand_food,
    in_hand_marks,
    read_medicines,
    recipient,
    slips,
    stock_bath,
)
from core.practice.in_hand_agents import (
    ENDS,
    ROUTES,
    agents,
    keeping,
    low,
    overdose,
    ranges,
    route_of,
    row_for,
    stock_of,
)
from core.practice.in_hand_food import Food
from core.practice.keep import Act, Shown, keep_figures, put
from core.practice.kept import local_day
from core.practice.slips import is_slip
from core.practice.stop_words import ruled
from core.records import read
from core.records.journal import OpenEdit
from core.records.tables import FishGroup, Handling, System, Treatment
from core.sourced import Step, lines, working

__all__ = [
    "ROUTES",
    "Bath",
    "agents",
    "keep_bath",
    "keep_sedation",
    "of",
    "ranges",
    "row_for",
    "stock_of",
]


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


def of(row: Handling, system: System, who: Recipient, *, kills: bool = False) -> Bath:
    """Return the bath of a fish in hand; `kills` when it is meant as an overdose.

    Without that, and before the first step of a euthanasia is marked, a level that kills is
    stopped: 400 mg/L may be a slip for 40.
    """
    medicine = row_for(row.agent, row.agent_mg_l)
    if medicine is None:
        return Bath(None, None, None, "", (), (), (), "", "", ())
    said = check(medicine, who)
    food = food_of(row, medicine, system, who.temperature_c)
    against = _against(row, medicine, said, food)
    # The suffering of a fish that is to be killed does not wait for a row to be read.
    ends = ENDS in medicine.routes
    slip = () if kills or in_hand_marks.moment(row, in_hand_marks.FIRST) else too_strong(row)
    stops = slip or (() if ends or row.agent_mg_l is None else against)
    amount, steps = (None, ()) if stops else _amount(row, medicine)
    return Bath(
        amount.agent.m_as("g") if amount else None,
        amount.buffer.m_as("g") if amount and amount.buffer else None,
        amount.stock.m_as("mL") if amount and amount.stock else None,
        _text(row, amount) if amount else "",
        stops,
        (
            *_outside(row, medicine),
            *_weak(row, medicine),
            *_of(said, "caution"),
            *(against if ends else ()),
        ),
        (*_of(said, "note"), *filter(None, (keeping(row.agent),))),
        f"People: {'; '.join(medicine.hazards)}." if medicine.hazards else "",
        food.words,
        steps,
    )


def food_of(row: Handling, medicine: Medicine, system: System, temperature_c: float | None) -> Food:
    """Return what a bath means for food fish, counted from when they went into it."""
    into = in_hand_marks.moment(row, in_hand_marks.INTO) if system.food_fish else None
    return in_hand_food.of(row, medicine, system, local_day(into or row.at), temperature_c)


def _against(
    row: Handling, medicine: Medicine, said: tuple[Stop, ...], food: Food
) -> tuple[str, ...]:
    """Return what stops a bath; days set by the vet answer a withdrawal that is not known."""
    off = read_medicines.held_refusal(medicine.key)
    stops = [s for s in said if s.kind == "stop"]
    if any(s.subject == "withdrawal" for s in stops) and in_hand_food.set_days(row):
        stops = [s for s in stops if s.subject != "withdrawal"]
    known = bool(stops) or not food.unknown
    return (*off, *map(ruled, stops), *(() if known else (food.unknown,)))


def _of(said: tuple[Stop, ...], kind: str) -> tuple[str, ...]:
    return tuple(s.sentence for s in said if s.kind == kind)


def _weak(row: Handling, medicine: Medicine) -> tuple[str, ...]:
    """Say that sources differ about an overdose, when one of them asks for more."""
    found = overdose(row.agent) if ENDS in medicine.routes else None
    if found is None or row.agent_mg_l is None or row.agent_mg_l >= found.mg_l:
        return ()
    return (f"{plain(row.agent_mg_l)} mg/L is an overdose to one source only: {found.says}.",)


def too_strong(row: Handling) -> tuple[str, ...]:
    """Say that a level kills, or is far over all that is on record for putting a fish to sleep."""
    level, rows = row.agent_mg_l, agents().get(row.agent, ())
    asleep = [r.dose_high for r in rows if route_of(r) != ENDS]
    if level is None or not rows:
        return ()
    if any(route_of(r) == ENDS and level >= low(r) for r in rows):
        return (
            f"{plain(level)} mg/L kills. On record: {ranges(row.agent)}. "
            "To end a life, i opens the clock: mark the first step there.",
        )
    if asleep and is_slip(level, max(asleep)):
        highest = f"the highest on record, {plain(max(asleep))} mg/L"
        return (f"{plain(level)} mg/L is {slips.said(level, max(asleep), highest)}.",)
    return ()


def _outside(row: Handling, medicine: Medicine) -> tuple[str, ...]:
    if row.agent_mg_l is None or low(medicine) <= row.agent_mg_l <= medicine.dose_high:
        return ()
    return (f"{plain(row.agent_mg_l)} mg/L lies outside the rows on record: {ranges(row.agent)}.",)


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


def live_text(row: Handling, *, kills: bool = False) -> str:
    """Return what a bath needs while its level or volume is typed: no record is read."""
    medicine = row_for(row.agent, row.agent_mg_l)
    if medicine is None:
        return ""
    if not kills and (slip := too_strong(row)):
        return " ".join(slip)
    amount, _ = _amount(row, medicine)
    return _text(row, amount) if amount else ranges(row.agent)


def keep_bath(doing: OpenEdit, act: Act, visit: str, handling_id: str, bath: Bath) -> None:
    """Keep the grams that were shown, with their working."""
    key = "core.dosing.anaesthesia.anaesthetic_bath"
    amounts = {"bath, agent": bath.agent_g, "bath, buffer": bath.buffer_g}
    shown = {n: Shown(v, "g", bath.working, key) for n, v in amounts.items() if v is not None}
    keep_figures(doing, act, visit, handling_id, shown)


def keep_sedation(doing: OpenEdit, act: Act, handling_id: str) -> None:
    """Keep a sedation: as given here where its withdrawal counts, and taken from the shelf."""
    _keep_given(doing, act, handling_id)
    stock_bath.follow(doing, act, handling_id)


def _keep_given(doing: OpenEdit, act: Act, handling_id: str) -> None:
    """Keep a sedation of food fish as something given here, since its withdrawal counts too."""
    row = read.one(Handling, handling_id)
    system = read.one(System, row.system)
    start = in_hand_marks.moment(row, in_hand_marks.INTO)
    where = {"visit": row.visit, "handling": row.id, "act": "given here", "amount_unit": "g"}
    old = read.first(Treatment, **where)
    medicine = row_for(row.agent, row.agent_mg_l)
    fish = [read.one(FishGroup, row.group)] if row.group else []
    who = recipient.of_fish(row.visit, system, fish, own_bath=True)
    bath = of(row, system, who)
    wanted = system.food_fish and start is not None and medicine is not None
    if not wanted or medicine is None or row.agent_mg_l is None:
        if old is not None:
            doing.strike(Treatment, old.id, "the sedation was taken back")
        return
    found = food_of(row, medicine, system, who.temperature_c)
    values = {
        "system": row.system,
        "group": row.group,
        "medicine": medicine.key,
        "route": route_of(medicine),
        "dose": row.agent_mg_l,
        "dose_unit": "mg/L",
        "amount": bath.agent_g or 0.0,
        "withdrawal_until": found.until,
        "withdrawal": found.words,
        "directions": f"bath for {row.label}, {row.count} fish",
        "by": act.by,
        "at": start,
    }
    put(doing, Treatment, where, values)
