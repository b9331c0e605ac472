from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.catalogue.load import table
from core.errors import BadInput
from core.microscopy.catalogue import Scale
from core.microscopy.grade import grade, mean_count

SCALES = {k: Scale.from_row(k, row) for k, row in table("organisms")["scale"].items()}
COUNTS = st.lists(st.integers(0, 60), min_size=1, max_size=25).map(tuple)


@pytest.mark.parametrize(
    ("scale", "counts", "expected"),
    [
        # per low-power field: 0; 1+ under 1; 2+ 1 to 5; 3+ 6 to 15; 4+ over 15
        ("low_power", (0,) * 20, 0),
        ("low_power", (0, 1, 0, 1), 1),
        ("low_power", (1, 1), 2),
        ("low_power", (5, 5), 2),
        ("low_power", (6, 6), 3),
        ("low_power", (15,), 3),
        ("low_power", (16,), 4),
        # at 400x costia has its own steps: 6 to 20, over 20
        ("high_power", (20,), 3),
        ("high_power", (21,), 4),
        # worms a snip: 1 to 2, 3 to 5, 6 to 10, over 10
        ("snip", (1, 0, 0), 1),
        ("snip", (2,), 1),
        ("snip", (3,), 2),
        ("snip", (6,), 3),
        ("snip", (10,), 3),
        ("snip", (11,), 4),
        # gut flagellates: under 5 leave, 5 to 15, over 15
        ("gut", (4,), 1),
        ("gut", (5,), 2),
        ("gut", (15,), 2),
        ("gut", (16,), 3),
        ("eggs", (2,), 1),
        ("eggs", (3,), 2),
        ("eggs", (11,), 3),
        ("haystack", (0, 1), 1),
        ("haystack", (3,), 2),
        ("haystack", (4,), 3),
        ("filaments_percent", (9,), 1),
        ("filaments_percent", (61,), 4),
    ],
)
def test_the_grading_table(scale: str, counts: tuple[int, ...], expected: int) -> None:
    assert grade(counts, SCALES[scale]).grade == expected


def test_three_snips_of_the_demo_pond_are_two_plus_borderline_and_keep_their_counts() -> None:
    got = grade((4, 3, 0), SCALES["snip"])
    assert (got.grade, got.counts) == (2, (4, 3, 0))
    assert got.borderline == "One fewer would have made it 1+."
    assert got.said == "2+ (7 in 3, borderline)"


def test_a_mean_in_a_gap_takes_the_higher_grade_and_says_so() -> None:
    got = grade((5, 6) * 10, SCALES["low_power"])
    assert got.grade == 3
    assert got.borderline == "5.50 lies between 2+ and 3+."


def test_well_inside_a_class_is_not_borderline() -> None:
    assert grade((10, 11, 9), SCALES["low_power"]).borderline == ""


def test_any_organism_of_an_act_kind_asks_to_act_and_none_does_not() -> None:
    assert grade((0, 1), SCALES["any"]).act
    assert not grade((0, 0), SCALES["any"]).act
    assert not grade((40,), SCALES["low_power"]).act


def test_few_clean_fields_say_that_they_are_few() -> None:
    (caution,) = grade((0, 0, 0), SCALES["low_power"]).cautions
    assert "20" in caution
    assert "without removing" in caution
    assert grade((0,) * 20, SCALES["low_power"]).cautions == ()


@pytest.mark.parametrize("counts", [(), (1, -1)])
def test_what_can_not_be_counted_is_refused(counts: tuple[int, ...]) -> None:
    with pytest.raises(BadInput):
        grade(counts, SCALES["low_power"])


def test_worked_example_of_the_mean() -> None:
    assert mean_count((4, 3, 2)) == 3.0


@given(COUNTS)
def test_the_mean_lies_between_the_least_and_the_most(counts: tuple[int, ...]) -> None:
    assert min(counts) <= mean_count(counts) <= max(counts)


@given(COUNTS, st.sampled_from(sorted(SCALES)), st.data())
def test_one_more_never_lowers_the_grade(
    counts: tuple[int, ...], scale: str, data: st.DataObject
) -> None:
    at = data.draw(st.integers(0, len(counts) - 1))
    more = (*counts[:at], counts[at] + 1, *counts[at + 1 :])
    assert grade(more, SCALES[scale]).grade >= grade(counts, SCALES[scale]).grade


@given(COUNTS, st.sampled_from(sorted(SCALES)))
def test_zero_is_exactly_none_seen(counts: tuple[int, ...], scale: str) -> None:
    assert (grade(counts, SCALES[scale]).grade == 0) == (sum(counts) == 0)


@pytest.mark.parametrize("scale", SCALES.values(), ids=SCALES.keys())
def test_scales_run_upwards_without_overlap(scale: Scale) -> None:
    assert len(scale.starts) == len(scale.ends)
    assert all(a < b for a, b in pairwise(scale.starts))
    assert all(e <= s for s, e in zip(scale.starts[1:], scale.ends[:-1], strict=True))
