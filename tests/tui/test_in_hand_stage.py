"""In hand by keys only: one fish a screen, its clock, samples, and a dose that is diluted."""

from __future__ import annotations

from collections.abc import Awaitable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from core import clock
from core.practice.keep import Act
from core.records.tables import (
    DepthMark,
    Handling,
    Lesion,
    Sample,
    StageMark,
    System,
    Treatment,
)
from tests.tui.hand import Hand, opened

START = datetime.now(UTC)


def food(hand: Hand) -> Awaitable[object]:
    act = Act(hand.made.vet, clock.now())
    return hand.app.save(setup_food, act, hand.made.system)


def setup_food(act: Act, system: str) -> None:
    from core.records.journal import edit

    with edit("system", who=act.by, at=act.at) as doing:
        doing.change(System, system, food_fish=True)


async def test_weight_bath_samples_and_lesion_of_one_fish(tmp_path: Path) -> None:
    async with opened(tmp_path / "p.db") as hand:
        await hand.take()
        await hand.words("238 g")
        await hand.press("enter")
        await hand.words("24")
        await hand.press("enter")
        await hand.words("tric")
        await hand.press("enter")
        await hand.words("80")
        await hand.press("enter")
        await hand.words("40")
        assert "weigh 3.20 g and 6.40 g" in hand.row("Bath, made up to")
        await hand.press("enter", "g", "g", "x", "w")
        await hand.words("too small")
        await hand.press("enter", "f")
        fish = hand.find(Handling)[0]
        assert (fish.weight_g, fish.length_cm, fish.label) == (238.0, 24.0, "fish 1")
        assert (fish.agent_mg_l, fish.bath_l) == (80.0, 40.0)
        assert [(s.number, s.got, s.why) for s in hand.find(Sample)] == [
            ("A1-1", True, ""),
            ("A1-2", True, ""),
            ("", False, "fish too weak to handle"),
            ("", False, "too small"),
        ]
        assert "A1-2" in hand.digits()
        hand.go("Add a lesion")
        await hand.press("enter", "u", "l")
        await hand.words("9")
        await hand.press("enter", "enter", "f")
        lesion = hand.find(Lesion)[0]
        assert (lesion.kind, lesion.place, lesion.size_mm) == ("ulcer", "flank_left", 9.0)
        assert "9 mm" in hand.row("ulcer, open sore")


async def test_a_small_dose_is_diluted_and_shown_large(tmp_path: Path) -> None:
    async with opened(tmp_path / "p.db") as hand:
        await hand.take("Biscuit")
        await hand.words("238")
        await hand.press("enter", "escape", "h")
        await hand.words("ceft")
        await hand.press("enter")
        await hand.words("20")
        await hand.press("enter", "a")
        assert "25 mg/mL" in str(hand.app.screen.query_one("#dialog-below").render())
        assert hand.digits() == []
        await hand.press("d")
        assert hand.digits() == ["0.19"]
        await hand.words("C77")
        await hand.press("enter", "enter")
        await hand.words("left flank")
        await hand.press("enter", "enter", "enter", "f")
        row = hand.find(Treatment)[0]
        assert (row.amount, row.amount_unit, row.lot, row.place) == (
            0.19,
            "mL",
            "C77",
            "left flank",
        )
        assert row.strength.startswith("25 mg/mL")
        assert "0.19 mL" in hand.row("ceftazidime")
        assert "0.19" in hand.digits()


async def test_a_stop_is_shown_and_refused_with_its_rule(tmp_path: Path) -> None:
    async with opened(tmp_path / "p.db") as hand:
        await food(hand)
        await hand.take()
        await hand.words("310")
        await hand.press("enter", "escape", "h")
        await hand.words("enro")
        await hand.press("enter", "m")
        await hand.words("10")
        await hand.press("enter")
        below = str(hand.app.screen.query_one("#dialog-below").render())
        assert "STOP" in below
        assert "530.41" in below
        assert hand.digits() == []
        await hand.words("22.7")
        await hand.press("enter", "escape", "f")
        assert hand.find(Treatment) == ()


async def test_a_technician_measures_and_does_not_give(tmp_path: Path) -> None:
    async with opened(tmp_path / "p.db", role="technician") as hand:
        await hand.take()
        await hand.words("238")
        await hand.press("enter", "escape", "h")
        await hand.words("ceft")
        await hand.press("enter")
        await hand.words("20")
        await hand.press("enter", "a", "d", "escape", "f")
        assert hand.find(Handling)[0].weight_g == 238.0
        assert hand.find(Treatment) == ()


async def test_one_key_for_each_moment_by_the_clock(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    now = {"at": START}
    monkeypatch.setattr(clock, "now", lambda: now["at"])
    async with opened(tmp_path / "p.db") as hand:
        await hand.take()
        await hand.press("i", "1")
        now["at"] = START + timedelta(seconds=192)
        await hand.press("3")
        hand.app.screen.paint_time()  # type: ignore[attr-defined]
        assert "03:12" in hand.digits()
        now["at"] = START + timedelta(minutes=6)
        await hand.press("7", "7")
        events = [m.event for m in hand.find(DepthMark)]
        assert events == [
            "into the bath",
            "deep sedation, 3 of anaesthesia 1 to 6",
            "out of the bath",
            "recovered",
        ]
        assert hand.find(DepthMark)[1].at == START + timedelta(seconds=192)
        await hand.press("escape")
        assert "06:00" in hand.digits()
        assert "over" in hand.row("Anaesthesia clock")


async def test_a_euthanasia_without_its_second_step_does_not_close(tmp_path: Path) -> None:
    async with opened(tmp_path / "p.db") as hand:
        await hand.take()
        await hand.press("i", "2")
        await hand.words("the owner")
        await hand.press("enter")
        await hand.words("tric")
        await hand.press("enter", "enter", "enter")
        await hand.words("25")
        await hand.press("enter", "f", "1", "escape")
        await hand.press("f")
        assert [m.state for m in hand.find(StageMark, stage="In hand")] == ["begun"]
        await hand.press("i", "1", "b", "f", "1", "y", "y", "escape", "f", "escape", "f")
        marks = {m.event: m for m in hand.find(DepthMark)}
        assert marks["second step"].note == "pithing"
        assert marks["second step"].by == hand.made.vet
        assert marks["first step"].note.startswith(
            "consent of the owner; overdose: tricaine methanesulfonate (MS-222) 400 mg/L, weigh"
        )
        assert "; " in marks["death confirmed"].note
        assert [m.state for m in hand.find(StageMark, stage="In hand")] == ["done"]


async def test_two_fish_stand_on_two_screens(tmp_path: Path) -> None:
    async with opened(tmp_path / "p.db") as hand:
        await hand.take()
        await hand.words("238")
        await hand.press("enter", "escape")
        await hand.take()
        await hand.words("140")
        await hand.press("escape")
        await hand.press("l")
        assert "238 g" in hand.row("Weight")
        assert "140" not in hand.lines()
        hand.go("Gill snip")
        await hand.press("enter", "g", "escape", "l")
        assert "140 ?" in hand.row("Weight")
        assert "A1-1" not in hand.lines()
        assert [f.weight_g for f in hand.find(Handling, order="number")] == [238.0, None]


async def test_a_fish_struck_by_mistake_is_gone_and_stays_in_the_journal(tmp_path: Path) -> None:
    async with opened(tmp_path / "p.db") as hand:
        await hand.take()
        await hand.press("r")
        await hand.words("other pond")
        await hand.press("enter", "f")
        assert hand.find(Handling) == ()
        assert hand.find(Handling, struck=True)[0].struck == "other pond"
        assert "first fish" in hand.lines()


async def test_a_course_is_begun_here_and_its_other_doses_are_said(tmp_path: Path) -> None:
    async with opened(tmp_path / "p.db") as hand:
        await hand.take("Biscuit")
        await hand.words("238")
        await hand.press("enter", "escape", "h")
        await hand.words("ceft")
        await hand.press("enter")
        await hand.words("20")
        await hand.press("enter", "a", "d", "escape")
        hand.go("Doses in all")
        await hand.press("3", "enter")
        await hand.words("72")
        await hand.press("enter")
        below = str(hand.app.screen.query_one("#dialog-below").render())
        assert "2 more to come, 3 days apart: Plan offers a visit for each" in " ".join(
            below.split()
        )
        await hand.press("f")
        row = hand.find(Treatment)[0]
        assert (row.act, row.repeats, row.interval_days) == ("given here", 3, 3.0)
