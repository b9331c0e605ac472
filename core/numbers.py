"""The only road between text and number: a comma or a point, and nothing that reads two ways."""

from __future__ import annotations

import re
from decimal import Decimal
from math import floor, isinf, log10

from core.errors import BadInput

_PLAIN = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)\Z", re.ASCII)
_TWO_WAYS = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}\Z", re.ASCII)


def decimal(text: str) -> Decimal:
    """Read a number typed by a person, exactly.

    Parameters
    ----------
    text : str
        Digits with at most one comma or point, for example ``7,4`` or ``.5``.

    Raises
    ------
    BadInput
        For anything else, and for ``1,200``, which reads as 1.2 in one country and as
        1200 in another.

    Examples
    --------
    >>> decimal("7,4")
    Decimal('7.4')
    """
    bare = text.strip()
    if not _PLAIN.match(bare):
        raise BadInput("This is not a plain number.", "Type digits with one point or comma.")
    if _TWO_WAYS.match(bare):
        whole = bare.replace(",", "")
        raise BadInput(
            f"{bare} can be read two ways.", f"Type {whole} or {bare.replace(',', '.')}."
        )
    return Decimal(bare.replace(",", "."))


def number(text: str) -> float:
    """Read a number typed by a person as a float; see `decimal`.

    Raises
    ------
    BadInput
        As `decimal` does, and for a number too large to be any quantity.
    """
    value = float(decimal(text))
    if isinf(value):
        raise BadInput("This number is too large.", "Type fewer digits.")
    return value


def figures(value: float, significant: int = 3) -> str:
    """Show a value with so many significant figures, never in powers of ten.

    Examples
    --------
    >>> figures(0.0123456), figures(9360.0), figures(0.0)
    ('0.0123', '9360', '0')
    """
    if value == 0:
        return "0"
    places = significant - 1 - floor(log10(abs(value)))
    rounded = round(value, places)
    places = significant - 1 - floor(log10(abs(rounded)))  # 9.996 has become 10.0
    return f"{rounded:.{max(0, places)}f}"


def plain(value: float) -> str:
    """Show a value as shortly as it can be typed again: no exponent, no trailing zeros.

    Examples
    --------
    >>> plain(26.0), plain(0.05), plain(18000.0)
    ('26', '0.05', '18000')
    """
    return format(Decimal(repr(value)).normalize(), "f")


def grouped(value: float, decimals: int = 0) -> str:
    """Show a large figure with thin gaps between thousands, as in ``18 000``."""
    return f"{value:,.{decimals}f}".replace(",", " ")
