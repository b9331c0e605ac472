"""A medicine of the practice's own, by keys at 80x24: written, read, switched on, ordered."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from textual.widgets import Static

from core import clock
from core.practice import own_typed, read_medicines
from core.practice.keep import Act
from core.practice.own_typed import Written
from core.records import read
from core.records.tables import OwnMedicine, Treatment
from tests.practice.test_own_medicine import MINT
from tests.snapshots.whole import cut
from tests.tui.form_app import keys
from tests.tui.test_lock import Shop
from tests.tui.test_shelf import go, lines, opened, said
from tui.shelf.own_ask import OwnDialog
from tui.shelf.reading import LookUp, OwnPanel
from tui.shelf.screen import ShelfScreen
from tui.widgets.form import Form
from tui.workup.screen import WorkupScreen


def form_of(here: Shop) -> Form:
    return here.app.screen.query_one("#form", Form)


async def put(here: Shop, key: str, *typed: str, accept: bool = True) -> None:
    """Go to a row with the arrows, open it, type into it, and accept it."""
    form = form_of(here)
    if form.typing:
        await here.press("escape")
    await to(here, key)
    await here.press("enter")
    await keys(here.pilot, "ctrl+u", *typed)
    await here.settle()
    if accept and form.typing and form.field.key == key:
        await here.press("enter")


async def to(here: Shop, key: str) -> None:
    form = form_of(here)
    at = [f.key for f in form.fields].index(key) - form.index
    await here.press(*(["down"] * at if at > 0 else ["up"] * -at))
    assert form.field.key == key


def row(here: Shop, key: str) -> str:
    form = form_of(here)
    return form.rows[[f.key for f in form.fields].index(key)]._text(78).plain


def asked(here: Shop) -> list[str]:
    return [f.key for f in form_of(here).fields]


def below(here: Shop) -> str:
    return str(here.app.screen.query_one("#dialog-below", Static).render())


async def write_mint(here: Shop) -> None:
    """Write down what every row has to say, with nothing of whom it harms."""
    await here.press("a")
    await keys(here.pilot, "garden mint oil", "enter", "steam distilled", "enter", "calming koi")
    await keys(here.pilot, "enter", "bath", "enter")
    await here.settle()
    await put(here, "low", "5 mg/L")
    await put(here, "high", "10 mg/L")
    await put(here, "water", "fresh")
    await put(here, "food", "n")
    await put(here, "controlled", "n")
    await put(here, "antimicrobial", "n")


async def make(here: Shop) -> None:
    if form_of(here).typing:
        await here.press("escape")
    await here.press("f")


def what_is_cut(here: Shop) -> list[str]:
    """Return what is cut, but for the banner, which names a long folder of the tests."""
    return [words for words in cut(here.app) if "Banner" not in words]


def kept(here: Shop) -> tuple[OwnMedicine, ...]:
    return here.app.desk.look(read.find, OwnMedicine)


def write(here: Shop, new: Written) -> str:
    act = Act(here.made.vet, clock.now())
    return here.app.desk.save(own_typed.write, act, new).result(timeout=30)


async def test_written_read_switched_on_and_ordered_in_the_plan(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        await write_mint(here)
        assert "from memory" in row(here, "how dose")
        await make(here)
        assert isinstance(here.app.screen, ShelfScreen)
        [made] = kept(here)
        assert made.name == "garden mint oil"
        current = next(x for x in lines(here, "medicines") if x.startswith(">"))
        assert "garden mint oil" in current
        assert "from memory" in current
        assert "off" in current
        assert "Written by this practice. Not known, and so harmful: Food fish" in said(
            here, "detail"
        )
        await here.press("v")
        assert "read before it is switched on" in str(here.told())
        await here.press("enter")
        assert isinstance(here.app.screen, OwnPanel)
        text = str(here.app.screen.query_one("#panel-body", Static).content)
        assert "THE DOSE OF THIS ROW IS FROM MEMORY" in text
        assert "dose: 5 to 10 mg/L (from memory)" in text
        assert "(read" not in text
        await here.press("escape")
        await here.press("v")
        assert here.app.desk.look(read_medicines.state, made.id).on
        await here.press("escape")
        await here.app.push_screen(WorkupScreen(here.made.visit, "Plan"))
        await here.settle()
        form = form_of(here)
        form.go([f.key for f in form.fields].index("order"))
        await here.press("enter")
        await keys(here.pilot, "garden mint")
        await here.settle()
        assert "garden mint oil, bath: calming koi (dose from memory)" in row(here, "medicine")
        await keys(here.pilot, "enter", "enter", "a")
        await here.settle()
        assert "from memory" in below(here)
        await put(here, "reason", "tried on six koi in spring")
        await make(here)
        [ordered] = here.app.desk.look(read.find, Treatment)
        assert (ordered.medicine, ordered.amount) == (made.id, 45.0)


async def test_every_field_by_keys_with_its_source(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        await write_mint(here)
        await put(here, "how dose", "r")
        await put(here, "source dose", "Author (2020). Fish oils, p. 12")
        await put(here, "counts", "free menthol")
        await put(here, "every", "3 d")
        await put(here, "how interval", "c")
        await put(here, "times", "2")
        await put(here, "lasts", "30 min, watched")
        for key in ("elasmobranch", "scaleless", "invertebrates", "plants", "biofilter"):
            await put(here, key, "h")
        await put(here, "alkalinity", "h")
        await put(here, "limit alkalinity", "4 dKH")
        await put(here, "heat", "h")
        await put(here, "limit heat", "77 F")
        await put(here, "oxygen", "a")
        await put(here, "avoid", "loaches")
        await put(here, "food", "a")
        await put(here, "status", "extra-label")
        await put(here, "days", "14")
        await put(here, "how withdrawal", "r")
        await put(here, "source withdrawal", "Label, 2025")
        await put(here, "place0", "Canada")
        await put(here, "status0", "authorised")
        await put(here, "days0", "21")
        await put(here, "hazards", "stings the eyes")
        await make(here)
        [made] = kept(here)
        new = here.app.desk.look(own_typed.written, made.id)
        assert new is not None
        assert (new.dose_low, new.dose_high, new.dose_of) == ("5 mg/L", "10 mg/L", "free menthol")
        assert (new.interval, new.repeats, new.duration) == ("3 d", 2, "30 min, watched")
        assert set(new.stances.values()) == {"harmful", "allowed"}
        assert round(new.limits["alkalinity"], 1) == 71.4
        assert round(new.limits["heat"], 6) == 25.0
        assert (new.food, new.status, new.withdrawal_days) == ("allowed", "extra-label", 14)
        [place] = new.elsewhere
        assert (place.place, place.status, place.withdrawal_days) == ("Canada", "authorised", 21)
        assert new.grounds == {
            "dose": "Author (2020). Fish oils, p. 12",
            "withdrawal": "Label, 2025",
        }
        assert new.known["interval"] == "common practice, no source"
        others = {n: h for n, h in new.known.items() if n not in ("dose", "interval", "withdrawal")}
        assert set(others.values()) == {"from memory"}
        assert here.app.desk.look(read_medicines.one, made.id).withdrawal_days == 21


async def test_a_wrong_kind_is_refused_beside_its_field(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        await here.press("a")
        await put(here, "name", "chloramphenicol drops")
        assert "prohibited in food animals" in row(here, "name")
        await put(here, "name", "metronidazole gel")
        await put(here, "food", "a")
        assert "forbidden in food animals by 21 CFR 530.41" in " ".join(row(here, "food").split())
        await put(here, "route0", "bath")
        for wrong, told in (
            ("5", "is not a number with its unit"),
            ("5 %", "not in %"),
            ("5 mL/L", "mL/L is a thousand times uL/L"),
            ("5 ppm", "not in ppm"),
            ("5 mg/kg", "not in mg/kg"),
        ):
            await put(here, "high", wrong)
            assert told in " ".join(row(here, "high").split())
            assert not what_is_cut(here)
        await put(here, "every", "3")
        assert "is not a number with its unit" in row(here, "every")
        await put(here, "route1", "oral")
        assert "dosed in other units" in row(here, "route1")
        await make(here)
        assert isinstance(here.app.screen, OwnDialog)
        assert kept(here) == ()


async def test_a_dose_goes_when_the_route_is_dosed_otherwise(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        await write_mint(here)
        assert "invertebrates" in asked(here)
        await put(here, "route0", "injection IM")
        assert "invertebrates" not in asked(here)
        assert "5 mg/L" not in row(here, "low")
        await make(here)
        assert "Still needed: Highest dose" in str(here.told())
        assert kept(here) == ()


async def test_corrected_off_again_and_struck(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        key = write(here, MINT)
        act = Act(here.made.vet, clock.now())
        here.app.desk.save(read_medicines.switch, act, key, "on").result(timeout=30)
        screen = here.app.screen
        assert isinstance(screen, ShelfScreen)
        screen.refill()
        await here.settle()
        go(here, "medicines", key)
        await here.settle()
        assert "on: read by" in said(here, "detail")
        await here.press("enter")
        await here.press("enter")
        assert isinstance(here.app.screen, OwnDialog)
        assert "10 mg/L" in row(here, "high")
        await put(here, "high", "12 mg/L")
        await make(here)
        assert "it has changed since it was read" in said(here, "detail")
        found = here.app.desk.look(own_typed.written, key)
        assert found is not None
        assert (found.dose_high, found.known["dose"]) == ("12 mg/L", MINT.known["dose"])
        await here.press("v")
        assert "read before it is switched on" in str(here.told())
        await here.press("enter")
        await here.press("r")
        await keys(here.pilot, "written twice", "enter")
        await here.settle()
        await here.press("f")
        assert kept(here) == ()
        assert key not in screen.medicine_list.words


async def test_esc_keeps_what_was_typed(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        await write_mint(here)
        await put(here, "hazards", "stings the", accept=False)
        await here.press("escape", "escape")
        assert isinstance(here.app.screen, ShelfScreen)
        await here.press("a")
        title = str(here.app.screen.query_one("#dialog-title", Static).render())
        assert "As you left it" in title
        assert "10 mg/L" in row(here, "high")
        await here.press("escape", "escape")
        # A row that is corrected keeps its own, and not what was typed of the new one.
        key = write(here, MINT)
        screen = here.app.screen
        assert isinstance(screen, ShelfScreen)
        screen.refill()
        await here.settle()
        go(here, "medicines", key)
        for high in ("12 mg/L", "13 mg/L"):
            await here.press("enter")
            await here.press("enter")
            await put(here, "high", high)
            await here.press("escape")
            if isinstance(here.app.screen, OwnDialog):
                await here.press("escape")
        await here.press("enter")
        await here.press("enter")
        assert "13 mg/L" in row(here, "high")
        assert "steam distilled" in row(here, "form")


async def test_a_technician_reads_it_and_is_told_who_writes(tmp_path: Path) -> None:
    async with opened(tmp_path, who=1) as here:
        await here.press("a")
        assert isinstance(here.app.screen, ShelfScreen)
        assert "Only a veterinarian writes a medicine" in str(here.told())


async def test_one_of_many_is_found_by_a_few_letters(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        key = write(here, MINT)
        screen = here.app.screen
        assert isinstance(screen, ShelfScreen)
        screen.refill()
        await here.settle()
        for typed, found in (("mint", key), ("praziq prolon", "praziquantel-prolonged")):
            await here.press("l")
            assert isinstance(here.app.screen, LookUp)
            await keys(here.pilot, typed, "enter")
            await here.settle()
            assert isinstance(here.app.screen, ShelfScreen), (typed, here.told(), here.painted())
            assert screen.medicine_list.current == found


async def test_a_row_is_whole_on_the_screen(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        long = "A very long condition that goes on and on, with every word of it needed. " * 3
        key = write(here, replace(MINT, avoid=long.strip()))
        screen = here.app.screen
        assert isinstance(screen, ShelfScreen)
        screen.refill()
        await here.settle()
        go(here, "medicines", key)
        await here.settle()
        await here.press("enter")
        seen = here.painted()
        for _ in range(40):
            await here.press("down")
            seen += here.painted()
        whole = " ".join(seen.split())
        for words in ("DOSE", "WHO MUST NOT HAVE IT", "FOOD FISH", "PEOPLE", "every word of it"):
            assert words in whole
        assert not what_is_cut(here)
