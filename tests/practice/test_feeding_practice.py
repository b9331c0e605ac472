"""The feeding check in the records: the demo's figures, gates on every step, refusals by name."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import BadInput, Refusal
from core.feeding.gates import Gate
from core.practice import feeding, feeding_plan, setup, visits, water
from core.practice.feeding_model import Asked, model_ramp
from core.practice.feeding_plan import Rise, costed, usual_hold, usual_rise
from core.practice.feeding_typed import understand_fed, understand_gone, understand_often
from core.practice.feeding_view import FeedingView, view
from core.practice.feeding_work import weighable_g
from core.practice.fish import net_of_fish, understand_sized
from core.practice.keep import Act, figures
from core.practice.losses import Told, add_loss
from core.practice.stock import fish_here
from core.records import read
from core.records.journal import edit
from core.records.keys import new_key
from core.records.tables import Feeding, FeedStep, Food, Handling, Move, Treatment, Visit, Weighing
from tests.small import Small

DAY = date(2026, 11, 25)
AT = datetime(2026, 11, 25, 8, 30, tzinfo=UTC)


def pond(act: Act, small: Small, kind: str, **system: Any) -> tuple[str, str]:
    """Give another water of the small practice with a visit to it."""
    water_id = setup.add_system(act, small.site, kind, kind, **system)
    return water_id, visits.book(act, water_id, DAY, "12:00", small.vet, "feeding")


def reads(act: Act, visit: str, system: str, place: str = "here", /, **values: Any) -> None:
    """Put down readings; a text such as ``<0.25`` is under the lowest step of the kit."""
    for analyte, value in values.items():
        below = isinstance(value, str)
        number = float(value[1:]) if below else float(value)
        taken = water.Measured(analyte, number, str(value), below=below)
        water.record_reading(act, visit, system, taken, place)


def sizes(act: Act, visit: str, system: str, group: str, *lines: str) -> None:
    for line in lines:
        feeding.record_size(act, visit, system, group, understand_sized(line))


@pytest.fixture
def pool(practice: Small, act: Act) -> tuple[str, str]:
    """The hotel's pool: 14 koi, underfed, with a bag of old food."""
    system, visit = pond(act, practice, "koi_pond", volume_l=9360.0)
    koi = setup.add_group(act, system, "koi", "koi", count=14)
    reads(
        act, visit, system, temperature=22.0, ph=7.6, alkalinity=110,
        ammonia="<0.25", nitrite="<0.05", oxygen=8.1,
    )  # fmt: skip
    sizes(act, visit, system, koi, "4 x 32 cm", "6 x 38 cm", "4x44cm")
    opened = DAY - timedelta(days=243)
    feeding.record_food(
        act, visit, system, name="koi pellet", kind="koi_pellet", protein_fraction=0.38,
        opened=opened,
    )  # fmt: skip
    feeding.record_fed(act, visit, system, fed_g=45.0, fed_typed="45 g", target_percent=0.8)
    feeding.record_fed(act, visit, system, gone_min=2.0, new_deaths=0)
    return system, visit


def test_the_hotel_pool_is_weighed_by_length(pool: tuple[str, str]) -> None:
    seen = view(pool[1], pool[0])
    each = [line.stock.mean_weight_g for line in seen.inputs.stock]
    assert each == pytest.approx([605, 1002, 1539], abs=0.5)
    biomass = seen.worked.biomass
    assert biomass is not None
    assert biomass.likely_g == pytest.approx(14_590, rel=0.001)
    assert biomass.estimated
    assert biomass.low_g == pytest.approx(0.8 * biomass.likely_g)
    assert "estimated" in seen.inputs.stock[0].note
    assert seen.uncounted == ()


def test_the_hotel_pool_is_underfed(pool: tuple[str, str]) -> None:
    worked = view(pool[1], pool[0]).worked
    assert worked.verdict is not None
    assert worked.verdict.percent == pytest.approx(0.31, abs=0.005)
    assert worked.verdict.place == "under"
    assert "the table has 1 to 2 %" in worked.verdict.sentence
    assert worked.to_feed_g == 117.0


def test_the_bag_of_the_hotel_is_old_and_undated(pool: tuple[str, str]) -> None:
    (bag,) = view(pool[1], pool[0]).foods
    assert bag.age is not None
    assert set(bag.age.words) == {"open too long", "no date"}
    assert "243 days" in bag.sentence
    assert "90 days" in bag.sentence
    assert "FEED_OPEN" not in bag.sentence


def test_the_rise_of_the_hotel_pool(pool: tuple[str, str], act: Act) -> None:
    system, visit = pool
    offered = usual_rise(view(visit, system))
    assert feeding_plan.make_rise(act, visit, system, offered) == 4
    steps = costed(view(visit, system))
    assert [s.grams for s in steps] == [63, 81, 99, 117]
    assert [s.day for s in steps] == [DAY + timedelta(days=n) for n in (0, 7, 14, 21)]
    assert [s.tan_g for s in steps] == pytest.approx([2.20, 2.83, 3.46, 4.09], abs=0.005)
    assert steps[-1].alkalinity_g == pytest.approx(29, abs=0.5)
    for step in steps:
        for words in ("ammonia", "0.25", "nitrite", "0.1 mg/L", "5 min", "no new deaths", "ring"):
            assert words in step.gate


def test_a_rise_made_again_replaces_the_whole_set(pool: tuple[str, str], act: Act) -> None:
    system, visit = pool
    offered = usual_rise(view(visit, system))
    feeding_plan.make_rise(act, visit, system, offered)
    feeding_plan.make_rise(act, visit, system, replace(offered, weeks=6, steps=3))
    rows = read.find(FeedStep, visit=visit, struck=True)
    assert [r.struck for r in rows] == ["made again"] * 4 + [None] * 3
    standing = view(visit, system).plan
    assert [s.day for s in standing] == [DAY + timedelta(days=n) for n in (0, 14, 28)]
    assert [s.grams for s in standing] == [69, 93, 117]
    kept = figures(visit, f"{system} feeding plan")
    assert set(kept) == {f"{w}, step {n}" for w in ("ammonia", "alkalinity") for n in (1, 2, 3)}


def test_figures_are_kept_with_their_working(pool: tuple[str, str]) -> None:
    kept = figures(pool[1], f"{pool[0]} feeding")
    assert kept["biomass"].value == pytest.approx(14_590, rel=0.001)
    assert "W = a L^b" in kept["biomass"].working
    assert kept["to feed"].value == 117
    assert "as a scale can weigh it: 117 g" in kept["to feed"].working
    assert kept["ration"].unit == "%"
    assert kept["ammonia from food"].value == pytest.approx(45 * 0.38 * 0.092)
    assert "Timmons" in kept["ammonia from food"].working


def test_a_figure_that_no_longer_follows_is_struck(pool: tuple[str, str], act: Act) -> None:
    system, visit = pool
    for row in read.find(Weighing, visit=visit):
        feeding.strike_line(act, row.id, "counted twice")
    assert "biomass" not in figures(visit, f"{system} feeding")
    assert view(visit, system).worked.missing == ("No fish is weighed yet.",)


@pytest.fixture
def goldfish(practice: Small, act: Act) -> tuple[str, str]:
    """The children's pond: nitrite over its limit, praziquantel running, Biscuit in hand."""
    system, visit = pond(act, practice, "goldfish_pond", volume_l=3390.0)
    school = setup.add_group(act, system, "goldfish", "goldfish", count=12)
    biscuit = setup.add_group(act, system, "goldfish", "Biscuit", single=True)
    reads(act, visit, system, temperature=17.0, ph=8.0, ammonia=0.4, nitrite=0.6, alkalinity=110)
    sizes(act, visit, system, school, "12 x 140 g")
    handled = Handling(
        id=new_key(), visit=visit, system=system, group=biscuit, number=1, label="Biscuit",
        weight_g=238.0, weight_typed="238 g", weight_how="weighed", length_cm=24.0, at=AT,
    )  # fmt: skip
    with edit("in hand", who=act.by, at=act.at, visit=visit) as doing:
        doing.add(handled)
    assert feeding.take_in_hand(act, visit, system) == 1
    feeding.record_fed(act, visit, system, fed_g=12.0, fed_typed="12 g", gone_min=3, new_deaths=0)
    return system, visit


def test_the_goldfish_pond_by_scale_and_by_length(goldfish: tuple[str, str], act: Act) -> None:
    seen = view(goldfish[1], goldfish[0])
    assert seen.worked.biomass is not None
    assert seen.worked.biomass.likely_g == 1918
    assert not seen.worked.biomass.estimated
    biscuit = next(s for s in seen.inputs.stock if s.group.name == "Biscuit")
    assert "238 g each, weighed" in biscuit.note
    assert "24 cm, would say 186 g" in biscuit.note
    assert seen.untaken == ()
    assert feeding.take_in_hand(act, goldfish[1], goldfish[0]) == 0


def test_the_goldfish_are_fed_enough_by_the_table(goldfish: tuple[str, str]) -> None:
    verdict = view(goldfish[1], goldfish[0]).worked.verdict
    assert verdict is not None
    assert verdict.percent == pytest.approx(0.63, abs=0.005)
    assert verdict.place == "inside"


def test_the_goldfish_are_held_behind_the_gate(goldfish: tuple[str, str], act: Act) -> None:
    system, visit = goldfish
    seen = view(visit, system)
    grams = usual_hold(seen)
    assert grams == 5.8
    feeding_plan.hold(act, visit, system, grams)
    (step,) = view(visit, system).plan
    assert (step.grams, step.kind, step.day) == (5.8, "hold", DAY)
    assert "Hold 5.8 g a day (0.30 %" in step.gate
    assert "Nitrite is 0.600 mg/L as N; it must be under 0.1 mg/L as N" in step.gate
    assert "only if ammonia is under 0.25 mg/L N, nitrite under 0.1 mg/L N" in step.gate


def rise_of(seen: FeedingView) -> Rise:
    return Rise(12.0, 20.0, 4, 4, seen.day)


def test_a_rise_is_refused_while_nitrite_is_over_its_limit(
    goldfish: tuple[str, str], act: Act
) -> None:
    system, visit = goldfish
    with pytest.raises(Refusal, match=r"Nitrite is 0\.600 mg/L as N; it must be under 0\.1 mg/L"):
        feeding_plan.make_rise(act, visit, system, rise_of(view(visit, system)))
    assert read.find(FeedStep, visit=visit) == ()


def treated(act: Act, visit: str, system: str, /, **more: Any) -> None:
    values: dict[str, Any] = {
        "act": "given here", "medicine": "praziquantel-prolonged", "route": "prolonged bath",
        "dose": 2.0, "dose_unit": "mg/L", "amount": 6.78, "amount_unit": "g", "at": act.at,
    }  # fmt: skip
    vet = read.one(Visit, visit).vet
    row = Treatment(id=new_key(), visit=visit, system=system, by=vet, **{**values, **more})
    with edit("treatment", who=act.by, at=act.at, visit=visit) as doing:
        doing.add(row)


def test_a_rise_is_refused_while_a_treatment_runs(pool: tuple[str, str], act: Act) -> None:
    system, visit = pool
    treated(act, visit, system, repeats=2, interval_days=8.0)
    found = view(visit, system)
    assert found.rise.reasons == ("A treatment runs in this water: praziquantel, until 5 Dec.",)
    with pytest.raises(Refusal, match="A treatment runs in this water: praziquantel"):
        feeding_plan.make_rise(act, visit, system, usual_rise(found))


@pytest.mark.parametrize(
    "more",
    [
        {"route": "injection IM"},
        {"route": "sedation bath"},
        {"act": "advised"},
        {"at": AT - timedelta(days=9), "starts": (AT - timedelta(days=9)).date()},
    ],
)
def test_what_is_no_treatment_of_the_water_now_does_not_refuse(
    pool: tuple[str, str], act: Act, more: dict[str, Any]
) -> None:
    treated(act, pool[1], pool[0], **more)
    assert not view(pool[1], pool[0]).rise.refused


@pytest.mark.parametrize(
    ("analyte", "value", "words"),
    [
        ("ammonia", 0.3, "Ammonia is 0.300 mg/L as N; it must be under 0.25"),
        ("nitrite", 0.08, "over the limit of 0.06 mg/L"),
        ("oxygen", 3.0, "under the limit of"),
        ("alkalinity", 20, "it must be at least 50 mg/L as CaCO3"),
    ],
)
def test_every_reading_over_its_limit_refuses_by_name(
    pool: tuple[str, str], act: Act, analyte: str, value: float, words: str
) -> None:
    system, visit = pool
    reads(act, visit, system, **{analyte: value})
    with pytest.raises(Refusal) as refused:
        feeding_plan.make_rise(act, visit, system, usual_rise(view(visit, system)))
    assert words in refused.value.sentence


def test_new_deaths_of_the_history_refuse(pool: tuple[str, str], act: Act) -> None:
    system, visit = pool
    add_loss(act, visit, system, Told(2, DAY - timedelta(days=3)))
    assert view(visit, system).rise.reasons == ("New deaths: 2; there must be none.",)
    for row in read.find(Feeding, visit=visit):
        assert row.new_deaths == 0


def test_old_deaths_do_not_count_as_new(pool: tuple[str, str], act: Act) -> None:
    add_loss(act, pool[1], pool[0], Told(2, DAY - timedelta(days=30)))
    assert not view(pool[1], pool[0]).rise.refused


def test_no_gate_broken_is_no_green_light(pool: tuple[str, str]) -> None:
    assert view(pool[1], pool[0]).rise.sentence == (
        "No gate is broken by what was measured today. The veterinarian decides on the step."
    )


def test_trout_of_the_farm_are_overfed(practice: Small, act: Act) -> None:
    system, visit = pond(
        act, practice, "trout_flowing", volume_l=57_600.0, flow="flowing", flow_l_s=18.0
    )
    trout = setup.add_group(act, system, "rainbow_trout", "trout", count=3200)
    reads(act, visit, system, "outlet", temperature=12.0)
    sizes(act, visit, system, trout, "310 g")
    feeding.record_fed(act, visit, system, fed_g=15_900.0, fed_typed="15.9 kg")
    worked = view(visit, system).worked
    assert worked.biomass is not None
    assert worked.biomass.likely_g == 992_000
    assert worked.verdict is not None
    assert worked.verdict.percent == pytest.approx(1.60, abs=0.005)
    assert worked.verdict.place == "over"
    assert worked.to_feed_g == 9920
    with pytest.raises(Refusal, match="nothing to raise"):
        usual_rise(view(visit, system))
    feeding_plan.hold(act, visit, system, 7950.0)
    assert "0.80 % of body weight" in view(visit, system).plan[0].gate


def test_the_reef_is_fed_inside_its_range(practice: Small, act: Act) -> None:
    system, visit = pond(act, practice, "marine_reef", volume_l=470.0)
    tangs = setup.add_group(act, system, "yellow_tang", "tangs", count=2)
    clowns = setup.add_group(act, system, "clownfish", "clownfish", count=2)
    reads(act, visit, system, temperature=25.6, ph=8.1, salinity=34.8)
    sizes(act, visit, system, tangs, "1 x 62 g", "1 x 41 g")
    sizes(act, visit, system, clowns, "2 x 11.5 g")
    feeding.record_fed(act, visit, system, fed_g=2.6, fed_typed="2.6")
    worked = view(visit, system).worked
    assert worked.biomass is not None
    assert worked.biomass.likely_g == 126
    assert worked.verdict is not None
    assert worked.verdict.percent == pytest.approx(2.1, abs=0.05)
    assert worked.verdict.place == "inside"


def test_moist_food_counts_by_its_dry_matter(practice: Small, act: Act) -> None:
    feeding.record_food(act, practice.visit, practice.system, name="mysis", kind="frozen_mix")
    reads(act, practice.visit, practice.system, temperature=22.0)
    sizes(act, practice.visit, practice.system, practice.group, "12 x 100 g")
    feeding.record_fed(act, practice.visit, practice.system, fed_g=46.0, fed_typed="46")
    worked = view(practice.visit, practice.system).worked
    assert worked.verdict is not None
    assert worked.verdict.percent == pytest.approx(100 * 46 * 0.18 / 0.92 / 1200)
    assert worked.to_feed_g == pytest.approx(12 * 0.92 / 0.18, abs=0.5)
    assert worked.tan_g == pytest.approx(46 * 0.09 * 0.092)


def test_an_unknown_count_gives_a_range(practice: Small, act: Act) -> None:
    sizes(act, practice.visit, practice.system, practice.group, "10-14 x 100 g")
    biomass = view(practice.visit, practice.system).worked.biomass
    assert biomass is not None
    assert (biomass.low_g, biomass.likely_g, biomass.high_g) == (1000, 1200, 1400)
    assert biomass.estimated


def test_repeated_weighings_keep_their_spread(practice: Small, act: Act) -> None:
    sized = net_of_fish((2350.0, 2450.0), 1100.0, 10, 12)
    feeding.record_size(act, practice.visit, practice.system, practice.group, sized)
    (row,) = read.find(Weighing, visit=practice.visit)
    assert (row.count, row.weight_g) == (12, 130.0)
    assert row.error_percent == pytest.approx(100 * 5 / 130)
    biomass = view(practice.visit, practice.system).worked.biomass
    assert biomass is not None
    assert (biomass.low_g, biomass.high_g) == pytest.approx((1500, 1620))


def test_fish_on_no_line_are_named(practice: Small, act: Act) -> None:
    sizes(act, practice.visit, practice.system, practice.group, "5 x 100 g")
    assert view(practice.visit, practice.system).uncounted == ("koi: 7 of 12 on no line",)


def test_moved_fish_are_weighed_where_they_are_now(practice: Small, act: Act) -> None:
    other = setup.add_system(act, practice.site, "hospital", "koi_pond", volume_l=180.0)
    moved = Move(
        id=new_key(), visit=practice.visit, group=practice.group, from_system=practice.system,
        to_system=other, number=5, at=act.at,
    )  # fmt: skip
    with edit("move", who=act.by, at=act.at, visit=practice.visit) as doing:
        doing.add(moved)
    assert [h.alive for h in fish_here(practice.system)] == [7]
    assert [h.alive for h in fish_here(other)] == [5]


def test_a_scoop_is_weighed_once_for_a_client(practice: Small, act: Act) -> None:
    visit, system = practice.visit, practice.system
    feeding.record_food(act, visit, system, name="Sticks", kind="koi_pellet", scoop_g=15.0)
    columns = feeding.fed_columns("fed", "3 scoops", 15.0)
    feeding.record_fed(act, visit, system, **columns)
    (food,) = read.find(Food, visit=visit)
    feeding.record_food(act, visit, system, food.id, scoop_g=16.0)
    (fed,) = read.find(Feeding, visit=visit)
    assert (fed.fed_g, fed.fed_typed) == (48.0, "3 scoops")
    later = visits.book(act, system, DAY + timedelta(days=30), "09:00", practice.vet, "again")
    feeding.record_food(act, later, system, name="sticks", kind="koi_pellet")
    assert read.find(Food, visit=later)[0].scoop_g == 16.0


def test_the_food_of_the_visit_before_is_put_down_again(practice: Small, act: Act) -> None:
    system = practice.system
    with pytest.raises(Refusal, match="No earlier visit"):
        feeding.food_as_last(act, practice.visit, system)
    feeding.record_food(act, practice.visit, system, name="wheat", kind="wheatgerm_pellet")
    later = visits.book(act, system, DAY + timedelta(days=30), "09:00", practice.vet, "again")
    feeding.food_as_last(act, later, system)
    assert read.find(Food, visit=later)[0].kind == "wheatgerm_pellet"
    with pytest.raises(Refusal, match="stands here already"):
        feeding.food_as_last(act, later, system)


def test_a_target_of_the_vet_stands_without_any_row(practice: Small, act: Act) -> None:
    visit, system = practice.visit, practice.system
    sizes(act, visit, system, practice.group, "12 x 100 g")
    feeding.record_fed(act, visit, system, fed_g=6.0, fed_typed="6")
    assert "temperature of the water is not measured" in view(visit, system).worked.missing[0]
    feeding.record_fed(act, visit, system, target_percent=0.5)
    worked = view(visit, system).worked
    assert worked.verdict is not None
    assert worked.verdict.place == "inside"
    assert "veterinarian's target" in worked.verdict.sentence


def test_the_model_says_that_it_was_never_validated(pool: tuple[str, str]) -> None:
    system, visit = pool
    tried: list[int] = []
    ramp = model_ramp(view(visit, system), Asked(40, 5, 110, 0.3, 0.3), tried.append)
    assert tried == list(range(1, ramp.weeks + 1))
    assert ramp.weeks > 1
    assert "never checked" in ramp.sentence
    assert all(step.gate == Gate() for step in ramp.steps)


def test_the_model_names_the_limit_that_no_rise_keeps(pool: tuple[str, str]) -> None:
    seen = view(pool[1], pool[0])
    with pytest.raises(Refusal, match=r"no rise in 1 to 26 weeks .* nitrite reaches"):
        model_ramp(seen, Asked(40, 5, 110, 5.0, 0.01), lambda _: None)


def test_the_model_is_refused_behind_a_broken_gate(goldfish: tuple[str, str], act: Act) -> None:
    feeding.record_fed(act, goldfish[1], goldfish[0], target_percent=1.0)
    with pytest.raises(Refusal, match="Nitrite is"):
        model_ramp(view(goldfish[1], goldfish[0]), Asked(40, 5, 110), lambda _: None)


@pytest.mark.parametrize(
    "text",
    ["", "abc", "4", "4 x", "4 x 32", "-3 x 10 g", "0 x 10 g", "14-10 x 5 g", "4 x 5 L",
     "4 x 1e9 g", "4 x 9999 cm", "٣ x 10 g", "4 x <5 g",
     "1234567890 x 5 g", "9" * 10_000, "[b]4[/b]"],
)  # fmt: skip
def test_what_is_no_size_of_fish_is_refused_in_a_sentence(text: str) -> None:
    with pytest.raises(BadInput) as refused:
        understand_sized(text)
    assert refused.value.sentence.endswith((".", "?"))
    assert len(refused.value.sentence) < 120


def test_a_count_that_nobody_gave_is_asked_for(practice: Small, act: Act) -> None:
    group = setup.add_group(act, practice.system, "koi", "new koi")
    with pytest.raises(BadInput, match="How many new koi"):
        sizes(act, practice.visit, practice.system, group, "100 g")


@pytest.mark.parametrize("length", ["3 cm", "90 cm"])
def test_a_length_outside_the_fish_measured_is_refused(
    practice: Small, act: Act, length: str
) -> None:
    with pytest.raises(BadInput, match="weigh it"):
        sizes(act, practice.visit, practice.system, practice.group, f"2 x {length}")
    assert read.find(Weighing, visit=practice.visit) == ()


@pytest.mark.parametrize(
    ("read_it", "good"),
    [
        (lambda t: understand_fed(t, None), {"45": 45.0, "1.2 kg": 1200.0, "0,5": 0.5}),
        (understand_often, {"2": 0.5, "2 a day": 0.5, "every 3 days": 3.0, "every 1": 1.0}),
        (
            understand_gone,
            {"4": (4.0, False), "left": (None, True), "90 s": (1.5, False), "0": (0.0, False)},
        ),
    ],
)
def test_answers_in_words(read_it: Any, good: dict[str, Any]) -> None:
    for text, value in good.items():
        assert read_it(text) == value
    for bad in ("", "abc", "-3", "1e9", "٣", "5 L", "x" * 10_000, "3 scoops", ">4", "0.0.1"):
        with pytest.raises(BadInput):
            read_it(bad)


@pytest.mark.parametrize(
    "net",
    [
        ((1000.0,), 1100.0, 5, 5),
        ((), 0.0, 5, 5),
        ((1200.0,), 1100.0, 0, 5),
        ((1200.0,), -1.0, 5, 5),
    ],
)
def test_a_net_that_weighs_nothing_is_refused(net: tuple[Any, ...]) -> None:
    with pytest.raises(BadInput):
        net_of_fish(*net)


@pytest.mark.parametrize(
    "change",
    [{"weeks": 0}, {"weeks": 27}, {"steps": 0}, {"steps": 29}, {"to_g": 45.0}, {"to_g": 10.0}],
)
def test_a_rise_that_can_not_be_is_refused(
    pool: tuple[str, str], act: Act, change: dict[str, Any]
) -> None:
    system, visit = pool
    offered = replace(usual_rise(view(visit, system)), **change)
    with pytest.raises(BadInput):
        feeding_plan.make_rise(act, visit, system, offered)


def test_a_gate_that_the_vet_set_says_so() -> None:
    assert feeding_plan.gate_of(0.25, 0.1, 5.0) == Gate()
    assert "veterinarian" in feeding_plan.gate_of(0.5, 0.1, 5.0).source
    with pytest.raises(BadInput):
        feeding_plan.gate_of(0.0, 0.1, 5.0)


@given(st.floats(0.01, 1e6))
def test_what_a_scale_weighs_is_close_to_what_was_worked_out(grams: float) -> None:
    assert weighable_g(grams) == pytest.approx(grams, rel=0.051, abs=0.005)
