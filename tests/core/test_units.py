"""Every spelling that may be typed, against constants that do not come from our own code.

The international definitions (inch, pound, ounce, foot, US and imperial gallon, atmosphere,
conventional millimetre and inch of mercury) are from memory of Thompson and Taylor (2008),
Guide for the Use of the International System of Units, NIST Special Publication 811, annex B.
Degrees of hardness follow from their own definitions: a German degree is 10 mg CaO a litre, a
Clark degree a grain CaCO3 an imperial gallon, a French degree 10 mg CaCO3 a litre.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import UnitError
from core.units import KINDS, parse, show, understand

CACO3, CAO = 100.0869, 56.0774
GRAIN_MG, US_GALLON_L, IMPERIAL_GALLON_L = 64.79891, 3.785411784, 4.54609
GERMAN = 10 * CACO3 / CAO
HARDNESS = {
    "mg/l": 1,
    "ppm": 1,
    "mg/l caco3": 1,
    "ppm caco3": 1,
    "dh": GERMAN,
    "°dh": GERMAN,
    "meq/l": CACO3 / 2,
    "mval/l": CACO3 / 2,
    "gpg": GRAIN_MG / US_GALLON_L,
    "°f": 10,
    "fh": 10,
    "clark": GRAIN_MG / IMPERIAL_GALLON_L,
    "°e": GRAIN_MG / IMPERIAL_GALLON_L,
}
FACTORS: dict[str, dict[str, float]] = {
    "volume": {
        **dict.fromkeys(("l", "litre", "litres", "liter", "liters"), 1),
        "ml": 0.001,
        **dict.fromkeys(("m3", "m³"), 1000),
        **dict.fromkeys(("gal", "us gal", "gallon", "gallons"), US_GALLON_L),
        **dict.fromkeys(("imp gal", "uk gal"), IMPERIAL_GALLON_L),
        **dict.fromkeys(("ft3", "cu ft"), 0.3048**3 * 1000),
    },
    "mass": {
        **dict.fromkeys(("g", "gram", "grams"), 1),
        "mg": 0.001,
        "kg": 1000,
        **dict.fromkeys(("lb", "lbs"), 453.59237),
        "oz": 453.59237 / 16,
        "t": 1_000_000,
    },
    "length": {
        "cm": 1,
        "mm": 0.1,
        "m": 100,
        **dict.fromkeys(("in", "inch", "inches", '"'), 2.54),
        **dict.fromkeys(("ft", "feet", "'"), 30.48),
    },
    "hardness": {**HARDNESS, "dgh": GERMAN, "gh": GERMAN, "mmol/l": CACO3},
    "alkalinity": {**HARDNESS, "dkh": GERMAN, "kh": GERMAN},
    "salinity": dict.fromkeys(("psu", "ppt", "g/kg", "‰", "s"), 1),
    "concentration": {
        **dict.fromkeys(("mg/l", "mgl", "mg/litre", "mg/liter", "ppm"), 1),
        "g/l": 1000,
        **dict.fromkeys(("ug/l", "\u00b5g/l", "\u03bcg/l", "ppb"), 0.001),
    },
    "strength": {"mg/ml": 1, "g/l": 1, "g/ml": 1000, "mg/l": 0.001, "ug/ml": 0.001},
    "dose": {
        "mg/kg": 1,
        "g/kg": 1000,
        **dict.fromkeys(("ug/kg", "\u00b5g/kg"), 0.001),
        "mg/g": 1000,
    },
    "area": {"m2": 1, "m²": 1, **dict.fromkeys(("ft2", "sq ft"), 0.3048**2)},
    "pressure": {
        "kpa": 1,
        "hpa": 0.1,
        "mbar": 0.1,
        "bar": 100,
        "mmhg": 0.133322387415,
        "inhg": 3.386389,
        "atm": 101.325,
    },
    "conductivity": {
        "ms/cm": 1,
        **dict.fromkeys(("us/cm", "\u00b5s/cm", "\u03bcs/cm"), 0.001),
        "s/m": 10,
    },
    "flow": {
        "l/s": 1,
        "l/min": 1 / 60,
        "l/h": 1 / 3600,
        "m3/h": 1 / 3.6,
        "gpm": US_GALLON_L / 60,
        "gph": US_GALLON_L / 3600,
    },
    "plain": {},
    "percent": {"%": 1},
    "duration": {"min": 1, "minutes": 1, "s": 1 / 60, "h": 60},
}
CASES = [(kind, unit, factor) for kind, units in FACTORS.items() for unit, factor in units.items()]
ABOUT = 1e-4  # hardness is defined by rounded molar masses
TEMPERATURES = ("c", "°c", "deg c", "f", "°f", "deg f")


def test_every_spelling_of_every_kind_is_tried_here() -> None:
    tried = {kind: set(units) for kind, units in FACTORS.items()}
    tried["temperature"] = set(TEMPERATURES)
    assert {name: set(kind.spellings) for name, kind in KINDS.items()} == tried


@pytest.mark.parametrize(("kind", "unit", "factor"), CASES)
def test_a_spelling_means_one_unit(kind: str, unit: str, factor: float) -> None:
    wanted = pytest.approx(12.5 * factor, rel=ABOUT)
    for text in (
        f"12.5 {unit}",
        f"12,5{unit}",
        f" 12.5  {unit.upper() if unit.isascii() else unit} ",
    ):
        assert parse(text, kind) == wanted
    assert understand("12.5", kind, unit).value == wanted


@pytest.mark.parametrize(
    ("text", "celsius"),
    [("78 F", 25.5556), ("78°F", 25.5556), ("32 deg f", 0), ("-40 F", -40), ("-2 C", -2), ("0", 0)],
)
def test_a_temperature_has_an_offset(text: str, celsius: float) -> None:
    assert parse(text, "temperature") == pytest.approx(celsius, abs=1e-4)


@pytest.mark.parametrize("kind", KINDS)
def test_a_bare_number_is_the_canonical_unit(kind: str) -> None:
    assert parse("7,4", kind) == 7.4
    assert parse(f"7.4 {KINDS[kind].canonical}", kind) == 7.4


@pytest.mark.parametrize("kind", KINDS)
def test_the_example_of_a_kind_is_read(kind: str) -> None:
    assert parse(KINDS[kind].example, kind) > 0


@pytest.mark.parametrize(
    ("text", "below", "above", "value"),
    [("<0.05", True, False, 0.05), ("< 0,05", True, False, 0.05), (">4 mg/l", False, True, 4)],
)
def test_beyond_the_steps_of_a_kit(text: str, below: bool, above: bool, value: float) -> None:
    typed = understand(text, "concentration")
    assert (typed.below, typed.above, typed.value) == (below, above, value)
    assert typed.text == text
    with pytest.raises(UnitError, match="not one number"):
        parse(text, "concentration")


BAD = [
    "",
    "  ",
    "abc",
    "mg/l",
    "1,200",
    "1e5",
    "1_000",
    "٣",
    "5 ٣",
    "５",
    "nan",
    "inf",
    "1.2.3",
    "--5",
    "5 5",
    "5 furlongs",
    "5 [b]mg/l[/b]",
    "[red]5",
    "\x1b[31m5",
    "5 \x1b[31mmg/l\x1b[0m",
    "5\x00",
    "<<5",
    "<",
    "9" * 10_000,
    "5 " + "x" * 10_000,
    "x" * 10_000,
    "5 meter**3",
    "5 * 2",
    "5 degree_german",
]


@pytest.mark.parametrize("text", BAD, ids=lambda t: repr(t)[:14])
@pytest.mark.parametrize("kind", KINDS)
def test_is_refused_with_a_short_sentence_and_an_example(kind: str, text: str) -> None:
    with pytest.raises(UnitError) as refused:
        parse(text, kind)
    told = str(refused.value)
    assert len(told) < 160
    assert "Type " in told


WRONG_KIND = [
    ("5 kg", "volume"),
    ("5 L", "mass"),
    ("5 mg/kg", "strength"),
    ("5 mg/mL", "dose"),
    ("5 %", "dose"),
    ("5 ppm", "dose"),
    ("4 dKH", "hardness"),
    ("4 dGH", "alkalinity"),
    ("5 cm", "area"),
    ("78 F", "salinity"),
    ("5 mg/l", "plain"),
]


@pytest.mark.parametrize(("text", "kind"), WRONG_KIND)
def test_a_unit_of_the_wrong_kind_is_named(text: str, kind: str) -> None:
    with pytest.raises(UnitError, match="is not a unit for") as refused:
        parse(text, kind)
    assert text.split()[1] in refused.value.sentence


@given(st.sampled_from(sorted(KINDS)), st.floats(0.001, 1e6))
def test_a_typed_number_is_understood_exactly(kind: str, value: float) -> None:
    text = format(value, ".17f").rstrip("0")
    assert parse(text, kind) == float(text)


@given(st.sampled_from(CASES), st.floats(0.01, 1e5))
def test_converting_keeps_the_order_and_the_proportion(
    case: tuple[str, str, float], value: float
) -> None:
    kind, unit, _ = case
    one, two = parse(f"{value:.6f} {unit}", kind), parse(f"{2 * value:.6f} {unit}", kind)
    assert two == pytest.approx(2 * one, rel=1e-3)


@pytest.mark.parametrize(
    ("value", "kind", "locale", "text"),
    [
        (9360.0, "volume", "metric", "9 360 L"),
        (235.0, "volume", "metric", "235 L"),
        (1500.0, "mass", "metric", "1.5 kg"),
        (999.0, "mass", "metric", "999 g"),
        (25.0, "temperature", "us", "77.0 °F"),
        (1000 * US_GALLON_L, "volume", "us", "1 000 gal"),
        (453.59237, "mass", "us", "1.00 lb"),
        (7.4, "plain", "metric", "7.4"),
    ],
)
def test_is_shown_as_the_practice_reads_it(value: float, kind: str, locale: str, text: str) -> None:
    shown = show(value, kind, "us" if locale == "us" else "metric")
    assert " ".join(shown.split()) == text
