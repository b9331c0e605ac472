"""The slides by keys only: one slide with letters, nothing abnormal in one key, a test sent out."""

from __future__ import annotations

from pathlib import Path

from core import clock
from core.practice import in_hand, samples
from core.practice.keep import Act
from core.records.tables import Finding, SentTest, Slide
from core.records.tables import TestResult as Result
from tests.tui.hand import Hand, opened


async def with_gill(hand: Hand) -> None:
    act, made = Act(hand.made.vet, clock.now()), hand.made
    args = (act, made.visit, made.system, "fish 1", 1, made.group)
    fish = await hand.app.save(in_hand.add_fish, *args)
    await hand.app.save(samples.got, act, fish, "gill")
    await hand.app.save(samples.not_got, act, fish, "faeces", "nothing passed")
    await hand.press("left", "right")


def below(hand: Hand) -> str:
    return str(hand.app.screen.query_one("#below").render())


async def test_one_slide_with_letters_and_counts_in_one_go(tmp_path: Path) -> None:
    async with opened(tmp_path / "p.db", "Biopsy") as hand:
        await with_gill(hand)
        assert "nothing passed" in below(hand)
        await hand.pilot.press("enter", "w", "a", *"3", "enter", *"egg", "enter", *"4", "space")
        await hand.pilot.press(*"3", "space", *"0", "enter")
        await hand.settle()
        slide, finding = hand.find(Slide)[0], hand.find(Finding)[0]
        assert (slide.stain, slide.magnification, slide.fields) == ("wet_mount", 40, 3)
        assert (finding.finding, finding.counts) == ("gill_fluke", "4 3 0")
        assert finding.grade.startswith("2+ (7 in 3")
        await hand.press("escape")
        hand.form.go([f.key.split()[0] for f in hand.form.fields].index("found"))
        await hand.settle()
        assert "2+" in hand.lines()
        assert "Speaks for: Gill flukes" in below(hand)
        assert "Source: Zhang" in below(hand)
        assert "borderline" in str(hand.app.screen.query_one("#detail").render())


async def test_nothing_abnormal_is_one_key(tmp_path: Path) -> None:
    async with opened(tmp_path / "p.db", "Biopsy") as hand:
        await with_gill(hand)
        await hand.press("n")
        slide = hand.find(Slide)[0]
        assert slide.normal
        assert "nothing abnormal" in hand.row("what was seen")
        assert hand.form.field.key == f"fields {slide.id}"
        await hand.press("8", "enter", "escape")
        assert hand.find(Slide)[0].fields == 8
        assert "Nothing abnormal in 8 fields" in below(hand)


async def test_counts_that_are_none_are_refused_and_nothing_is_lost(tmp_path: Path) -> None:
    async with opened(tmp_path / "p.db", "Biopsy") as hand:
        await with_gill(hand)
        await hand.press("enter", "w", "enter", "enter")
        await hand.words("ich")
        await hand.press("enter")
        await hand.words("3 x")
        await hand.press("enter")
        assert "Counts are whole numbers" in hand.lines()
        await hand.press("escape")
        assert "3 x ?" in hand.lines()
        assert hand.find(Finding)[0].counts == ""


async def test_a_listed_suspicion_says_whom_to_ring(tmp_path: Path) -> None:
    async with opened(tmp_path / "p.db", "Biopsy") as hand:
        await with_gill(hand)
        await hand.press("enter", "w", "enter", "enter")
        await hand.words("dead patches")
        await hand.press("enter", "escape")
        assert "nothing leaves the site" in below(hand)
        assert "no authority is entered" in below(hand)


async def test_a_test_is_sent_out_and_its_result_entered(tmp_path: Path) -> None:
    async with opened(tmp_path / "p.db", "Biopsy") as hand:
        await with_gill(hand)
        await hand.press("a", "p")
        await hand.words("A1")
        await hand.press("enter")
        await hand.words("koi herpesvirus")
        await hand.press("enter")
        await hand.words("the state laboratory")
        await hand.press("enter", "enter", "f")
        test = hand.find(SentTest)[0]
        assert (test.name, test.where) == ("PCR koi herpesvirus", "the state laboratory")
        assert test.sample is not None
        hand.go("PCR koi herpesvirus")
        assert "wait" in hand.row("PCR koi herpesvirus")
        await hand.press("enter")
        await hand.words("not detected")
        await hand.press("enter")
        assert [r.value for r in hand.find(Result)] == ["not detected"]


async def test_a_finding_is_struck_with_a_reason(tmp_path: Path) -> None:
    async with opened(tmp_path / "p.db", "Biopsy") as hand:
        await with_gill(hand)
        await hand.press("enter", "w", "enter", "enter")
        await hand.words("trich")
        await hand.press("enter", "escape", "r")
        await hand.words("wrong slide")
        await hand.press("enter", "f")
        assert hand.find(Finding) == ()
        assert hand.find(Finding, struck=True)[0].struck == "wrong slide"
