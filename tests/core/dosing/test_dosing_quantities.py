"""The door: what each kind is written in, and that nothing else comes through it."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from decimal import Decimal
from itertools import product as pairs
from math import inf, nan
from typing import Any

import pytest

from core.dosing import kinds, quantities
from core.dosing.quantities import (
    active,
    between,
    body,
    concentration,
    density,
    dose,
    feed_level,
    flow,
    food,
    give_or_take,
    minutes,
    purity,
    ration,
    strength,
    water,
)
from core.dosing.quantity import Between, Quantity, WrongKind, expect, made
from core.errors import BadInput, UnitError

DOORS: dict[Callable[..., Quantity], dict[str, type[Quantity]]] = {
    dose: {
        "mg/kg": kinds.Dose,
        "ug/kg": kinds.Dose,
        "g/100 lb": kinds.Dose,
        "mg/kg/day": kinds.DailyDose,
        "ug/kg/day": kinds.DailyDose,
        "g/100 lb/day": kinds.DailyDose,
        "IU/kg": kinds.UnitDose,
        "IU/lb": kinds.UnitDose,
        "mL/kg": kinds.VolumeDose,
    },
    strength: {
        "mg/mL": kinds.Strength,
        "g/L": kinds.Strength,
        "ug/mL": kinds.Strength,
        "% w/v": kinds.Strength,
        "g/gal": kinds.Strength,
        "IU/mL": kinds.UnitStrength,
        "% w/w": kinds.Purity,
        "mg/g": kinds.Purity,
        "g/kg": kinds.Purity,
    },
    purity: {u: kinds.Purity for u in ("%", "% w/w", "mg/g", "g/kg")},
    density: {u: kinds.Density for u in ("g/mL", "kg/L")},
    concentration: {
        "mg/L": kinds.Concentration,
        "g/L": kinds.Concentration,
        "ug/L": kinds.Concentration,
        "uL/L": kinds.VolumeConcentration,
    },
    body: {u: kinds.Body for u in ("kg", "g", "lb", "mg")},
    water: {u: kinds.Water for u in ("L", "mL", "m3", "gal", "ft3", "acre-ft")},
    flow: {u: kinds.Flow for u in ("L/min", "L/s", "L/h", "m3/h", "gal/min")},
    minutes: {u: kinds.Minutes for u in ("min", "h", "s")},
    ration: {u: kinds.Ration for u in ("%", "g/kg")},
    feed_level: {u: kinds.FeedLevel for u in ("mg/kg", "g/kg", "g/lb", "g/100 lb", "g/ton")},
    food: {u: kinds.Food for u in ("g", "kg", "lb", "mg")},
    active: {
        **{u: kinds.ActiveMass for u in ("mg", "g", "kg", "ug", "lb")},
        "IU": kinds.ActiveUnits,
    },
    quantities.product: {
        **{u: kinds.ProductMass for u in ("mg", "g", "kg", "ug", "lb")},
        **{u: kinds.ProductVolume for u in ("mL", "L", "uL", "gal")},
    },
}
NEVER = ("", "ppm", "ppb", "mL/L", "mg", "percent", "%w", "mg/kilo", "1", "kg/mg", "MG/KG", "cc")


def test_each_door_takes_exactly_its_units(capsys: pytest.CaptureFixture[str]) -> None:
    words = {unit for units in DOORS.values() for unit in units} | set(NEVER)
    tried = 0
    for (door, listed), unit in pairs(DOORS.items(), sorted(words)):
        tried += 1
        if unit in listed:
            assert type(door(1, unit)) is listed[unit], (door, unit)
        else:
            with pytest.raises(UnitError):
                door(1, unit)
    with capsys.disabled():
        print(f"\nDoors of dosing: {tried} pairs of function and unit tried")
    assert tried == len(DOORS) * len(words) > 500


@pytest.mark.parametrize("door", DOORS, ids=lambda door: door.__name__)
@pytest.mark.parametrize(
    "value", [nan, inf, -inf, 0, -1, 0.0, True, None, "10", "10 mg/kg", Decimal("NaN"), [1], 1j]
)
def test_no_number_that_can_not_be(door: Callable[..., Quantity], value: Any) -> None:
    with pytest.raises(BadInput):
        door(value, next(iter(DOORS[door])))


def test_a_missing_unit_is_called_a_bare_number() -> None:
    for make in (lambda: body(2, ""), lambda: dose(2, "")):
        with pytest.raises(UnitError, match="not in a bare number"):
            make()
    with pytest.raises(UnitError, match="is written in kg, g, lb, mg; not in stone"):
        body(2, "stone")
    with pytest.raises(UnitError, match="not in ppm"):
        concentration(2, "ppm")


def test_numbers_that_can_be() -> None:
    typed: tuple[Any, ...] = (10, 10.5, Decimal("0.1"))
    assert [dose(x, "mg/kg").magnitude for x in typed] == [10.0, 10.5, 0.1]


def test_bare_number_is_refused_by_every_door() -> None:
    for door in set(DOORS) - {minutes}:
        with pytest.raises(TypeError):
            door(10)


@pytest.mark.parametrize(
    ("make", "at_most"),
    [
        (lambda: purity(100.1, "%"), "100 %"),
        (lambda: purity(1001, "g/kg"), "100 %"),
        (lambda: ration(101, "%"), "100 %"),
        (lambda: strength(3001, "mg/mL"), "3000 mg/mL"),
        (lambda: dose(10_001, "mg/kg"), "10000 mg/kg"),
        (lambda: dose(10_001, "mg/kg/day"), "10000 mg/kg/day"),
        (lambda: dose(51, "mL/kg"), "50 mL/kg"),
        (lambda: density(3.1, "g/mL"), "3 g/mL"),
        (lambda: feed_level(1001, "g/kg"), "1000000 mg/kg"),
        (lambda: concentration(301, "g/L"), "300000 mg/L"),
        (lambda: concentration(100_001, "uL/L"), "100000 uL/L"),
    ],
)
def test_more_than_can_be_says_the_most(make: Callable[[], Quantity], at_most: str) -> None:
    with pytest.raises(BadInput, match=f"the most is {at_most}"):
        make()
    assert purity(100, "%").magnitude == 100


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("mg/ml", "mg/mL"),
        ("µg/mL", "ug/mL"),
        ("μg/mL", "ug/mL"),
        ("g/l", "g/L"),
        ("µg/ml", "ug/mL"),
    ],
)
def test_ways_to_type_a_unit(typed: str, kept: str) -> None:
    assert strength(1, typed).unit == kept


def test_percent_by_weight_and_by_volume_are_two_kinds() -> None:
    assert strength(5, "% w/v").m_as("mg/mL") == pytest.approx(50)
    assert strength(5, "% w/w") == purity(5, "% w/w")
    with pytest.raises(UnitError, match="% w/v"):
        strength(5, "%")


@pytest.mark.parametrize(
    ("one", "unit", "same"),
    [
        (body(1, "kg"), "g", 1000),
        (body(1, "lb"), "g", 453.59237),
        (water(1, "m3"), "L", 1000),
        (water(1, "gal"), "mL", 3785.411784),
        (water(1, "acre-ft"), "m3", 1233.48183754752),
        (flow(1, "L/s"), "m3/h", 3.6),
        (minutes(1, "h"), "min", 60),
        (dose(1, "ug/kg"), "mg/kg", 0.001),
        (purity(1, "%"), "mg/g", 10),
        (ration(1, "%"), "g/kg", 10),
        (feed_level(2000, "g/ton"), "g/lb", 1),
        (active(1, "lb"), "mg", 453592.37),
    ],
)
def test_units_of_one_kind(one: Quantity, unit: str, same: float) -> None:
    assert one.m_as(unit) == pytest.approx(same, rel=1e-12)
    assert one.to(unit).to(one.unit).magnitude == pytest.approx(one.magnitude, rel=1e-12)
    with pytest.raises(UnitError):
        one.m_as("ppm")


@pytest.mark.parametrize(
    ("one", "said"),
    [
        (water(1836.4, "L"), "1836 L"),
        (body(0.0476, "kg"), "0.0476 kg"),
        (water(123456.7, "L"), "123457 L"),
        (dose(0.123456, "mg/kg"), "0.1235 mg/kg"),
        (dose(10, "mg/kg"), "10 mg/kg"),
    ],
)
def test_quantities_read_like_a_person_writes(one: Quantity, said: str) -> None:
    assert str(one) == said


def test_a_quantity_can_not_be_changed_or_multiplied() -> None:
    ten: Any = dose(10, "mg/kg")
    with pytest.raises(AttributeError):
        ten.magnitude = 100.0
    for act in (lambda: ten * 2, lambda: ten + ten, lambda: float(ten), lambda: ten / ten):
        with pytest.raises(TypeError):
            act()
    assert ten.scaled(2) == dose(20, "mg/kg")


def test_wrong_kind_says_what_is_wanted_and_what_was_given() -> None:
    with pytest.raises(
        WrongKind, match=r"a dose \(mg/kg\) is wanted here, not a body weight, 2 kg"
    ):
        expect(body(2, "kg"), kinds.Dose)
    with pytest.raises(WrongKind, match="not 10"):
        expect(10, kinds.Dose)
    assert issubclass(WrongKind, ValueError)
    assert issubclass(WrongKind, TypeError)


def test_second_lock_refuses_a_result_of_other_dimensions() -> None:
    with pytest.raises(WrongKind, match="not a mass of active substance"):
        made(kinds.ActiveMass, body(2, "kg").pint, "mg")


def test_ranges() -> None:
    two: Any = water(2, "L")
    known = give_or_take(water(3390, "L"), 10)
    assert [end.magnitude for end in known] == pytest.approx([3051, 3729])
    assert str(between(water(1, "m3"), water(1200, "L"))) == "1 to 1.2 m3"
    with pytest.raises(BadInput, match="Not a range"):
        between(water(2, "L"), water(1, "L"))
    with pytest.raises(WrongKind):
        Between(two, body(3, "kg"))
    for percent in (0, 100, -5, nan):
        with pytest.raises(BadInput, match="Known to"):
            give_or_take(water(2, "L"), percent)


def test_importing_dosing_loads_no_pint() -> None:
    program = (
        "import sys, pkgutil, importlib, core.dosing\n"
        "names = [m.name for m in pkgutil.iter_modules(core.dosing.__path__)]\n"
        "for name in names: importlib.import_module(f'core.dosing.{name}')\n"
        "assert len(names) > 10, names\n"
        "never = {'pint', 'peewee', 'textual', 'reportlab', 'sqlite3', 'tomllib'}\n"
        "bad = never & set(sys.modules)\n"
        "assert not bad, bad\n"
        "from core.dosing.quantities import dose, body\n"
        "dose(10, 'mg/kg'), body(2, 'kg'), body(250, 'g')\n"
        "assert 'pint' not in sys.modules\n"
        "from core.dosing.arithmetic import dose_mass\n"
        "dose_mass(dose(10, 'mg/kg'), body(2, 'kg'))\n"
        "assert 'pint' in sys.modules\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stderr


def test_to_write_a_quantity_down_asks_no_registry(monkeypatch: pytest.MonkeyPatch) -> None:
    """pint is loaded by the first sum: a weight typed in grams is none."""

    def never() -> None:
        raise AssertionError

    monkeypatch.setattr("core.dosing.quantity.registry", never)
    assert str(body(250, "g")) == "250 g"
    assert str(water(100, "gal")) == "100 gal"
    assert body(250, "g").m_as("g") == 250
    with pytest.raises(AssertionError):
        body(250, "g").m_as("kg")
