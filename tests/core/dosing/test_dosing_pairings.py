"""No figure from the wrong kind: every pairing and every swap of arguments is tried."""

from __future__ import annotations

from decimal import Decimal
from itertools import permutations, product
from typing import Any

import pytest

from core.dosing import kinds
from core.dosing.anaesthesia import anaesthetic_bath, buffer_mass
from core.dosing.arithmetic import (
    bath_level,
    bath_mass,
    bath_volume,
    body_at_cap,
    daily_food,
    dose_given,
    dose_in_feed,
    dose_mass,
    draw_up_volume,
    level_added_to,
    level_by_volume,
    level_made_up_to,
    medicated_feed,
    premix_mass,
    strength_of_liquid,
)
from core.dosing.course import salt_for_rise
from core.dosing.flowing import bath_in_flow
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
    minutes,
    purity,
    ration,
    strength,
    water,
)
from core.dosing.quantities import product as amount
from core.dosing.quantity import Quantity, WrongKind
from core.dosing.registry import registry
from core.errors import BadInput

DOSE, DAILY = dose(10, "mg/kg"), dose(10, "mg/kg/day")
UNITS, BY_VOLUME = dose(1000, "IU/kg"), dose(0.5, "mL/kg")
W_V, W_V_PERCENT, W_W = strength(100, "mg/mL"), strength(5, "% w/v"), strength(10, "% w/w")
IU_ML, PURE, DENSE = strength(1000, "IU/mL"), purity(80, "%"), density(1.1, "g/mL")
MG_L, G_L, UL_L = concentration(2, "mg/L"), concentration(3, "g/L"), concentration(25, "uL/L")
BODY, WATER, FLOW, TIME = body(2, "kg"), water(100, "l"), flow(1, "L/s"), minutes(60)
RATION, LEVEL, FOOD = ration(1, "%"), feed_level(1000, "mg/kg"), food(1, "kg")
MASS, IU, POWDER, LIQUID = active(20, "mg"), active(500, "IU"), amount(5, "g"), amount(1, "mL")

RIGHT: dict[str, Any] = {
    "dose": DOSE,
    "daily dose": DAILY,
    "dose in units": UNITS,
    "dose by volume": BY_VOLUME,
    "w/v": W_V,
    "w/v percent": W_V_PERCENT,
    "w/w": W_W,
    "IU/mL": IU_ML,
    "purity": PURE,
    "density": DENSE,
    "mg/L": MG_L,
    "g/L": G_L,
    "uL/L": UL_L,
    "body": BODY,
    "water": WATER,
    "flow": FLOW,
    "time": TIME,
    "ration": RATION,
    "level": LEVEL,
    "food": FOOD,
    "active": MASS,
    "IU": IU,
    "powder": POWDER,
    "liquid": LIQUID,
}
WRONG: dict[str, Any] = {
    "nothing": None,
    "10": 10,
    "10.0": 10.0,
    "decimal": Decimal(10),
    "text": "10 mg/kg",
    "true": True,
    "pint": registry().Quantity(2, "kilogram_body"),
    "range": between(BODY, body(3, "kg")),
}
ALL = {**RIGHT, **WRONG}

W_VS, W_WS, MG_LS = ("w/v", "w/v percent"), ("w/w", "purity"), ("mg/L", "g/L")
Listed = dict[tuple[str, ...], type[Quantity]]


def every(kind: type[Quantity], *choices: tuple[str, ...] | str) -> Listed:
    sets = [(c,) if isinstance(c, str) else c for c in choices]
    return dict.fromkeys(product(*sets), kind)


LISTED: dict[Any, Listed] = {
    dose_mass: {
        ("dose", "body"): kinds.ActiveMass,
        ("dose in units", "body"): kinds.ActiveUnits,
    },
    draw_up_volume: {
        **every(kinds.ProductVolume, "dose", "body", W_VS),
        ("dose in units", "body", "IU/mL"): kinds.ProductVolume,
        ("dose by volume", "body", "nothing"): kinds.ProductVolume,
    },
    bath_mass: {
        **every(kinds.ActiveMass, MG_LS, "water", "nothing"),
        **every(kinds.ProductMass, MG_LS, "water", W_WS),
    },
    bath_volume: {
        **every(kinds.ProductVolume, MG_LS, "water", W_VS),
        ("uL/L", "water", "nothing"): kinds.ProductVolume,
    },
    medicated_feed: every(kinds.FeedLevel, ("dose", "daily dose"), "ration"),
    dose_in_feed: {("level", "ration"): kinds.DailyDose},
    premix_mass: every(kinds.ProductMass, "level", "food", W_WS),
    daily_food: {("ration", "body"): kinds.Food},
    bath_level: {("active", "water"): kinds.Concentration},
    level_made_up_to: every(kinds.Concentration, "liquid", W_VS, "water"),
    level_added_to: every(kinds.Concentration, "liquid", W_VS, "water"),
    level_by_volume: {("liquid", "water"): kinds.VolumeConcentration},
    dose_given: every(kinds.Dose, "liquid", W_VS, "body"),
    strength_of_liquid: every(kinds.Strength, W_WS, "density"),
    body_at_cap: {("IU", "dose in units"): kinds.Body, ("active", "dose"): kinds.Body},
    salt_for_rise: every(kinds.ActiveMass, MG_LS, "water"),
}


def gives(function: Any, names: tuple[str, ...]) -> Any:
    try:
        return function(*(ALL[name] for name in names))
    except BadInput:
        return None


def test_exactly_the_listed_pairings_give_a_figure(capsys: pytest.CaptureFixture[str]) -> None:
    tried = found = 0
    for function, listed in LISTED.items():
        arity = len(next(iter(listed)))
        for names in product(ALL, repeat=arity):
            got = gives(function, names)
            assert (type(got) if got is not None else None) is listed.get(names), (function, names)
            tried, found = tried + 1, found + (got is not None)
    with capsys.disabled():
        print(f"\nPairings of dosing: {tried} tried, {found} of them listed give a figure")
    assert found == sum(len(listed) for listed in LISTED.values())
    assert tried > 150_000


def test_every_swap_of_listed_arguments_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    tried = 0
    for function, listed in LISTED.items():
        for names in listed:
            for swapped in set(permutations(names)) - set(listed):
                assert gives(function, swapped) is None, (function, swapped)
                tried += 1
    with capsys.disabled():
        print(f"\nSwaps of dosing: {tried} tried, none gives a figure")
    assert tried > 50


def test_refusals_say_that_there_is_no_figure() -> None:
    calls: tuple[tuple[Any, ...], ...] = (
        (dose_mass, 10, BODY),
        (dose_mass, BODY, DOSE),
        (draw_up_volume, BY_VOLUME, BODY, W_V),
        (draw_up_volume, BY_VOLUME, BODY, 10),
        (bath_volume, UL_L, WATER, W_V),
    )
    for function, *given in calls:
        with pytest.raises(WrongKind, match=r"^No figure: "):
            function(*given)


def test_too_few_arguments_give_no_figure() -> None:
    for function, listed in LISTED.items():
        for names in listed:
            with pytest.raises((BadInput, TypeError)):
                function(ALL[names[0]])


def test_long_calls_refuse_one_wrong_argument_and_every_swap() -> None:
    right = ("mg/L", "water", "flow", "time", "purity")
    assert str(gives(bath_in_flow, right).total) == "9.25 g"
    good: dict[int, tuple[str, ...]] = {0: MG_LS, 4: (*W_WS, "nothing")}
    for place, name in product(range(5), ALL):
        call = (*right[:place], name, *right[place + 1 :])
        listed = name in good.get(place, (right[place],))
        assert (gives(bath_in_flow, call) is not None) is listed, call
    for swapped in set(permutations(right)) - {right}:
        assert gives(bath_in_flow, swapped) is None, swapped


def test_anaesthetic_bath_and_buffer_take_their_kinds_only() -> None:
    for first, second, third in product(ALL, repeat=3):
        got = gives(anaesthetic_bath, (first, second, third))
        listed = first in MG_LS and second == "water" and third in (*W_VS, "nothing")
        assert (got is not None) is listed, (first, second, third)
    for name, one in ALL.items():
        if name == "active":
            assert buffer_mass(one, 2.0).m_as("mg") == pytest.approx(40)
        else:
            with pytest.raises(BadInput):
                buffer_mass(one, 2.0)
    for ratio in (0.0, -2.0, float("nan")):
        with pytest.raises(BadInput):
            buffer_mass(MASS, ratio)
