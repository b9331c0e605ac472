"""The unit registry of dosing: base dimensions that say *what* is weighed, and nothing else.

In an ordinary registry mg/kg is a bare number, so that 10, 10 % and 10 mg/kg would all pass for a
dose. This one starts empty: percent and ppm do not exist in it, and a gram of active substance
is not a gram of fish. pint is loaded by the first sum, never by importing this package.
"""

from __future__ import annotations

import functools
from typing import Any

POUND_G = 453.59237
GALLON_L = 3.785411784
CUBIC_FOOT_L = 28.316846592
ACRE_FOOT_L = 43560 * CUBIC_FOOT_L
SHORT_TON_LB = 2000

_MASSES = ("active", "body", "food", "product")


def _definitions() -> list[str]:
    lines = ["micro- = 1e-6", "milli- = 1e-3", "centi- = 1e-2", "kilo- = 1e3"]
    for what in _MASSES:
        lines += [
            f"gram_{what} = [{what}]",
            f"pound_{what} = {POUND_G} * gram_{what}",
            f"hundredweight_{what} = 100 * pound_{what}",
            f"short_ton_{what} = {SHORT_TON_LB} * pound_{what}",
        ]
    return [
        *lines,
        "unit_active = [activity]",
        "litre_product = [product_volume]",
        f"gallon_product = {GALLON_L} * litre_product",
        "litre_water = [water]",
        f"gallon_water = {GALLON_L} * litre_water",
        f"cubic_foot_water = {CUBIC_FOOT_L} * litre_water",
        f"acre_foot_water = {ACRE_FOOT_L} * litre_water",
        "minute = [time]",
        "second = minute / 60",
        "hour = 60 * minute",
        "day = 24 * hour",
    ]


@functools.cache
def registry() -> Any:
    """Return the one registry of dosing, made at the first call.

    Returns
    -------
    pint.UnitRegistry
        With dimensions [active], [activity], [body], [food], [product], [product_volume],
        [water] and [time] only.
    """
    import pint

    made: Any = pint.UnitRegistry(None)
    for line in _definitions():
        made.define(line)
    return made
