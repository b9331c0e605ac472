"""No figure from the wrong kind: every pairing and every swap of arguments is tried."""

from __future__ import annotations

from datetime import UTC, datetime
from decimal import Decimal
from itertools import permutations, product
from typing import Any

import pytest

from core.dosing import dilution, kinds
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
from core.dosing.copper import copper_sulfate_mg_l
from core.dosing.course import in_steps, ramp, salt_for_rise, steps_no_larger_than, total
from core.dosing.disinfectant import WorkingSolution, level_of, working_solution
from core.dosing.flowing import (
    bath_in_flow,
    liquid_in_flow,
    minutes_of_oxygen,
    oxygen_fall_mg_l,
    passing_water,
)
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
from core.dosing.quantity import Between, WrongKind
from core.dosing.registry import registry
from core.dosing.scoops import Scoop, Scooped, powder_in, scooped
from core.dosing.syringe import Dilution, Drawn, Syringe, choose, dilute, draw, over_route_limit
from core.dosing.uncertain import Judgement, dose_between, judge, level_between, really_between
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
    "range of water": between(WATER, water(120, "L")),
    "range of dose": between(DOSE, dose(12, "mg/kg")),
}
ALL = {**RIGHT, **WRONG}

W_VS, W_WS, MG_LS = ("w/v", "w/v percent"), ("w/w", "purity"), ("mg/L", "g/L")
BODY_DOSES = ("dose", "daily dose", "dose in units", "dose by volume")
Listed = dict[tuple[str, ...], type]
SYRINGE = Syringe("3 mL syringe", 3.0, 0.01)
MOMENT = datetime(2026, 11, 25, 8, 30, tzinfo=UTC)


def every(kind: type, *choices: tuple[str, ...] | str) -> Listed:
    sets = [(c,) if isinstance(c, str) else c for c in choices]
    return dict.fromkeys(product(*sets), kind)


def alike(kind: type) -> Listed:
    """Two quantities of one kind."""
    pairs = product(RIGHT, repeat=2)
    return {(a, b): kind for a, b in pairs if type(RIGHT[a]) is type(RIGHT[b])}


def stepped(whole: Any, largest: Any) -> Any:
    return ramp(whole, largest, MOMENT, 24)


def once(whole: Any) -> Any:
    return total(whole, 1)


def halves(whole: Any) -> Any:
    return in_steps(whole, 2)


def drawn(volume: Any) -> Any:
    return draw(volume, SYRINGE)


def chosen(volume: Any) -> Any:
    return choose(volume, (SYRINGE,))


def diluted(volume: Any, vial: Any) -> Any:
    return dilute(volume, vial, SYRINGE, 2)


def over(volume: Any, fish: Any) -> Any:
    return over_route_limit(volume, fish, "injection IM", {"injection IM": 0.01})


def by_scoop(one: Any, holds: Any) -> Any:
    return scooped(one, Scoop("scoop", holds))


def by_density(wanted: Any, bucket: Any, heavy: Any) -> Any:
    return working_solution(wanted, bucket, W_W, heavy)


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
    passing_water: {("flow", "time"): kinds.Water},
    powder_in: {("liquid", "density"): kinds.ProductMass},
    level_of: every(kinds.Concentration, "liquid", "water", W_VS),
    working_solution: {
        **every(WorkingSolution, MG_LS, "water", (*W_VS, *W_WS)),
        ("uL/L", "water", "nothing"): WorkingSolution,
    },
    by_density: every(WorkingSolution, MG_LS, "water", ("density", "nothing")),
    really_between: {
        **every(Between, BODY_DOSES, "body", "range"),
        **every(Between, (*MG_LS, "uL/L"), "water", "range of water"),
    },
    level_between: {("active", "range of water"): Between},
    dose_between: every(Between, "liquid", W_VS, "range"),
    judge: {
        ("range", "body", "body"): Judgement,
        ("range of water", "water", "water"): Judgement,
        ("range of dose", "dose", "dose"): Judgement,
    },
    steps_no_larger_than: alike(tuple),
    stepped: alike(tuple),
    once: {(name,): type(one) for name, one in RIGHT.items()},
    halves: {(name,): tuple for name in RIGHT},
    drawn: {("liquid",): Drawn},
    chosen: {("liquid",): Syringe},
    diluted: every(Dilution, "liquid", W_VS),
    over: {("liquid", "body"): str},
    by_scoop: {("powder", "powder"): Scooped, ("liquid", "liquid"): Scooped},
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
    assert tried > 400_000


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
        for names in (one for one in listed if len(one) > 1):
            with pytest.raises((BadInput, TypeError)):
                function(ALL[names[0]])


LONG: dict[tuple[str, ...], tuple[Any, dict[int, tuple[str, ...]]]] = {
    ("mg/L", "water", "flow", "time", "purity"): (
        bath_in_flow,
        {0: MG_LS, 4: (*W_WS, "nothing")},
    ),
    ("mg/L", "water", "flow", "time", "w/v"): (liquid_in_flow, {0: MG_LS, 4: W_VS}),
    ("uL/L", "water", "flow", "time", "nothing"): (liquid_in_flow, {}),
    ("mg/L", "water", "w/w", "density"): (
        working_solution,
        {0: MG_LS, 2: W_WS, 3: ("density", "nothing")},
    ),
}


def test_long_calls_refuse_one_wrong_argument_and_every_swap(
    capsys: pytest.CaptureFixture[str],
) -> None:
    tried = 0
    for right, (function, good) in LONG.items():
        for place, name in product(range(len(right)), ALL):
            call = (*right[:place], name, *right[place + 1 :])
            listed = name in good.get(place, (right[place],))
            assert (gives(function, call) is not None) is listed, (function, call)
            tried += 1
        for swapped in set(permutations(right)) - {right}:
            assert gives(function, swapped) is None, (function, swapped)
            tried += 1
    with capsys.disabled():
        print(f"\nLong calls of dosing: {tried} tried")
    assert tried > 600


BARE: tuple[tuple[Any, tuple[float, ...]], ...] = (
    (dilution.stock_ml, (500.0, 1.0, 5.0)),
    (dilution.made_up_mg_l, (5.0, 10.0, 1.0)),
    (dilution.added_mg_l, (5.0, 10.0, 1.0)),
    (dilution.water_parts, (5.0, 0.5)),
    (dilution.after_parts_percent, (5.0, 9.0)),
    (dilution.available_chlorine_percent, (5.0,)),
    (dilution.by_volume_percent, (12.5, 1.2)),
    (dilution.thiosulfate_g, (100.0, 10.0, 7.4)),
    (copper_sulfate_mg_l, (100.0,)),
    (oxygen_fall_mg_l, (60.0, 1000.0, 10.0)),
    (minutes_of_oxygen, (8.0, 5.0, 60.0, 1000.0)),
)


def test_sums_in_bare_numbers_take_no_quantity(capsys: pytest.CaptureFixture[str]) -> None:
    tried = 0
    for function, right in BARE:
        assert function(*right) > 0
        for place, name in product(range(len(right)), RIGHT):
            with pytest.raises((TypeError, BadInput)):
                function(*right[:place], RIGHT[name], *right[place + 1 :])
            tried += 1
    with capsys.disabled():
        print(f"\nQuantities where a bare number belongs: {tried} tried, none gives a figure")


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
