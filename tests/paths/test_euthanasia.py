"""A koi is killed in two steps, by keys only: it does not close before both are in the record."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from core import clock
from core.practice.keep import Act
from core.records.tables import DepthMark, Handling, StageMark, Visit
from tests.paths.hand import Person, at_work, made
from tests.read_rows import all_read
from tests.small import ZONE, fill
from tests.visit.driver import flat

OWNER = "Clara Test"
TRICAINE = "tricaine methanesulfonate (MS-222)"
WANTS_ALL = (
    "fish 1: this euthanasia can not be closed: missing the moment of the last opercular beat, "
    "the second step, who did the second step, the signs of death, who confirmed death."
)
OPEN_STEP = "the second step, who did the second step, the signs of death, who confirmed death"


class Clock:
    """A clock that stands until it is told how much later it is."""

    def __init__(self, patch: pytest.MonkeyPatch) -> None:
        self.at = datetime.now(UTC).replace(microsecond=0)
        patch.setattr(clock, "now", lambda: self.at)

    def later(self, **span: float) -> None:
        self.at += timedelta(**span)


@pytest.fixture
def now(monkeypatch: pytest.MonkeyPatch) -> Clock:
    return Clock(monkeypatch)


def practice(act: Act) -> None:
    all_read(Act(fill(act, clock.today(ZONE)).vet, act.at))


async def caught(vet: Person) -> None:
    """Take a koi in hand and open its clock."""
    await vet.visit("koi pond")
    await vet.to("In hand")
    await vet.press("a")
    await vet.press("enter", "enter", "enter", "f")
    await vet.press("i")


async def overdosed(vet: Person) -> None:
    """Mark the first step, with the level that is put forward."""
    await vet.press("2", OWNER, "enter", "tric", "enter", "enter", "enter", "25", "enter")
    await vet.finish()
    assert "fish 1: euthanasia" in vet.seen


async def leave(vet: Person) -> None:
    """Leave the dialog in front."""
    await vet.press(*["escape"] * (1 + vet.form.typing))


def state(vet: Person) -> str:
    return vet.find(StageMark, stage="In hand")[0].state


def last(vet: Person) -> str:
    return flat(vet.told[-1])


async def test_every_way_to_close_it_without_its_second_step_says_what_is_missing(
    file: Path, now: Clock
) -> None:
    made(file, practice)
    async with at_work(file, "Vera") as vet:
        await caught(vet)
        await overdosed(vet)
        assert "Not closed yet, missing: the moment of the last opercular beat" in vet.seen
        await vet.press("escape")
        assert WANTS_ALL in vet.said
        await vet.press("i")
        now.later(minutes=8)
        await vet.press("1")

        # Enter and f in the empty second step: the dialog stays and names it.
        await vet.press("1", "escape", "f")
        assert last(vet) == "Not yet: Still needed: Second step"
        await vet.press("enter", "enter", "enter")
        assert vet.said == "The second step is missing: choose it. Nothing closes without it."
        await leave(vet)
        assert len(vet.find(DepthMark)) == 2

        # Death can not be confirmed in its place.
        await vet.press("2", "y", "y", "y", "y")
        await vet.press("f")
        assert "Death is confirmed after the second step, and that is empty." in last(vet)
        await leave(vet)
        await vet.press("escape")
        wants = f"fish 1: this euthanasia can not be closed: missing {OPEN_STEP}."
        assert wants in vet.said

        # Enter on the row of the clock opens it, and it says so.
        await vet.go("clock")
        assert OPEN_STEP in await vet.note("clock")
        await vet.press("enter")
        assert f"Not closed yet, missing: {OPEN_STEP}." in vet.seen
        await vet.press("escape")

        # Done, passed over, and the next stage.
        await vet.press("f")
        assert wants in last(vet)
        await vet.press("o")
        assert wants in last(vet)
        assert state(vet) == "begun"
        await vet.press("right")
        assert vet.stage == "Biopsy"
        assert last(vet) == f"Not closed: {wants}"

        # Signing, and calling every stage done that was begun.
        await vet.to("Sign")
        assert "needed fish 1: the second step of the euthanasia" in vet.seen
        await vet.press("v")
        assert wants in last(vet)
        await vet.press("z")
        assert "the second step of the euthanasia" in last(vet)
        await vet.press("z")
        assert state(vet) == "begun"
        await vet.press("q")
    # Quit and start again: it is still open, and still says so.
    async with at_work(file, "Vera") as vet:
        await vet.visit("koi pond")
        assert vet.stage == "In hand"
        assert wants in vet.said
        await vet.press("f")
        assert wants in last(vet)
        assert all(v.signed_at is None for v in vet.find(Visit))


async def test_sources_that_disagree_are_both_shown_and_the_cautious_one_is_taken(
    file: Path, now: Clock
) -> None:
    made(file, practice)
    async with at_work(file, "Vera") as vet:
        await caught(vet)
        await vet.press("2", OWNER, "enter", "tric", "enter")
        assert "250 to 500 mg/L (from memory)" in vet.said
        assert "400 mg/L (University of California San Diego (2015), read)" in vet.said
        assert "put forward: 400 mg/L, which none of them calls too weak" in vet.said
        assert "400 mg/L" in vet.row("level")
        # 400 mg/L x 25 L = 10 g; twice its weight of bicarbonate; 10 g of a stock of 10 g/L.
        await vet.press("enter", "enter", "25", "enter")
        grams, litres = 400 * 25 / 1000, 400 * 25 / 1000 / 10
        weighed = f"Weigh {grams:.1f} g and {2 * grams:.1f} g bicarbonate, or pour"
        assert f"{weighed} {litres * 1000:.0f} mL of tricaine stock solution" in vet.said
        # Weaker than one of the sources asks: said. Weaker than each of them: refused.
        await vet.fill(level="300")
        assert "Weaker than one of these sources asks." in vet.said
        await vet.press("escape")
        await vet.fill(level="100")
        await vet.press("escape", "f")
        assert "100 mg/L of tricaine methanesulfonate (MS-222) is no overdose: 250" in last(vet)
        assert vet.find(DepthMark) == ()
        await vet.fill(level="400")
        await vet.press("escape", "f")
        # How long to wait before the second step: every source with its minutes.
        for wait in ("10 min after", "30 min after", "60 min and no heartbeat", "240 min in the"):
            assert wait in vet.seen


async def test_a_sedated_fish_that_is_killed_keeps_both_baths_and_the_record_prints_it_all(
    file: Path, now: Clock
) -> None:
    made(file, practice)
    async with at_work(file, "Vera") as vet:
        await caught(vet)
        await vet.press("escape")
        await vet.fill(agent="tric", level="100", bath="20")
        await vet.press(*["escape"] * vet.form.typing, "i", "1")
        started = now.at
        now.later(minutes=2, seconds=30)
        await vet.press("5")
        now.later(seconds=30)
        await vet.press("8", OWNER, "enter")
        assert "tricaine" in vet.row("agent")
        assert "400 mg/L" in vet.row("level"), "the level of the sedation is no overdose"
        await vet.fill(bath="25")
        await vet.finish()
        now.later(minutes=9)
        await vet.press("1")
        now.later(minutes=12)
        await vet.press("1", "b")
        await vet.finish()
        assert "12 min before the second step; sources wait 10 min" in vet.seen
        # A second step too early is taken back, and made again after the longer wait.
        await vet.press("r")
        await vet.press("too early", "enter")
        await vet.finish()
        now.later(minutes=20)
        await vet.press("1", "b")
        await vet.finish()
        now.later(minutes=1)
        await vet.press("1", "y", "y", "n", "y")
        await vet.finish()
        assert "Not closed" not in vet.seen
        await vet.press("escape", "f")
        assert state(vet) == "done"
        fish = vet.find(Handling)[0]
        assert (fish.agent, fish.agent_mg_l, fish.bath_l) == (TRICAINE, 100.0, 20.0)
        twin, pdf = await vet.print("Visit record")
    told = [f"{started + timedelta(minutes=m):%H:%M:%S}" for m in (0, 2.5, 3, 12, 44, 45)]
    for text in (flat(twin), flat(pdf)):
        assert f"{TRICAINE} 100 mg/L in 20 L" in text
        for moment in told:
            assert moment in text
        for words in ("into the bath", "first step", "last opercular beat", "second step"):
            assert words in text
    for words in (
        f"first step: consent of {OWNER}; overdose: {TRICAINE} 400 mg/L, weigh 10.0 g",
        "second step: pithing",
        "death confirmed: no opercular movement; no heartbeat by Doppler or ultrasound; rigor",
        "full loss of balance and tone, 5 of anaesthesia 1 to 6",
        "Vera Test",
        "overdose, agent: 10 g",
        "bath, agent: 2 g",
    ):
        assert words in flat(twin), words


async def test_a_stage_that_was_done_is_open_again_when_a_step_is_taken_back(
    file: Path, now: Clock
) -> None:
    made(file, practice)
    async with at_work(file, "Vera") as vet:
        await caught(vet)
        await vet.press("2", OWNER, "enter", "another", "enter", "a blow to the head", "enter")
        await vet.finish()
        await vet.press("1")
        await vet.press("1", "a")
        await vet.finish()
        await vet.press("1", "y")
        await vet.finish()
        await vet.press("escape", "f")
        assert state(vet) == "done"
        for _ in range(2):
            await vet.press("i")
            await vet.press("r")
            await vet.press("wrong fish", "enter")
            await vet.finish()
            await vet.press("escape")
        assert state(vet) == "begun"
        assert "missing the second step" in vet.said
        first = next(m for m in vet.find(DepthMark) if m.event == "first step")
        assert first.note == f"consent of {OWNER}; overdose: a blow to the head"
