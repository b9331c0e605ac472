"""One dose worked out from what the vet orders: quantities only, with the working and both ends."""

from __future__ import annotations

from dataclasses import dataclass

from core.dosing import course
from core.dosing.arithmetic import AnyStrength
from core.dosing.copper import copper_sulfate_mg_l
from core.dosing.flowing import FlowBath
from core.dosing.kinds import Concentration, FeedLevel, VolumeConcentration
from core.dosing.medicines import Medicine
from core.dosing.products import Product
from core.dosing.quantities import concentration, dose, feed_level, strength
from core.dosing.quantity import Quantity
from core.errors import BadInput, Refusal
from core.practice.dose_parts import Ask, Work, by_kind, in_scoops
from core.practice.medicines import shelf, typed
from core.sourced import Step, working


@dataclass(frozen=True)
class Dosed:
    """A dose worked out: what is weighed out or drawn up once, and all that is shown with it."""

    asked: Quantity
    amount: Quantity
    strength: str
    formula: tuple[Step, ...]
    said: tuple[str, ...]
    """Lines for a person: real level, syringe, dilution, fill and feed-in."""
    outside: str = ""
    """Why the dose lies outside the range of its row; "" when it is inside."""
    too_small: str = ""
    parts: tuple[Quantity, ...] = ()
    flow: FlowBath | None = None
    stepped: str = ""
    """Why its parts are not those of a row that is stepped up; "" when they are."""
    thinned: int = 1
    """Parts in which the amount holds one of the product: more than 1 when it is diluted."""


def work_out(row: Medicine, ask: Ask, alkalinity_mg_l: float | None = None) -> Dosed:
    """Return a dose with its working.

    Parameters
    ----------
    row : Medicine
        Row of the catalogue; its range judges the dose.
    ask : Ask
        What is wanted, each figure with its unit.
    alkalinity_mg_l : float, optional
        For copper sulfate in fresh water, whose highest dose it sets.

    Raises
    ------
    BadInput
        For a bare number, or a unit of the wrong kind.
    Refusal
        When something needed for this kind of dose is missing.
    """
    product = shelf().get(ask.product)
    with working() as steps:
        asked = _asked(row, ask.dose)
        work = Work(row, ask, asked, _strength(row, ask, product))
        work.shown = str(work.strength) if work.strength else ""
        amount = by_kind(work)
        parts = course.in_steps(amount, ask.steps) if ask.steps > 1 else ()
        outside = _outside(row, asked, alkalinity_mg_l)
    if parts:
        work.said.append(f"In {ask.steps} parts a day apart: {parts[0]} each, {amount} in all.")
        work.said.append(f"Reached after each: {_reached(asked, ask.steps)}.")
    in_scoops(work, parts[0] if parts else amount)
    if row.dose_of:
        work.said.append(f"The dose counts {row.dose_of}; the strength must count the same.")
    return Dosed(
        asked,
        amount,
        work.shown,
        tuple(steps),
        tuple(work.said),
        outside,
        work.warn,
        parts,
        work.flow,
        stepped=_stepped(row, asked, ask.steps),
        thinned=work.thinned,
    )


def usual_steps(row: Medicine) -> int:
    """Return the parts a day apart of a row that is stepped up, the slower way; 1 for others."""
    return course.parts_within(row.step_up_h[0], row.step_up_h[-1])[1] if row.step_up_h else 1


def _reached(asked: Quantity, steps: int) -> str:
    return ", ".join(str(asked.scaled(n / steps)) for n in range(1, steps + 1))


def _stepped(row: Medicine, asked: Quantity, steps: int) -> str:
    """Say what is wrong with the parts: too few for the time, or one of them too large."""
    if not row.step_up_h:
        return ""
    fewest, most = course.parts_within(row.step_up_h[0], row.step_up_h[-1])
    if not fewest <= steps <= most:
        return (
            f"{row.name} is stepped up over {row.step_up_h[0]} to {row.step_up_h[-1]} h: "
            f"{fewest} to {most} parts a day apart, not {steps}."
        )
    largest = row.highest().scaled(1 / fewest)
    if len(course.steps_no_larger_than(asked, largest)) > steps:
        return (
            f"One part of {asked.scaled(1 / steps)} is over {largest}, the highest of the row in "
            f"{fewest} parts."
        )
    return ""


def _asked(row: Medicine, text: str) -> Quantity:
    lowest = row.lowest()
    value, unit = typed(text, str(lowest))
    if isinstance(lowest, FeedLevel):
        return feed_level(value, unit.removesuffix(" feed"))
    if isinstance(lowest, Concentration | VolumeConcentration):
        return concentration(value, unit)
    return dose(value, unit)


def _strength(row: Medicine, ask: Ask, product: Product | None) -> AnyStrength | None:
    if ask.strength:
        return strength(*typed(ask.strength, "100 mg/mL or 10 % w/w"))
    if product is None:
        return None
    if product.agent != row.name:
        raise Refusal(f"{product.name} holds {product.agent}, not {row.name}.", "Choose another.")
    if "as copper" in product.name and "copper sulfate" in row.dose_of:
        raise Refusal(
            f"The dose counts {row.dose_of}, and {product.name} counts copper.",
            "Take a product whose strength counts the same.",
        )
    return product.strength


def _outside(row: Medicine, asked: Quantity, alkalinity_mg_l: float | None) -> str:
    high, low = row.highest(), row.lowest()
    if row.dose_rule and alkalinity_mg_l is not None:
        high = concentration(copper_sulfate_mg_l(alkalinity_mg_l), "mg/L")
    value = asked.m_as(high.unit)
    if value > high.magnitude * (1 + 1e-9):
        return f"{asked} is over the highest of the source, {high}."
    if row.dose_low is not None and value < low.m_as(high.unit) * (1 - 1e-9):
        return f"{asked} is under the lowest of the source, {low}."
    return ""


def total(amount: Quantity, times: int) -> Quantity:
    """Return what a whole course needs.

    Raises
    ------
    BadInput
        For fewer than one treatment.
    """
    if times < 1:
        raise BadInput("A course needs at least one treatment.")
    return course.total(amount, times)
