"""Money: whole minor units, shown and read without a float on the way."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from core.errors import BadInput
from core.numbers import decimal


def half_up(amount: Decimal) -> int:
    """Round to a whole minor unit, a half away from zero.

    Examples
    --------
    >>> half_up(Decimal("0.5")), half_up(Decimal("-0.5")), half_up(Decimal("0.49"))
    (1, -1, 0)
    """
    return int(amount.quantize(Decimal(1), rounding=ROUND_HALF_UP))


def money(minor: int, currency: str = "", exponent: int = 2) -> str:
    """Show an amount, thousands apart, with its currency behind it.

    Parameters
    ----------
    minor : int
        Amount in minor units (cents).
    currency : str
        Code or sign as the practice writes it; empty for the bare figure.
    exponent : int
        Digits of the minor unit: 2 for most, 0 or 3 for some.

    Examples
    --------
    >>> money(326201, "EUR"), money(-5), money(1500, "JPY", 0)
    ('3 262.01 EUR', '-0.05', '1 500 JPY')
    """
    sign = "-" if minor < 0 else ""
    whole, part = divmod(abs(minor), 10**exponent)
    digits = f"{sign}{whole:,}".replace(",", " ")
    if exponent:
        digits += f".{part:0{exponent}d}"
    return f"{digits} {currency}".rstrip()


def read_money(text: str, exponent: int = 2) -> int:
    """Read an amount typed by a person into minor units.

    Raises
    ------
    BadInput
        For what is no plain number, and for more decimals than the currency has.

    Examples
    --------
    >>> read_money("1,5"), read_money("60")
    (150, 6000)
    """
    minor = decimal(text).scaleb(exponent)
    if minor != minor.to_integral_value():
        raise BadInput(
            f"{text.strip()} has more decimals than this currency.",
            f"Type at most {exponent} behind the point, for example {money(15025, '', exponent)}.",
        )
    return int(minor)
