"""Whatever is typed into any field: understood, or refused in a sentence that helps.

The fields are not listed here. They are taken from the app itself: every stage is opened on
the fixed practice of the snapshots, every dialog that a key opens there is opened, and where
rows depend on answers every answer is given.
"""

from __future__ import annotations

import re
from collections.abc import AsyncIterator, Iterable, Iterator
from contextlib import asynccontextmanager
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from textual import events
from textual.app import App
from textual.pilot import Pilot

from core import clock
from core.errors import BadInput
from core.numbers import plain
from core.practice import own_typed, shelf
from core.practice.desk import Desk
from core.practice.keep import Act
from core.practice.shelf import NewProduct, Received
from core.practice.who import people, practice
from tests.practice.test_own_medicine import FULL
from tests.snapshots import clinic
from tests.tui.form_app import presses
from tui.app import FinroundsApp
from tui.shelf.own_ask import CorrectDialog
from tui.shelf.screen import ShelfScreen
from tui.start.questions import fields as first_fields
from tui.start.questions import usual
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
    """Wait for messages and workers, but for none that waits for a dialog itself."""
    await pilot.pause(0)
    while not (isinstance(pilot.app.screen, FormDialog) or idle(pilot.app)):
        # Not 0: a loop that never rests keeps the threads that read from their turn.
        await pilot.pause(0.002)
    await pilot.pause(0)


def idle(app: App[None]) -> bool:
    return all(worker.is_finished for worker in app.workers)


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
    acts = [f.key for f in form.fields if f.kind == "act"]
    for name in {re.sub(r"[\W\d].*", "", key): key for key in acts}.values():
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
        await dialogs_here(pilot, found, "kfahy" if desk == "b" else "hy")
        for _ in range(12):
            await dialogs_here(pilot, found, ["enter"] if desk == "p" else [])
            await send(pilot, "down")
        if desk == "b":
            await send(pilot, "enter")
            await settle(pilot)
            await dialogs_here(pilot, found, ["enter"])
    await send(pilot, "d")
    await settle(pilot)


def stock_shelf(vet: Act) -> None:
    """Write a medicine of the practice's own, with a product of it and a lot."""
    key = own_typed.write(vet, FULL)
    product = NewProduct(key, "mint 10", 100.0, "mg/mL", 50.0, "mL", controlled=True)
    shelf.receive(vet, shelf.add_product(vet, product), Received("B-1", Decimal("50.00")))


async def shelf_fields(pilot: Pilot[None], vet: str, found: Collected) -> None:
    """Take the dialogs of the medicines and the shelf, a row of the practice's own among them."""
    app = pilot.app
    assert isinstance(app, FinroundsApp)
    app.desk.save(stock_shelf, Act(vet, clinic.NOW)).result(timeout=30)
    app.action_shelf()
    await settle(pilot)
    await dialogs_here(pilot, found, "al")
    screen = app.screen
    assert isinstance(screen, ShelfScreen)
    lines = list(screen.medicine_list.words.values())
    screen.medicine_list.highlighted = next(n for n, x in enumerate(lines) if FULL.name in x)
    for _ in ("reads it", "corrects it"):
        await send(pilot, "enter")
        await settle(pilot)
    assert isinstance(app.screen, CorrectDialog)
    found.add_dialog(app.screen)
    app.screen.dismiss(False)
    await settle(pilot)
    await send(pilot, "s")
    await dialogs_here(pilot, found, ["a", "enter"])
    await send(pilot, "down")
    await dialogs_here(pilot, found, ["enter"])
    app.pop_screen()
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
        await shelf_fields(pilot, house.people["moss"], found)
    return found


def wrong(field: Field, text: str) -> str:
    """Return what is wrong with the judgement of a text, or nothing."""
    if field.kind in NUMBERS and (field.low is None or field.high is None):
        return "has no range"
    try:
        entry = judge(field, text, TODAY)
    except BadInput as error:
        return not_said(field, f"{error.sentence} {error.todo}") or not_taken(field, text)
    if field.kind in NUMBERS and entry.said == "value":
        return out_of_range(field, entry.value) or should_be_refused(field, text)
    if field.kind == "words" and text in (*SCRIPTS, EVERY_KEY, MARKUP) and entry.words != text:
        return f"became {entry.words!r}"
    return "holds an escape" if "\x1b" in entry.text else ""


def not_said(field: Field, said: str) -> str:
    """Return what a refusal leaves out."""
    missing = [part for part in helps(field) if part not in said]
    if missing:
        return f"{missing} not in {said!r}"
    return f"too long: {said}" if len(said) > 400 and field.kind not in ("choice", "pick") else ""


def not_taken(field: Field, text: str) -> str:
    """Names of people, letters and brackets are never refused where words are asked."""
    words = text in (*SCRIPTS, EVERY_KEY, MARKUP)
    return "was refused" if field.kind == "words" and words else ""


def out_of_range(field: Field, value: Any) -> str:
    return "" if field.low <= value <= field.high else f"{value} was taken"


def should_be_refused(field: Field, text: str) -> str:
    bad = ("abc", LONG, MARKUP, ESCAPES, *SCRIPTS, WRONG_UNIT.get(field.quantity, "5 kg"))
    never = text in bad or (field.label == "pH" and text == "74") or text in ("", "-3 kg")
    return "was taken" if never else ""


def helps(field: Field) -> list[str]:
    """Return what a refusal must hold: the field's name, its range, an example."""
    parts = [f"{field.label.strip()}:"]
    if field.low is not None and field.high is not None:
        parts.append(f"{plain(field.low)} to {plain(field.high)}")
    if field.kind == "choice":
        return [*parts, *(f"{c.letter} {c.label}" for c in field.choices)]
    if field.kind == "pick" and not field.choices:
        return parts
    return [*parts, f"For example {example_of(field)}." if example_of(field) else "For example"]


async def test_every_answer_to_every_field_is_taken_or_refused_with_help(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One walk through the app takes its seconds, so all that is asked of fields is asked here."""
    monkeypatch.setattr(clock, "now", lambda: clinic.NOW)
    found = await collect(tmp_path)
    tried, faults = 0, []
    for where, field in found:
        if field.kind == "act":
            continue
        for text in sorted({*BAD, *SCRIPTS, EVERY_KEY, WRONG_UNIT.get(field.quantity, "5 kg")}):
            tried += 1
            if fault := wrong(field, text):
                faults.append(f"{where} / {field.label} / {text[:20]!r}: {fault}")
    print(f"{tried} pairs of a text and a field; {len(found.at)} fields of {len(found.dialogs)} "
          f"dialogs, {len(BUILT)} stages and the first start")  # fmt: skip
    assert not faults, "\n".join([str(len(faults)), *faults])
    assert tried > 5000
    assert len(found.dialogs) >= 30, sorted(found.dialogs)
    assert {"volume", "mass", "length", "temperature"} <= {f.quantity for _, f in found}
    assert any(field.label == "pH" for _, field in found)


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
    assert state.error.startswith(f"{form.field.label.strip()}:"), (text[:20], state.error)
    assert state.draft == readable(text)
    await send(pilot, "escape", "down", "up")
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
