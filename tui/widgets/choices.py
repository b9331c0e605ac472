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
LABELS = (
    Choice("a", "90 x 50 mm", "90 x 50 mm, plain paper to cut"),
    Choice("b", "99.1 x 57 mm", "99.1 x 57 mm, A4 of ten"),
    Choice("c", "99.1 x 67.7 mm", "99.1 x 67.7 mm, A4 of eight"),
    Choice("d", "63.5 x 46.6 mm", "63.5 x 46.6 mm, A4 of eighteen"),
    Choice("e", "4 x 2 in", "4 x 2 in, US Letter of ten"),
    Choice("f", "4 x 3 1/3 in", "4 x 3 1/3 in, US Letter of six"),
    Choice("g", "100 x 62 mm", "100 x 62 mm, on a roll"),
)
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
