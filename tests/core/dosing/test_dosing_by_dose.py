"""Dangers that lie in the dose or in cold water, and food fish that are off the label."""

from __future__ import annotations

from dataclasses import replace

import pytest

from core.catalogue.load import table
from core.dosing.dangers import Danger
from core.dosing.food_fish import FEED, FEED_SOURCES
from core.dosing.medicines import from_table
from core.dosing.recipient import Recipient, Stop
from core.dosing.stops import check

MEDICINES = from_table(table("medicines"))
WARM = Recipient(food_fish=False, groups=frozenset({"cyprinid"}), temperature_c=26.0)
FOOD = replace(WARM, food_fish=True)
HOTTEST = "at most 150 µL/L"


def lines(key: str, who: Recipient, words: str) -> list[Stop]:
    return [stop for stop in check(MEDICINES[key], who) if words in stop.sentence]


@pytest.mark.parametrize(
    ("asked", "temperature_c", "kind"),
    [
        (250.0, 26.0, "stop"),
        (150.1, 21.1, "stop"),
        (150.0, 26.0, ""),
        (150.0 * (1 + 1e-12), 26.0, ""),
        (250.0, 21.0, ""),
        (250.0, None, "caution"),
        (None, 26.0, ""),
        (float("nan"), 26.0, "stop"),
        (250.0, float("nan"), "stop"),
    ],
)
def test_formalin_in_warm_water_is_judged_by_its_dose(
    asked: float | None, temperature_c: float | None, kind: str
) -> None:
    who = replace(WARM, asked=asked, temperature_c=temperature_c)
    for key in ("formalin-bath", "formalin-bath-salmonids-warm"):
        found = lines(key, who, HOTTEST)
        assert {stop.kind for stop in found} == ({kind} if kind else set()), key
        assert {stop.subject for stop in found} <= {"heat"}
        if kind == "caution":
            assert found[0].sentence.startswith("Not known the temperature: ")
        for stop in found:
            assert (stop.rule, stop.sources) == ("read", ("RX_VM77",))


@pytest.mark.parametrize(
    ("temperature_c", "groups", "kind"),
    [
        (16.6, {"catfish"}, "stop"),
        (16.7, {"catfish"}, ""),
        (10.0, {"salmonid"}, ""),
        (None, {"catfish"}, "caution"),
        (10.0, None, "caution"),
        (20.0, None, ""),
    ],
)
def test_oxytetracycline_is_not_for_catfish_in_the_cold(
    temperature_c: float | None, groups: set[str] | None, kind: str
) -> None:
    known = None if groups is None else frozenset(groups)
    who = replace(WARM, temperature_c=temperature_c, groups=known)
    found = lines("oxytetracycline-feed", who, "16.7 °C up")
    assert {stop.kind for stop in found} == ({kind} if kind else set())


@pytest.mark.parametrize(
    ("key", "asked", "groups", "words"),
    [
        ("formalin-eggs", 1500.5, {"sturgeon"}, "1500"),
        ("alfaxalone-maintenance", 1.5, {"cyprinid"}, "4 of 6 koi"),
    ],
)
def test_other_doses_that_are_a_danger(
    key: str, asked: float, groups: set[str], words: str
) -> None:
    who = replace(WARM, groups=frozenset(groups), asked=asked)
    assert lines(key, who, words)
    [danger] = [d for d in MEDICINES[key].dangers if d.over is not None]
    assert not [s for s in lines(key, replace(who, asked=danger.over), words) if s.kind != "note"]
    assert not [s for s in lines(key, replace(who, asked=None), words) if s.kind != "note"]


def test_a_danger_has_no_dose_and_no_cold_unless_it_says_so() -> None:
    plain = Danger("stop", "x", "y.", "z", "read")
    assert plain.over is None
    assert plain.below_c is None


@pytest.mark.parametrize("medicine", MEDICINES.values(), ids=list(MEDICINES))
def test_fish_off_the_label_are_a_stop_in_feed_and_a_caution_elsewhere(medicine: object) -> None:
    row = next(m for m in MEDICINES.values() if m is medicine)
    if not row.approved_groups:
        return
    feed = row.us_food_fish == "approved with feed directive"
    for groups in (frozenset({"labyrinth fish"}), None):
        [said] = lines(row.key, replace(FOOD, groups=groups), "approved only for ")
        assert said.kind == ("stop" if feed else "caution")
        assert said.subject == ("feed directive" if feed else "food fish")
        assert all(group in said.sentence for group in row.approved_groups)
        if feed:
            assert (said.rule, said.sources) == (FEED.citation, FEED_SOURCES)
            assert FEED.rule in said.sentence
        [days] = lines(row.key, replace(FOOD, groups=groups), " of withdrawal were found for ")
        assert (days.kind, days.subject) == ("stop" if feed else "note", "withdrawal")
        assert days.sentence.startswith(f"Food fish: {row.withdrawal_days} days of withdrawal ")
    for group in row.approved_groups:
        at_home = replace(FOOD, groups=frozenset({group, "labyrinth fish"}))
        assert not lines(row.key, at_home, "approved only for ")
        assert not lines(row.key, at_home, "were found for")
    assert not lines(row.key, replace(WARM, groups=None), "approved only for ")


def test_the_rule_of_feed_is_named_with_the_date_of_its_text() -> None:
    assert FEED.citation == ("21 CFR 530.11(b) (extralabel use in or on feed; text of 2026-06-20)")
    assert set(FEED_SOURCES) <= set(table("sources"))
    barred = [m for m in MEDICINES.values() if m.us_food_fish == "barred in feed"]
    assert {m.key for m in barred} == {
        "praziquantel-feed",
        "levamisole-feed",
        "fenbendazole-feed-nematodes",
        "fenbendazole-feed-monogeneans",
    }
    for medicine in barred:
        [said] = [s for s in check(medicine, FOOD) if s.subject == "food fish"]
        assert said.kind == "stop"
        assert "530.11(b), text of 2026-06-20" in said.sentence


def test_no_medicine_without_an_approval_in_feed_is_left_to_a_reason_in_food_fish() -> None:
    """In feed there is no use outside the label: approved by directive, barred, or not a medicine.

    Emamectin is barred in the United States only; Canada approves it, so its withdrawal is asked.
    """
    left = {
        m.key
        for m in MEDICINES.values()
        if m.routes == ("medicated feed",)
        and not m.never_in_food_fish
        and m.us_food_fish != "approved with feed directive"
    }
    assert left == {
        "emamectin-sea-lice",
        "emamectin-anchor-worm",
        "oxytetracycline-feed-uk",
        "ascorbic-acid",
    }
    for key in left:
        kinds = {(s.kind, s.subject) for s in check(MEDICINES[key], FOOD)}
        assert ("stop", "withdrawal") in kinds, key


def test_what_an_approval_is_limited_to_is_said() -> None:
    for medicine in MEDICINES.values():
        limited = medicine.us_food_fish.startswith("approved") and medicine.us_food_fish_note
        found = lines(medicine.key, FOOD, f"Food fish: approved, {medicine.us_food_fish_note}.")
        assert bool(found) is bool(limited), medicine.key
        assert {stop.kind for stop in found} <= {"note"}
        assert not lines(medicine.key, WARM, "Food fish: approved")
