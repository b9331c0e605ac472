from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import pairwise, permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.catalogue.load import table
from core.errors import BadInput, Refusal
from core.scheduling.ranks import RankFact, override, rank
from core.scheduling.roads import Leg, RoundVisit, Start, Travel
from core.scheduling.round import as_given, order

LEAVES = datetime(2026, 11, 25, 8, tzinfo=UTC)
START = Start("base", LEAVES)
RULES = {k: RankFact.from_row(k, r) for k, r in table("ranks")["fact"].items()}

# Five invented sites on a street grid, in miles; three minutes a mile.
AT = {"base": (9, 17), "A": (12, 11), "B": (18, 14), "C": (9, 5), "D": (19, 17), "E": (20, 10)}
RANKS = {"A": 2, "B": 3, "C": 1, "D": 4, "E": 3}


def grid(at: dict[str, tuple[int, int]]) -> Travel:
    def leg(a: str, b: str) -> Leg:
        miles = abs(at[a][0] - at[b][0]) + abs(at[a][1] - at[b][1])
        return Leg(float(miles), 3 * miles)

    return Travel({(a, b): leg(a, b) for a in at for b in at if a < b})


def site(key: str, number: int, **more: object) -> RoundVisit:
    return RoundVisit(key, f"site {key}", key, number, 60, **more)  # type: ignore[arg-type]


FIVE = [site(key, number) for key, number in RANKS.items()]


def test_five_sites_go_clean_to_dirty_for_two_miles_more() -> None:
    got = order(FIVE, START, grid(AT))
    assert [stop.visit.key for stop in got.stops] == list("CAEBD")
    assert (got.distance, got.shortest, got.dirty_to_clean) == (40.0, 38.0, 3)
    assert got.warnings == ()
    assert got.said.startswith("40 mi, 2 more than the shortest road")
    assert got.stops[2].why == "rank 3: cleaner sites are behind; 9 mi"
    assert got.stops[3].why == "rank 3, as the one before; shortest road, 6 mi"


def test_arrival_times_count_road_visit_and_cleaning() -> None:
    first, second, *_ = order(FIVE, START, grid(AT)).stops
    assert first.arrives == LEAVES + timedelta(minutes=36)
    assert first.leaves == LEAVES + timedelta(minutes=96)
    assert second.arrives == LEAVES + timedelta(minutes=96 + 15 + 27)


def test_swapping_two_stops_warns_and_names_both() -> None:
    swapped = [FIVE["ABCDE".index(key)] for key in "CEABD"]
    (warning,) = as_given(swapped, START, grid(AT)).warnings
    assert warning.startswith("site A (rank 2) comes after site E (rank 3): from dirty to clean")


def test_a_farm_goes_first_and_nothing_before_it() -> None:
    visits = [*FIVE[:4], site("E", 4, first=True)]
    got = order(visits, START, grid(AT))
    assert got.stops[0].visit.key == "E"
    assert "farm" in got.stops[0].why
    late = as_given([visits[2], visits[4]], START, grid(AT))
    assert late.warnings == ("site E is a farm and comes after site C: no stock before a farm.",)


def test_after_a_sick_farm_the_gear_is_changed_and_that_is_said() -> None:
    got = order([site("E", 4, first=True), site("A", 2)], START, grid(AT))
    assert [stop.why for stop in got.stops] == [
        "farm: before any other stock; 18 mi",
        "rank 2: after the farm, with all gear changed; 9 mi",
    ]
    (warning,) = got.warnings
    assert "change all gear between, or take another day" in warning


def test_a_promise_that_can_not_be_kept_is_said_and_an_early_arrival_waits() -> None:
    promised = [
        site("C", 1, not_before=LEAVES + timedelta(hours=1)),
        site("A", 2, not_after=LEAVES + timedelta(hours=2)),
    ]
    got = order(promised, START, grid(AT))
    assert got.stops[0].begins - got.stops[0].arrives == timedelta(minutes=24)
    assert got.warnings == ("site A would be reached 42 min after the time promised.",)


def test_the_road_back_counts_only_when_asked() -> None:
    one = [site("C", 1)]
    assert order(one, START, grid(AT)).distance == 12
    assert order(one, Start("base", LEAVES, returns=True), grid(AT)).distance == 24


def test_nothing_to_do_is_a_round_too() -> None:
    got = order([], START, grid(AT))
    assert (got.stops, got.distance, got.shortest) == ((), 0.0, 0.0)


def test_an_unknown_road_and_too_many_visits_are_refused() -> None:
    with pytest.raises(BadInput, match="base to Z"):
        order([site("Z", 1)], START, grid(AT))
    with pytest.raises(BadInput, match="12"):
        order([site("A", 1)] * 13, START, grid(AT))


SITES = st.lists(
    st.tuples(st.integers(0, 9), st.integers(0, 9), st.integers(1, 4)), min_size=1, max_size=5
)


@settings(max_examples=40)
@given(SITES, st.booleans())
def test_no_order_that_keeps_the_ranks_is_shorter(
    sites: list[tuple[int, int, int]], returns: bool
) -> None:
    at = {"base": (5, 5), **{str(n): (x, y) for n, (x, y, _) in enumerate(sites)}}
    visits = [site(str(n), r) for n, (_, _, r) in enumerate(sites)]
    roads, start = grid(at), Start("base", LEAVES, returns)
    got = order(visits, start, roads)
    ranks = [stop.visit.rank for stop in got.stops]
    assert ranks == sorted(ranks)
    assert {s.visit.key for s in got.stops} == {v.key for v in visits}

    def road(way: tuple[RoundVisit, ...]) -> float:
        stops = ["base", *(v.place for v in way), *(["base"] if returns else [])]
        return sum(roads.leg(a, b).distance for a, b in pairwise(stops))

    every = list(permutations(visits))
    kept = [w for w in every if [v.rank for v in w] == sorted(v.rank for v in w)]
    assert got.distance == min(map(road, kept))
    assert got.shortest == min(map(road, every))


@pytest.mark.parametrize(
    ("facts", "number", "first"),
    [
        (["public_collection"], 1, False),
        (["health_check"], 1, False),
        (["recheck_clearing"], 2, False),
        (["chronic"], 2, False),
        (["new_stock"], 3, False),
        (["shop", "health_check"], 3, False),
        (["parasites", "recheck_clearing"], 3, False),
        (["unexplained_deaths", "public_collection"], 4, False),
        (["suspected_listed", "new_stock"], 4, False),
        (["farm"], 1, True),
        (["farm", "unexplained_deaths"], 4, True),
        ([], 3, False),
    ],
)
def test_the_dirtiest_fact_gives_the_rank(facts: list[str], number: int, first: bool) -> None:
    got = rank(facts, RULES)
    assert (got.number, got.first) == (number, first)
    assert got.why


def test_a_rank_is_overridden_only_with_a_reason() -> None:
    given_rank = rank(["shop"], RULES)
    got = override(given_rank, 4, "three tanks died last week")
    assert (got.number, got.overridden) == (4, True)
    assert got.why[0] == "three tanks died last week"
    for number, reason in ((4, " "), (5, "because"), (0, "because")):
        with pytest.raises(Refusal):
            override(given_rank, number, reason)
    with pytest.raises(BadInput):
        rank(["haunted"], RULES)


def test_the_ranks_of_the_facts_have_names() -> None:
    named = {int(key) for key in table("ranks")["rank"]}
    assert named == {1, 2, 3, 4}
    assert {rule.rank for rule in RULES.values()} <= named
