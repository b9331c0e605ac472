"""Watching: breaths and signs of the water, each group and each fish, without mixing them."""

from __future__ import annotations

from time import monotonic

from core.errors import Refusal
from core.practice import breaths, watching
from core.practice.moves import Held
from core.practice.visits import Opened
from core.practice.watching import BREATHS, Subject
from core.records.tables import Sign, System
from tui.keys import bind
from tui.widgets.dialog import Answers, FormDialog, reason
from tui.widgets.field import Choice, Entry, Field
from tui.widgets.row import Shown, Widths
from tui.workup.breath_counter import BreathCounter
from tui.workup.fitting import in_lines
from tui.workup.stage import Stage

NOTE = Choice("w", "note", "with a note")
SIGN = (
    Choice("s", "seen", "seen"),
    Choice("n", "not seen", "not seen"),
    Choice("l", "not looked", "not looked"),
)
WALK = (
    Choice("o", "ok", "ok"),
    Choice("p", "problem", "problem"),
    Choice("n", "not seen", "not seen"),
)


class WatchingStage(Stage):
    """What is seen before the net goes in."""

    TITLE = "Watching"
    WIDTHS = Widths(label=31, value=16)
    BINDINGS = [
        bind("tap", "count", "Breaths"),
        bind("place", "subject", "Next fish"),
        bind("add", "fish", "One fish"),
        bind("strike", show=False),
    ]
    clock = staticmethod(monotonic)
    """Seconds that only run forward; a test puts its own here."""

    def __init__(self, opened: Opened, system: System) -> None:
        super().__init__(opened, system)
        self.view: watching.WatchingView | None = None
        self.subject_id = system.id

    async def load(self) -> None:
        self.view = await self.app.look(watching.view, self.visit_id, self.system.id)

    @property
    def watched(self) -> watching.WatchingView:
        """The watching as it was last read."""
        assert self.view is not None
        return self.view

    @property
    def subject(self) -> Subject:
        """Who or what is looked at now."""
        return next(s for s in self.watched.subjects if s.id == self.subject_id)

    def row(self, field: Field) -> Sign | None:
        """Return what is recorded in a row of the subject looked at."""
        return self.watched.of(self.subject).rows.get(field.key.partition(" ")[2])

    def fields(self) -> list[Field]:
        subject = self.subject
        listed = tuple(Choice("", s.id, s.label) for s in self.watched.subjects)
        head = [
            Field("subject", "Looking at", "pick", choices=listed, section="Who or what"),
            Field(
                f"number {BREATHS}",
                "Breaths a minute",
                example="90, or 30 in 20 for seconds",
                hint="space counts",
            ),
        ]
        if subject.kind == "system":
            items = [("walk round the water", w.key, w.label) for w in watching.walk()]
            choices = (*WALK, NOTE)
        else:
            items = [(s.part, s.key, s.label) for s in watching.signs(subject.kind)]
            choices = (*SIGN, NOTE)
        return head + _rows(items, choices)

    def shown(self, field: Field) -> Shown:
        if field.key == "subject":
            label = self.subject.label
            return Shown(label, note="l: next", detail=f"{label}; l: next", pending=True)
        row = self.row(field)
        if row is None:
            return Shown(note="" if field.key.startswith("number") else "not looked")
        if row.value is not None:
            return Shown(f"{row.value:.0f}", note=row.note)
        return Shown(row.state, note=row.note)

    async def keep(self, field: Field, entry: Entry) -> None:
        kind, _, sign = field.key.partition(" ")
        where = (self.visit_id, self.system.id, self.subject)
        if kind == "subject":
            self._look_at(entry.words)
        elif kind == "number":
            await self.app.save(breaths.record_breaths, self.act(), *where, entry.words)
        elif entry.value == NOTE.value:
            self._ask_note(field)
        else:
            await self.app.save(watching.record_sign, self.act(), *where, sign, entry.words)

    def _look_at(self, subject_id: str) -> None:
        self.subject_id = subject_id
        self.app.drafts.pop(self._where(), None)

    async def reload(self) -> None:
        await self.load()
        wanted = self.fields()
        if wanted != self.form.fields:
            await self.form.set_fields(wanted)
        else:
            self.form.refresh_rows()
        self.paint_below()
        self.show_detail()

    def below(self) -> str:
        view, subject = self.watched, self.subject
        done = sum(key not in (BREATHS, watching.SEEN_FISH) for key in view.of(subject).rows)
        asked = len(watching.walk() if subject.kind == "system" else watching.signs(subject.kind))
        first = [f"{subject.label}: {done} of {asked} looked at."]
        mine = [s for s in view.seen if s.subject.id == subject.id]
        others = [s for s in view.seen if s.subject.id != subject.id]
        return in_lines([*first, *(s.brief for s in (*mine, *others) if s.brief)])

    def working_text(self) -> str:
        figure = self.watched.figures.get(self.subject_id)
        if self.form.field.key.startswith("number") and figure is not None:
            return figure.working
        return "\n\n".join(self.watched.words)

    async def action_subject(self) -> None:
        """Look at the next fish, group or the water."""
        ids = [s.id for s in self.watched.subjects]
        self._look_at(ids[(ids.index(self.subject_id) + 1) % len(ids)])
        await self.rebuild()
        self.form.go(0)

    def action_count(self) -> None:
        """Count breaths of the subject by tapping."""
        subject = self.subject

        async def kept(moments: tuple[float, ...] | None) -> None:
            if moments is not None:
                where = (self.visit_id, self.system.id, subject)
                try:
                    await self.app.save(breaths.record_tapped, self.act(), *where, moments)
                except Refusal as error:
                    self.app.tell(error)
                await self.changed()

        self.app.push_screen(BreathCounter(subject.label, self.clock), kept)

    def _ask_note(self, field: Field) -> None:
        subject, sign, row = self.subject, field.key.partition(" ")[2], self.row(field)
        states = WALK if subject.kind == "system" else SIGN
        fields = [
            Field("state", "Seen or not", "choice", choices=states, required=True),
            Field("note", "Note", example="left side, since Monday", required=True),
        ]
        stands = {"state": Entry(row.state, row.state)} if row else {}
        if row and row.note:
            stands["note"] = Entry(row.note, row.note)

        async def done(answers: Answers) -> None:
            where = (self.visit_id, self.system.id, subject, sign)
            said = (answers["state"].words, answers["note"].words)
            await self.app.save(watching.record_note, self.act(), *where, *said)

        widths = Widths(label=12, value=50)
        self.ask(
            FormDialog(
                f"{subject.label}: {field.label}", fields, done, answers=stands, widths=widths
            )
        )

    def action_fish(self) -> None:
        """Look at one fish of a group by itself."""
        held = [h for h in self.watched.held if not h.group.single]
        if not held:
            self.app.notify("There is no group here to see one fish of.", markup=False)
            return
        here = next((h for h in held if h.group.id == self.subject.group), held[0])
        number = watching.next_number(self.watched, here.group.id)
        fields = [
            Field(
                "group", "One of", "pick", choices=tuple(_choice(h) for h in held), required=True
            ),
            Field("number", "Number", "count", low=1, high=10_000_000, required=True),
            Field("words", "Known by", example="white, red cap"),
        ]
        stands = {
            "group": Entry(here.group.name, here.group.id),
            "number": Entry(str(number), number),
        }

        async def done(answers: Answers) -> None:
            one = next(h for h in held if h.group.id == answers["group"].words)
            words = answers["words"].words if "words" in answers else ""
            where = (self.visit_id, self.system.id, one, int(answers["number"].number), words)
            self._look_at(await self.app.save(watching.add_fish, self.act(), *where))

        self.ask(FormDialog("One fish by itself", fields, done, answers=stands))

    def action_strike(self) -> None:
        row = None if self.form.field.key == "subject" else self.row(self.form.field)
        if row is None:
            self.app.notify("There is nothing to strike in this row.", markup=False)
            return

        async def done(why: str) -> None:
            await self.app.save(watching.strike_sign, self.act(), row.id, why)

        self.ask(reason(f"Strike: {self.form.field.label}", done, "it was another fish"))


def _choice(one: Held) -> Choice:
    return Choice("", one.group.id, one.group.name)


def _rows(items: list[tuple[str, str, str]], choices: tuple[Choice, ...]) -> list[Field]:
    """Return a row for each sign; the first of each part carries the part's name."""
    made, last = [], ""
    for part, key, label in items:
        section = part.capitalize() if part != last else ""
        made.append(Field(f"sign {key}", label, "choice", choices=choices, section=section))
        last = part
    return made
