"""Whatever is typed into any field: understood, or refused in a sentence that helps.

The fields are not listed here. They are taken from the app itself: every stage is opened on
the fixed practice of the snapshots, every dialog that a key opens there is opened, and where
rows depend on answers every answer is given.
"""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Iterable, Iterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import pytest
from textual import events
from textual.pilot import Pilot

from core import clock
from core.dates import EXAMPLE
from core.errors import BadInput
from core.numbers import plain
from core.practice.desk import Desk
from core.practice.who import people, practice
from tests.snapshots import clinic
from tests.tui.form_app import presses
from tui.app import FinroundsApp
from tui.start.first import fields as first_fields
from tui.start.first import usual
from tui.widgets.dialog import FormDialog
from tui.widgets.field import Choice, Entry, Field, asks, example_of, judge
from tui.widgets.form import Form
from tui.widgets.typing import readable
from tui.workup.screen import WorkupScreen
from tui.workup.stages import BUILT

TODAY = clinic.NOW.date()
SCRIPTS = (
    "Łukasz Żółć",
    "Nguyễn Thị Hồng",
    "山田 太郎",
    "Ольга Щукина",
    "محمد علی",
    "می‌خواهم",
    "ශ්‍රී ජයවර්ධන",
    "สมชาย ใจดี",
    "Αλέξανδρος",
    "O'Brien-Śmith, Jr.",
    "לאה כהן",
    "김민준",
)
EVERY_KEY = "abcdefghijklmnopqrstuvwxyz ?/= ABC 0123456789 <.,-+>"
LONG = "9" * 10_000
MARKUP = "[/b] x"
ESCAPES = "\x1b[31mred\x1b]52;c;aGk=\x07"
BAD = ("abc", "7,4", "-3", "74", "1e9", "٣", "", "5 kg", "5 L", LONG, MARKUP, ESCAPES)
NUMBERS = ("quantity", "count", "money")
WRONG_UNIT = {"volume": "5 kg", "mass": "5 L", "length": "5 kg", "temperature": "5 kg"}

DIALOG_KEYS = "aohyiru"
"""Letters that open a dialog somewhere, and never sign, strike or take without asking."""


class Collected:
    """Every field that was met, and where."""

    def __init__(self) -> None:
        self.at: dict[tuple[object, ...], tuple[str, Field]] = {}
        self.dialogs: set[str] = set()

    def add(self, where: str, fields: Iterable[Field]) -> None:
        for field in fields:
            kind = (field.label, field.kind, field.quantity, field.low, field.high, field.example)
            self.at.setdefault((where, *kind), (where, field))

    def add_dialog(self, dialog: FormDialog) -> None:
        """Take a dialog's rows, and those that each answer to a choice brings."""
        where = f"{type(dialog).__name__}: {dialog._title.split(':')[0]}"
        self.dialogs.add(where)
        self.add(where, dialog.fields())
        stood = dict(dialog.answers)
        for field in list(dialog.fields()):
            for choice in field.choices:
                dialog.answers = {**stood, field.key: Entry(choice.label, choice.value)}
                self.add(where, dialog.fields())
        dialog.answers = stood

    def __iter__(self) -> Iterator[tuple[str, Field]]:
        return iter(self.at.values())


@asynccontextmanager
async def running(folder: Path) -> AsyncIterator[tuple[Pilot[None], clinic.House]]:
    """Run the app on the fixed practice."""
    house = clinic.build(folder)
    desk = Desk(folder / "practice.db")
    try:
        found = desk.look(practice)
        assert found is not None
        app = FinroundsApp(desk, found, desk.look(people)[0])
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            yield pilot, house
    finally:
        desk.close()


async def settle(pilot: Pilot[None]) -> None:
    """Wait for messages and workers, without waiting for the machine to be idle as well."""
    await pilot.pause(0)
    await pilot.app.workers.wait_for_complete()
    await pilot.pause(0)


async def send(pilot: Pilot[None], *pressed: str) -> None:
    """Press keys as fast as they come, and wait until they are taken."""
    for event in presses(*pressed):
        pilot.app.post_message(event)
    await pilot.pause(0)


async def paste(pilot: Pilot[None], text: str) -> None:
    pilot.app.screen.query_one("#form", Form).post_message(events.Paste(text))
    await pilot.pause(0)


async def dialogs_here(pilot: Pilot[None], found: Collected, pressed: Iterable[str]) -> None:
    """Press keys that do something here, take every dialog that opens, and leave it again."""
    for key in pressed:
        app, depth = pilot.app, len(pilot.app.screen_stack)
        active = app.screen.active_bindings.get(key)
        if key != "enter" and (active is None or not active.enabled or active.node is app):
            continue
        await send(pilot, key)
        await settle(pilot)
        while len(app.screen_stack) > depth:
            if isinstance(app.screen, FormDialog):
                found.add_dialog(app.screen)
                app.screen.dismiss(False)
            else:
                app.pop_screen()
            await settle(pilot)


async def stage_fields(pilot: Pilot[None], visit: str, stage: str, found: Collected) -> None:
    """Take a stage's rows and the dialogs that its keys open on its rows."""
    await pilot.app.push_screen(WorkupScreen(visit, stage))
    await settle(pilot)
    form = pilot.app.screen.query_one("#form", Form)
    found.add(stage, form.fields)
    await dialogs_here(pilot, found, DIALOG_KEYS)
    for name in [f.key for f in form.fields if f.kind == "act"]:
        names = [f.key for f in form.fields]
        if name in names:
            form.go(names.index(name))
            await dialogs_here(pilot, found, ("enter", "a"))
            found.add(stage, form.fields)
    pilot.app.pop_screen()
    await settle(pilot)


async def desk_fields(pilot: Pilot[None], found: Collected) -> None:
    """Take the dialogs of the three desks."""
    await dialogs_here(pilot, found, "axcm")
    for desk in ("b", "p"):
        await send(pilot, desk)
        await settle(pilot)
        await dialogs_here(pilot, found, "lfahy" if desk == "b" else "hy")
        for _ in range(12):
            await dialogs_here(pilot, found, ["enter"] if desk == "p" else [])
            await send(pilot, "down")
        if desk == "b":
            await send(pilot, "enter")
            await settle(pilot)
            await dialogs_here(pilot, found, ["enter"])
    await send(pilot, "d")
    await settle(pilot)


async def collect(folder: Path) -> Collected:
    """Walk the app and take every field it asks for."""
    found = Collected()
    found.add("First start", first_fields({**usual("Etc/UTC"), "person1": Entry("A", "A")}))
    async with running(folder) as (pilot, house):
        await desk_fields(pilot, found)
        for stage in BUILT:
            await stage_fields(pilot, house.visits[clinic.MAIN], stage, found)
        for stage in ("History", "Water", "Feeding", "Plan"):
            await stage_fields(pilot, house.visits["trout"], stage, found)
        await stage_fields(pilot, house.visits["soft"], "Sign", found)
    return found


@pytest.fixture(scope="module")
def every_field(tmp_path_factory: pytest.TempPathFactory) -> Collected:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(clock, "now", lambda: clinic.NOW)
        return asyncio.run(collect(tmp_path_factory.mktemp("bad")))


def wrong(field: Field, text: str) -> str:
    """Return what is wrong with the judgement of a text, or nothing."""
    try:
        entry = judge(field, text, TODAY)
    except BadInput as error:
        said = f"{error.sentence} {error.todo}"
        missing = [part for part in helps(field) if part not in said]
        cut = len(said) > 900 and field.kind != "choice"
        return f"{missing} not in {said!r}" if missing else f"too long: {said}" * cut
    if field.kind in NUMBERS and entry.said == "value":
        low, high = field.low, field.high
        value: Any = entry.value
        if (low is not None and value < low) or (high is not None and value > high):
            return f"{value} was taken"
    return ""


def helps(field: Field) -> list[str]:
    """Return what a refusal must hold: the field's name, its range, an example."""
    parts = [f"{field.label}:"]
    if field.low is not None and field.high is not None:
        parts.append(f"{plain(field.low)} to {plain(field.high)}")
    if field.kind == "choice":
        return [*parts, *(f"{c.letter} {c.label}" for c in field.choices)]
    if field.kind == "date":
        return [*parts, EXAMPLE]
    if field.kind == "pick" and not field.choices:
        return parts
    return [*parts, f"For example {example_of(field)}." if example_of(field) else "For example"]


def test_every_answer_to_every_field_is_taken_or_refused_with_help(
    every_field: Collected,
) -> None:
    tried, faults = 0, []
    for where, field in every_field:
        if field.kind == "act":
            continue
        texts = {*BAD, *SCRIPTS, WRONG_UNIT.get(field.quantity, "5 kg")}
        for text in sorted(texts):
            tried += 1
            if fault := wrong(field, text):
                faults.append(f"{where} / {field.label} / {text[:20]!r}: {fault}")
    print(f"{tried} pairs of a field and a text, {len(every_field.at)} fields, "
          f"{len(every_field.dialogs)} dialogs: {sorted(every_field.dialogs)}")  # fmt: skip
    assert not faults, "\n".join([str(len(faults)), *faults])
    assert tried > 2000
    assert len(every_field.dialogs) >= 20


def test_numbers_that_can_not_be_are_refused(every_field: Collected) -> None:
    ph = [f for _, f in every_field if f.label == "pH"]
    assert ph
    for field in ph:
        with pytest.raises(BadInput, match=r"pH: .*3 to 12.*For example"):
            judge(field, "74", TODAY)
    for where, field in every_field:
        if field.kind in NUMBERS:
            for text in ("abc", LONG, MARKUP, ESCAPES):
                with pytest.raises(BadInput):
                    judge(field, text, TODAY)
            assert field.high is not None, f"{where}: {field.label} takes any number"
            assert field.low is not None, f"{where}: {field.label} takes any number"


def test_a_unit_of_the_wrong_kind_is_refused(every_field: Collected) -> None:
    met = {f.quantity: f for _, f in every_field if f.kind == "quantity"}
    assert {"volume", "mass", "length", "temperature"} <= set(met)
    for kind, text in WRONG_UNIT.items():
        with pytest.raises(BadInput):
            judge(met[kind], text, TODAY)


def test_words_take_any_name_and_every_command_letter(every_field: Collected) -> None:
    fields = [f for _, f in every_field if f.kind == "words" and not f.asked]
    assert len(fields) > 10
    for field in fields:
        for text in (*SCRIPTS, EVERY_KEY, MARKUP):
            assert judge(field, text, TODAY).words == text


def test_no_answer_holds_what_a_terminal_would_obey(every_field: Collected) -> None:
    for _, field in every_field:
        if field.kind == "words":
            assert "\x1b" not in judge(field, ESCAPES, TODAY).words


def test_a_choice_and_a_pick_can_be_answered_in_full() -> None:
    field = Field("a", "Air", "pick", choices=(Choice("", "ok", "all well"),))
    assert judge(field, "all", TODAY).words == "ok"
    assert "For example all well." in asks(field)


SAMPLE = ("temperature", "ph", "ammonia", "kh")


async def test_nothing_typed_is_lost_in_the_water(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Typed, refused, left and come back to: the text stands there, and so does the sentence."""
    monkeypatch.setattr(clock, "now", lambda: clinic.NOW)
    async with running(tmp_path) as (pilot, house):
        await pilot.app.push_screen(WorkupScreen(house.visits["trout"], "Water"))
        await settle(pilot)
        form = pilot.app.screen.query_one("#form", Form)
        for key in SAMPLE:
            for text in ("abc", "74000", "1e9", "5 kg" if key != "ph" else "74", MARKUP):
                await refused(pilot, form, key, text, pasted=False)
            await refused(pilot, form, key, LONG, pasted=True)
            await refused(pilot, form, key, f"x{ESCAPES}", pasted=True)


async def refused(pilot: Pilot[None], form: Form, key: str, text: str, *, pasted: bool) -> None:
    """Put a text that can not be into a row, and look at what stands there afterwards."""
    at = [f.key for f in form.fields].index(key)
    form.go(at)
    await send(pilot, "enter", "ctrl+u")
    await (paste(pilot, text) if pasted else send(pilot, text))
    await send(pilot, "enter")
    await settle(pilot)
    state = form.rows[at].state
    assert form.field.key == key, "a refused answer must not go on"
    assert state.error.startswith(f"{form.field.label}:"), (text[:20], state.error)
    assert state.draft == readable(text)
    await send(pilot, "down", "up")
    await settle(pilot)
    assert form.rows[at].state.draft == readable(text)
    shown = [strip.text for strip in pilot.app.screen._compositor.render_strips()]
    assert not any("\x1b" in line for line in shown)
    await send(pilot, "enter", "ctrl+u", "escape")


async def test_a_note_with_every_letter_goes_into_its_field(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(clock, "now", lambda: clinic.NOW)
    async with running(tmp_path) as (pilot, _):
        await send(pilot, "x")
        await settle(pilot)
        dialog = pilot.app.screen
        assert isinstance(dialog, FormDialog)
        await send(pilot, EVERY_KEY)
        await paste(pilot, SCRIPTS[2])
        await send(pilot, "enter")
        await settle(pilot)
        assert dialog.answers["why"].words == EVERY_KEY + SCRIPTS[2]
