"""Ordering a treatment: who receives it, what stands against it, the dose, the days, the record."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from core.catalogue import load
from core.dosing import course
from core.dosing.dangers import ASKED
from core.dosing.medicines import Medicine
from core.dosing.recipient import Stop
from core.dosing.withdrawal import Withdrawal, withdrawal
from core.errors import BadInput, Refusal
from core.practice import going_past, read_medicines, recency, stock_take
from core.practice import treatment_fish as fish
from core.practice.door import edit
from core.practice.dose_parts import Ask
from core.practice.doses import Dosed, total, work_out
from core.practice.keep import Act, Shown, begin_stage, keep_figures
from core.practice.kept import local_day
from core.practice.medicines import (
    Place,
    answer,
    check_for,
    medicine,
    place,
    waters_of,
)
from core.practice.order import ACTS, Order, Prepared
from core.practice.who import must_be_vet
from core.records import read
from core.records.keys import new_key
from core.records.tables import FishGroup, Treatment, Visit
from core.sourced import lines

__all__ = ["ACTS", "Order", "Prepared", "order_treatment", "prepare"]


def prepare(visit_id: str, order: Order, today: date | None = None) -> Prepared:
    """Work out an order and judge it: amount, stops, days, total, end of withdrawal.

    Parameters
    ----------
    today : date, optional
        Day on which it is ordered, against which the last visit is held; that of the visit
        when left out.

    Raises
    ------
    Refusal
        When the fish are in another water now.
    """
    row, where = medicine(order.medicine), place(order.system)
    _is_there(order, where)
    ask = fish.filled(visit_id, where, row, order.ask, order.group, order.handling)
    stops = check_for(visit_id, where, row, order.group, order.said)
    if fish.own_bath(row, order.handling):
        stops = tuple(s for s in stops if s.subject not in fish.OF_THE_WATER)
    dosed, why_not = _dosed(visit_id, where, row, ask)
    days = _days(visit_id, order, ask)
    ends, unknown = _withdrawal(visit_id, row, where, days, order)
    refused, past = _judged(visit_id, where, row, ask, order, stops, dosed)
    off = read_medicines.refused(order.medicine)
    late = recency.refusal(visit_id, order.act, today or read.one(Visit, visit_id).day)
    heavy = [(w, s) for stop, w, s in past if stop]
    light = [(w, s) for stop, w, s in past if not stop]
    one = dosed.amount if dosed else None
    return Prepared(
        row,
        ask,
        where,
        dosed,
        why_not,
        tuple(dict.fromkeys([*filter(None, (off, late)), *refused, *unknown])),
        tuple(sentence for _, sentence in heavy),
        tuple(sentence for _, sentence in light),
        tuple(dict.fromkeys(subject for subject, _ in heavy)),
        tuple(dict.fromkeys(subject for subject, _ in light)),
        (
            *fish.air_lasts(visit_id, where, row, order.handling),
            *(s.sentence for s in stops if answer(s) == "note"),
        ),
        days,
        total(one, order.repeats) if one is not None and order.repeats > 1 else None,
        ends,
    )


def _is_there(order: Order, where: Place) -> None:
    if order.group is None or any(f.id == order.group for f in where.fish):
        return
    group = read.one(FishGroup, order.group)
    now = " and ".join(s.name for s in waters_of(group)) or "no water on record"
    raise Refusal(
        f"{group.name}: not in {where.system.name} any more, but in {now}.",
        "Order it for the water they are in now.",
    )


def _dosed(visit_id: str, where: Place, row: Medicine, ask: Ask) -> tuple[Dosed | None, str]:
    try:
        return work_out(row, ask, fish.alkalinity_mg_l(visit_id, where.system)), ""
    except Refusal as error:
        return None, f"{error.sentence} {error.todo}".strip()


def _days(visit_id: str, order: Order, ask: Ask) -> tuple[date, ...]:
    start = order.starts or read.one(Visit, visit_id).day
    if ask.steps > 1 and order.repeats > 1:
        raise BadInput("One treatment is given in parts, or repeated, not both.")
    if ask.steps > 1:
        return course.dates(start, 1, ask.steps)
    every = order.interval_days
    if order.repeats > 1 and (every is None or every < 1 or every != int(every)):
        raise BadInput("Say how many whole days lie between two.", "Type for example 8.")
    return course.dates(start, int(every or 1), order.repeats)


def _withdrawal(
    visit_id: str, row: Medicine, where: Place, days: tuple[date, ...], order: Order
) -> tuple[Withdrawal | None, list[str]]:
    if not where.system.food_fish:
        return None, []
    try:
        now = fish.temperature_c(visit_id, where.system)
        return withdrawal(row, days[-1], True, order.withdrawal_days, now), []
    except Refusal as error:
        return None, [f"{error.sentence} {error.todo}".strip()]


def _judged(
    visit_id: str,
    where: Place,
    row: Medicine,
    ask: Ask,
    order: Order,
    stops: tuple[Stop, ...],
    dosed: Dosed | None,
) -> tuple[list[str], list[tuple[bool, str, str]]]:
    """Return what is refused, and what asks for a reason: whether a stop, its subject, itself."""
    refused = [_ruled(s) for s in stops if answer(s) == "refused" and not _set(s, order)]
    asks = [s for s in stops if answer(s) == "reason" and s.subject != "flow"]
    past = [(s.kind == "stop", s.subject, s.sentence) for s in asks]
    still, unknown = fish.standing_bath(visit_id, where, row, ask, order.handling)
    refused += [still] if still else []
    past += [(False, "flow", unknown)] if unknown else []
    if dosed and dosed.outside:
        past.append((False, "dose", dosed.outside))
    if dosed and dosed.too_small:
        past.append((False, "volume", dosed.too_small))
    if dosed and dosed.stepped:
        past.append((False, "parts", dosed.stepped))
    return refused, past


def _ruled(stop: Stop) -> str:
    known = stop.rule in ("read", "read in part", "computed", "from memory")
    return stop.sentence if known or stop.rule in stop.sentence else f"{stop.sentence} {stop.rule}"


def _set(stop: Stop, order: Order) -> bool:
    return stop.subject == "withdrawal" and order.withdrawal_days is not None


def order_treatment(act: Act, visit_id: str, order: Order) -> str:
    """Record what the vet orders, with its working; return the treatment's id.

    Raises
    ------
    Refusal
        For anybody but a veterinarian; for what no reason goes past, the rule named; without
        a reason where one is asked for; without an amount.
    """
    must_be_vet(act.by, "orders a treatment")
    if order.act not in ACTS:
        raise BadInput(f"{order.act} is not one of: {', '.join(ACTS)}.")
    ready = prepare(visit_id, order, local_day(act.at))
    if ready.refused:
        raise Refusal(" ".join(ready.refused))
    if ready.dosed is None:
        raise Refusal(ready.why_not)
    going_past.must_have(ready.stops, ready.cautions, order.reason)
    taken = stock_take.of_order(act, order, ready)
    row = stock_take.named(_row(act, visit_id, order, ready, ready.dosed), taken)
    with edit("treatment", who=act.by, at=act.at, visit=visit_id) as doing:
        begin_stage(doing, visit_id, "Plan")
        doing.add(row)
        stock_take.write(doing, act, taken, row)
        keep_figures(doing, act, visit_id, row.id, shown(ready.dosed, order.said))
    return row.id


def _row(act: Act, visit_id: str, order: Order, ready: Prepared, dosed: Dosed) -> Treatment:
    ends = ready.withdrawal
    return Treatment(
        id=new_key(),
        visit=visit_id,
        system=order.system,
        group=order.group,
        handling=order.handling,
        act=order.act,
        medicine=order.medicine,
        route=ready.ask.route,
        dose=dosed.asked.magnitude,
        dose_unit=dosed.asked.unit,
        amount=dosed.amount.magnitude,
        amount_unit=dosed.amount.unit,
        product=order.ask.product,
        strength=dosed.strength,
        lot=order.lot,
        expires=order.expires,
        place=order.place,
        repeats=order.repeats,
        interval_days=order.interval_days,
        directions=order.directions.strip(),
        withdrawal_until=ends.ends if ends else None,
        withdrawal=ends.sentence if ends else "",
        override=going_past.kept(order.reason, ready.past_stops, ready.past_cautions),
        starts=order.starts,
        steps=ready.ask.steps,
        off_hours=order.off_hours,
        by=act.by,
        at=act.at,
    )


def shown(dosed: Dosed, said: Mapping[str, bool] | None = None) -> dict[str, Shown]:
    """Return the amount as it was shown, with its working and what was said beside it."""
    yes_no = ((ASKED[key], "yes" if there else "no") for key, there in (said or {}).items())
    answers = [f"Asked whether {words}: {told}." for words, told in yes_no]
    text = "\n".join([*lines(list(dosed.formula), load.citations()), *dosed.said, *answers])
    key = dosed.formula[0].formula.key
    return {"amount": Shown(dosed.amount.magnitude, dosed.amount.unit, text, key)}


def strike_treatment(act: Act, treatment_id: str, why: str) -> None:
    """Strike a treatment, with the reason."""
    must_be_vet(act.by, "strikes a treatment")
    row = read.one(Treatment, treatment_id)
    with edit("treatment struck", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.strike(Treatment, treatment_id, why)


def set_details(act: Act, treatment_id: str, **columns: object) -> None:
    """Put lot, expiry, place or directions to a treatment; amounts are ordered anew."""
    must_be_vet(act.by, "changes a treatment")
    if strange := set(columns) - {"lot", "expires", "place", "directions"}:
        raise BadInput(
            f"{', '.join(sorted(strange))} can not be changed.", "Strike it, order anew."
        )
    row = read.one(Treatment, treatment_id)
    with edit("treatment", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.change(Treatment, treatment_id, **columns)
