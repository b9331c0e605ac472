"""Plans of prevention: each filled in with the water's own volume and stock, nothing guessed."""

from __future__ import annotations

import re
from datetime import date, timedelta
from pathlib import Path

import pytest

from core.catalogue import load
from core.errors import BadInput, Refusal
from core.papers import preventive as paper
from core.practice import preventive, setup
from core.practice.preventive import UNKNOWN, plan_of, templates
from core.practice.visits import opened
from core.records import read
from core.records.journal import edit
from core.records.keys import new_key
from core.records.tables import Document, System, Weighing
from tests.practice.plan_cases import MOMENT, Case, D, case

PLANS = ("quarantine", "spring", "feeding", "filter")


@pytest.fixture
def pond(records: Path) -> Case:
    made = case(volume_how="measured", filter="drum and moving bed")
    made.read(temperature=17.0, ph=8.0, nitrite=0.6)
    weighed(made, made.group, 13, 160.0)
    return made


def weighed(made: Case, group: str, count: int, grams: float) -> None:
    with edit("weighed", who=made.act.by, at=MOMENT, visit=made.visit) as doing:
        doing.add(
            Weighing(
                id=new_key(),
                visit=made.visit,
                system=made.system,
                group=group,
                count=count,
                weight_g=grams,
                how="weighed",
                at=MOMENT,
            )
        )


def text(made: Case, key: str, system: str = "") -> str:
    return paper.text(plan_of(made.act, opened(made.visit), key, system))


def test_the_four_plans_are_there() -> None:
    assert tuple(templates()) == PLANS


@pytest.mark.parametrize("key", PLANS)
def test_each_is_filled_in_with_the_waters_own_volume_filter_and_stock(
    pond: Case, key: str
) -> None:
    said = text(pond, key)
    assert "Volume: 3 390 L (measured)" in said
    assert "Filter: drum and moving bed" in said
    assert "Fish: goldfish (13, about 160 g each)" in said
    assert "Temperature 17 °C" in said
    assert not re.search(r"[{}]", said)
    assert UNKNOWN not in said


def test_figures_of_the_plans_are_those_of_the_volume(pond: Case) -> None:
    assert "change a fifth, 678 L" in text(pond, "quarantine")
    assert "1 g/L would be 3.39 kg" in text(pond, "quarantine")
    assert "Change a tenth, 339 L" in text(pond, "spring")
    assert "takes 1 695 L to 3 390 L an hour" in text(pond, "filter")


def test_another_volume_and_stock_make_other_figures(pond: Case) -> None:
    site = read.one(System, pond.system).site
    other = setup.add_system(pond.act, site, "small pond", "koi_pond", volume_l=500.0)
    setup.add_group(pond.act, other, "koi", "the koi", count=3)
    said = text(pond, "quarantine", other)
    assert "Volume: 500 L" in said
    assert "change a fifth, 100 L" in said
    assert "Fish: the koi (3)" in said
    assert "koi herpesvirus" in said
    assert "koi herpesvirus" not in text(pond, "quarantine")


def test_days_run_across_the_end_of_the_year(pond: Case) -> None:
    found = plan_of(pond.act, opened(pond.visit), "quarantine")
    days = dict(found.dated)
    assert min(days) == D
    assert max(days) == date(2026, 12, 25)
    looks = [day for day, lines in days.items() if any("scrape" in one for one in lines)]
    assert looks == [D + timedelta(7), D + timedelta(14)]


def test_food_in_grams_is_the_rate_of_the_weight(pond: Case) -> None:
    rations = plan_of(pond.act, opened(pond.visit), "feeding").rations
    assert rations is not None
    rows = {row[0]: row for row in rations.rows}
    # 13 fish of 160 g are 2080 g.
    assert rows["10 to 15 °C"][2] == "6.24 g"
    assert rows["15 to 20 °C"][2] == "14.56 g"
    assert rows["20 to 26 °C"][2] == "20.8 g"
    assert rows["under 8 °C"][2] == "0 g"
    assert rations.note == ""


def test_what_is_not_known_is_said_and_not_guessed(records: Path) -> None:
    made = case(volume_l=None, count=5)
    said = text(made, "quarantine")
    assert f"change a fifth, {UNKNOWN}" in said
    assert f"1 g/L would be {UNKNOWN}" in said
    assert "At our visit: not measured" in said
    food = plan_of(made.act, opened(made.visit), "feeding").rations
    assert food is not None
    assert {row[2] for row in food.rows} == {""}
    assert "not weighed" in food.note


@pytest.mark.parametrize("key", PLANS)
def test_every_line_says_how_it_is_known(pond: Case, key: str) -> None:
    found = plan_of(pond.act, opened(pond.visit), key)
    letters = {ground[1] for ground in found.grounds}
    lines = [*found.always, *(line for _, day in found.dated for line in day)]
    assert lines
    assert {line[-2] for line in lines} == letters
    for row in templates()[key].lines:
        assert row["how"]
        assert "source" not in row or row["source"] in load.citations()
        if "source" not in row:
            assert row["how"] in ("common practice, no source", "on record")


def test_a_tank_has_no_spring_start_and_an_unknown_plan_is_refused(records: Path) -> None:
    made = case("tropical_fresh", 200.0, "neon_tetra", 20)
    with pytest.raises(Refusal, match="no pond"):
        text(made, "spring")
    with pytest.raises(BadInput, match="no plan autumn"):
        text(made, "autumn")


def test_the_same_plan_again_is_the_same_paper_and_another_water_another(
    pond: Case, tmp_path: Path
) -> None:
    one = preventive.issue(pond.act, pond.visit, tmp_path, "filter")
    assert one.file.read_bytes().startswith(b"%PDF")
    assert one.document.kind == "filter work order"
    again = preventive.issue(pond.act, pond.visit, tmp_path, "filter")
    assert again.document.id == one.document.id
    site = read.one(System, pond.system).site
    other = setup.add_system(pond.act, site, "small pond", "koi_pond", volume_l=500.0)
    new = preventive.issue(pond.act, pond.visit, tmp_path, "filter", other)
    assert new.document.number != one.document.number
    assert len(read.find(Document, visit=pond.visit)) == 2
