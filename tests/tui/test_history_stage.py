"""The history by keys only, at 80x24."""

from __future__ import annotations

import string
from datetime import date, timedelta
from pathlib import Path

import pytest

from core import clock
from core.practice import history, setup, visits
from core.practice.desk import Desk
from core.practice.keep import Act
from core.records import read
from core.records.journal import edit
from core.records.tables import Answer, FishGroup, Loss, Move, System, Tried, Visit
from tests.small import ZONE, Small, build, fill
from tests.tui.stage_app import Opened, opened


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "practice.db"


@pytest.fixture
def made(file: Path) -> Small:
    return build(file)


@pytest.fixture
def again(file: Path) -> tuple[Small, str]:
    """A practice whose visit of 40 days ago is followed by one today."""
    then = clock.now() - timedelta(days=40)
    desk = Desk(file)
    small = desk.save(fill, Act("setup", then), then.date()).result(timeout=30)
    act = Act(small.vet, then)

    def more() -> str:
        lines = history.view(small.visit, small.system).lines
        asked = {li.asked.key: li.asked for li in lines}
        history.answer(act, small.visit, small.system, asked["source"], "value", "well")
        history.answer(act, small.visit, small.system, asked["uv"], "unknown")
        setup.add_system(act, small.site, "hospital tank", "quarantine_fresh")
        return visits.book(
            Act(small.vet, clock.now()), small.system, clock.today(ZONE), "10:30", small.vet, "koi"
        )

    visit = desk.save(more).result(timeout=30)
    desk.close()
    return small, visit


async def test_one_key_answers_each_and_the_four_answers_differ(file: Path, made: Small) -> None:
    async with opened(file, made.visit, "History") as here:
        await here.go("q course")
        await here.press("enter", "w", "o", "u")
        assert here.form.field.key == "q hour"
        await here.press("escape")
        assert [here.row(f"q {k}").split()[-2:] for k in ("course", "who", "size_first")] == [
            ["worse", "saved"],
            ["fish", "saved"],
            ["unknown", "saved"],
        ]
        assert here.row("q hour").split()[-2:] == ["not", "asked"]
        await here.go("q power_cut")
        await here.press("enter", "y")
        await here.press("escape")
        await here.go("q predators")
        await here.press("enter", "n")
        rows = {r.question: (r.state, r.value) for r in here.app.desk.look(read.find, Answer)}
    assert rows == {
        "course": ("value", "worse"),
        "who": ("value", "one fish"),
        "size_first": ("unknown", ""),
        "power_cut": ("value", "yes"),
        "predators": ("no", ""),
    }


async def test_questions_with_a_value_take_u_and_n_too(file: Path, made: Small) -> None:
    async with opened(file, made.visit, "History") as here:
        await here.go("q onset")
        await here.press("enter", "-3", "enter", "u", "enter")
        assert here.form.field.key == "q course"
        await here.press("escape")
        await here.go("q own_tests")
        await here.press("enter", "n", "enter", "escape")
        await here.go("q losses_year")
        await here.press("12", "enter", "escape")
        rows = {r.question: (r.state, r.value) for r in here.app.desk.look(read.find, Answer)}
        onset = (here.app.today() - timedelta(days=3)).isoformat()
    assert rows == {
        "onset": ("value", onset),
        "affected": ("unknown", ""),
        "own_tests": ("no", ""),
        "losses_year": ("value", "12"),
    }


async def test_a_note_may_hold_every_letter_and_a_bad_answer_is_explained(
    file: Path, made: Small
) -> None:
    text = string.ascii_lowercase + " " + string.ascii_uppercase + " ?/.,=<>[b]"
    async with opened(file, made.visit, "History") as here:
        await here.go("q own_tests")
        await here.press("enter", text, "enter")
        await here.press("escape")
        await here.go("q affected")
        await here.press("5 kg", "enter")
        error = here.form.row.state.error
        assert error.startswith("Affected, how many:")
        assert "Allowed 0 to 10000000" in error
        assert "u when not known" in error
        rows = {r.question: r.value for r in here.app.desk.look(read.find, Answer)}
    assert rows == {"own_tests": text}


async def test_still_true_takes_one_key_and_goes_to_the_next(
    file: Path, again: tuple[Small, str]
) -> None:
    small, visit = again
    async with opened(file, visit, "History") as here:
        asked = [li for li in history_of(here, visit, small) if li.waits]
        keys = [li.asked.key for li in asked]
        assert {"source", "uv", "volume", "food_fish", f"group {small.group}"} <= set(keys)
        await here.press("v")
        assert here.form.field.key == f"q {keys[0]}"
        row = here.row("q source")
        assert "true?" in row
        assert "well" in row
        assert "saved" not in row
        await here.press("v" * len(keys))
        rows = {
            r.question: (r.state, r.value)
            for r in here.app.desk.look(read.find, Answer, visit=visit)
        }
        assert set(rows) == set(keys)
        assert rows["source"] == ("value", "well")
        assert rows["uv"] == ("unknown", "")
        assert rows["volume"] == ("value", "9000 L")
        assert "as on" in here.row("q source")
        assert "saved" in here.row("q source")
        assert "0 still true?" in here.below()


def history_of(here: Opened, visit: str, small: Small) -> tuple[history.Line, ...]:
    return here.app.desk.look(history.view, visit, small.system).lines


async def test_a_change_shows_the_old_value_with_its_day(
    file: Path, again: tuple[Small, str]
) -> None:
    _, visit = again
    async with opened(file, visit, "History") as here:
        await here.go("q volume")
        await here.press("8000", "enter", "escape")
        await here.go("q volume")
        assert "8000 L" in here.row("q volume")
        day = (here.app.today() - timedelta(days=40)).day
        assert f"was 9000 L, {day} " in here.detail()
        (system, _) = here.app.desk.look(read.find, System)
    assert (system.volume_l, system.volume_typed) == (8000.0, "8000 L")


async def test_losses_are_added_corrected_and_struck(file: Path, made: Small) -> None:
    async with opened(file, made.visit, "History") as here:
        await here.go("q deaths")
        await here.press("a")
        await here.press("2", "enter", "-1", "enter", "enter", "koi", "enter", "by the inlet")
        await here.press("enter", "f")
        (row,) = here.app.desk.look(read.find, Loss)
        yesterday = here.app.today() - timedelta(days=1)
        assert (row.number, row.day, row.day_to) == (2, yesterday, None)
        assert (row.group, row.note) == (made.group, "by the inlet")
        assert "2 koi" in here.row(f"loss {row.id}")
        assert "2 dead in 1 day, of 12: 16.7 %; 2.0 a day." in here.below()
        await here.go(f"loss {row.id}")
        await here.press("w")
        await here.press("escape")
        await here.press("enter")
        await here.press("3", "enter", "escape", "f")
        assert "of 12: 25.0 %" in here.below()
        await here.press("r")
        await here.press("counted twice", "enter", "f")
        assert here.keys_of_rows("loss ") == []
        assert "Losses" not in here.below()
        (row,) = here.app.desk.look(read.find, Loss, struck=True)
    assert (row.number, row.struck) == (3, "counted twice")


async def test_a_moves_and_tried_are_asked_from_anywhere(
    file: Path, again: tuple[Small, str]
) -> None:
    small, visit = again
    async with opened(file, visit, "History") as here:
        await here.press("a")
        await here.press("m")
        await here.press("koi", "enter", "pond", "enter", "hosp", "enter", "3", "enter")
        await here.press("today", "enter", "treated apart", "enter", "f")
        (move,) = here.app.desk.look(read.find, Move)
        assert (move.group, move.number, move.why) == (small.group, 3, "treated apart")
        assert (move.from_system, move.to_system != move.from_system) == (small.system, True)
        assert "koi to hospital tank" in here.row(f"move {move.id}")
        await here.press("a")
        await here.press("t")
        await here.press("salt", "enter", "2 cups", "enter", "enter", "half changed", "enter", "f")
        (told,) = here.app.desk.look(read.find, Tried)
    assert (told.agent, told.amount, told.day) == ("salt", "2 cups", None)
    assert told.since == "half changed"


async def test_a_dialog_that_is_refused_loses_nothing(file: Path, made: Small) -> None:
    async with opened(file, made.visit, "History") as here:
        await here.go("q deaths")
        await here.press("a")
        await here.press("4", "enter", "today", "enter", "yesterday", "enter", "escape", "f")
        assert here.row("number").split()[-1] == "4"
        assert here.app.desk.look(read.find, Loss) == ()
        await here.go("day_to")
        await here.press("enter", "today", "enter", "escape", "f")
        assert len(here.app.desk.look(read.find, Loss)) == 1


async def test_the_complaint_is_found_by_part_of_it_and_says_what_to_test(
    file: Path, made: Small
) -> None:
    async with opened(file, made.visit, "History") as here:
        await here.go("q complaint")
        await here.press("enter", "gasp", "enter", "escape")
        below = " ".join(here.below().split())
        assert "Worth testing (emergency): Oxygen, now; Ammonia with pH" in below
        assert "Samples to take: gill snip." in below
        assert len(here.below().splitlines()) <= 7


async def test_the_estimate_is_accepted_by_name(file: Path, made: Small) -> None:
    async with opened(file, made.visit, "History") as here:
        await here.go("est low")
        await here.press("250", "enter", "400.50", "enter", "C. Test, by telephone", "enter")
        visit = here.app.desk.look(read.one, Visit, made.visit)
        assert "on " in here.row("est by")
    assert (visit.estimate_low_minor, visit.estimate_high_minor) == (25000, 40050)
    assert visit.estimate_by == "C. Test, by telephone"
    assert visit.estimate_at is not None


async def test_left_at_any_moment_nothing_is_lost(file: Path, made: Small) -> None:
    async with opened(file, made.visit, "History") as here:
        await here.go("q course")
        await here.press("enter", "b", "escape")
        await here.go("q own_tests")
        await here.press("enter", "half a sent", "escape", "right")
        assert here.stage.TITLE != "History"
        await here.press("left")
        assert here.stage.TITLE == "History"
        assert "half a sent" in here.row("q own_tests")
        assert "?" in here.row("q own_tests")
        await here.go("q own_tests")
        await here.press("enter", "ence", "enter")
        rows = {r.question: r.value for r in here.app.desk.look(read.find, Answer)}
    assert rows == {"course": "better", "own_tests": "half a sentence"}


async def test_every_row_and_every_letter_fits_at_80_columns(file: Path, made: Small) -> None:
    async with opened(file, made.visit, "History") as here:
        here.all_fit()


async def test_a_signed_history_shows_all_and_refuses_each_change(file: Path, made: Small) -> None:
    desk = Desk(file)
    act = Act(made.vet, clock.now())

    def close() -> None:
        lines = history.view(made.visit, made.system).lines
        asked = next(li.asked for li in lines if li.asked.key == "spray")
        history.answer(act, made.visit, made.system, asked, "no")
        with edit("sign", who=act.by, at=act.at, visit=made.visit) as doing:
            doing.change(Visit, made.visit, signed_at=act.at, state="signed")

    desk.save(close).result(timeout=30)
    desk.close()
    async with opened(file, made.visit, "History") as here:
        await here.go("q spray")
        assert here.row("q spray").split()[-2:] == ["no", "saved"]
        await here.press("enter", "y")
        assert "is kept as a proposed addendum" in here.form.row.state.error
        await here.press("escape")
        await here.go("q volume")
        await here.press("v")
        await here.go("q deaths")
        await here.press("a")
        await here.press("2", "enter", "escape", "f")
        await here.press("escape")
        told = " ".join(n.message for n in here.app._notifications)
        assert "This visit was signed at" in told
        assert here.app.desk.look(read.find, Loss) == ()
        (row,) = here.app.desk.look(read.find, Answer)
        assert (row.question, row.state) == ("spray", "no")
        (group,) = here.app.desk.look(read.find, FishGroup)
        assert group.count == 12


async def test_fish_are_added_to_a_water(file: Path, made: Small) -> None:
    async with opened(file, made.visit, "History") as here:
        await here.go("fish new")
        await here.press("enter")
        await here.press(*"goldf", "enter", "12", "enter", "escape", "f")
        groups = here.app.desk.look(read.find, FishGroup, system=made.system)
        assert [(g.species, g.name, g.count) for g in groups if g.id != made.group] == [
            ("goldfish", "goldfish (long body)", 12)
        ]


async def test_what_has_been_is_never_a_day_to_come(file: Path, made: Small) -> None:
    today = clock.today(ZONE)
    tomorrow = today + timedelta(days=1)
    async with opened(file, made.visit, "History") as here:
        await here.go("q onset")
        await here.press("enter", "tomorrow", "enter")
        assert "That day is still to come." in here.form.row.state.error
        await here.press(*["backspace"] * len("tomorrow"))
        await here.press(f"{tomorrow.day}.{tomorrow.month}.", "enter")
        (row,) = here.app.desk.look(read.find, Answer, question="onset")
        assert today - timedelta(days=4 * 366) < date.fromisoformat(row.value) <= today
        past = {f.key for f in here.stage.fields() if f.kind == "date" and f.past}
        assert past >= {"q onset", "q last_change"}
        assert "q market_date" not in past
