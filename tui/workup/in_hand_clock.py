"""The clock of one anaesthesia over the whole screen: every moment is one key."""

from __future__ import annotations

from datetime import datetime
from time import monotonic

from textual import events, getters
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

from core import clock
from core.errors import BadInput, Refusal
from core.fish.breathing import breaths_from_taps
from core.practice import in_hand, in_hand_baths, in_hand_clock
from core.practice.in_hand import Fish
from core.practice.in_hand_baths import First
from core.practice.keep import Act
from tui.base import RoundsApp
from tui.keys import bind
from tui.widgets.dialog import FormDialog, reason
from tui.widgets.foot import foot
from tui.workup import in_hand_clock_words, in_hand_steps
from tui.workup.in_hand_strip import Strip

LAST = 4
"""So many marks are shown; the record has them all."""


class ClockStrip(Strip):
    """The time since the bath, the time in the air, and the opercular rate, in large digits."""

    PARTS = ("clock", "air", "rate")


class ClockScreen(ModalScreen[bool]):
    """Shows the time since the bath and takes each moment with one digit.

    Parameters
    ----------
    owner : str
        Whose consent a euthanasia would need, as an example.
    """

    app = getters.app(RoundsApp)
    DEFAULT_CSS = """
    ClockScreen { align: center middle; }
    #clock { width: 80; max-width: 100%; height: 100%; background: $panel; padding: 0 1; }
    #clock-title, #clock-caution { text-style: bold; }
    #clock-caution { max-height: 6; }
    """
    BINDINGS = [
        *(Binding(str(n), f"mark({n})", f"Mark {n}", show=False) for n in range(1, 10)),
        Binding("0", "air", "Air"),
        bind("tap", "tap", "Beat"),
        Binding("enter", "rate", "Keep rate"),
        bind("strike", "strike", "Take back the last"),
        Binding("escape,backspace,i", "leave", "Close", key_display="esc"),
    ]

    def __init__(self, fish: Fish, owner: str) -> None:
        super().__init__()
        self.fish = fish
        self._owner = owner
        self._marked = False
        self.taps: list[float] = []
        """Moments of the opercular beats that are being counted."""

    def compose(self) -> ComposeResult:
        with Vertical(id="clock"):
            yield Static("", id="clock-title", markup=False)
            yield ClockStrip()
            for part in ("bath", "keys", "caution", "marks"):
                yield Static("", id=f"clock-{part}", markup=False)
        yield foot()

    def on_mount(self) -> None:
        self.paint_all()
        self.set_interval(1.0, self.paint_time)

    def paint_time(self) -> None:
        """Show what runs: the time, how long in the air, and the rate as it is tapped."""
        found, now = self.fish.anaesthesia, clock.now()
        elapsed = found.elapsed(now)
        text = in_hand_clock.clock_text(elapsed) if elapsed is not None else "--:--"
        said = {"clock": ("since it went in", text)}
        aired = found.aired(now)
        if aired:
            most = in_hand_clock.rules()["air"]["longest_s"]
            caption = f"in the air, {most} s at most" if found.in_air else "last in the air"
            said["air"] = (caption, in_hand_clock.clock_text(aired[-1]))
        if self.taps or found.rate is not None:
            said["rate"] = self._rate(found.rate)
        self.query_one(ClockStrip).say(said)

    def _rate(self, kept: float | None) -> tuple[str, str]:
        if not self.taps:
            return "beats a minute", f"{kept:.0f}"
        try:
            rate = f"{breaths_from_taps(self.taps):.0f}"
        except BadInput:
            rate = "--"
        return f"beats a minute, {len(self.taps)} taps", rate

    def paint_all(self) -> None:
        """Show what can be marked now and what was."""
        self.paint_time()
        found, row = self.fish.anaesthesia, self.fish.handling
        text = self.fish.bath.text if found.phase == "before" else in_hand_clock_words.in_short(row)
        bath = " ".join(filter(None, (row.agent, text)))
        keys = [
            (str(n), in_hand_clock_words.said(e))
            for n, e in enumerate(in_hand_clock.events(found), 1)
        ]
        keys += [("0", e) for e in in_hand_clock.beside(found)[:1]]
        parts = {
            "title": f"{row.label}: {found.phase}",
            "bath": bath,
            "keys": "\n".join(in_hand_clock_words.in_lines(keys)),
            "caution": "\n".join((*in_hand_clock_words.lacks(found.lacking), *found.cautions)),
            "marks": "\n".join(found.lines[-LAST:]),
        }
        for part, text in parts.items():
            self.query_one(f"#clock-{part}", Static).update(text)

    async def on_key(self, event: events.Key) -> None:
        """Take keys one after another: what follows a key that asks is typed into what it asks."""
        front = self.app.screen
        active = self.active_bindings.get(event.key)
        if front is not self:
            (front.focused or front).post_message(events.Key(event.key, event.character))
        elif active is not None and active.enabled and active.node is self:
            await self.app.run_action(active.binding.action, self)
        else:
            return
        event.stop()
        event.prevent_default()

    async def action_mark(self, number: int) -> None:
        """Mark what stands under a digit; the moment is that of the key."""
        listed = in_hand_clock.events(self.fish.anaesthesia)
        if number > len(listed):
            return
        event, now = listed[number - 1], clock.now()
        if (ask := self._asks(event, now)) is not None:
            await self.app.push_screen(ask, self._after)
        else:
            await self._try(event, now)

    def _asks(self, event: str, now: datetime) -> FormDialog | None:
        """Return what is asked with an event; None when its moment is all."""
        if event == in_hand_clock.FIRST:
            return self._first()
        if event == in_hand_clock.MAINTAIN:
            return self._maintain()
        if event == in_hand_clock.SECOND:
            return self._second(now)
        return self._signs(now) if event == in_hand_clock.DEAD else None

    async def action_air(self) -> None:
        """Take the fish out of the water, or put it back: the moment is that of the key."""
        for event in in_hand_clock.beside(self.fish.anaesthesia)[:1]:
            await self._try(event, clock.now())

    def action_tap(self) -> None:
        """Count one opercular beat at this moment."""
        now = monotonic()
        if in_hand_clock.RATE not in in_hand_clock.beside(self.fish.anaesthesia):
            self.app.notify("The rate is counted once it is in the bath.", markup=False)
        elif not self.taps or now > self.taps[-1]:
            self.taps.append(now)
            self.paint_time()

    async def action_rate(self) -> None:
        """Keep the rate that was tapped."""
        try:
            rate = breaths_from_taps(self.taps)
        except BadInput as error:
            self.app.tell(error)
            return
        self.taps = []
        await self._try(in_hand_clock.RATE, clock.now(), rate)

    async def _try(self, event: str, at: datetime, rate: float | None = None) -> None:
        try:
            await self._mark(event, "", at, rate)
        except Refusal as error:
            self.app.tell(error)
        await self._after(made=True)

    async def _mark(self, event: str, note: str, at: datetime, rate: float | None = None) -> None:
        act, key = Act(self.app.worker.id, at), self.fish.handling.id
        await self.app.save(in_hand_clock.mark, act, key, event, note, breaths=rate)
        self._marked = True

    async def _after(self, made: bool | None) -> None:
        if made:
            self.fish = await self.app.look(in_hand.one, self.fish.handling.id)
            self.paint_all()

    def _act(self) -> Act:
        return Act(self.app.worker.id, clock.now())

    def _first(self) -> FormDialog:
        async def done(first: First) -> None:
            key = self.fish.handling.id
            await self.app.save(in_hand_baths.first_step, self._act(), key, first)
            self._marked = True

        return in_hand_steps.first_step(self.fish.handling, self._owner, done)

    def _maintain(self) -> FormDialog:
        async def done(level: float, litres: float) -> None:
            key = self.fish.handling.id
            await self.app.save(in_hand_baths.maintain, self._act(), key, level, litres)
            self._marked = True

        return in_hand_steps.maintenance(self.fish.handling, done)

    def _second(self, now: datetime) -> FormDialog:
        async def done(way: str) -> None:
            await self._mark(in_hand_clock.SECOND, way, now)

        return in_hand_steps.second_step(done)

    def _signs(self, now: datetime) -> FormDialog:
        async def done(signs: str) -> None:
            await self._mark(in_hand_clock.DEAD, signs, now)

        return in_hand_steps.signs_of_death(done)

    def action_strike(self) -> None:
        async def done(why: str) -> None:
            key = self.fish.handling.id
            await self.app.save(in_hand_clock.take_back, self._act(), key, why)
            self._marked = True

        self.app.push_screen(reason("Take back the last mark", done, "wrong key"), self._after)

    def action_leave(self) -> None:
        self.dismiss(self._marked)
