"""Biomass, ration and food age: the demo's figures, worked examples, properties."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.catalogue.load import citations, table
from core.errors import BadInput, OutOfRange, Refusal
from core.feeding.biomass import StockGroup, biomass_g, biomass_range_g
from core.feeding.food_age import food_age, foods_from
from core.feeding.nitrifiers import alkalinity_used_g
from core.feeding.ramp import ammonia_from_feed_g
from core.feeding.ration import (
    carp_maintenance_percent,
    dry_food_equivalent_g,
    feeding_rates_from,
    meal_g,
    rate_percent,
    ration_g,
    target_for,
    verdict,
)
from core.fish.size import estimated_weight
from core.fish.species import species_from
from core.sourced import lines, working

SPECIES = species_from(table("species"))
RATES = feeding_rates_from(table("feeding_rates")["rate"])
FOODS = foods_from(table("foods"))
DAY = date(2026, 11, 25)


def koi(count: int, length_cm: float) -> StockGroup:
    return StockGroup(count, estimated_weight(SPECIES["koi"], length_cm).weight_g)


def test_hotel_pool_of_the_demo() -> None:
    stock = [koi(4, 32), koi(6, 38), koi(4, 44)]
    mass = biomass_g(stock)
    assert mass == pytest.approx(14590, abs=5)
    assert rate_percent(45, 1, mass) == pytest.approx(0.31, abs=0.005)
    assert ration_g(mass, 0.8) == pytest.approx(117, abs=0.5)
    made = [ammonia_from_feed_g(grams, 0.38) for grams in (63, 81, 99, 117)]
    assert made == pytest.approx([2.20, 2.83, 3.46, 4.09], abs=0.005)
    assert alkalinity_used_g(made[-1]) == pytest.approx(29, abs=0.2)
    assert biomass_range_g(stock).sentence.endswith("estimated.")


def test_goldfish_pond_of_the_demo() -> None:
    mass = biomass_g([StockGroup(12, 140, weighed=True), StockGroup(1, 238, weighed=True)])
    assert mass == 1918
    assert rate_percent(12, 1, mass) == pytest.approx(0.63, abs=0.005)
    held = target_for(RATES, "sick or after treatment", "any", 17)
    assert ration_g(mass, held.percent_target) == pytest.approx(5.8, abs=0.05)
    assert target_for(RATES, "koi/goldfish", "adult", 17, 148).percent_target == 0.7


def test_trout_farm_of_the_demo() -> None:
    mass = biomass_g([StockGroup(3200, 310, weighed=True)])
    assert mass == 992_000
    assert rate_percent(15_900, 1, mass) == pytest.approx(1.60, abs=0.005)
    assert rate_percent(7_950, 1, mass) == pytest.approx(0.80, abs=0.005)
    through_l = 18 * 86_400
    protein = FOODS["trout_pellet"].protein_fraction
    tan = 1000 * ammonia_from_feed_g(15_900, protein) / through_l
    assert tan == pytest.approx(0.40, abs=0.01)


def test_reef_of_the_demo() -> None:
    weights = [
        estimated_weight(SPECIES[key], cm).weight_g
        for key, cm in (
            ("yellow_tang", 15),
            ("yellow_tang", 13),
            ("clownfish", 8),
            ("clownfish", 8),
        )
    ]
    mass = biomass_g([StockGroup(1, one) for one in weights])
    assert mass == pytest.approx(126, abs=0.5)
    assert rate_percent(2.6, 1, mass) == pytest.approx(2.1, abs=0.05)
    row = target_for(RATES, "marine ornamental", "adult", 25.6, mass / 4)
    assert verdict(row, 2.6, 1, mass).place == "inside"


def test_unknown_count_gives_a_range() -> None:
    groups = [StockGroup(None, 100, weighed=True, count_low=10, count_high=14), StockGroup(2, 500)]
    found = biomass_range_g(groups)
    assert (found.low_g, found.likely_g, found.high_g) == (1800, 2200, 2600)
    assert found.estimated
    assert found.sentence == "2200 g, 1800 to 2600 g, estimated."
    with pytest.raises(BadInput, match="from how many to how many"):
        StockGroup(None, 100)


@pytest.mark.parametrize("bad", [0.0, -5.0, float("nan"), float("inf")])
def test_weights_that_can_not_be_are_refused(bad: float) -> None:
    with pytest.raises(BadInput):
        StockGroup(1, bad)


groups = st.lists(
    st.builds(StockGroup, st.integers(0, 500), st.floats(0.1, 5000), st.booleans()), max_size=8
)


@given(groups, groups)
def test_biomass_is_a_sum_and_grows_with_every_group(
    some: list[StockGroup], more: list[StockGroup]
) -> None:
    assert biomass_g(some + more) == pytest.approx(biomass_g(some) + biomass_g(more))
    assert biomass_g(some + more) >= biomass_g(some)
    found = biomass_range_g(some)
    assert found.low_g <= found.likely_g + 1e-6
    assert found.likely_g <= found.high_g + 1e-6


@given(st.floats(0.1, 1e6), st.floats(0, 50))
def test_ration_and_rate_undo_each_other(mass: float, percent: float) -> None:
    assert rate_percent(ration_g(mass, percent), 1, mass) == pytest.approx(percent)
    assert rate_percent(ration_g(mass, percent), 2, mass) == pytest.approx(percent / 2)


@given(st.floats(0, 1e4), st.floats(0, 0.95))
def test_dry_food_equivalent_keeps_the_dry_matter(fed: float, water: float) -> None:
    dry = dry_food_equivalent_g(fed, water)
    assert dry * (1 - 0.08) == pytest.approx(fed * (1 - water))


@given(st.floats(0, 1e4), st.integers(1, 12))
def test_meals_make_up_the_ration(daily: float, meals: int) -> None:
    assert meal_g(daily, meals) * meals == pytest.approx(daily)


def test_frozen_food_weighs_four_to_six_times_its_dry_equivalent() -> None:
    water = FOODS["frozen_mix"].water_fraction
    assert 4 < 10 / dry_food_equivalent_g(10, water) < 6
    assert dry_food_equivalent_g(10, 0.80) == pytest.approx(2.174, abs=0.001)


def test_rations_that_can_not_be_are_refused() -> None:
    for call in (
        lambda: rate_percent(10, 1, 0),
        lambda: rate_percent(-1, 1, 100),
        lambda: rate_percent(float("nan"), 1, 100),
        lambda: ration_g(-1, 1),
        lambda: meal_g(4, 0),
        lambda: dry_food_equivalent_g(10, 1.0),
        lambda: ammonia_from_feed_g(-1, 0.4),
        lambda: alkalinity_used_g(-1),
    ):
        with pytest.raises(BadInput):
            call()


def test_carp_maintenance_between_its_points_and_not_outside() -> None:
    assert carp_maintenance_percent(21) == pytest.approx(0.9486833)
    for outside in (11.9, 30.1, float("nan")):
        with pytest.raises(OutOfRange):
            carp_maintenance_percent(outside)


@given(st.floats(12, 29), st.floats(0.01, 1))
def test_warmer_carp_need_more(cool: float, by: float) -> None:
    assert carp_maintenance_percent(cool + by) > carp_maintenance_percent(cool)


def test_where_two_rates_meet_the_lower_is_taken_and_maintenance_never() -> None:
    assert target_for(RATES, "koi/goldfish", "adult", 10, 500).percent_target == 0
    assert target_for(RATES, "koi/goldfish", "adult", 20, 500).percent_target == 0.7
    assert target_for(RATES, "koi/goldfish", "juvenile", 24, 10).percent_target == 3
    with pytest.raises(Refusal, match=r"juvenile, at 12 °C.*20 to 26 °C"):
        target_for(RATES, "koi/goldfish", "juvenile", 12, 10)
    with pytest.raises(Refusal):
        target_for(RATES, "koi/goldfish", "adult", float("nan"), 500)


def test_verdict_names_the_row_and_its_source() -> None:
    row = target_for(RATES, "koi/goldfish", "adult", 22, 1000)
    found = verdict(row, 45, 1, 14_588, citations())
    assert found.place == "under"
    assert "under 1 to 2 %" in found.sentence
    assert "400 g" in found.sentence
    assert verdict(row, 450, 1, 14_588).place == "over"


def test_working_of_a_verdict_reads_as_words() -> None:
    stock = [StockGroup(12, 140, weighed=True), StockGroup(1, 238, weighed=True)]
    with working() as steps:
        verdict(target_for(RATES, "koi/goldfish", "adult", 17, 148), 12, 1, biomass_g(stock))
    text = "\n".join(lines(steps, citations()))
    assert "groups [12 x 140 g weighed, 1 x 238 g weighed]" in text
    assert "koi/goldfish, adult: 0.5 to 1 %" in text
    assert "  rate = 0.6257 %" in text


def test_rates_are_whole() -> None:
    known = citations()
    for row in RATES:
        assert row.source in known
        assert 0 <= row.percent_low <= row.percent_target <= row.percent_high
    fed = {one.feeding_group for one in SPECIES.values()} - {""}
    assert fed <= {row.group for row in RATES}


def test_bag_of_the_demo_is_open_too_long_and_has_no_date() -> None:
    found = food_age(FOODS["koi_pellet"], DAY, opened=DAY - timedelta(243), citations=citations())
    assert found.words == ("open too long", "no date")
    assert not found.within
    assert "243 days" in found.sentence
    assert "the limit is 90 days (Advice on fish feed storage" in found.sentence
    assert "others allow 183 days" in found.sentence


@pytest.mark.parametrize(
    ("use_by", "opened", "sealed", "words"),
    [
        (10, -90, False, ("in date",)),
        (0, -1, False, ("in date",)),
        (10, -91, False, ("open too long",)),
        (-1, -10, False, ("past its date",)),
        (-1, -91, False, ("past its date", "open too long")),
        (10, None, True, ("in date",)),
        (-3, None, True, ("past its date",)),
        (None, None, True, ("no date",)),
        (None, None, False, ("no date",)),
        (10, None, False, ("no date",)),
        (None, -10, False, ("no date",)),
    ],
)
def test_words_for_every_mix_of_dates(
    use_by: int | None, opened: int | None, sealed: bool, words: tuple[str, ...]
) -> None:
    found = food_age(
        FOODS["flake"],
        DAY,
        None if use_by is None else DAY + timedelta(use_by),
        None if opened is None else DAY + timedelta(opened),
        sealed,
    )
    assert found.words == words
    assert found.within == (words == ("in date",))
    assert found.sentence.endswith(".")


def test_opened_tomorrow_or_both_sealed_and_opened_is_refused() -> None:
    with pytest.raises(BadInput):
        food_age(FOODS["flake"], DAY, opened=DAY + timedelta(1))
    with pytest.raises(BadInput):
        food_age(FOODS["flake"], DAY, opened=DAY, sealed=True)


def test_foods_are_whole_and_dry_ones_fit_the_ammonia_formula() -> None:
    known = citations()
    assert {one.kind for one in FOODS.values()} == {"dry pellet", "flake", "gel", "frozen", "live"}
    for one in FOODS.values():
        assert one.source in known
        assert not one.other_source or one.other_source in known
        assert one.other_opened_days is None or one.other_opened_days > one.opened_days
        dry_share = (1 - one.water_fraction) / 0.92
        assert ammonia_from_feed_g(10, one.protein_fraction / dry_share) > 0
