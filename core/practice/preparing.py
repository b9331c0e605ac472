"""An order looked at before it is recorded: who receives it, what stands against it, the dose."""

from __future__ import annotations

from datetime import date

from core.dosing import course
from core.dosing.medicines import Medicine
from core.dosing.recipient import Stop
from core.dosing.withdrawal import Withdrawal, withdrawal
from core.errors import BadInput, Refusal
from core.practice import (
    course_cost,
    course_words,
    read_medicines,
    recency,
    same_day,
    stock_ordered,
    typed_sizes,
)
from core.practice import treatment_fish as fish
from core.practice.dose_fish import fish_of
from core.practice.dose_parts import Ask
from core.practice.doses import Dosed, total, work_out
from core.practice.medicines import (
    Place,
    answer,
    check_for,
    medicine,
    place,
    waters_of,
)
from core.practice.order import Order, Prepared
from core.practice.stop_words import ruled
from core.records import read
from core.records.tables import FishGroup, Visit


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
    order = stock_ordered.with_product(order)
    row, where = medicine(order.medicine), place(order.system)
    _is_there(order, where)
    ask = fish.filled(visit_id, where, row, order.ask, order.group, order.handling)
    dosed, why_not = _dosed(visit_id, where, row, ask)
    asked = dosed.asked.m_as(row.highest().unit) if dosed else None
    stops = check_for(visit_id, where, row, order.group, order.said, asked)
    if fish.own_bath(row, order.handling):
        stops = tuple(s for s in stops if s.subject not in fish.OF_THE_WATER)
    days = _days(visit_id, order, ask)
    ends, unknown = _withdrawal(visit_id, row, where, days, order)
    refused, past = _judged(visit_id, where, row, ask, order, stops, dosed)
    if any(answer(s) == "refused" and not _set(s, order) for s in stops):
        unknown = []  # the stop has said it already
    off = read_medicines.refused(order.medicine)
    now = today or read.one(Visit, visit_id).day
    late = recency.refusal(visit_id, order.act, now)
    past += _asked_of(visit_id, where, row, order, days, now)
    if short := stock_ordered.too_short(order, days, now):
        past.append((False, "expiry", short))
    heavy = [(w, s) for stop, w, s in past if stop]
    light = [(w, s) for stop, w, s in past if not stop]
    one = dosed.amount if dosed else None
    many, uncounted = _fish(order, ask.route)
    times = order.repeats * many
    whole = total(one, times) if one is not None and times > 1 else None
    return Prepared(
        row,
        ask,
        where,
        dosed,
        why_not,
        tuple(dict.fromkeys([*filter(None, (off, late, uncounted)), *refused, *unknown])),
        tuple(sentence for _, sentence in heavy),
        tuple(sentence for _, sentence in light),
        tuple(dict.fromkeys(subject for subject, _ in heavy)),
        tuple(dict.fromkeys(subject for subject, _ in light)),
        (
            *fish.air_lasts(visit_id, where, row, order.handling),
            *fish.approval(where, row),
            *(("For one of them alone, take it in hand and order for that fish.",) * (many > 1)),
            *fish.after_change(where, row, ask, order.handling, one),
            *(s.sentence for s in stops if answer(s) == "note"),
        ),
        days,
        whole,
        ends,
        order.off_hours,
        course_cost.said_of_order(order, dosed),
        fish=many,
        tub=fish.own_bath(row, order.handling),
    )


def _asked_of(
    visit_id: str, where: Place, row: Medicine, order: Order, days: tuple[date, ...], now: date
) -> list[tuple[bool, str, str]]:
    """Return what is asked of what was typed, and of the same medicine on the same day."""
    of = (order.group, order.handling)
    twice = same_day.already(order.medicine, order.system, *of, days, now)
    sizes = typed_sizes.judged(visit_id, where, row, order.ask, *of)
    return [*sizes, *((False, "same day", said) for said in twice)]


def _fish(order: Order, route: str) -> tuple[int, str]:
    """Return how many fish each get the amount, or why that is not known."""
    many = fish_of(route, order.system, order.group, order.handling)
    if many is None:
        return 1, "How many fish are injected is not known: count them, or take them in hand."
    return many, ""


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
        return course_words.part_days(start, ask.steps, ask.apart_h)
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
    refused = [ruled(s) for s in stops if answer(s) == "refused" and not _set(s, order)]
    asks = [s for s in stops if answer(s) == "reason" and s.subject != "flow"]
    past = [(s.kind == "stop", s.subject, s.sentence) for s in asks]
    still, unknown = fish.standing_bath(visit_id, where, row, ask, order.handling)
    refused += [still] if still else []
    past += [(False, "flow", unknown)] if unknown else []
    if dosed and dosed.outside:
        past.append((dosed.slip, "dose", dosed.outside))
    if dosed and dosed.odd:
        past.append((True, "strength", dosed.odd))
    if dosed and dosed.too_small:
        past.append((False, "volume", dosed.too_small))
    if dosed and dosed.stepped:
        past.append((False, "parts", dosed.stepped))
    return refused, past


def _set(stop: Stop, order: Order) -> bool:
    return stop.subject == "withdrawal" and order.withdrawal_days is not None
