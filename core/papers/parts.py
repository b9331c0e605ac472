"""What every paper shares: who prints it, who it is for, and how money and dates are written.

Times come in as aware datetimes that the caller has already turned into the practice's own
zone: their date and wall time are printed as they stand. Money is integer minor units.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Literal

from core.errors import BadInput

PaperSize = Literal["A4", "Letter"]

# Own names, since strftime follows the locale of the process and the bytes must not.
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


@dataclass(frozen=True)
class Practice:
    """The practice, as its letterhead names it.

    Parameters
    ----------
    name, phone, email : str
        As printed; an empty email is left out.
    address : tuple of str
        Address lines from the street down.
    registration : str
        Tax or licence number that law or habit asks for; may be empty.
    lang : str
        BCP 47 tag of the language of the papers, written into the document.
    """

    name: str
    address: tuple[str, ...]
    phone: str
    email: str = ""
    registration: str = ""
    lang: str = "en"


@dataclass(frozen=True)
class Party:
    """A client, with the address lines from the street down."""

    name: str
    address: tuple[str, ...] = ()
    phone: str = ""
    email: str = ""


@dataclass(frozen=True)
class Currency:
    """A currency and how its amounts are written.

    Parameters
    ----------
    code : str
        ISO 4217 code.
    sign : str
        Sign set before the amount; when empty the code follows the amount.
    exponent : int
        Decimal places of the minor unit: 2 for most, 0 or 3 for some.
    point : str
        The decimal mark.
    """

    code: str
    sign: str = ""
    exponent: int = 2
    point: str = "."

    def bare(self, minor: int) -> str:
        """Write minor units as a figure without its currency.

        Thousands are set apart by a no-break space from five digits up.

        Examples
        --------
        >>> Currency("EUR").bare(30924), Currency("JPY", exponent=0).bare(-500)
        ('309.24', '-500')
        """
        digits = str(abs(minor)).rjust(self.exponent + 1, "0")
        cut = len(digits) - self.exponent
        whole, cents = digits[:cut], digits[cut:]
        if len(whole) > 4:
            whole = f"{int(whole):,}".replace(",", "\u00a0")
        return ("-" if minor < 0 else "") + whole + (self.point + cents if cents else "")

    def show(self, minor: int) -> str:
        """Write minor units with the sign or the code of the currency.

        Examples
        --------
        >>> Currency("GBP", "£").show(30924), Currency("EUR").show(30924)
        ('£309.24', '309.24 EUR')
        """
        figure = self.bare(abs(minor))
        minus = "-" if minor < 0 else ""
        return f"{minus}{self.sign}{figure}" if self.sign else f"{minus}{figure} {self.code}"


def amount(value: Decimal) -> str:
    """Write a quantity as shortly as it can be: no exponent, no trailing zeros.

    Examples
    --------
    >>> amount(Decimal("2.50")), amount(Decimal(100))
    ('2.5', '100')
    """
    return format(value.normalize(), "f")


def day(when: date) -> str:
    """Write a date so that it reads one way in every country.

    Examples
    --------
    >>> day(date(2025, 11, 25))
    'Tue 25 Nov 2025'
    """
    return f"{_WEEKDAYS[when.weekday()]} {when.day} {_MONTHS[when.month - 1]} {when.year}"


def moment(when: datetime) -> str:
    """Write an aware moment with its wall time and its distance from UTC.

    Raises
    ------
    BadInput
        For a time without a zone.

    Examples
    --------
    >>> from datetime import UTC
    >>> moment(datetime(2025, 11, 25, 16, 40, tzinfo=UTC))
    'Tue 25 Nov 2025 16:40 (UTC+00:00)'
    """
    offset = aware(when).isoformat()[-6:]
    return f"{day(when)} {when.hour:02}:{when.minute:02} (UTC{offset})"


def aware(when: datetime) -> datetime:
    """Return the moment when it has a zone.

    Raises
    ------
    BadInput
        For a time without a zone: the same paper would mean another moment elsewhere.
    """
    if when.utcoffset() is None:
        raise BadInput("This time has no zone.", "Give it with its zone, for example UTC.")
    return when.replace(microsecond=0)
