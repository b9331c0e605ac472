"""The short lists of answers that describe a practice, asked at its start and later."""

from __future__ import annotations

from tui.widgets.field import Choice

ROLES = (
    Choice("v", "veterinarian", "veterinarian"),
    Choice("t", "technician", "technician"),
    Choice("r", "reception", "reception"),
    Choice("o", "read only", "read only"),
)
UNITS = (Choice("m", "metric", "metric: L, cm, °C"), Choice("u", "us", "US: gal, in, °F"))
PAPERS = (Choice("a", "A4", "A4"), Choice("l", "Letter", "US Letter"))
ROUNDING = (Choice("o", "once", "once an invoice"), Choice("l", "line", "line by line"))
DAYS = (
    Choice("e", "1234567", "every day"),
    Choice("s", "123456", "Monday to Saturday"),
    Choice("f", "12345", "Monday to Friday"),
)
YES_NO = (Choice("y", "yes", "yes"), Choice("n", "no", "no"))


def label(choices: tuple[Choice, ...], value: str) -> str:
    """Return what a value is called."""
    return next((c.label for c in choices if c.value == value), value)
