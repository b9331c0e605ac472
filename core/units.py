"""Units at the edge: "1200 gal" to litres once, and litres back to what a practice reads.

People type into a closed list of spellings; nobody's text ever reaches pint, which reads
``1 ppt`` as a picopint. A bare number or the canonical unit needs no pint at all; the other
units are converted by pint, which is loaded on first use or by `warm`.
"""

from __future__ import annotations

import functools
import re
from dataclasses import dataclass
from typing import Any, Literal

from core.errors import BadInput, UnitError
from core.numbers import grouped, number, plain

Locale = Literal["metric", "us"]


@dataclass(frozen=True)
class Kind:
    """One kind of quantity: what it is kept in, and every spelling people may type."""

    name: str
    canonical: str
    """The unit the record keeps, as it is shown."""
    spellings: dict[str, str]
    """What is typed, in small letters, to a unit that pint knows; "" is the canonical one."""
    example: str


_PER_LITRE = {
    "mg/l": "",
    "mgl": "",
    "mg/litre": "",
    "mg/liter": "",
    "ppm": "",
    "g/l": "gram/liter",
    "ug/l": "microgram/liter",
    "µg/l": "microgram/liter",
    "μg/l": "microgram/liter",
    "ppb": "microgram/liter",
}
_AS_CALCIUM_CARBONATE = {
    "mg/l": "",
    "ppm": "",
    "mg/l caco3": "",
    "ppm caco3": "",
    "dh": "degree_german",
    "°dh": "degree_german",
    "meq/l": "meq_as_caco3",
    "mval/l": "meq_as_caco3",
    "gpg": "grain_us_gallon",
    "°f": "degree_french",
    "fh": "degree_french",
    "clark": "degree_clark",
    "°e": "degree_clark",
}

KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind(
            "volume",
            "L",
            {
                "l": "",
                "litre": "",
                "litres": "",
                "liter": "",
                "liters": "",
                "ml": "milliliter",
                "m3": "meter**3",
                "m³": "meter**3",
                "gal": "gallon",
                "us gal": "gallon",
                "gallon": "gallon",
                "gallons": "gallon",
                "imp gal": "imperial_gallon",
                "uk gal": "imperial_gallon",
                "ft3": "foot**3",
                "cu ft": "foot**3",
            },
            "1200 gal",
        ),
        Kind(
            "mass",
            "g",
            {
                "g": "",
                "gram": "",
                "grams": "",
                "mg": "milligram",
                "kg": "kilogram",
                "lb": "pound",
                "lbs": "pound",
                "oz": "ounce",
                "t": "metric_ton",
            },
            "1.2 kg",
        ),
        Kind(
            "length",
            "cm",
            {
                "cm": "",
                "mm": "millimeter",
                "m": "meter",
                "in": "inch",
                "inch": "inch",
                "inches": "inch",
                '"': "inch",
                "ft": "foot",
                "feet": "foot",
                "'": "foot",
            },
            "38 cm",
        ),
        Kind(
            "temperature",
            "°C",
            {
                "c": "",
                "°c": "",
                "deg c": "",
                "f": "degF",
                "°f": "degF",
                "deg f": "degF",
            },
            "78 F",
        ),
        Kind(
            "hardness",
            "mg/L CaCO3",
            {
                **_AS_CALCIUM_CARBONATE,
                "dgh": "degree_german",
                "gh": "degree_german",
                "mmol/l": "mmol_as_caco3",
            },
            "8 dGH",
        ),
        Kind(
            "alkalinity",
            "mg/L CaCO3",
            {**_AS_CALCIUM_CARBONATE, "dkh": "degree_german", "kh": "degree_german"},
            "4 dKH",
        ),
        Kind(
            "salinity",
            "",
            {"psu": "", "ppt": "", "g/kg": "", "‰": "", "s": ""},
            "35",
        ),
        Kind("concentration", "mg/L", _PER_LITRE, "0.25"),
        Kind(
            "strength",
            "mg/mL",
            {
                "mg/ml": "",
                "g/l": "gram/liter",
                "g/ml": "gram/milliliter",
                "mg/l": "milligram/liter",
                "ug/ml": "microgram/milliliter",
            },
            "100 mg/mL",
        ),
        Kind(
            "dose",
            "mg/kg",
            {
                "mg/kg": "",
                "g/kg": "gram/kilogram",
                "ug/kg": "microgram/kilogram",
                "µg/kg": "microgram/kilogram",
                "mg/g": "milligram/gram",
            },
            "10 mg/kg",
        ),
        Kind("area", "m²", {"m2": "", "m²": "", "ft2": "foot**2", "sq ft": "foot**2"}, "20 m2"),
        Kind(
            "pressure",
            "kPa",
            {
                "kpa": "",
                "hpa": "hectopascal",
                "mbar": "millibar",
                "bar": "bar",
                "mmhg": "mmHg",
                "inhg": "inHg",
                "atm": "atm",
            },
            "1013 hPa",
        ),
        Kind(
            "conductivity",
            "mS/cm",
            {
                "ms/cm": "",
                "us/cm": "microsiemens/centimeter",
                "µs/cm": "microsiemens/centimeter",
                "μs/cm": "microsiemens/centimeter",
                "s/m": "siemens/meter",
            },
            "53 mS/cm",
        ),
        Kind(
            "flow",
            "L/s",
            {
                "l/s": "",
                "l/min": "liter/minute",
                "l/h": "liter/hour",
                "m3/h": "meter**3/hour",
                "gpm": "gallon/minute",
                "gph": "gallon/hour",
            },
            "18 L/s",
        ),
        Kind("plain", "", {}, "7.4"),
        Kind("percent", "%", {"%": ""}, "5 %"),
        Kind("duration", "min", {"min": "", "minutes": "", "s": "second", "h": "hour"}, "30 min"),
    )
}
"""Every kind of quantity that may be typed."""

_TYPED = re.compile(r"([<>]?)\s*([+-]?[\d.,]+)\s*(.*)\Z", re.DOTALL | re.ASCII)
_UNDEFINED_IN_PINT = (
    "degree_german = 17.848 milligram/liter",
    "degree_french = 10 milligram/liter",
    "degree_clark = 14.254 milligram/liter",
    "grain_us_gallon = 17.118 milligram/liter",
    "meq_as_caco3 = 50.043 milligram/liter",
    "mmol_as_caco3 = 100.087 milligram/liter",
)
_CANONICAL_IN_PINT = {
    "volume": "liter",
    "mass": "gram",
    "length": "centimeter",
    "temperature": "degC",
    "hardness": "milligram/liter",
    "alkalinity": "milligram/liter",
    "concentration": "milligram/liter",
    "strength": "milligram/milliliter",
    "dose": "milligram/kilogram",
    "area": "meter**2",
    "pressure": "kilopascal",
    "conductivity": "millisiemens/centimeter",
    "flow": "liter/second",
    "duration": "minute",
}


@dataclass(frozen=True)
class Typed:
    """What a person typed and what it was understood as."""

    text: str
    value: float
    """In the canonical unit of its kind."""
    unit: str
    """The unit as typed, "" when none was."""
    below: bool = False
    """True for ``<0.25``: under the lowest step of the kit; `value` is that step."""
    above: bool = False
    """True for ``>4``: over the highest step of the kit; `value` is that step."""


@functools.cache
def _registry() -> Any:
    import pint

    registry: Any = pint.UnitRegistry()
    for line in _UNDEFINED_IN_PINT:
        registry.define(line)
    return registry


def warm() -> None:
    """Load pint and its registry, so that the first typed unit does not wait for it."""
    _registry()


@functools.cache
def _pint_unit(name: str) -> Any:
    return _registry().Unit(name)


def _convert(value: float, unit: str, kind: str) -> float:
    registry = _registry()
    there = _pint_unit(_CANONICAL_IN_PINT[kind])
    return float(registry.Quantity(value, _pint_unit(unit)).m_as(there))


def understand(text: str, kind: str, unit: str = "") -> Typed:
    """Read what was typed, with ``<`` or ``>`` for readings beyond the steps of a kit.

    Parameters
    ----------
    text : str
        For example ``<0.05``, ``4 dKH``, ``78 F`` or ``7,4``.
    kind : str
        A key of `KINDS`.
    unit : str
        The unit meant when only a number is typed; "" for the canonical one.

    Raises
    ------
    UnitError
        When the number or the unit can not be read; the sentence says what can.
    """
    known = KINDS[kind]
    found = _TYPED.match(text.strip())
    if not found:
        raise UnitError("This is not a number.", f"Type for example {known.example}.")
    mark, digits, said = found.groups()
    try:
        value = number(digits)
    except BadInput as error:
        raise UnitError(error.sentence, error.todo) from None
    spelled = " ".join((said or unit).lower().split())
    if spelled == known.canonical.lower():
        spelled = ""
    if spelled and spelled not in known.spellings:
        raise UnitError(
            f"{_short(said)} is not a unit for {_named(kind)}.",
            f"Type for example {known.example}.",
        )
    inside = known.spellings.get(spelled, "")
    canonical = _convert(value, inside, kind) if inside else value
    return Typed(text.strip(), canonical, said.strip(), mark == "<", mark == ">")


def _short(said: str) -> str:
    return said if len(said) <= 12 else said[:12] + "…"


def _named(kind: str) -> str:
    return "a plain number" if kind == "plain" else f"a {kind}"


def parse(text: str, kind: str) -> float:
    """Return what was typed in the canonical unit of its kind.

    Parameters
    ----------
    text : str
        A number with or without one of the kind's units.
    kind : str
        ``volume`` (L), ``mass`` (g), ``length`` (cm), ``temperature`` (°C), ``hardness`` and
        ``alkalinity`` (mg/L as CaCO3), ``salinity`` (practical), ``concentration`` (mg/L),
        ``strength`` (mg/mL), ``dose`` (mg/kg), ``area`` (m²), ``pressure`` (kPa),
        ``conductivity`` (mS/cm), ``flow`` (L/s), ``duration`` (min), ``percent``, ``plain``.

    Raises
    ------
    UnitError
        With a sentence for a person; also for ``<`` and ``>``, which are no one number.

    Examples
    --------
    >>> parse("7,4", "plain"), parse("4 dKH", "alkalinity")
    (7.4, 71.392)
    """
    typed = understand(text, kind)
    if typed.below or typed.above:
        raise UnitError("A sign < or > is not one number.", f"Type {KINDS[kind].example}.")
    return typed.value


def show(value: float, kind: str, locale: Locale = "metric") -> str:
    """Show a canonical value as this practice likes to read it, with its unit.

    Examples
    --------
    >>> show(9360.0, "volume"), show(1500.0, "mass")
    ('9 360 L', '1.5 kg')
    """
    if kind == "mass" and abs(value) >= 1000 and locale == "metric":
        return f"{plain(round(value / 1000, 3))} kg"
    if locale == "us" and kind in _US:
        times, plus, label, decimals = _US[kind]
        return f"{grouped(value * times + plus, decimals)} {label}"
    text = grouped(value) if abs(value) >= 1000 else plain(round(value, 4))
    return f"{text} {KINDS[kind].canonical}".rstrip()


_US = {
    "volume": (1 / 3.785411784, 0.0, "gal", 0),
    "temperature": (1.8, 32.0, "°F", 1),
    "length": (1 / 2.54, 0.0, "in", 1),
    "mass": (1 / 453.59237, 0.0, "lb", 2),
}
"""Times and plus from the canonical unit, exact by definition: pint would delay the first paint."""
