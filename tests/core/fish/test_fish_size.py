"""Weights from lengths: worked examples, the demo's fish, refits of the measured rows."""

from math import log10
from statistics import linear_regression

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.catalogue.load import citations, table
from core.errors import BadInput, OutOfRange
from core.fish.size import (
    condition_factor,
    estimated_weight,
    relative_weight_percent,
    standard_weight_g,
    weight_from_length_g,
)
from core.fish.species import species_from
from core.fish.standard_weights import STANDARD_WEIGHTS

SPECIES = species_from(table("species"))


@pytest.mark.parametrize(
    ("key", "length", "grams"),
    [
        ("koi", 32, 605),
        ("koi", 38, 1002),
        ("koi", 44, 1539),
        ("koi", 50, 2238.5),
        ("goldfish", 24, 186),
        ("yellow_tang", 15, 62.34),
        ("yellow_tang", 13, 40.70),
        ("clownfish", 8, 11.5),
        ("angelfish", 10, 31.62),
        ("lionfish", 20, 82.65),
        ("convict_tang", 18, 124.63),
        ("channel_catfish", 40, 578.59),
        ("emperor_angelfish", 20, 374.94),
        ("sturgeon", 60, 1684.7),
        ("brown_tang", 15, 163.9),
        ("rainbow_trout", 30, 322.5),
        ("brown_trout", 30, 291.9),
        ("neon_tetra", 3.5, 0.570),
    ],
)
def test_weights_worked_by_hand_and_in_the_demo(key: str, length: float, grams: float) -> None:
    assert estimated_weight(SPECIES[key], length).weight_g == pytest.approx(grams, rel=0.003)


def test_estimate_carries_band_source_and_length_type() -> None:
    koi = estimated_weight(SPECIES["koi"], 32)
    assert (koi.low_g, koi.high_g) == pytest.approx((484.3, 726.5), abs=0.1)
    assert (koi.length_type, koi.source, koi.how) == ("TL", "BALIK06", "computed")


def test_no_estimate_outside_the_fish_measured_or_without_an_equation() -> None:
    with pytest.raises(OutOfRange, match=r"10\.5 to 73\.5 cm TL"):
        estimated_weight(SPECIES["koi"], 90)
    with pytest.raises(BadInput, match="fancy goldfish: weigh"):
        estimated_weight(SPECIES["fancy_goldfish"], 10)


FORK = [10, 13.4, 21.5, 26.9, 37.1, 43.3, 51.1, 58.1, 61.1, 69.0, 69.7]
CARP = [22.8, 58.3, 224.8, 440.5, 1022.8, 1535, 2677, 4111, 4739, 6585, 7822]
STANDARD = [46, 66.4, 94.2, 120.7, 133.9, 145.6, 157.9, 170.7, 188, 200.9, 217.6, 222]
STANDARD += [242.8, 253, 268.1, 277, 293]
EMPEROR = [3.9, 12.5, 40.8, 85.5, 125.3, 145.5, 193.6, 237.9, 344.1, 406.6, 500.7, 555.8]
EMPEROR += [658.5, 743.5, 969.7, 766.6, 1030.7]


@pytest.mark.parametrize(
    ("key", "lengths", "weights"),
    [
        ("koi", [one * 195 / 185 for one in FORK], CARP),
        ("emperor_angelfish", [one / 10 for one in STANDARD], EMPEROR),
    ],
)
def test_rows_called_measured_come_out_of_their_fish(
    key: str, lengths: list[float], weights: list[float]
) -> None:
    row = SPECIES[key].length_weight
    assert row is not None
    fit = linear_regression([log10(one) for one in lengths], [log10(one) for one in weights])
    assert row.b == pytest.approx(fit.slope, abs=0.0005)
    assert row.a == pytest.approx(10**fit.intercept, rel=0.002)


@pytest.mark.parametrize(
    ("species", "length", "grams"),
    [
        ("Common Carp", 500, 1745.7917),
        ("Channel Catfish", 400, 590.45338),
        ("Rainbow Trout (lentic)", 300, 322.54666),
        ("Rainbow Trout (lotic)", 300, 293.63963),
        ("Brown Trout (lentic)", 300, 308.97638),
    ],
)
def test_standard_weights_worked_from_their_coefficients(
    species: str, length: float, grams: float
) -> None:
    assert standard_weight_g(species, length) == pytest.approx(grams, rel=1e-6)


def test_standard_weight_refuses_short_fish_and_unknown_species() -> None:
    with pytest.raises(OutOfRange, match="from 200 mm total length, and this is 199 mm"):
        standard_weight_g("Common Carp", 199)
    with pytest.raises(OutOfRange):
        standard_weight_g("Common Carp", float("nan"))
    with pytest.raises(BadInput, match="Known: Black Crappie, Bluegill"):
        standard_weight_g("Discus", 150)
    assert standard_weight_g("common carp", 200) == standard_weight_g("Common Carp", 200)


def test_condition_factor_worked() -> None:
    assert condition_factor(10, 10) == 1
    assert condition_factor(2677, 51.1) == pytest.approx(2.0062529)
    assert condition_factor(32.5, 12.8) == pytest.approx(1.5497208)


@pytest.mark.parametrize("bad", [0.0, -1.0, float("nan"), float("inf")])
def test_nothing_comes_of_a_length_or_weight_that_can_not_be(bad: float) -> None:
    with pytest.raises(BadInput):
        weight_from_length_g(bad, 0.02, 3.0)
    with pytest.raises(BadInput):
        condition_factor(bad, 10.0)
    with pytest.raises(BadInput):
        relative_weight_percent(bad, "Bluegill", 100)


@given(st.floats(0.5, 100), st.floats(1.01, 2), st.floats(2.5, 3.5))
def test_longer_fish_weigh_more_and_condition_scales(length: float, by: float, b: float) -> None:
    light, heavy = (weight_from_length_g(one, 0.02, b) for one in (length, length * by))
    assert heavy == pytest.approx(light * by**b)
    assert condition_factor(light * 2, length) == pytest.approx(2 * condition_factor(light, length))


@given(st.sampled_from(sorted(STANDARD_WEIGHTS)), st.floats(200, 900), st.floats(0.5, 1.5))
def test_a_fish_of_standard_weight_is_at_100_percent(
    species: str, length: float, share: float
) -> None:
    weight = standard_weight_g(species, length) * share
    assert relative_weight_percent(weight, species, length) == pytest.approx(100 * share)


def test_catalogue_of_species_is_whole() -> None:
    known = citations()
    assert len(SPECIES) >= 35
    for one in SPECIES.values():
        assert one.source in known
        assert one.water in ("fresh", "marine")
        assert not one.standard_weight or one.standard_weight in STANDARD_WEIGHTS
        if one.length_weight is not None:
            assert one.length_weight.source in known
            assert one.length_weight.quality in ("A", "B", "C")
            assert 1e-3 < one.length_weight.a < 0.1
            assert 2.7 < one.length_weight.b < 3.4


def test_animals_that_copper_kills_are_marked() -> None:
    for one in SPECIES.values():
        if one.invertebrate or one.group in ("elasmobranch", "invertebrate"):
            assert one.copper_sensitive, one.key
