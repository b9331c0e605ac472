"""One dose worked out from what the vet orders: quantities only, with the working and both ends."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from core.dosing import course, quantities
from core.dosing.arithmetic import AnyStrength
from core.dosing.copper import copper_sulfate_mg_l
from core.dosing.flowing import FlowBath
from core.dosing.kinds import Concentration, FeedLevel, VolumeConcentration
from core.dosing.limits import over
from core.dosing.medicines import Medicine
from core.dosing.products import Product
from core.dosing.quantities import concentration, dose, feed_level
from core.dosing.quantity import Quantity
from core.dosing.scoops import Scooped
from core.dosing.syringe import Dilution
from core.errors import BadInput, Refusal, UnitError
from core.numbers import plain
from core.practice import course_words, slips, strengths
from core.practice.dose_parts import Ask, Work, by_kind, in_scoops
from core.practice.medicines import shelf, typed
from core.practice.slips import is_slip
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
    slip: bool = False
    """Whether it is so far over that range that the decimal may stand in the wrong place."""
    too_small: str = ""
    parts: tuple[Quantity, ...] = ()
    flow: FlowBath | None = None
    stepped: str = ""
    """Why its parts are not those of a row that is stepped up; "" when they are."""
    thinner: Dilution | None = None
    """The dilution proposed for a volume under five marks."""
    diluted: bool | None = None
    """Whether it is taken."""
    odd: str = ""
    """Why the strength of the product is not that of any on record; "" when it is."""
    scooped: Scooped | None = None
    """What is measured out at one time in level scoops, with its rounding."""

    @property
    def thinned(self) -> int:
        """Parts in which the amount holds one of the product: more than 1 when it is diluted."""
        return self.thinner.factor if self.thinner is not None and self.diluted else 1


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
        outside, slip = _outside(row, asked, alkalinity_mg_l)
    if parts:
        apart = course_words.apart(ask.apart_h)
        work.said.append(f"In {ask.steps} parts {apart}: {parts[0]} each, {amount} in all.")
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
        slip,
        work.warn,
        parts,
        work.flow,
        stepped=_stepped(row, asked, ask.steps, ask.apart_h),
        odd=strengths.far_off(row, work.strength, _sold(row)) if ask.strength else "",
        thinner=work.thinner,
        diluted=ask.diluted,
        scooped=work.scooped,
    )


def asks_dilution(row: Medicine, ask: Ask) -> bool:
    """Return whether an injection is under five marks of its syringe, so that it is diluted."""
    try:
        return work_out(row, replace(ask, diluted=True)).thinner is not None
    except Refusal:
        return False


def must_be_understood(row: Medicine, key: str, text: str) -> None:
    """Check one answer of an order by itself, by its name in `Ask`; texts of another name pass.

    Raises
    ------
    BadInput
        For a bare number, and for a unit that this figure is not written in.
    """
    if not text.strip() or key not in (*_READ, "dose"):
        return
    if key != "dose":
        parse, example = _READ[key]
        parse(*typed(text, example))
        return
    wanted = f"{plain(row.dose_high)} {row.unit.removesuffix(' feed')}"
    _, unit = typed(text, wanted)
    try:
        _asked(row, text).m_as(row.highest().unit)
    except UnitError as error:
        two_ways = (
            " It is read in two ways, by weight and by volume."
            if "ppm" in unit and row.in_water
            else ""
        )
        raise UnitError(
            f"{unit} is not how {row.name} is dosed here: {row.unit}.{two_ways}",
            f"Type for example {wanted}.",
        ) from error


_READ: dict[str, tuple[Callable[[float, str], Quantity], str]] = {
    "strength": (strengths.understood, strengths.EXAMPLE),
    "weight": (quantities.body, "238 g"),
    "volume": (quantities.water, "640 L"),
    "flow": (quantities.flow, "18 L/s"),
    "minutes": (quantities.minutes, "60 min"),
    "ration": (quantities.ration, "1 %"),
    "scoop": (quantities.product, "15 g"),
}
"""What is read by itself: how, and what an answer looks like."""


def usual_steps(row: Medicine) -> int:
    """Return the parts a day apart of a row that is stepped up, the slower way; 1 for others."""
    return course.parts_within(row.step_up_h[0], row.step_up_h[-1])[1] if row.step_up_h else 1


def _reached(asked: Quantity, steps: int) -> str:
    return ", ".join(str(asked.scaled(n / steps)) for n in range(1, steps + 1))


def _stepped(row: Medicine, asked: Quantity, steps: int, apart_h: int) -> str:
    """Say what is wrong with the parts: too few for the time, or one of them too large."""
    if not row.step_up_h:
        return ""
    try:
        fewest, most = course.parts_within(row.step_up_h[0], row.step_up_h[-1], apart_h)
    except BadInput as error:
        return error.sentence
    if not fewest <= steps <= most:
        return (
            f"{row.name} is stepped up over {row.step_up_h[0]} to {row.step_up_h[-1]} h: "
            f"{fewest} to {most} parts {course_words.apart(apart_h)}, not {steps}."
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


def _sold(row: Medicine) -> Iterator[AnyStrength]:
    return (p.strength for p in shelf().values() if p.agent == row.name)


def _strength(row: Medicine, ask: Ask, product: Product | None) -> AnyStrength | None:
    if ask.strength:
        return strengths.understood(*typed(ask.strength, strengths.EXAMPLE))
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


def _outside(row: Medicine, asked: Quantity, alkalinity_mg_l: float | None) -> tuple[str, bool]:
    """Return why a dose lies outside the range of its row, and whether it is far over it."""
    high, low = row.highest(), row.lowest()
    if row.dose_rule and alkalinity_mg_l is not None:
        high = concentration(copper_sulfate_mg_l(alkalinity_mg_l), "mg/L")
    value = asked.m_as(high.unit)
    if is_slip(value, high.magnitude):
        highest = f"the highest of the source, {high}"
        return f"{asked} is {slips.said(value, high.magnitude, highest)}.", True
    if over(value, high.magnitude):
        return f"{asked} is over the highest of the source, {high}.", False
    if row.dose_low is not None and over(low.m_as(high.unit), value):
        return f"{asked} is under the lowest of the source, {low}.", False
    return "", False


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
