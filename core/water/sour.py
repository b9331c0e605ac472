"""The trap of sour water: ammonia that is harmless only as long as the pH stays low."""

from __future__ import annotations

from collections.abc import Iterator

from core.errors import OutOfRange
from core.numbers import figures, plain
from core.water.ammonia import unionised_ammonia_mg_l
from core.water.derived import salinity_of
from core.water.exchange import concentration_after
from core.water.situation import FirstStep, Situation, step

SMALL_CHANGE = 0.15
"""Share a day where a jump in pH must be kept out (common practice, no source)."""

TRAP_PH = 7.0
"""Under it ammonia is nearly all harmless, and a rise in pH wakes it."""

WHAT_IF_PH = (7.2, 7.6)
STOP_PH = 6.5
DAYS_SHOWN = 4


def is_trap(here: Situation) -> bool:
    """Say whether a rise in pH would make the ammonia of this sour water toxic."""
    ph, tan, warm = here.readings.ph, here.readings.tan_mg_l, here.readings.temperature_c
    limit = here.kind.limits.get("toxic_ammonia")
    if ph is None or tan is None or warm is None or ph >= TRAP_PH:
        return False
    if limit is None or limit.high is None or here.broken("ammonia") is None:
        return False
    toxic = _toxic_at(here, WHAT_IF_PH[-1])
    # Where no formula holds, the cautious answer is that a rise in pH would harm.
    return toxic is None or toxic > limit.high


def _toxic_at(here: Situation, ph: float) -> float | None:
    got = here.readings
    tan, warm = got.tan_mg_l or 0.0, got.temperature_c or 0.0
    try:
        return unionised_ammonia_mg_l(tan, warm, ph, salinity_of(got, here.kind) or 0.0)
    except OutOfRange:
        return None


def trap(here: Situation) -> Iterator[FirstStep]:
    """Give the two lines of the trap: leave the pH alone, and change little by little."""
    verdict = here.verdicts["ammonia"]
    now = here.found.toxic_ammonia
    told = [
        f"the toxic part is {figures(now.value, 2)} mg/L now" if now.value is not None else "",
        _what_if(here),
    ]
    yield step(
        verdict,
        "Do NOT raise the pH",
        "; ".join(part for part in told if part),
    )
    yield step(
        verdict,
        f"Change {round(100 * SMALL_CHANGE)} % a day, not more",
        f"{_days(here)}; stop if the pH is over {plain(STOP_PH)} while the total is over its limit",
        100 * SMALL_CHANGE,
        "% a day",
    )


def _what_if(here: Situation) -> str:
    found = [(ph, _toxic_at(here, ph)) for ph in WHAT_IF_PH]
    parts = [f"{figures(toxic, 2)} at pH {plain(ph)}" for ph, toxic in found if toxic is not None]
    return f"this ammonia would be {', '.join(parts)}" if parts else ""


def _days(here: Situation) -> str:
    tan, alkalinity = here.readings.tan_mg_l or 0.0, here.readings.alkalinity_mg_l
    text = "total ammonia day by day " + _series(tan, here.tap.tan_mg_l or 0.0, 3)
    if alkalinity is not None and here.tap.alkalinity_mg_l is not None:
        text += "; alkalinity " + _series(alkalinity, here.tap.alkalinity_mg_l, 2)
    return text


def _series(start: float, incoming: float, digits: int) -> str:
    days = range(1, DAYS_SHOWN + 1)
    return ", ".join(
        figures(concentration_after(start, incoming, SMALL_CHANGE, day), digits) for day in days
    )
