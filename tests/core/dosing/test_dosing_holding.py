"""How much product holds an amount of active substance: only by a strength of the same kind."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.dosing.arithmetic import AnyStrength
from core.dosing.holding import product_holding
from core.dosing.kinds import ActiveMass, ActiveUnits, ProductMass, ProductVolume
from core.dosing.quantities import (
    active,
    body,
    concentration,
    density,
    dose,
    product,
    purity,
    strength,
    water,
)
from core.dosing.quantity import WrongKind

WORKED: tuple[tuple[ActiveMass | ActiveUnits, AnyStrength, type, float], ...] = (
    (active(18, "g"), strength(25, "% w/w"), ProductMass, 72.0),
    (active(18, "g"), purity(100, "%"), ProductMass, 18.0),
    (active(300, "mg"), strength(100, "mg/g"), ProductMass, 3.0),
    (active(50, "mg"), strength(10, "mg/mL"), ProductVolume, 5.0),
    (active(1.5, "g"), strength(10, "g/L"), ProductVolume, 150.0),
    (active(200, "mg"), strength(5, "% w/v"), ProductVolume, 4.0),
    (active(500, "IU"), strength(1000, "IU/mL"), ProductVolume, 0.5),
)


@pytest.mark.parametrize(("much", "of", "kind", "wanted"), WORKED, ids=lambda x: str(x))
def test_worked_examples(
    much: ActiveMass | ActiveUnits, of: AnyStrength, kind: type, wanted: float
) -> None:
    found = product_holding(much, of)
    assert type(found) is kind
    assert found.unit == ("g" if kind is ProductMass else "mL")
    assert found.magnitude == pytest.approx(wanted, rel=1e-12)


KINDS = {
    "mass": active(20, "mg"),
    "units": active(500, "IU"),
    "w/w": strength(10, "% w/w"),
    "w/v": strength(100, "mg/mL"),
    "IU/mL": strength(1000, "IU/mL"),
    "powder": product(5, "g"),
    "liquid": product(1, "mL"),
    "dose": dose(10, "mg/kg"),
    "level": concentration(2, "mg/L"),
    "body": body(1, "kg"),
    "water": water(1, "L"),
    "density": density(1.1, "g/mL"),
    "10": 10,
    "10.0": 10.0,
    "text": "10 mg",
    "nothing": None,
}
RIGHT = {("mass", "w/w"), ("mass", "w/v"), ("units", "IU/mL")}


def test_exactly_the_listed_pairings_give_a_figure() -> None:
    given_ones = set()
    for first, one in KINDS.items():
        for second, other in KINDS.items():
            try:
                product_holding(one, other)  # type: ignore[arg-type]
            except WrongKind:
                continue
            given_ones.add((first, second))
    assert given_ones == RIGHT


@given(st.floats(0.001, 1e5), st.floats(0.01, 100))
def test_the_product_holds_what_was_asked(grams: float, percent: float) -> None:
    powder = product_holding(active(grams, "g"), strength(percent, "% w/w"))
    assert powder.m_as("g") * percent / 100 == pytest.approx(grams, rel=1e-9)
    liquid = product_holding(active(grams, "g"), strength(percent * 10, "mg/mL"))
    assert liquid.m_as("mL") * percent * 10 == pytest.approx(grams * 1000, rel=1e-9)
