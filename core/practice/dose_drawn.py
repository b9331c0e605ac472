"""What is drawn of a volume to inject: on which syringe, how near to it, diluted or as it is."""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.dosing import syringe as drawing
from core.dosing.arithmetic import AnyProduct, AnyStrength
from core.dosing.kinds import ProductVolume, Strength
from core.dosing.scoops import too_rough
from core.dosing.syringe import Dilution, Drawn, Syringe
from core.errors import Refusal
from core.numbers import plain
from core.practice.syringes import syringes, usual_syringe
from core.sourced import working

FINER = "Take a finer syringe or a weaker product."


@dataclass(frozen=True)
class Syringeful:
    """What is really in the syringe, to the mark, with what is said of it.

    Attributes
    ----------
    thinner : Dilution or None
        The dilution proposed for a volume under five marks, taken or not.
    warn : str
        Why it is not drawn exactly; "" when it is.
    """

    drawn: Drawn
    said: tuple[str, ...]
    thinner: Dilution | None = None
    warn: str = ""

    @property
    def amount(self) -> ProductVolume:
        """What is injected."""
        return ProductVolume(self.drawn.drawn_ml, "mL")


def drawn(
    volume: ProductVolume, of: AnyStrength | None, syringe: str = "", diluted: bool | None = None
) -> Syringeful:
    """Return what is drawn of a volume.

    Parameters
    ----------
    of : strength, optional
        Of the product; without one by volume nothing can be diluted.
    syringe : str
        Its name; the smallest marked in mL that holds the volume when empty.
    diluted : bool, optional
        Whether a volume under five marks is diluted as proposed; None while nobody said so.

    Raises
    ------
    Refusal
        When the syringe does not hold it or has no mark so small; while nobody said whether a
        volume under five marks is diluted.
    """
    with working():  # what was tried and not drawn is no part of the dose's own working
        return _drawn(volume, of, named(syringe) or usual_syringe(volume), diluted=diluted)


def _drawn(
    volume: ProductVolume, of: AnyStrength | None, tool: Syringe, *, diluted: bool | None
) -> Syringeful:
    as_it_is = drawing.draw(volume, tool)
    if not as_it_is.too_small:
        return _said(as_it_is, ())
    few = f"{volume} is only {as_it_is.graduations:.1f} marks of the {tool.name}."
    if not isinstance(of, Strength):
        return _said(as_it_is, (few,), warn=few)
    thinner = drawing.propose_dilution(volume, of, tool)
    assert thinner is not None
    if diluted:
        return _said(thinner.drawn, (f"{few} {mixed(thinner, of)}",), thinner)
    if diluted is None:
        offered = f"{few} {mixed(thinner, of)} Then draw {thinner.drawn}. {finer(volume)}"
        raise Refusal(offered.strip(), "Say how it is drawn: diluted, or as it is.")
    return _said(as_it_is, (few,), thinner, few)


def _said(
    got: Drawn, first: tuple[str, ...], thinner: Dilution | None = None, warn: str = ""
) -> Syringeful:
    if got.drawn_ml <= 0:
        raise Refusal(f"{got.wanted} is under half a mark of the {got.syringe.name}.", FINER)
    rough = too_rough(got.error_percent)
    said = (*first, f"Draw {got}.", *filter(None, (rough,)))
    return Syringeful(got, said, thinner, warn or rough)


def mixed(thinner: Dilution, of: Strength) -> str:
    """Return how a dilution is made: so much product and so much diluent, on the same syringe."""
    step, parts = thinner.drawn.syringe.graduation_ml, thinner.factor
    enough = math.ceil(round(thinner.drawn.drawn_ml / parts / step, 6))
    stock = max(enough, round(drawing.WANTED_GRADUATIONS)) * step
    product_ml, diluent_ml, made_ml = (
        plain(round(stock * many, 6)) for many in (1, parts - 1, parts)
    )
    return (
        f"Dilute 1 in {parts}: {product_ml} mL of the {of} with {diluent_ml} mL of diluent "
        f"make {made_ml} mL of {thinner.strength}."
    )


def finer(volume: AnyProduct) -> str:
    """Return what another syringe at hand draws without a dilution; "" when none does."""
    fits = (s for s in syringes() if s.capacity_ml >= volume.m_as("mL"))
    enough = (d for d in (drawing.draw.plain(volume, s) for s in fits) if not d.too_small)
    return next((f"Or undiluted: {d}." for d in enough), "")


def named(name: str) -> Syringe | None:
    """Return a syringe by its name; None without one."""
    return next((s for s in syringes() if s.name == name), None)
