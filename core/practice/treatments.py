"""Ordering a treatment: what was looked at is recorded, and what is given leaves the shelf."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from core.catalogue import load
from core.dosing.dangers import ASKED
from core.errors import BadInput, Refusal
from core.practice import course_words, fed_in, going_past, own_rows, stock_ordered, stock_take
from core.practice.door import edit
from core.practice.doses import Dosed
from core.practice.keep import Act, Shown, begin_stage, keep_figures
from core.practice.kept import local_day
from core.practice.order import ACTS, Order, Prepared
from core.practice.preparing import prepare
from core.practice.treatment_change import set_details, strike_treatment
from core.practice.who import must_be_vet
from core.records.keys import new_key
from core.records.tables import Treatment
from core.sourced import lines

__all__ = [
    "ACTS",
    "Order",
    "Prepared",
    "order_treatment",
    "prepare",
    "set_details",
    "shown",
    "strike_treatment",
]
SCOOPED = "core.dosing.scoops.scooped"
"""Formula that level scoops are counted by."""


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
    taken = stock_ordered.of_order(act, order, ready)
    row = stock_take.named(_row(act, visit_id, order, ready, ready.dosed), taken, order)
    with edit("treatment", who=act.by, at=act.at, visit=visit_id) as doing:
        begin_stage(doing, visit_id, "Plan")
        doing.add(row)
        later = stock_take.write(doing, act, taken, row)
        kept = shown(ready.dosed, order.said, ready.notes) | later
        keep_figures(doing, act, visit_id, row.id, kept)
    own_rows.read_again()
    return row.id


def _row(act: Act, visit_id: str, order: Order, ready: Prepared, dosed: Dosed) -> Treatment:
    ends = ready.withdrawal
    # A day apart is how parts are kept without an interval.
    apart = None if ready.ask.apart_h == course_words.DAY_H else ready.ask.apart_h / 24
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
        product=ready.ask.product,
        strength=dosed.strength,
        lot=order.lot,
        expires=order.expires,
        place=order.place,
        repeats=order.repeats,
        interval_days=order.interval_days if ready.ask.steps == 1 else apart,
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


def shown(
    dosed: Dosed, said: Mapping[str, bool] | None = None, notes: Sequence[str] = ()
) -> dict[str, Shown]:
    """Return the amount as it was shown, with its working and what was said beside it."""
    yes_no = ((ASKED[key], "yes" if there else "no") for key, there in (said or {}).items())
    answers = [f"Asked whether {words}: {told}." for words, told in yes_no]
    text = "\n".join([*lines(list(dosed.formula), load.citations()), *dosed.said, *answers, *notes])
    key = dosed.formula[0].formula.key
    found = {"amount": Shown(dosed.amount.magnitude, dosed.amount.unit, text, key)}
    if dosed.flow is not None:
        found |= fed_in.shown(dosed.flow, key)
    if (got := dosed.scooped) is not None:
        unit = f"scoops of {got.scoop.holds}"
        found["scoops"] = Shown(got.count, unit, str(got), SCOOPED)
    return found
