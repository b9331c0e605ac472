"""The syringes of the catalogue, and the one that is usually taken for a volume."""

from __future__ import annotations

import functools

from core.catalogue import load
from core.dosing import syringe
from core.dosing.kinds import ProductVolume
from core.dosing.syringe import Syringe


@functools.cache
def syringes() -> tuple[Syringe, ...]:
    """Return the syringes of the catalogue."""
    return syringe.from_table(load.table("syringes"))


def usual_syringe(volume: ProductVolume) -> Syringe:
    """Return the smallest syringe marked in mL that holds a volume.

    Insulin syringes, marked in units of insulin, are taken only when they are asked for.
    """
    return syringe.choose.plain(volume, [s for s in syringes() if "insulin" not in s.name])
