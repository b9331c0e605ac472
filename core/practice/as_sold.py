"""Doses in uL/L, which count a product as it is sold, at the strength that its source names."""

from __future__ import annotations

import re

from core.dosing.arithmetic import AnyStrength
from core.dosing.kinds import Purity, Strength
from core.dosing.medicines import Medicine
from core.errors import Refusal
from core.numbers import plain

UNIT = "uL/L"
NEAR = 0.1
"""What is sold as 37 % by weight is sold as 40 % by volume too (common practice, no source)."""
_PERCENT = re.compile(r"(\d+(?:\.\d+)?)\s*%")


def words(row: Medicine) -> str:
    """Return what a dose by volume counts, for example *formalin as sold, 37 %*; "" for others."""
    percent = _named(row)
    return f"{row.name} as sold, {plain(percent)} %" if percent is not None else ""


def must_be_as_sold(row: Medicine, strength: AnyStrength | None) -> None:
    """Refuse a product of another strength: its volume would hold another dose.

    Raises
    ------
    Refusal
        When its strength is known and is not that of the row.
    """
    percent = _named(row)
    if percent is None or strength is None:
        return
    found = strength.m_as("% w/w") if isinstance(strength, Purity) else None
    found = strength.m_as("% w/v") if isinstance(strength, Strength) else found
    if found is None or not percent * (1 - NEAR) <= found <= percent * (1 + NEAR):
        raise Refusal(
            f"The dose counts {words(row)}; {strength} is another strength, and the same volume "
            "of it another dose.",
            f"Take one of {plain(percent)} %.",
        )


def _named(row: Medicine) -> float | None:
    found = _PERCENT.search(row.form) if row.unit == UNIT else None
    return float(found[1]) if found else None
