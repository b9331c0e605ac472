"""The form by keys only: its two states, and what each key does in them."""

from __future__ import annotations

import string

import pytest

from tests.tui.form_app import FormApp, keys, painted


@pytest.fixture
async def app() -> FormApp:
    return FormApp()


async def test_it_begins_moving_and_arrows_choose_a_row(app: FormApp) -> None:
    async with app.run_test() as pilot:
        assert app.where == "temperature moving"
        await keys(pilot, "down", "down", "up")
        assert app.where == "ph moving"
        await keys(pilot, *["up"] * 5)
        assert app.where == "temperature moving"
        await keys(pilot, *["down"] * 30)
        assert app.where == "price moving"
        assert app.saved == []


async def test_moving_letters_are_commands_and_typing_they_are_text(app: FormApp) -> None:
    async with app.run_test() as pilot:
        app.go("note")
        await keys(pilot, string.ascii_lowercase)
        assert "".join(app.commands) == string.ascii_lowercase
        app.commands.clear()
        await keys(pilot, "enter", string.ascii_letters + " .,;:?!'-+/()=%&", "enter")
        assert app.commands == []
        assert app.saved == [("note", string.ascii_letters + " .,;:?!'-+/()=%&")]


@pytest.mark.parametrize(
    ("key", "text"),
    [
        ("temperature", "22.5"),
        ("temperature", "78 F"),
        ("temperature", "-1"),
        ("ph", "7,4"),
        ("ammonia", "0.5"),
        ("ammonia", ".5"),
        ("ammonia", ",5"),
        ("ammonia", "<0.05"),
        ("ammonia", ">4"),
        ("kh", "4 dKH"),
        ("count", "12"),
        ("price", "45.00"),
        ("day", "12 oct"),
        ("day", "-3"),
    ],
)
async def test_going_straight_at_a_row_types_into_it(app: FormApp, key: str, text: str) -> None:
    async with app.run_test() as pilot:
        app.go(key)
        await keys(pilot, text[0])
        assert (app.where, app.typed) == (f"{key} typing", text[0])
        await keys(pilot, text[1:], "enter")
        ((saved, as_text),) = app.saved
        assert saved == key
        assert key == "day" or as_text == text
        assert app.commands == []
        assert app.state(key).mark == "saved"


@pytest.mark.parametrize("accept", ["enter", "tab"])
async def test_accepting_goes_to_the_next_row_still_typing(app: FormApp, accept: str) -> None:
    async with app.run_test() as pilot:
        await keys(pilot, "25", accept)
        assert app.where == "ph typing"
        await keys(pilot, "8.18", accept, "3", accept)
        assert app.saved == [("temperature", "25"), ("ph", "8.18"), ("ammonia", "3")]
        assert app.where == "kh typing"


async def test_after_the_last_row_it_is_moving(app: FormApp) -> None:
    async with app.run_test() as pilot:
        app.go("price")
        await keys(pilot, "45", "enter")
        assert app.where == "price moving"
        assert app.saved == [("price", "45")]


async def test_the_first_key_replaces_what_stood_there(app: FormApp) -> None:
    app.stands["ph"] = "7.4"
    async with app.run_test() as pilot:
        app.go("ph")
        await keys(pilot, "enter")
        assert app.typed == "7.4"
        await keys(pilot, "6")
        assert app.typed == "6"
        await keys(pilot, ".9", "enter")
        assert app.saved == [("ph", "6.9")]


async def test_an_editing_key_keeps_what_stood_there(app: FormApp) -> None:
    app.stands["ph"] = "7.4"
    async with app.run_test() as pilot:
        app.go("ph")
        await keys(pilot, "enter", "backspace", "5", "home", "right", "enter")
        assert app.saved == [("ph", "7.5")]


async def test_accepting_what_stood_there_saves_nothing(app: FormApp) -> None:
    app.stands["temperature"] = "20"
    async with app.run_test() as pilot:
        await keys(pilot, "enter", "enter", "enter")
        assert app.where == "ammonia typing"
        assert app.saved == []
        assert app.state("temperature").mark == "saved"


@pytest.mark.parametrize("leave", [["escape"], ["backspace", "backspace", "backspace"]])
async def test_leaving_keys_return_to_moving(app: FormApp, leave: list[str]) -> None:
    async with app.run_test() as pilot:
        await keys(pilot, "25")
        await keys(pilot, *leave)
        assert app.where == "temperature moving"
        assert app.saved == []
        await keys(pilot, "x")
        assert app.commands == ["x"]


async def test_what_was_typed_and_left_is_kept_as_a_draft(app: FormApp) -> None:
    async with app.run_test() as pilot:
        await keys(pilot, "25", "escape")
        assert app.state("temperature").draft == "25"
        await keys(pilot, "down", "7", "escape", "up", "enter")
        assert app.typed == "25"
        await keys(pilot, ".5", "enter")
        assert app.saved == [("temperature", "25.5")]


@pytest.mark.parametrize(
    ("step", "where"), [("down", "ammonia typing"), ("up", "temperature typing")]
)
async def test_arrows_while_typing_save_and_go_on_typing(
    app: FormApp, step: str, where: str
) -> None:
    async with app.run_test() as pilot:
        app.go("ph")
        await keys(pilot, "8.1", step)
        assert app.saved == [("ph", "8.1")]
        assert app.where == where


async def test_an_arrow_does_not_leave_a_bad_answer(app: FormApp) -> None:
    async with app.run_test() as pilot:
        app.go("ph")
        await keys(pilot, "74", "down")
        assert app.where == "ph typing"
        assert (app.saved, app.typed) == ([], "74")


async def test_a_choice_is_made_by_its_letter_and_goes_on(app: FormApp) -> None:
    async with app.run_test() as pilot:
        app.go("added")
        await keys(pilot, "enter")
        assert "n no" in app.state().open_hint
        await keys(pilot, "n")
        assert app.saved == [("added", "no")]
        assert app.where == "note typing"
        assert app.commands == []


async def test_what_is_typed_is_told_in_the_keys_own_handler(app: FormApp) -> None:
    async with app.run_test() as pilot:
        await keys(pilot, "25", "backspace")
        assert app.live == [("temperature", "2"), ("temperature", "25"), ("temperature", "2")]


async def test_text_being_typed_is_never_marked_saved(app: FormApp) -> None:
    """Only what is on the disk may stand beside the word."""
    app.stands["ph"] = "7.4"
    async with app.run_test() as pilot:
        app.go("ph")
        assert "saved" in painted(app, "ph")
        await keys(pilot, "8")
        assert "saved" not in painted(app, "ph")
        await keys(pilot, "escape")
        assert "saved" not in painted(app, "ph")


async def test_backspace_held_down_ends_typing_and_leaves_nothing(app: FormApp) -> None:
    async with app.run_test() as pilot:
        app.go("ph")
        await keys(pilot, "8", *["backspace"] * 6)
        assert app.where == "ph moving"
        assert app.commands == []
