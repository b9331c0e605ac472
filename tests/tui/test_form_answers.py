"""What is typed into a form: refused with a sentence or saved in order, and never lost."""

from __future__ import annotations

import asyncio
import re

import pytest

from core.units import understand
from tests.tui.form_app import AT, FIELDS, FormApp, keys, painted, paste, presses
from tui.widgets.field import Field, asks
from tui.widgets.typing import readable


@pytest.fixture
async def app() -> FormApp:
    return FormApp()


BAD = ["abc", "-3", "1e9", "٣", "5 kg", "1,200", "[b]5[/b]", "\x1b[31m5", "9" * 400, "1.2.3"]
PER_FIELD = {
    "temperature": [*BAD, "74", "78 K", "<5"],
    "ph": [*BAD, "74", "4 dKH", "<7"],
    "ammonia": [*BAD, "501"],
    "kh": [*BAD, "4 dGH", "2000"],
    "count": [*BAD, "7,4", "7.5", "10000", "²"],
    "added": [*BAD, "maybe", "yn"],
    "day": ["abc", "1e9", "٣", "5 kg", "30 feb", "[b]today[/b]", "\x1b[31mtoday", "12/10"],
    "price": [*BAD, "10001", "45 EUR"],
}


def test_every_field_but_the_note_has_bad_inputs() -> None:
    assert {*PER_FIELD, "note"} == {field.key for field in FIELDS}


@pytest.mark.parametrize("key", AT)
async def test_a_bad_answer_is_explained_beside_the_row(app: FormApp, key: str) -> None:
    """The sentence names the field, its range and an example; what was typed stays."""
    async with app.run_test() as pilot:
        for text in [*PER_FIELD.get(key, []), "7" * 10_000]:
            app.go(key)
            await keys(pilot, "enter", "ctrl+u")
            await paste(pilot, text)
            await keys(pilot, "enter")
            text = readable(text)  # what a terminal would obey is not text
            assert (app.where, app.typed, app.saved) == (f"{key} typing", text, []), text
            sentence_holds(app, FIELDS[AT[key]])
            await keys(pilot, "escape")
            assert app.state(key).draft == text


def sentence_holds(app: FormApp, field: Field) -> None:
    told = app.state().error
    assert told.startswith(f"{field.label}: ")
    assert len(told) < 240
    assert field.low is None or "Allowed" in told
    assert field.kind == "words" or "xample" in told or "One of" in told
    assert told.split(".")[0] in " ".join(painted(app, field.key).split())


@pytest.mark.parametrize("field", [f for f in FIELDS if f.kind == "quantity"], ids=lambda f: f.key)
def test_the_range_is_true_in_the_unit_it_is_told_in(field: Field) -> None:
    found = re.search(r"Allowed (\S+) to (\S+?)(?: (\S.*?))?\. ", asks(field) + " ")
    assert found is not None
    low, high, unit = found.groups(default="")
    assert understand(f"{low} {unit}", field.quantity).value == pytest.approx(field.low)
    assert understand(f"{high} {unit}", field.quantity).value == pytest.approx(field.high)


async def test_a_mended_answer_takes_the_sentence_away(app: FormApp) -> None:
    async with app.run_test() as pilot:
        app.go("ph")
        await keys(pilot, "74", "enter")
        assert app.state().error
        await keys(pilot, "left", ".", "enter")
        assert app.saved == [("ph", "7.4")]
        assert app.state("ph").error == ""


@pytest.mark.parametrize("text", ["[/b] [red]x", "Ćirić 王小明 محمد", "a\nb\tc", "x" * 3_999])
async def test_any_words_can_be_pasted_into_a_note(app: FormApp, text: str) -> None:
    async with app.run_test() as pilot:
        app.go("note")
        await paste(pilot, text)
        await keys(pilot, "enter")
        ((key, saved),) = app.saved
        assert key == "note"
        assert [w for w in saved.split() if w in text] == saved.split()
        assert len("".join(saved.split())) == len("".join(text.split()))


async def test_a_refused_save_is_explained_and_nothing_is_lost(app: FormApp) -> None:
    app.refuse = "This visit is signed."
    async with app.run_test() as pilot:
        await keys(pilot, "25", "enter")
        assert app.where == "temperature typing"
        assert (app.typed, app.state().mark) == ("25", "")
        assert "This visit is signed. Do something else." in app.state().error
        app.refuse = ""
        await keys(pilot, "enter")
        assert app.saved == [("temperature", "25")]


async def test_keys_typed_during_a_slow_save_wait_for_their_rows_in_order() -> None:
    app = FormApp(pause=0.15)
    async with app.run_test() as pilot:
        for event in presses(
            "25", "enter", "8.18", "enter", "3", "tab", "4 dKH", "down", "12", "tab"
        ):
            app.post_message(event)
        await asyncio.sleep(0.05)
        assert app.state("temperature").mark == "saving"
        assert app.where == "temperature typing"
        while len(app.saved) < 5:
            await pilot.pause(0.05)
        assert app.saved == [
            ("temperature", "25"),
            ("ph", "8.18"),
            ("ammonia", "3"),
            ("kh", "4 dKH"),
            ("count", "12"),
        ]


async def test_when_the_disk_is_slow_the_screen_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tui.widgets.typed_rows.SLOW_SECONDS", 0.05)
    app = FormApp(pause=0.3)
    async with app.run_test(notifications=True) as pilot:
        await keys(pilot, "25", "enter")
        await pilot.pause(0.1)
        assert [n.title for n in app._notifications] == ["Still saving"]
        while not app.saved:
            await pilot.pause(0.05)
        assert app.saved == [("temperature", "25")]
