"""One whole visit by keys only: from the Day desk through every stage to signed."""

from __future__ import annotations

from collections.abc import Awaitable, Callable

from tests.visit.draw import Draw
from tests.visit.driver import Hands
from tests.visit.expect import Expected, bare, short
from tui.day.screen import DayScreen
from tui.workup.watching import WatchingStage

UNITS = {"ammonia": ("N", "NH3", "NH4"), "nitrite": ("N", "NO2")}


class Walk:
    """The visit of a case, stage by stage; `seen` keeps what the screen said on the way."""

    def __init__(self, hands: Hands, case: Draw, expected: Expected) -> None:
        self.hands = hands
        self.case = case
        self.want = expected
        self.seen: dict[str, str] = {}
        self.texts: dict[str, str] = {}
        """The plain-text twin of each paper."""
        self.clock = 1000.0

    async def whole(self) -> None:
        """Do all of it."""
        stages: tuple[Callable[[], Awaitable[None]], ...] = (
            self.add,
            self.history,
            self.watching,
            self.water,
            self.in_hand,
            self.biopsy,
            self.feeding,
            self.assessment,
            self.plan,
            self.charges,
            self.papers,
            self.sign,
        )
        for stage in stages:
            await stage()

    async def add(self) -> None:
        """Put an unplanned visit into the day, and open it."""
        hands = self.hands
        await hands.press("a")
        await hands.press(self.case.last, "enter")
        await hands.go("reason")
        await hands.press("enter", "they hang at the inlet [why?]", "enter", "930", "enter")
        await hands.letter("kind", "n")
        await hands.finish()
        assert isinstance(hands.app.screen, DayScreen)
        hands.look()
        self.seen["day"] = "\n".join(str(o.prompt) for o in hands.app.screen.list.options)
        await hands.press("enter")
        assert hands.stage == "History"

    async def history(self) -> None:
        hands = self.hands
        await hands.letter("q told_by", "o")
        await hands.enter("q complaint", "gasp")
        await hands.enter("q onset", "-4")
        await hands.letter("q power_cut", "u")
        await hands.letter("q new_fish", "n")
        await hands.go("q deaths")
        await hands.press("a")
        await hands.press("2", "enter", "-9" if self.case.good else "-2", "enter", "enter")
        await hands.press(self.case.fish, "enter", "at dawn", "enter")
        await hands.finish()
        await hands.enter("est low", "150")
        await hands.enter("est high", "900,50")
        await hands.enter("est by", "the owner, at the gate")
        self.seen["losses"] = hands.below
        await hands.go("q told_by")
        await hands.press("f")

    async def watching(self) -> None:
        """Count breaths on the space bar, and look at the group and the water."""
        hands = self.hands
        await hands.walk("Watching")
        await hands.go("sign")
        await hands.press("enter", "o", "p")
        await hands.press("escape", "l")
        WatchingStage.clock = staticmethod(lambda: self.clock)
        await hands.press(" ")
        for _ in range(6):
            self.clock += 60 / self.case.rate
            await hands.press(" ")
        await hands.press("enter")
        self.seen["breaths"] = hands.row("number")
        await hands.letter("sign gasping", "s")
        await hands.press("n", "escape")
        await hands.press("f")

    async def water(self) -> None:
        hands, case, want = self.hands, self.case, self.want
        await hands.walk("Water")
        for key, basis in (("ammonia", case.ammonia_basis), ("nitrite", case.nitrite_basis)):
            await hands.go(key)
            await hands.press("u" * UNITS[key].index(basis))
        await hands.go("oxygen")
        warm = f"{short(case.temperature_c * 9 / 5 + 32)} F"
        typed = [
            str(want.oxygen),
            warm if case.fahrenheit else str(case.temperature_c),
            str(case.ph),
            str(case.salinity or ""),
            "0",
            want.ammonia_typed,
            "<0.05",
            f"{short(want.alkalinity_mg_l)} mg/L" if case.kh_as_mg else f"{case.kh_d} dKH",
        ]
        await hands.press("enter")
        await hands.press(*(part for text in typed for part in (text, "enter")))
        assert hands.error == ""
        for key in ("oxygen", "ammonia", "temperature"):
            self.seen[key] = await hands.note(key)
        await hands.go("ammonia")
        await hands.press("w")
        self.seen["ammonia working"] = hands.app.screen._body  # type: ignore[attr-defined]
        await hands.press("w")
        await hands.press("l")
        await hands.enter("ph", f"{case.tap_ph}9", "backspace")
        await hands.enter("kh", f"{case.tap_dkh} dKH")
        await hands.go("ph")
        await hands.press("l")
        self.seen["tap"] = hands.row("ph")
        await hands.press("f")

    async def in_hand(self) -> None:
        hands, case = self.hands, self.case
        await hands.walk("In hand")
        await hands.press("enter")
        await hands.finish()
        await hands.press(f"{case.weight_g} g", "enter", "enter", "tric", "enter")
        await hands.press(f"{case.bath_mg_l}", "enter", f"{case.bath_l} L", "enter")
        await hands.press("g", "g", "n", "p", "escape")
        self.seen["bath"] = await hands.note("bath")
        await hands.press("i")
        await hands.press("1")
        await hands.press("5")
        await hands.press("7")
        await hands.press("7")
        await hands.press("escape")
        await self.injection()
        await hands.go("weight")
        await hands.press("f")

    async def injection(self) -> None:
        """Give it where the law lets it be given; else see that it is refused, and leave."""
        hands, case = self.hands, self.case
        await hands.press("h")
        if case.kind.food_fish:
            await hands.press("enro", "enter", "m", "5", "enter")
            self.seen["stop"] = hands.below
            await hands.press("escape")
            await hands.press("f")
            self.seen["refused"] = hands.told[-1] if hands.told else ""
            await hands.press("escape")
            return
        await hands.press("ceft", "enter", "20", "enter", "b" if case.small else "a")
        await hands.enter("lot", case.lot)
        await hands.enter("expires", "+90")
        await hands.enter("place", "left epaxial")
        self.seen["injection"] = hands.below
        await hands.finish()

    async def biopsy(self) -> None:
        hands = self.hands
        await hands.walk("Biopsy")
        gill, skin = hands.keys("new")
        await hands.go(gill)
        await hands.press("enter", "w")
        await hands.letter("power", "a")
        await hands.enter("fields", "3")
        await hands.enter("seen", "egg-laying gill")
        await hands.enter("found", " ".join(map(str, self.case.worms)))
        self.seen["flukes"] = hands.row("found")
        await hands.go(skin)
        await hands.press("n")
        await hands.press("enter", "4", "enter", "escape", "f")

    async def feeding(self) -> None:
        hands, case, want = self.hands, self.case, self.want
        await hands.walk("Feeding")
        units = ("cm" if case.by_length else "g", "g")
        for count, size, unit in zip(case.stock_counts, case.stock_sizes, units, strict=True):
            await hands.enter("new", f"{count} x {short(size)} {unit}")
        await hands.enter("name", "pellets of <the> owner")
        await hands.enter("kind", case.kind.food)
        await hands.enter("protein", "38")
        await hands.enter("use_by", "+100")
        await hands.enter("opened", "-20")
        await hands.enter("fed", f"{want.fed_each} g")
        await hands.enter("often", "2 a day")
        await hands.enter("gone", "3 min")
        await hands.enter("deaths", "0" if case.good else "2")
        await hands.enter("target", str(case.target))
        self.seen["feeding"] = hands.below
        await (self.rise() if want.may_rise else self.hold())
        await hands.press("f")

    async def rise(self) -> None:
        hands, weeks = self.hands, str(self.case.weeks)
        await hands.go("rise")
        await hands.press("enter")
        await hands.enter("weeks", weeks)
        await hands.enter("steps", weeks)
        await hands.enter("tan", str(self.case.gate_tan))
        await hands.finish()

    async def hold(self) -> None:
        hands = self.hands
        await hands.go("rise")
        await hands.press("enter")
        self.seen["no rise"] = await hands.note("rise")
        await hands.go("hold")
        await hands.press("enter")
        await hands.enter("grams", f"{short(self.want.hold)} g")
        await hands.enter("tan", str(self.case.gate_tan))
        await hands.finish()

    async def assessment(self) -> None:
        hands = self.hands
        await hands.walk("Assessment")
        await hands.press("a")
        await hands.press("gill flukes", "enter", "s", "enter", "worms in one snip", "enter")
        await hands.finish()
        await hands.press("a")
        await hands.press("harm by nitrite", "enter", "r", "enter", "none read", "enter")
        await hands.finish()
        self.seen["problems"] = " / ".join(hands.row(k) for k in hands.keys("state"))
        await hands.press("f")

    async def plan(self) -> None:
        hands, case = self.hands, self.case
        await hands.walk("Plan")
        await hands.go("order")
        await hands.press("enter")
        await hands.press(case.medicine.typed, "enter", "enter", "d")
        await hands.enter("repeats", str(case.repeats))
        await hands.enter("interval", str(case.every))
        await hands.enter("hours", "48")
        if case.kind.food_fish:
            self.seen["unknown withdrawal"] = hands.below
            await hands.enter("withdrawal", str(case.withdrawal))
        await hands.enter("lot", case.medicine_lot)
        await hands.enter("expires", "+300")
        await hands.enter("directions", "stir into a bucket & pour all round")
        if "Needs a reason" in hands.below or case.kind.food_fish:
            await hands.enter("reason", "nothing on the label reaches these worms")
        self.seen["order"] = hands.below
        await hands.finish()
        if case.kind.food_fish:
            await self.lot_of_the_sedative()
        await hands.press("v")
        await hands.go("line")
        await hands.press("enter")
        await hands.press("d", case.step, "enter", "enter")
        await hands.finish()
        await hands.go("line")
        await hands.press("enter")
        await hands.press("s", "they jump or roll: drain a third", "enter", "enter")
        await hands.finish()
        await hands.go("again")
        await hands.press("enter")
        await hands.press("gill snip again", "enter", "v", f"+{case.recheck_days}", "enter")
        await hands.finish()
        self.seen["plan"] = hands.below
        await hands.press("f")

    async def lot_of_the_sedative(self) -> None:
        """Its lot is asked for when signing; it stands among what was given here."""
        hands = self.hands
        await hands.go("treatment")
        await hands.press("enter")
        await hands.press(f"TR-{self.case.seed}", "enter")
        await hands.finish()

    async def charges(self) -> None:
        hands, case, want = self.hands, self.case, self.want
        await hands.walk("Charges")
        self.seen["offered"] = hands.below
        await hands.press("v")
        await hands.press("a")
        words, many = case.goods
        await hands.press("enter", str(many), "enter", words, "enter")
        await hands.press(bare(case.goods_minor), "enter", "g")
        await hands.finish()
        self.seen["bill"] = hands.below
        await hands.press("y")
        await hands.press(bare(want.paid).replace(" ", ""), "enter", "k", "4711", "enter")
        await hands.finish()
        if case.from_list:
            self.texts["invoice"] = await hands.paper("Invoice")
        else:
            await hands.press("j")
            self.seen["before invoice"] = hands.asked
            await hands.press("j")
        await hands.press("f")

    async def papers(self) -> None:
        self.texts["care sheet"] = await self.hands.paper("Care sheet for the owner")
        self.texts["labels"] = await self.hands.paper("Labels of what is dispensed")
        self.texts["sample labels"] = await self.hands.paper("Labels of the samples")

    async def sign(self) -> None:
        hands = self.hands
        await hands.walk("Sign")
        await hands.press("v")
        self.seen["before signing"] = " / ".join(hands.row(f.key) for f in hands.form.fields)
        await hands.press("z")
        self.seen["sign asks"] = hands.asked
        await hands.press("escape")
        self.seen["not signed"] = hands.below
        await hands.press("z")
        await hands.press("z")
        self.seen["signed"] = hands.below
        self.texts["visit record"] = await hands.paper("Visit record")
        await hands.press("escape")
        assert isinstance(hands.app.screen, DayScreen)
