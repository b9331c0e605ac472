"""Some fish of one size, as typed or weighed, and what one of them is thought to weigh."""

from __future__ import annotations

import functools
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from core.catalogue import load
from core.errors import BadInput
from core.feeding.biomass import StockGroup
from core.fish.size import estimated_weight
from core.fish.species import Species, species_from
from core.numbers import figures, grouped, plain
from core.records.tables import FishGroup, Weighing
from core.units import KINDS, understand

EXAMPLE = "4 x 32 cm, 12 x 140 g, 10-14 x 1.2 kg"
MOST_FISH = 100_000_000
LENGTH_CM = (0.2, 600.0)
WEIGHT_G = (0.001, 1_000_000.0)


@functools.cache
def species() -> Mapping[str, Species]:
    """Return every species of the catalogue by key."""
    return species_from(load.table("species"))


@dataclass(frozen=True)
class Sized:
    """Some fish of one size as typed: how many, and either a weight or a length.

    Attributes
    ----------
    count : int or None
        None when it was given as a range, or not at all.
    low, high : int or None
        The range.
    weight_g, length_cm : float or None
        Of one fish; exactly one of them is there.
    error_percent : float or None
        Half of what repeated weighings lie apart, in percent of their mean.
    """

    count: int | None
    low: int | None
    high: int | None
    weight_g: float | None
    length_cm: float | None
    typed: str
    error_percent: float | None = None


_COUNTED = re.compile(
    r"(?:(\d+)\s*(?:(?:-|to|\N{EN DASH})\s*(\d+)\s*)?[x*\N{MULTIPLICATION SIGN}]\s*)?(.+)\Z",
    re.ASCII | re.IGNORECASE | re.DOTALL,
)
_NUMBER_FIRST = re.compile(r"[+-]?[\d.,]+\s*", re.ASCII)


def understand_sized(text: str) -> Sized:
    """Return what was typed for some fish of one size: a count, and a weight or a length.

    Raises
    ------
    BadInput
        When it can not be read, or is nothing a fish can be.
    """
    found = _COUNTED.match(text.strip())
    if not found:
        raise BadInput("This is not a count and a size.", f"Type for example {EXAMPLE}.")
    first, second, size = found.groups()
    low, high = _count(first), _count(second or first)
    if low is not None and high is not None and low > high:
        raise BadInput("The lower count comes first.", "Type for example 10-14 x 140 g.")
    weight, length = _size(size)
    return Sized(low if low == high else None, low, high, weight, length, text.strip())


def _count(text: str | None) -> int | None:
    if text is None:
        return None
    if len(text) > 9 or not 1 <= int(text) <= MOST_FISH:
        raise BadInput(f"{text[:12]} fish can not be.", f"Allowed 1 to {MOST_FISH} fish.")
    return int(text)


def _size(text: str) -> tuple[float | None, float | None]:
    unit = " ".join(_NUMBER_FIRST.sub("", text.lower(), count=1).split())
    if unit == "g" or unit in KINDS["mass"].spellings:
        return _held(text, "mass", *WEIGHT_G), None
    if unit == "cm" or unit in KINDS["length"].spellings:
        return None, _held(text, "length", *LENGTH_CM)
    raise BadInput("Say whether this is g or cm.", f"Type for example {EXAMPLE}.")


def _held(text: str, kind: str, low: float, high: float) -> float:
    typed = understand(text, kind)
    unit = KINDS[kind].canonical
    if typed.below or typed.above or not low <= typed.value <= high:
        raise BadInput(
            f"{text.strip()[:16]} can not be.",
            f"Allowed {plain(low)} to {plain(high)} {unit}, for example {EXAMPLE}.",
        )
    return typed.value


def net_of_fish(gross_g: Sequence[float], tare_g: float, in_net: int, stand_for: int) -> Sized:
    """Return the mean weight of fish weighed together, once or several times, less the tare.

    Parameters
    ----------
    gross_g : sequence of float
        Each weighing with the net or bucket, of as many fish each time.
    tare_g : float
        Net or bucket alone, wet.
    in_net : int
        Fish in it each time.
    stand_for : int
        How many fish of the group this mean stands for.

    Raises
    ------
    BadInput
        When a gross weight is not above the tare, or there are no fish.
    """
    if not gross_g or in_net < 1 or stand_for < 1:
        raise BadInput("A weighing needs a gross weight and at least one fish.")
    if min(gross_g) <= tare_g or tare_g < 0:
        raise BadInput(
            f"The gross weight, {plain(min(gross_g))} g, must be above the tare, {plain(tare_g)} g."
        )
    each = [(gross - tare_g) / in_net for gross in gross_g]
    mean = sum(each) / len(each)
    spread = 100 * (max(each) - min(each)) / 2 / mean if len(each) > 1 else None
    weighed = " and ".join(plain(gross) for gross in gross_g)
    typed = f"{weighed} g less {plain(tare_g)} g, {in_net} fish"
    return Sized(stand_for, stand_for, stand_for, mean, None, typed, spread)


@dataclass(frozen=True)
class StockLine:
    """Some fish of one size, ready to be added up.

    Attributes
    ----------
    group : FishGroup
        Whose fish they are.
    stock : StockGroup
        For `core.feeding.biomass`.
    length_cm : float or None
        Set when it was measured.
    how : str
        ``weighed``, ``from length`` or ``told``.
    note : str
        What one fish weighs, and how that is known.
    weighing : Weighing or None
        The row that keeps it; None while it is being typed.
    """

    group: FishGroup
    stock: StockGroup
    length_cm: float | None
    how: str
    note: str
    weighing: Weighing | None = None


def line_of(group: FishGroup, sized: Sized, alive: int | None) -> StockLine:
    """Return what was typed as a line of the stock.

    Parameters
    ----------
    alive : int or None
        Fish of the group in this water, taken when no count was typed.

    Raises
    ------
    BadInput
        When the count is not known, or the length gives no weight.
    """
    low, high = sized.low, sized.high
    if low is None or high is None:
        if alive is None:
            raise BadInput(f"How many {group.name}?", f"Type the count first: {EXAMPLE}.")
        low = high = alive
    if sized.weight_g is not None:
        how, weight = "weighed", sized.weight_g
    else:
        assert sized.length_cm is not None
        how, weight = "from length", length_weight_g(group, sized.length_cm)
    stock = StockGroup(
        low if low == high else None,
        weight,
        how == "weighed",
        low,
        high,
        sized.error_percent,
        group.name,
    )
    return StockLine(
        group, stock, sized.length_cm, how, note_of(group, stock, sized.length_cm, how)
    )


def length_weight_g(group: FishGroup, length_cm: float) -> float:
    """Return the weight in grams that a length gives for a group's species.

    Raises
    ------
    BadInput
        When no equation is kept, or the length lies outside the fish it was made from.
    """
    return estimated_weight(_kind(group), length_cm).weight_g


def _kind(group: FishGroup) -> Species:
    found = species().get(group.species)
    if found is None:
        raise BadInput(
            f"The species of {group.name} is not in the catalogue: weigh it.",
            "Type for example 12 x 140 g.",
        )
    return found


def note_of(group: FishGroup, stock: StockGroup, length_cm: float | None, how: str) -> str:
    """Return what one fish of a line weighs, and how that is known."""
    each = weight_words(stock.mean_weight_g)
    if how == "from length":
        assert length_cm is not None
        found = estimated_weight(_kind(group), length_cm)
        band = span_words(found.low_g, found.high_g)
        said = f"{each} each by length ({found.length_type}), {band}, estimated"
        return f"{said}. {found.note}".strip().rstrip(".") + "."
    spread = "" if stock.error_percent is None else f", ±{figures(stock.error_percent, 2)} %"
    return f"{each} each, {how}{spread}.{_by_length(group, length_cm)}"


def _by_length(group: FishGroup, length_cm: float | None) -> str:
    """Return what the length alone would have said, for a fish that was on the scale."""
    if length_cm is None:
        return ""
    try:
        guess = length_weight_g(group, length_cm)
    except BadInput:
        return ""
    return f" Its length, {plain(length_cm)} cm, would say {weight_words(guess)}."


def weight_words(grams: float) -> str:
    """Return a weight in words: ``186 g``, ``1,002 g``, ``14.59 kg``."""
    if grams >= 10_000:
        return f"{figures(grams / 1000, 4)} kg"
    return f"{grouped(round(grams))} g" if grams >= 100 else f"{figures(grams, 3)} g"


def span_words(low_g: float, high_g: float) -> str:
    """Return a range of weights in words: ``484 to 726 g``, ``11.67 to 17.51 kg``."""
    low, high = weight_words(low_g), weight_words(high_g)
    unit = high.split()[-1]
    return f"{low.removesuffix(' ' + unit)} to {high}"
