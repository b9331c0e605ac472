"""The feeding check by keys only, at 80x24: what it says while typing, and what it keeps."""

from __future__ import annotations

import re
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

import pytest
from textual.containers import VerticalScroll
from textual.pilot import Pilot
from textual.widgets import Static

from core import clock
from core.practice import feeding, setup, visits, water
from core.practice.desk import Desk
from core.practice.feeding_view import FeedingView, view
from core.practice.fish import understand_sized
from core.practice.keep import Act
from core.practice.who import people, practice
from core.records import read
from core.records.tables import Feeding, FeedStep, Food, Weighing
from tests.small import ZONE, fill
from tui.app import FinroundsApp
from tui.widgets.form import Form
from tui.widgets.panel import Panel
from tui.workup.feeding import FeedingStage
from tui.workup.screen import WorkupScreen

KEYS = {" ": "space", ".": "full_stop", ",": "comma", "-": "minus", "<": "less_than_sign"}


@dataclass
class At:
    """A feeding check on the screen."""

    app: FinroundsApp
    pilot: Pilot[None]
    desk: Desk
    visit: str
    system: str

    @property
    def form(self) -> Form:
        return self.app.screen.query_one("#form", Form)

    @property
    def stage(self) -> FeedingStage:
        return self.app.screen.query_one(FeedingStage)

    async def keys(self, *keys: str) -> None:
        await self.pilot.press(*keys)
        await self.app.workers.wait_for_complete()
        await self.pilot.pause()

    async def type(self, text: str, *after: str) -> None:
        await self.keys(*(KEYS.get(c, c) for c in text), *after)

    async def go(self, key: str) -> None:
        """Go to a row with the arrows."""
        wanted = [f.key for f in self.form.fields].index(key)
        step = wanted - self.form.index
        if step:
            await self.keys(*(["down"] * step if step > 0 else ["up"] * -step))
        assert self.form.field.key == key

    def row(self, key: str) -> str:
        """Return what a row says, whole."""
        row = next(r for f, r in zip(self.form.fields, self.form.rows, strict=True) if f.key == key)
        state = row.state
        return f"{state.shown.word} {state.shown.value} {state.shown.note} {state.error}".strip()

    def below(self) -> str:
        return str(self.app.screen.query_one("#below", Static).content)

    def seen(self) -> FeedingView:
        return self.desk.look(view, self.visit, self.system)


def _pool() -> tuple[str, str, str]:
    """Make the hotel's pool of the demo: its readings are there, the fish are not weighed."""
    act = Act("setup", clock.now())
    small = fill(act, clock.today(ZONE))
    system = setup.add_system(act, small.site, "lobby pool", "koi_pond", volume_l=9360.0)
    koi = setup.add_group(act, system, "koi", "koi", count=14)
    visit = visits.book(act, system, clock.today(ZONE), "08:30", small.vet, "health check")
    values = {"temperature": 22.0, "ph": 7.6, "alkalinity": 110.0, "ammonia": 0.25, "nitrite": 0.05}
    for analyte, value in values.items():
        taken = water.Measured(analyte, value, str(value), below=analyte in ("ammonia", "nitrite"))
        water.record_reading(act, visit, system, taken)
    return visit, system, koi


def _filled() -> tuple[str, str, str]:
    """Make the same with its fish, its bag and what is fed."""
    act = Act("setup", clock.now())
    visit, system, koi = _pool()
    for line in ("4 x 32 cm", "6 x 38 cm", "4 x 44 cm"):
        feeding.record_size(act, visit, system, koi, understand_sized(line))
    feeding.record_food(act, visit, system, name="koi pellet", kind="koi_pellet")
    feeding.record_fed(
        act, visit, system, fed_g=45.0, fed_typed="45 g", target_percent=0.8, gone_min=2.0,
        new_deaths=0,
    )  # fmt: skip
    return visit, system, koi


@asynccontextmanager
async def started(tmp_path: Path, make: object = _filled) -> AsyncIterator[At]:
    desk = Desk(tmp_path / "practice.db")
    try:
        assert callable(make)
        visit, system, _ = desk.save(make).result(timeout=30)
        found, worker = desk.look(practice), desk.look(people)[0]
        assert found is not None
        app = FinroundsApp(desk, found, worker)
        async with app.run_test(size=(80, 24)) as pilot:
            app.push_screen(WorkupScreen(visit, "Feeding"))
            await pilot.pause()
            await app.workers.wait_for_complete()
            await pilot.pause()
            yield At(app, pilot, desk, visit, system)
    finally:
        desk.close()


async def test_the_stock_is_typed_line_after_line(tmp_path: Path) -> None:
    async with started(tmp_path, _pool) as at:
        await at.type("4 x 32 cm", "enter")
        await at.type("6 x 38 cm", "enter")
        await at.type("4 x 44 cm", "enter")
        rows = at.desk.look(read.find, Weighing, visit=at.visit)
        assert [r.count for r in rows] == [4, 6, 4]
        assert [round(r.weight_g) for r in rows] == [605, 1002, 1539]
        assert {r.how for r in rows} == {"from length"}
        assert "Stock 14.59 kg (11.67 to 17.51 kg), estimated." in at.below()
        assert at.form.field.key.startswith("new ")
        assert at.form.typing
        lines = [f.key for f in at.form.fields if f.key.startswith("line ")]
        assert "605 g each by length (TL), 484 to 726 g, estimated" in at.row(lines[0])


async def test_what_follows_is_shown_in_the_key_s_own_handler(tmp_path: Path) -> None:
    async with started(tmp_path) as at:
        await at.go("fed")
        form, stage = at.form, at.stage
        form.open_row()
        form._put("90")
        stage.live(form.field, "9")
        assert "Fed 0.062 %" in at.below()
        stage.live(form.field, "90")
        assert "Fed 0.62 % of body weight a day: under 0.8 to 2 %." in at.below()
        assert "ammonia 3.15 -> 4.09 g N made" in at.below()
        assert "Fed 0.62 %" in at.row("fed")
        assert at.seen().inputs.fed_g == 45.0


async def test_typing_a_size_shows_its_weight_before_it_is_kept(tmp_path: Path) -> None:
    async with started(tmp_path, _pool) as at:
        await at.type("4 x 32 cm")
        assert "605 g each by length" in at.row(at.form.field.key)
        assert "Stock 2 422 g" in at.below()
        assert "koi: 10 of 14 on no line" in at.below()
        assert at.desk.look(read.find, Weighing, visit=at.visit) == ()


async def test_food_and_what_is_fed_by_keys(tmp_path: Path) -> None:
    async with started(tmp_path, _pool) as at:
        await at.go("name")
        await at.keys("enter")
        await at.type("koi pellet", "enter")
        await at.type("koi", "enter")
        await at.type("38", "enter")
        await at.type("-10", "enter")
        await at.type("-243", "enter")
        await at.keys("enter")
        await at.type("15", "enter")
        await at.type("3 scoops", "enter")
        await at.type("2 a day", "enter")
        await at.type("left", "enter")
        await at.type("1", "enter")
        await at.type("0,8", "enter")
        (food,) = at.desk.look(read.find, Food, visit=at.visit)
        today = clock.today(ZONE)
        assert (food.name, food.kind, food.protein_fraction) == ("koi pellet", "koi_pellet", 0.38)
        assert food.use_by == today - timedelta(days=10)
        assert food.opened == today - timedelta(days=243)
        assert food.scoop_g == 15.0
        (fed,) = at.desk.look(read.find, Feeding, visit=at.visit)
        assert (fed.fed_g, fed.fed_typed, fed.every_days) == (45.0, "3 scoops", 0.5)
        assert (fed.left_over, fed.new_deaths, fed.target_percent) == (True, 1, 0.8)
        assert at.row("name").startswith("past koi pellet")
        assert "Open for 243 days; the limit is 90 days" in at.row("opened")
        assert "No rise now: Food was left over" in at.below()


async def test_a_rise_is_made_and_made_again(tmp_path: Path) -> None:
    async with started(tmp_path) as at:
        await at.go("rise")
        await at.keys("enter")
        preview = str(at.app.screen.query_one("#dialog-below", Static).content)
        assert all(f"{grams} g" in preview for grams in (63, 81, 99, 117))
        await at.keys("f")
        steps = at.desk.look(read.find, FeedStep, visit=at.visit)
        assert [s.grams for s in steps] == [63, 81, 99, 117]
        assert all("otherwise stay at this ration and ring" in s.gate for s in steps)
        assert "117 g ammonia 4.09 g N, alkalinity 29 g a day." in at.row("step 3")
        assert at.form.field.key == "rise"
        listed = [f.key for f in at.form.fields]
        assert listed[listed.index("rise") :][:5] == ["rise", *(f"step {n}" for n in range(4))]
        marks = {f.key: r.state.mark for f, r in zip(at.form.fields, at.form.rows, strict=True)}
        assert {marks[f"step {n}"] for n in range(4)} == {"saved"}
        assert re.search(r"Rise saved: \d+ \w+ 63 g; \d+ \w+ 81 g; .* 99 g; .* 117 g\.", at.below())
        await at.go("rise")
        await at.keys("enter", "down", "down")
        await at.type("6", "enter", "escape", "f")
        rows = at.desk.look(read.find, FeedStep, visit=at.visit, struck=True)
        assert [r.struck for r in rows] == ["made again"] * 4 + [None] * 4
        first = rows[4].day
        assert [(r.day - first).days for r in rows[4:]] == [0, 10, 21, 32]


async def test_a_step_opens_its_gate(tmp_path: Path) -> None:
    async with started(tmp_path) as at:
        await at.go("rise")
        await at.keys("enter", "f")
        await at.go("step 0")
        await at.keys("enter")
        assert isinstance(at.app.screen, Panel)


def _over_its_limit() -> tuple[str, str, str]:
    visit, system, koi = _filled()
    act = Act("setup", clock.now())
    water.record_reading(act, visit, system, water.Measured("nitrite", 0.6, "0.6"))
    return visit, system, koi


async def test_a_rise_is_refused_by_name_and_a_hold_is_kept(tmp_path: Path) -> None:
    async with started(tmp_path, _over_its_limit) as at:
        await at.go("rise")
        await at.keys("enter")
        assert isinstance(at.app.screen, WorkupScreen)
        assert "Nitrite is 0.600 mg/L as N; it must be under 0.1 mg/L as N." in at.row("rise")
        assert "No rise now: Nitrite is 0.600 mg/L as N" in at.below()
        await at.go("hold")
        await at.keys("enter", "f")
        (step,) = at.desk.look(read.find, FeedStep, visit=at.visit)
        assert (step.kind, step.grams) == ("hold", 44.0)
        assert "Nitrite is 0.600 mg/L" in step.gate
        assert at.row("step 0").startswith("44 g")


async def test_the_model_answers_beside_the_plan(tmp_path: Path) -> None:
    async with started(tmp_path) as at:
        await at.go("model")
        await at.keys("enter")
        for answer in ("40", "5", "110", "0.3", "0.3"):
            await at.type(answer, "enter")
        await at.keys("f")
        assert "Model, not validated" in at.row("model")
        assert "Highest ammonia" in at.row("model")
        assert at.desk.look(read.find, FeedStep, visit=at.visit) == ()


async def test_fish_weighed_in_a_net(tmp_path: Path) -> None:
    async with started(tmp_path, _pool) as at:
        await at.keys("a")
        await at.keys("enter")
        await at.type("2350 2450", "enter")
        await at.type("1100", "enter")
        await at.type("2", "enter")
        await at.keys("enter", "f")
        (row,) = at.desk.look(read.find, Weighing, visit=at.visit)
        assert (row.count, row.weight_g, row.how) == (14, 650.0, "weighed")
        assert row.error_percent == pytest.approx(100 * 25 / 650)


async def test_a_line_is_corrected_and_struck(tmp_path: Path) -> None:
    async with started(tmp_path) as at:
        first = at.form.fields[0].key
        await at.go(first)
        await at.type("5 x 32 cm", "enter", "escape")
        assert at.seen().inputs.stock[0].stock.count == 5
        await at.go(first)
        await at.keys("r")
        await at.type("counted twice", "enter")
        await at.keys("f")
        assert len(at.seen().inputs.stock) == 2
        assert first not in [f.key for f in at.form.fields]


async def test_the_working_names_its_sources(tmp_path: Path) -> None:
    async with started(tmp_path) as at:
        await at.go("target")
        await at.keys("w")
        assert isinstance(at.app.screen, Panel)
        body = str(at.app.screen.query_one("#panel-body", Static).content)
        assert "W = a L^b" in body
        assert "Timmons" in body
        assert "rate = 100 x food / days / biomass" in body


BAD = ("abc", "-3", "9" * 60)
ASKED = ("new", "protein", "fed", "often", "gone", "deaths", "target")


async def test_bad_input_is_named_and_nothing_is_lost(tmp_path: Path) -> None:
    async with started(tmp_path) as at:
        before = at.seen().inputs
        for key in ASKED:
            await at.go(next(f.key for f in at.form.fields if f.key.split()[0] == key))
            for text in BAD:
                at.form.open_row()
                await at.pilot.press("ctrl+u")
                at.form._put(text)
                await at.pilot.press("enter")
                error = at.form.row.state.error
                assert at.form.field.label in error
                assert any(word in error for word in ("xample", "Type", "Allowed"))
                assert at.form.row.state.draft == text
                await at.pilot.press("escape")
        assert at.seen().inputs == before


async def test_nothing_is_wider_than_the_screen(tmp_path: Path) -> None:
    async with started(tmp_path) as at:
        for scroll in at.app.screen.query(VerticalScroll):
            assert scroll.max_scroll_x == 0
        for line in at.below().splitlines():
            assert len(line) <= 160
