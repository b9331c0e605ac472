"""History: what is asked, what is kept about the water, losses, moves, what was tried."""

from __future__ import annotations

from textual.widgets import Static

from core.assessment.history import Said
from core.billing.money import read_money
from core.dates import said
from core.practice import history
from core.practice.visits import Opened
from core.records.tables import System
from tui.keys import bind
from tui.widgets.dialog import Answers, FormDialog, reason
from tui.widgets.field import Entry, Field
from tui.widgets.row import Shown, Widths
from tui.workup import history_dialogs as dialogs
from tui.workup import history_fields as rows
from tui.workup.fitting import in_lines
from tui.workup.stage import Stage

LONG = 300
"""An answer longer than this is shown whole by the working key, not under the form."""


class HistoryStage(Stage):
    """The history of one water."""

    TITLE = "History"
    WIDTHS = Widths(label=31, value=16)
    BINDINGS = [bind("true", "confirm"), bind("add"), bind("strike")]

    def __init__(self, opened: Opened, system: System) -> None:
        super().__init__(opened, system)
        self.view: history.HistoryView | None = None

    async def load(self) -> None:
        self.view = await self.app.look(history.view, self.visit_id, self.system.id)

    @property
    def seen(self) -> history.HistoryView:
        """The history as it was last read."""
        assert self.view is not None
        return self.view

    def fields(self) -> list[Field]:
        return rows.fields_of(self.seen)

    def line(self, field: Field) -> history.Line | None:
        """Return the question of a row; None for a row that is none."""
        kind, _, key = field.key.partition(" ")
        found = (li for li in self.seen.lines if li.asked.key == key)
        return next(found, None) if kind == "q" else None

    def shown(self, field: Field) -> Shown:
        view, today = self.seen, self.seen.today
        kind, _, key = field.key.partition(" ")
        if line := self.line(field):
            return rows.shown_question(line, today)
        if kind == "loss":
            return rows.shown_loss(next(x for x in view.losses.lines if x.loss.id == key))
        if kind == "move" and key != "new":
            return rows.shown_move(next(x for x in view.moves if x.move.id == key), today)
        if kind == "tried":
            return rows.shown_tried(next(x for x in view.tried if x.id == key), today)
        return self._estimate(key) if kind == "est" else Shown()

    def _estimate(self, key: str) -> Shown:
        estimate = self.seen.estimate
        value = {"low": estimate.low, "high": estimate.high, "by": estimate.by}[key]
        day = estimate.day if key == "by" else None
        return Shown(
            value.replace("\u00a0", ""), note=f"on {said(day, self.seen.today)}" if day else ""
        )

    async def keep(self, field: Field, entry: Entry) -> None:
        kind, _, key = field.key.partition(" ")
        if line := self.line(field):
            answer = rows.answered(line.asked, entry)
            where = (self.visit_id, self.system.id, line.asked)
            await self.app.save(history.answer, self.act(), *where, *answer)
        elif kind == "est":
            await self._keep_estimate(key, entry)
        elif kind == "fish":
            self._add_fish()
        else:
            self._open(kind, key)

    async def _keep_estimate(self, key: str, entry: Entry) -> None:
        if key == "by":
            await self.app.save(history.estimate_accepted, self.act(), self.visit_id, entry.words)
            return
        minor = read_money(entry.text, self.app.practice.currency_exponent)
        ends = {f"{key}_minor": minor}
        await self.app.save(history.estimate_amounts, self.act(), self.visit_id, **ends)

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
        view = self.seen
        waits = sum(line.waits for line in view.lines)
        counts = (
            f"{len(view.lines) - view.count(Said.NOT_ASKED)} of {len(view.lines)} answered, "
            f"{view.count(Said.UNKNOWN)} of them unknown; {waits} still true?"
        )
        losing = [f"Losses: {view.losses.sentence}"] if view.losses.sentence else []
        worth = rows.worth_words(view.worth) if view.worth is not None else []
        return in_lines([counts, *losing, *view.cautions, *worth])

    def show_detail(self) -> None:
        """Show the question of the current row as it is asked, and all that stands there."""
        if not self.form.rows:
            return
        field, line = self.form.field, self.line(self.form.field)
        shown = self.shown(field)
        whole = " ".join(p for p in (shown.value, shown.note) if p)
        if len(whole) > LONG:
            whole = f"{whole[:LONG]}… w shows all of it."
        caution = line.caution if line else ""
        text = " ".join(p for p in (field.hint if line else "", whole, caution) if p)
        self.query_one("#detail", Static).update(text)

    def working_text(self) -> str:
        key, view = self.form.field.key, self.seen
        losing = key.startswith("loss ") or key in ("q deaths", "q stock_before")
        if losing and view.figures:
            worked = [f"{name}\n{f.working}" for name, f in sorted(view.figures.items())]
            return "\n\n".join([view.losses.sentence, *worked])
        shown = self.shown(self.form.field)
        whole = f"{shown.value}\n{shown.note}".strip()
        return "\n\n".join(p for p in (whole, *view.cautions, self._worth_page()) if p)

    def _worth_page(self) -> str:
        return rows.worth_page(self.seen.worth) if self.seen.worth is not None else ""

    async def action_confirm(self) -> None:
        """Say that what is kept in this row is still true; then, or elsewhere, go to the next."""
        line = self.line(self.form.field)
        if line is not None and line.waits:
            await self.app.save(history.confirm, self.act(), self.visit_id, self.system.id, line)
            await self.reload()
            self.post_message(self.Changed())
        self._to_next_waiting()

    def _to_next_waiting(self) -> None:
        fields, at = self.form.fields, self.form.index
        lines = [self.line(field) for field in fields]
        waiting = [n for n, line in enumerate(lines) if line is not None and line.waits]
        if waiting:
            self.form.go(next((n for n in waiting if n > at), waiting[0]))
        else:
            self.app.notify("All that is kept has been confirmed or answered.", markup=False)

    def action_add(self) -> None:
        """Add to the list of the current row, or ask what is to be added."""
        key = self.form.field.key
        kinds = {"q deaths": "loss", "q stock_before": "loss", "q tried": "tried"}
        kind = kinds.get(key, key.partition(" ")[0])
        if kind == "fish":
            self._add_fish()
        elif kind in ("loss", "move", "tried"):
            self._open(kind, "new")
        else:
            fields = {name: self._asked(name) for name in ("loss", "move", "tried")}
            self.ask(dialogs.which(fields, lambda a: self._keep_line(a["what"].words, "new", a)))

    def _add_fish(self) -> None:
        """Add a group, or one named fish, to this water."""

        async def done(answers: Answers) -> None:
            told = dialogs.fish_of(answers)
            await self.app.save(history.add_fish, self.act(), self.visit_id, self.system.id, told)

        self.ask(FormDialog("Fish in this water", dialogs.fish_fields(), done))

    def _asked(self, kind: str) -> list[Field]:
        opened = self.seen.opened
        if kind == "loss":
            return dialogs.loss_fields([g for g in opened.groups if g.system == self.system.id])
        if kind == "move":
            return dialogs.move_fields(opened.groups, opened.systems)
        return dialogs.TRIED

    def _open(self, kind: str, key: str) -> None:
        """Open the dialog of a line; `new` for one that is not there yet."""
        answers = {} if key == "new" else self._stands(kind, key)

        async def done(answers: Answers) -> None:
            await self._keep_line(kind, key, answers)

        self.ask(
            FormDialog(
                dialogs.LISTS[kind].title,
                self._asked(kind),
                done,
                answers=answers,
                widths=dialogs.WIDTHS,
            )
        )

    def _stands(self, kind: str, key: str) -> Answers:
        view, today = self.seen, self.app.today()
        if kind == "loss":
            row = next(x.loss for x in view.losses.lines if x.loss.id == key)
            return dialogs.loss_answers(row, view.opened.groups, today)
        if kind == "move":
            return dialogs.move_answers(
                next(x.move for x in view.moves if x.move.id == key), view, today
            )
        return dialogs.tried_answers(next(x for x in view.tried if x.id == key), today)

    async def _keep_line(self, kind: str, key: str, answers: Answers) -> None:
        chosen = dialogs.LISTS[kind]
        told = chosen.told(answers)
        if key == "new":
            here = (self.visit_id,) if kind == "move" else (self.visit_id, self.system.id)
            await self.app.save(chosen.add, self.act(), *here, told)
        else:
            await self.app.save(chosen.change, self.act(), key, told)

    def action_strike(self) -> None:
        """Strike the line or the answer of the current row, with a reason."""
        kind, _, key = self.form.field.key.partition(" ")
        line = self.line(self.form.field)
        if line is not None:
            key = line.answer.id if line.answer else ""
        if kind == "est" or key in ("", "new"):
            self.app.notify("There is nothing to strike in this row.", markup=False)
            return

        strike = history.strike_answer if line else dialogs.LISTS[kind].strike

        async def done(why: str) -> None:
            await self.app.save(strike, self.act(), key, why)

        self.ask(reason(f"Strike: {self.form.field.label}", done, "counted twice"))
