"""Strengths as labels say them: by volume, by weight, or by weight with the density of a liquid."""

from __future__ import annotations

import re
from collections.abc import Iterable

from core.dosing.arithmetic import AnyStrength, strength_of_liquid
from core.dosing.kinds import Strength
from core.dosing.medicines import Medicine
from core.dosing.quantities import density, strength
from core.numbers import plain
from core.practice.medicines import typed
from core.practice.slips import is_slip

_BY_VOLUME = re.compile(r"(\d+(?:\.\d+)?) mg/mL")
EXAMPLE = "100 mg/mL, 10 % w/w, or of a liquid 35 % w/w, 1.13 g/mL"


def understood(value: float, unit: str) -> AnyStrength:
    """Return a strength; a liquid sold by weight is reckoned by volume when its density is said.

    Raises
    ------
    BadInput
        For a unit that a strength or a density is not written in.

    Examples
    --------
    >>> str(understood(35.0, "% w/w, 1.132 g/mL"))
    '396.2 mg/mL'
    """
    by_weight, comma, heavy = unit.partition(",")
    if not comma:
        return strength(value, unit)
    return strength_of_liquid(
        strength(value, by_weight.strip()), density(*typed(heavy, "1.132 g/mL"))
    )


def far_off(row: Medicine, found: AnyStrength | None, listed: Iterable[AnyStrength]) -> str:
    """Say that a strength by volume is five times or more off all on record; "" when it is not.

    On record are the products of the shelf and the form of the row. A tenfold slip of the
    strength is a tenfold slip of the dose.
    """
    if not isinstance(found, Strength):
        return ""
    known = [one.m_as("mg/mL") for one in listed if isinstance(one, Strength)]
    known += [float(one) for one in _BY_VOLUME.findall(row.form)]
    typed_in = found.m_as("mg/mL")
    if not known or not (is_slip(typed_in, max(known)) or is_slip(min(known), typed_in)):
        return ""
    said = ", ".join(f"{plain(one)} mg/mL" for one in sorted(set(known)))
    return f"{found} is far from what is on record for {row.name}: {said}. Read the bottle again."
