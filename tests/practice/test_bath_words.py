"""What a bath is told with: its two parts in running water, a water change, strengths, stops."""

from __future__ import annotations

import doctest
from dataclasses import replace
from pathlib import Path

import pytest

from core.dosing.kinds import ProductVolume, Purity, Strength
from core.errors import BadInput, Refusal
from core.practice import as_sold, fed_in, plan, redose, short, stops_first, strengths
from core.practice import treatment_fish as fish
from core.practice.dose_parts import UNKNOWN_FLOW, Ask
from core.practice.doses import work_out
from core.practice.medicines import catalogue, medicine, place, typed
from core.practice.own_products import strength_of
from core.practice.treatment_said import dose_words
from core.practice.treatments import order_treatment, prepare
from core.records import read
from core.records.tables import Product, System, Treatment
from tests.practice.plan_cases import Case, case


@pytest.fixture
def raceway(records: Path) -> Case:
    made = case("trout_flowing", 38_000.0, "rainbow_trout", 2400, flow="flowing", food_fish=True)
    made.read("outlet", temperature=9.0, ph=7.3, oxygen=8.6)
    return made


@pytest.mark.parametrize("module", [short, strengths])
def test_examples(module: object) -> None:
    assert doctest.testmod(module).failed == 0  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "wanted"), [("475 gpm", "gal/min"), ("475 GPM", "gal/min"), ("30 lps", "L/s")]
)
def test_flows_are_read_as_farms_write_them(text: str, wanted: str) -> None:
    assert typed(text, "18 L/s")[1] == wanted


@pytest.mark.parametrize("unit", ["mg/mL, 1.1 g/mL", "% w/w, 1.1", "%, 1.1 g/mL", "% w/w, 5 g/L"])
def test_a_density_stands_only_beside_a_strength_by_weight(unit: str) -> None:
    with pytest.raises(BadInput):
        strengths.understood(35.0, unit)


def test_a_liquid_of_the_shelf_is_reckoned_by_volume_where_its_density_is_known() -> None:
    row = Product(
        id="p",
        medicine="peroxide-bath-gill-disease",
        name="ours",
        strength=35.0,
        strength_unit="percent w/w",
        pack=1000.0,
        pack_unit="mL",
        density_g_ml=1.132,
    )
    held = strength_of(row)
    assert isinstance(held, Strength)
    assert held.m_as("mg/mL") == pytest.approx(396.2)
    assert isinstance(strength_of(replace(row, density_g_ml=None)), Purity)
    assert isinstance(strength_of(replace(row, pack_unit="g")), Purity)


@pytest.mark.parametrize(
    ("strength", "same"),
    [
        (Purity(37.0, "% w/w"), True),
        (Strength(40.0, "% w/v"), True),
        (Purity(10.0, "% w/w"), False),
    ],
)
def test_a_dose_by_volume_counts_the_product_as_it_is_sold(strength: Purity, same: bool) -> None:
    row = medicine("formalin-bath")
    assert as_sold.words(row) == "formalin as sold, 37 %"
    if same:
        as_sold.must_be_as_sold(row, strength)
    else:
        with pytest.raises(Refusal, match="10 % w/w is another strength"):
            as_sold.must_be_as_sold(row, strength)


def test_another_strength_gives_no_amount_by_volume(raceway: Case) -> None:
    ask = Ask("150 uL/L", "bath", strength="10 % w/w", volume="100 L")
    with pytest.raises(Refusal, match="another dose"):
        work_out(medicine("formalin-bath"), ask)
    assert as_sold.words(medicine("chloramine-t-salmonids")) == ""


def test_running_water_without_its_flow_gives_no_amount(raceway: Case) -> None:
    order = raceway.order("chloramine-t-salmonids", "15 mg/L", "bath", minutes="60 min")
    ready = prepare(raceway.visit, replace(order, ask=replace(order.ask, flow=UNKNOWN_FLOW)))
    assert ready.dosed is None
    assert "how fast is not known" in ready.why_not


def test_the_parts_of_a_bath_in_running_water_are_kept_and_told(raceway: Case) -> None:
    order = raceway.order(
        "chloramine-t-salmonids", "15 mg/L", "bath", flow="18 L/s", minutes="60 min"
    )
    order = replace(order, act="prescribed", reason="three baths on alternate days")
    key = order_treatment(raceway.act, raceway.visit, order)
    row = read.one(Treatment, key)
    told = "570 g at once, then 972 g fed in evenly over 60 min (16.2 g a minute)"
    assert fed_in.words(row) == told
    assert told in dose_words(row)
    assert "1542 g" not in dose_words(row)


def test_a_typed_volume_is_no_better_known_than_its_water(records: Path) -> None:
    made = case(volume_error_percent=10.0)
    row, where = medicine("praziquantel-prolonged"), place(made.system)
    ask = Ask("2 mg/L", "prolonged bath", volume="3400 L")
    filled = fish.filled(made.visit, where, row, ask, None, None)
    assert (filled.volume, filled.error_percent) == ("3400 L", 10.0)
    tub = fish.filled(made.visit, where, row, ask, None, "somebody in hand")
    assert tub.error_percent is None


def test_a_water_change_asks_for_the_share_that_went_out(records: Path) -> None:
    made = case()
    row = medicine("praziquantel-prolonged")
    [said] = redose.note(row, "prolonged bath", ProductVolume(13.86, "mL"), 1)
    assert "put back 1.39 mL for each 10 % of the water" in said
    assert redose.note(row, "bath", ProductVolume(13.86, "mL"), 1) == ()
    order = made.order("praziquantel-prolonged", "2 mg/L", "prolonged bath")
    key = order_treatment(made.act, made.visit, replace(order, reason="worms seen on the gills"))
    given, system = read.one(Treatment, key), read.one(System, made.system)
    [offer] = redose.for_owner(given, row, system)
    assert "put back 0.678 g for each 10 %" in offer.words
    assert offer.origin in {o.origin for o in plan.view(made.visit, made.system).step_offers}
    assert list(redose.for_owner(given, row, replace(system, flow="flowing"))) == []
    [parts] = redose.for_owner(replace(given, steps=3), row, system)
    assert "once all parts are in" in parts.words


def test_stops_stand_before_any_dose(records: Path) -> None:
    made = case("marine_reef", 600.0, "clownfish", 4, invertebrates="yes", food_fish=False)
    said = stops_first.words(made.visit, "copper-marine", made.system)
    assert said[0].startswith("STOP. Needs a reason in a sentence: Present: invertebrates")
    tub = stops_first.words(made.visit, "copper-marine", made.system, handling="in hand")
    assert not any("invertebrates" in line for line in tub)


def test_what_the_law_forbids_is_refused_before_any_dose(raceway: Case) -> None:
    [said, *_] = stops_first.words(raceway.visit, "enrofloxacin-bath", raceway.system)
    assert said.startswith("REFUSED: ")
    assert "530.41" in said
    assert "enrofloxacin-bath" in catalogue()
