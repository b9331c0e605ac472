"""The parts of a dose by its kind: a bath, water that runs, an injection, medicated food."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from core.dosing import arithmetic
from core.dosing.arithmetic import AnyStrength
from core.dosing.flowing import FlowBath, bath_in_flow, liquid_in_flow
from core.dosing.kinds import (
    ActiveMass,
    Body,
    Concentration,
    DailyDose,
    Dose,
    FeedLevel,
    ProductMass,
    ProductVolume,
    Purity,
    Strength,
    UnitDose,
    VolumeConcentration,
    VolumeDose,
    Water,
)
from core.dosing.medicines import Medicine
from core.dosing.quantities import body, flow, give_or_take, minutes, product, ration, water
from core.dosing.quantity import Between, Quantity
from core.dosing.scoops import Scoop, Scooped, scooped
from core.dosing.syringe import Dilution, over_route_limit
from core.dosing.uncertain import dose_between, judge, level_between, really_between
from core.errors import Refusal
from core.practice.as_sold import must_be_as_sold
from core.practice.dose_drawn import drawn
from core.practice.medicines import most_ml_kg, typed

UNKNOWN_FLOW = "not known"
"""Said as the flow of water that runs while nobody knows how fast."""


@dataclass(frozen=True)
class Ask:
    """What a dose is worked out from, as texts with their units; a bare number is refused.

    Attributes
    ----------
    product : str
        Key of the shelf; `strength` as typed when it is another product.
    weight, volume, error_percent
        Of the fish or of the water; the error is that of the volume or the weight.
    flow, minutes : str
        For a bath while the water runs.
    ration, food : str
        Food of a day in % of body weight, for medicated feed.
    steps : int
        Equal parts, `apart_h` hours apart.
    syringe : str
        Name of the syringe; the smallest marked in mL that fits when empty.
    scoop : str
        What one level scoop or spoon holds, for example 15 g or 5 mL.
    diluted : bool or None
        Whether a volume under five marks is diluted as proposed; None while nobody said so.
    """

    dose: str
    route: str
    product: str = ""
    strength: str = ""
    weight: str = ""
    volume: str = ""
    error_percent: float | None = None
    flow: str = ""
    minutes: str = ""
    ration: str = ""
    steps: int = 1
    apart_h: int = 24
    syringe: str = ""
    scoop: str = ""
    diluted: bool | None = None


@dataclass
class Work:
    """What is being worked out, passed from part to part."""

    row: Medicine
    ask: Ask
    asked: Quantity
    strength: AnyStrength | None
    said: list[str] = field(default_factory=list)
    shown: str = ""
    warn: str = ""
    flow: FlowBath | None = None
    thinner: Dilution | None = None
    """The dilution proposed for a volume under five marks, accepted or not."""
    scooped: Scooped | None = None
    """What is measured out at one time in level scoops, with its rounding."""


def by_kind(work: Work) -> Quantity:
    """Return the amount of a dose, worked out by its kind; what goes with it is noted in `work`.

    Raises
    ------
    Refusal
        For a dose that is reckoned by nothing here.
    """
    for kind, part in _PARTS.items():
        if isinstance(work.asked, kind):
            return part(work)
    raise Refusal(f"{work.row.name} is not dosed by water, fish or food here.")


def _bath(work: Work) -> Quantity:
    asked = work.asked
    assert isinstance(asked, Concentration)
    tank = _water(work.ask)
    if work.ask.flow:
        return _in_flow(work, asked, tank)
    if isinstance(work.strength, Strength):
        amount: Quantity = arithmetic.bath_volume(asked, tank, work.strength)
    else:
        amount = arithmetic.bath_mass(asked, tank, work.strength)
    if work.strength is None:
        work.said.append("Of active substance: no product was chosen.")
    if work.ask.error_percent:
        mass = arithmetic.bath_mass(asked, tank)
        real = level_between(mass, give_or_take(tank, work.ask.error_percent))
        work.said.append(_judged(work.row, real))
    return amount


def _in_flow(work: Work, asked: Concentration | VolumeConcentration, tank: Water) -> Quantity:
    liquid = isinstance(asked, VolumeConcentration) or isinstance(work.strength, Strength)
    bath = (liquid_in_flow if liquid else bath_in_flow)(
        asked,
        tank,
        flow(*typed(_said_flow(work.ask), "18 L/s")),
        minutes(*typed(work.ask.minutes, "60 min")),
        # uL/L counts the product itself, whatever its strength.
        None if isinstance(asked, VolumeConcentration) else work.strength,
    )
    work.said.append(f"{bath}.")
    _both_ends(work, asked, tank)
    work.flow = bath
    return bath.total


def _said_flow(ask: Ask) -> str:
    """Return the flow as typed; running water is never reckoned as if it stood.

    Raises
    ------
    Refusal
        When the water runs and nobody said how fast.
    """
    if ask.flow == UNKNOWN_FLOW:
        raise Refusal(
            "The water runs, and how fast is not known.",
            "Type the flow, for example 475 gal/min or 18 L/s.",
        )
    return ask.flow


def _both_ends(work: Work, asked: Quantity, supposed: Body | Water) -> None:
    """Say what the fish really get when their weight or water is known only roughly."""
    if work.ask.error_percent:
        ends = give_or_take(supposed, work.ask.error_percent)
        work.said.append(_judged(work.row, really_between(asked, supposed, ends)))


def _bath_by_volume(work: Work) -> Quantity:
    asked, tank = work.asked, _water(work.ask)
    assert isinstance(asked, VolumeConcentration)
    must_be_as_sold(work.row, work.strength)
    if work.ask.flow:
        return _in_flow(work, asked, tank)
    _both_ends(work, asked, tank)
    return arithmetic.bath_volume(asked, tank)


def _by_weight(work: Work) -> Quantity:
    asked, fish = work.asked, _body(work.ask)
    assert isinstance(asked, Dose | UnitDose | VolumeDose)
    if not work.ask.route.startswith("injection"):
        _both_ends(work, asked, fish)
        if isinstance(asked, VolumeDose) or isinstance(work.strength, Strength):
            return arithmetic.draw_up_volume(asked, fish, work.strength)
        work.strength, work.shown = None, work.shown and f"{work.shown}, not reckoned in"
        return arithmetic.dose_mass(asked, fish)
    if work.strength is None and not isinstance(asked, VolumeDose):
        work.said.append("Of active substance: choose the product for the volume to draw up.")
        _both_ends(work, asked, fish)
        return arithmetic.dose_mass(asked, fish)
    volume = arithmetic.draw_up_volume(asked, fish, work.strength)
    return _drawn(work, volume, fish)


def _drawn(work: Work, volume: ProductVolume, fish: Body) -> Quantity:
    """Draw a volume on a real syringe; under five marks it is diluted first."""
    if work.ask.error_percent and isinstance(work.strength, Strength):
        ends = give_or_take(fish, work.ask.error_percent)
        work.said.append(_judged(work.row, dose_between(volume, work.strength, ends)))
    else:
        _both_ends(work, work.asked, fish)
    got = drawn(volume, work.strength, work.ask.syringe, work.ask.diluted)
    # Diluent counts too: all that is in the syringe goes into the fish.
    if over := over_route_limit.plain(got.amount, fish, work.ask.route, most_ml_kg()):
        work.said.append(over)
        work.warn = over if work.ask.route in most_ml_kg() else work.warn
    work.said[:0] = got.said
    work.warn = work.warn or got.warn
    work.thinner = got.thinner
    if got.thinner is not None and work.ask.diluted:
        made = f"made 1 in {got.thinner.factor} from {work.shown}"
        work.shown = f"{got.thinner.strength}, {made}"
    return got.amount


def _in_feed(work: Work) -> Quantity:
    asked = work.asked
    assert isinstance(asked, Dose | DailyDose | FeedLevel)
    if not work.ask.ration:
        raise Refusal("What is fed a day is not known.", "Type it as % of body weight, as in 1 %.")
    daily = ration(*typed(work.ask.ration, "1 %"))
    food = arithmetic.daily_food(daily, _body(work.ask))
    level = asked if isinstance(asked, FeedLevel) else arithmetic.medicated_feed(asked, daily)
    work.said.append(f"{level} in the food, {food} of it a day.")
    if not isinstance(asked, FeedLevel):
        _both_ends(work, asked, _body(work.ask))
    if isinstance(work.strength, Purity):
        return arithmetic.premix_mass(level, food, work.strength)
    work.said.append("Of active substance a day: no product by weight was chosen.")
    return ActiveMass(level.m_as("mg/kg") * food.m_as("kg"), "mg")


def in_scoops(work: Work, one: Quantity) -> None:
    """Say what is measured out at one time in level scoops, where it is known what one holds."""
    if not work.ask.scoop:
        return
    if not isinstance(one, ProductMass | ProductVolume):
        raise Refusal("A scoop holds product.", "Choose the product, then its scoops are counted.")
    holds = product(*typed(work.ask.scoop, "15 g"))
    got = work.scooped = scooped(one, Scoop("scoop", holds))
    work.said.append(f"Measure {got}")
    work.warn = work.warn or got.caution


_PARTS: dict[type[Quantity], Callable[[Work], Quantity]] = {
    Concentration: _bath,
    VolumeConcentration: _bath_by_volume,
    FeedLevel: _in_feed,
    DailyDose: _in_feed,
    Dose: _by_weight,
    UnitDose: _by_weight,
    VolumeDose: _by_weight,
}


def _water(ask: Ask) -> Water:
    if not ask.volume:
        raise Refusal("The volume of the water is not known.", "Type it, for example 640 L.")
    return water(*typed(ask.volume, "640 L"))


def _body(ask: Ask) -> Body:
    if not ask.weight:
        raise Refusal("The weight of the fish is not known.", "Weigh it, or type 238 g.")
    return body(*typed(ask.weight, "238 g"))


def _judged(row: Medicine, real: Between[Any]) -> str:
    if row.dose_low is None:
        most = row.highest()
        over = real.high.m_as(most.unit) > most.m_as(most.unit) * (1 + 1e-9)
        said = "over" if over else "not over"
        return f"It may really be {real}; at most {most}: the high end is {said} it."
    return str(judge(real, row.lowest(), row.highest()))
