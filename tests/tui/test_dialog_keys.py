"""What a dialog says of its keys, what it forgets, and what it never makes unseen."""

from __future__ import annotations

from datetime import date

import pytest
from textual.widgets import Static

from core.errors import BadInput
from tests.tui.form_app import Driver, keys
from tui.base import RoundsApp
from tui.widgets.dialog import LEFT, MAKES, TYPING, Answers, FormDialog
from tui.widgets.field import Choice, Entry, Field, judge, nearest
from tui.widgets.foot import TYPING as FORM_TYPING
from tui.widgets.foot import Foot

WORDS = [Field("words", "Words", required=True, example="grew"), Field("why", "Why")]


class Asking(RoundsApp):
    """Nothing but a dialog of words."""

    def __init__(self) -> None:
        super().__init__()
        self.made: list[dict[str, str]] = []

    def today(self) -> date:
        return date(2026, 11, 25)

    def ask(self, answers: Answers | None = None) -> FormDialog:
        async def done(found: Answers) -> None:
            self.made.append({key: entry.words for key, entry in found.items()})

        dialog = FormDialog("Addendum", WORDS, done, answers=answers)
        self.push_screen(dialog)
        return dialog


def part(app: Asking, what: str) -> str:
    return str(app.screen.query_one(what, Static).render())


def foot_of(app: Asking) -> str:
    return str(app.screen.query_one(Foot).render())


async def test_the_line_of_keys_says_how_a_dialog_is_finished_while_typing() -> None:
    app = Asking()
    async with app.run_test(size=(80, 24)) as pilot:
        dialog = app.ask()
        await pilot.pause()
        assert foot_of(app).strip() == TYPING
        await keys(pilot, "culture grew", "enter", "came in")
        assert foot_of(app).strip() == TYPING
        await keys(pilot, "enter")
        assert (dialog.form.typing, app.made) == (False, [])
        assert part(app, "#dialog-below") == MAKES
        assert "Enter or f makes it" in foot_of(app)
        await keys(pilot, "up")
        assert "makes it" not in foot_of(app) + part(app, "#dialog-below")
        await keys(pilot, "down", "enter")
        assert app.made == [{"words": "culture grew", "why": "came in"}]


async def emptied(pilot: Driver) -> None:
    await keys(pilot, "enter", "ctrl+u", "enter")


async def test_an_emptied_row_forgets_and_a_needed_one_says_so() -> None:
    app = Asking()
    async with app.run_test(size=(80, 24)) as pilot:
        dialog = app.ask()
        await pilot.pause()
        await keys(pilot, "grew", "enter", "came in", "enter", "up", "down")
        dialog.form.open_row()
        await keys(pilot, "ctrl+u", "enter")
        assert set(dialog.answers) == {"words"}
        assert dialog.form.row.state.shown.value == ""
        await keys(pilot, "up")
        await emptied(pilot)
        assert "Words: This is needed." in dialog.form.row.state.error
        assert dialog.form.typing
        await keys(pilot, "escape", "f")
        assert app.made == [{"words": "grew"}]


async def test_words_that_came_filled_in_are_emptied_not_left() -> None:
    app = Asking()
    async with app.run_test(size=(80, 24)) as pilot:
        dialog = app.ask({"words": Entry("a", "a"), "why": Entry("b", "b")})
        await pilot.pause()
        await keys(pilot, "escape", "down")
        dialog.form.open_row()
        await keys(pilot, "ctrl+u", "up", "escape", "f")
        assert app.made == [{"words": "a", "why": ""}]


async def test_a_dialog_that_was_left_says_that_it_comes_back() -> None:
    app = Asking()
    async with app.run_test(size=(80, 24)) as pilot:
        app.ask()
        await pilot.pause()
        assert part(app, "#dialog-title") == "Addendum"
        await keys(pilot, "grew", "enter", "escape", "escape")
        app.ask()
        await pilot.pause()
        assert part(app, "#dialog-title") == f"Addendum. {LEFT}"


@pytest.mark.parametrize("said", [TYPING, FORM_TYPING])
def test_a_line_of_keys_fits(said: str) -> None:
    assert len(said) < 80


PEOPLE = Field(
    "client",
    "Client",
    "pick",
    choices=tuple(Choice("", name, name) for name in ("Rosalind Vay", "Ruth Tarn", "new client")),
    near=True,
)


@pytest.mark.parametrize("typed", ["Roslind Vay", "rosalnid", "Rosalind Vey"])
def test_a_client_typed_nearly_right_is_offered_and_never_taken(typed: str) -> None:
    assert nearest(PEOPLE, typed)[0].value == "Rosalind Vay"
    with pytest.raises(BadInput, match=r"Nearest: Rosalind Vay.* Down and Enter takes it"):
        judge(PEOPLE, typed, date(2026, 11, 25))


def test_somebody_else_is_not_near() -> None:
    assert nearest(PEOPLE, "Wilbur Quill") == ()


async def test_what_is_near_is_taken_with_down_and_enter() -> None:
    app = Asking()
    async with app.run_test(size=(80, 24)) as pilot:

        async def done(found: Answers) -> None:
            app.made.append({key: entry.words for key, entry in found.items()})

        app.push_screen(FormDialog("Book", [PEOPLE], done))
        await pilot.pause()
        await keys(pilot, "Roslind Vay", "enter")
        assert app.made == []
        await keys(pilot, "down", "enter", "f")
        assert app.made == [{"client": "Rosalind Vay"}]
