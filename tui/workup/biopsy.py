"""Biopsy: a slide is read with letters; its grade and what it speaks for stand beside it."""

from __future__ import annotations

from collections.abc import Callable

from core.errors import Refusal
from core.practice import biopsy, biopsy_slides, biopsy_words, sent_tests
from core.practice.biopsy import BiopsyView
from core.practice.in_hand import GLOVES
from core.practice.keep import Act
from core.practice.sent_tests import Awaited, Sending
from core.practice.visits import Opened
from core.records.tables import System
from tui.keys import bind
from tui.widgets.dialog import Answers, FormDialog, reason
from tui.widgets.field import Choice, Entry, Field
from tui.widgets.row import Shown, Widths
from tui.workup import biopsy_rows
from tui.workup.stage import Stage


class BiopsyStage(Stage):
    """The slides of one water, and the tests sent out."""

    TITLE = "Biopsy"
    WIDTHS = Widths(label=30, value=17)
    BINDINGS = [
        bind("normal", "normal", "Nothing abnormal"),
        bind("add", "add", "Send a test"),
        bind("strike", "strike", show=False),
    ]

    def __init__(self, opened: Opened, system: System) -> None:
        super().__init__(opened, system)
        self.view: BiopsyView | None = None
        self.tests: tuple[Awaited, ...] = ()

    async def load(self) -> None:
        self.view = await self.app.look(biopsy.view, self.visit_id, self.system.id)
        tests = await self.app.look(sent_tests.awaited, self.visit_id)
        self.tests = tuple(t for t in tests if t.test.system == self.system.id)

    def fields(self) -> list[Field]:
        assert self.view is not None
        return biopsy_rows.fields(self.view, self.tests)

    def shown(self, field: Field) -> Shown:
        assert self.view is not None
        return biopsy_rows.shown(self.view, self.tests, field)

    async def keep(self, field: Field, entry: Entry) -> None:
        part, _, row = field.key.partition(" ")
        act = self.act()
        if part == "new":
            await self.app.save(biopsy_slides.add_slide, act, row, entry.words)
        elif part == "power":
            magnification = {"magnification": int(entry.words)}
            await self.app.save(biopsy_slides.set_slide, act, row, **magnification)
        elif part == "fields":
            await self.app.save(biopsy_slides.set_slide, act, row, fields=entry.value)
        elif part == "note":
            await self.app.save(biopsy_slides.set_slide, act, row, note=entry.words)
        elif part == "found":
            await self.app.save(biopsy_slides.set_counts, act, row, entry.text)
        elif part == "test":
            await self.app.save(sent_tests.enter_result, act, row, entry.text)
        elif part == "seen":
            await self._seen(row, entry.words)
        elif part == "send":
            self.action_add()
        if part in ("new", "seen"):
            await self.rebuild()

    async def _seen(self, slide: str, what: str) -> None:
        act = self.act()
        if what == biopsy_rows.NORMAL.value:
            await self.app.save(biopsy_slides.nothing_abnormal, act, slide)
        else:
            await self.app.save(biopsy_slides.add_finding, act, slide, what)

    def on_form_moved(self) -> None:
        super().on_form_moved()
        self.paint_below()

    def below(self) -> str:
        """Return what the current row is worth: a finding, a clean slide, or the sample."""
        if self.view is None:
            return ""
        key = self._made.field.key
        found = biopsy_rows.found_of(self.view, key)
        slide = biopsy_rows.slide_of(self.view, key)
        sample = biopsy_rows.sample_of(self.view, key)
        if found is not None:
            return "\n".join(biopsy_words.worth(found, self.view.authority))
        if slide is not None and sample is not None and slide.slide.normal:
            return biopsy_words.clean_worth(slide, sample.tissue.clean_means)
        lines = [f"Not got: {what} of {whom}, {why}" for whom, what, why in self.view.not_got[:3]]
        if sample is not None:
            lines.insert(0, f"A clean look: {sample.tissue.clean_means}")
        return "\n".join([*lines, GLOVES])

    def working_text(self) -> str:
        """Return the page about the finding of the current row."""
        assert self.view is not None
        found = biopsy_rows.found_of(self.view, self.form.field.key)
        if found is None:
            return "On the row of a finding: its look, its grade, its sources."
        return biopsy_words.about(found, self.view.authority)

    async def write(self, what: Callable[[Act, str], str | None], row: str) -> str | None:
        """Write something about a row and make the rows anew, or say why it was refused."""
        try:
            made = await self.app.save(what, self.act(), row)
        except Refusal as error:
            self.app.tell(error)
            return None
        await self.changed()
        return made

    async def action_normal(self) -> None:
        """Nothing abnormal: on the current slide, or on a new wet mount of the sample."""
        assert self.view is not None
        key = self.form.field.key
        slide, sample = (
            biopsy_rows.slide_of(self.view, key),
            biopsy_rows.sample_of(self.view, key),
        )
        if slide is not None:
            await self.write(biopsy_slides.nothing_abnormal, slide.slide.id)
        elif sample is not None:
            made = await self.write(biopsy_slides.normal_slide, sample.sample.id)
            # How many fields were looked through is said by a person: there the cursor goes.
            keys = [f.key for f in self.form.fields]
            if f"fields {made}" in keys:
                self.form.go(keys.index(f"fields {made}"))

    def action_add(self) -> None:
        assert self.view is not None
        self.ask(send_dialog(self))

    def action_strike(self) -> None:
        part, _, row = self.form.field.key.partition(" ")
        slide = biopsy_rows.slide_of(self.view, self.form.field.key) if self.view else None
        write: Strike = biopsy_slides.strike_finding
        what = "this finding"
        if part == "test":
            write, what = sent_tests.strike_test, "this test"
        elif part != "found":
            if slide is None:
                return
            write, what, row = biopsy_slides.strike_slide, f"slide {slide.name}", slide.slide.id

        async def done(why: str) -> None:
            await self.app.save(write, self.act(), row, why)

        self.ask(reason(f"Strike {what}", done, "cover slip broke"))


Strike = Callable[[Act, str, str], None]
LETTERS = "cphytwo"
NO_SAMPLE = "none"


def send_dialog(stage: BiopsyStage) -> FormDialog:
    """Return the dialog that sends a test out."""
    assert stage.view is not None
    kinds = tuple(Choice(k, v, v) for k, v in zip(LETTERS, sent_tests.KINDS, strict=True))
    listed = (
        Choice("", s.sample.id, f"{s.sample.number} {s.tissue.name}, {s.whom}")
        for s in stage.view.samples
    )
    fields = [
        Field("kind", "Test", "choice", choices=kinds, required=True),
        Field("sample", "Of sample", "pick", choices=(*listed, Choice("", NO_SAMPLE, "no sample"))),
        Field("what", "For what", "words", example="sensitivity"),
        Field("where", "To", "words", example="the laboratory"),
        Field("due", "Result due", "date"),
    ]

    async def done(answers: Answers) -> None:
        words = {k: answers[k].words for k in ("what", "where", "sample") if k in answers}
        sending = Sending(
            answers["kind"].words,
            words.get("what", ""),
            None if words.get("sample") == NO_SAMPLE else words.get("sample"),
            words.get("where", ""),
            answers["due"].day if "due" in answers else None,
        )
        args = (stage.visit_id, stage.system.id, sending)
        await stage.app.save(sent_tests.send, stage.act(), *args)

    return FormDialog("Send a test out: ring the laboratory first", fields, done)
