"""Assessment: the problem list, with what the record holds for and against; the vet names."""

from __future__ import annotations

from datetime import datetime

from core.practice import assessment, problem_list
from core.practice.assessment import AssessmentView, Worth
from core.practice.problem_list import ProblemLine, kinds
from core.practice.visits import Opened
from core.records.tables import System
from tui.keys import bind
from tui.widgets.dialog import Answers, FormDialog, reason
from tui.widgets.field import Entry, Field
from tui.widgets.row import Shown, Widths
from tui.workup.assessment_name import (
    CARRIED,
    LIKELY_WIDTHS,
    STATES,
    call_fields,
    name_fields,
    named,
)
from tui.workup.assessment_words import (
    history_words,
    long_name,
    part_words,
    said_at,
    sides_words,
    test_words,
)
from tui.workup.stage import Stage

WORTH = "Worth a look: recorded facts speak for it, nobody has named it"
ROOM = 38
"""Cells for the name of a problem."""


class AssessmentStage(Stage):
    """The problem list of one water."""

    TITLE = "Assessment"
    WIDTHS = Widths(label=ROOM, value=11)
    BINDINGS = [
        bind("add", "add", "Name a problem"),
        bind("working", "working", "For and against"),
        bind("strike", "strike", show=False),
    ]

    def __init__(self, opened: Opened, system: System) -> None:
        super().__init__(opened, system)
        self.view: AssessmentView | None = None

    async def load(self) -> None:
        self.view = await self.app.look(assessment.view, self.visit_id, self.system.id)

    @property
    def seen(self) -> AssessmentView:
        assert self.view is not None
        return self.view

    def fields(self) -> list[Field]:
        found = [f for n, x in enumerate(self.seen.lines) for f in self._problem(x, first=n == 0)]
        if self.seen.movement:
            whom = self.seen.authority or "whom the law of this place names"
            listed = "Suspected listed disease"
            found.append(Field("call", "Authority rung", "act", section=listed, hint=whom))
        found.append(Field("name", "Name a problem", "act", hint="enter, or a"))
        for n, worth in enumerate(self.seen.worth):
            section = "" if n else WORTH
            found.append(Field(f"worth {worth.kind.key}", worth.kind.name, "act", section=section))
        return found

    def _problem(self, line: ProblemLine, *, first: bool) -> list[Field]:
        choices = CARRIED if line.problem.carried else STATES
        label = line.row.words if line.row.group is None else f"{line.row.words}, {line.whom}"
        section = "Problems" if first else ""
        found = [Field(f"state {line.row.id}", label, "choice", choices=choices, section=section)]
        if line.now:
            hint = "why the vet holds so"
            found.append(
                Field(f"why {line.row.id}", "   because", hint=hint, example="two gill snips")
            )
        return found

    def shown(self, field: Field) -> Shown:
        kind, _, key = field.key.partition(" ")
        if kind == "worth":
            return self._shown_worth(key)
        if kind == "call" and self.seen.call is not None:
            call = self.seen.call
            return Shown(self._said(call.at), note=f"{call.told_by}: {call.value}")
        line = self._line(key)
        if line is None:
            return Shown(note=field.hint)
        if kind == "why":
            why = line.now[-1].why
            return Shown("written" if why else "", note=why, again=why)
        word = "open" if line.problem.open else "closed"
        return Shown(line.problem.state.value, word, note=self._note(line))

    def _shown_worth(self, key: str) -> Shown:
        worth = self._worth(key)
        assert worth is not None
        return Shown(
            word="look", note=f"{long_name(worth.kind.name, ROOM)}{sides_words(worth.evidence)}"
        )

    def _said(self, moment: datetime) -> str:
        return said_at(moment, self.app.practice.zone, self.opened.visit.day)

    def _note(self, line: ProblemLine) -> str:
        last = line.states[-1]
        who = f"{line.people.get(last.by, '')} {self._said(last.at)}"
        carried = long_name(line.row.words, ROOM) + (
            "carried over; " if line.problem.carried else ""
        )
        if line.evidence is None:
            return f"{carried}{who}; in the vet's own words"
        test = test_words(line.next_test)
        decides = f" Would decide: {test}." if test else ""
        return f"{carried}{who}. {sides_words(line.evidence)}{decides}"

    def _line(self, key: str) -> ProblemLine | None:
        return next((x for x in self.seen.lines if x.row.id == key), None)

    def _worth(self, key: str) -> Worth | None:
        return next((w for w in self.seen.worth if w.kind.key == key), None)

    async def keep(self, field: Field, entry: Entry) -> None:
        kind, _, key = field.key.partition(" ")
        if kind == "state":
            await self._set(key, entry.words)
        elif kind == "why":
            await self.app.save(problem_list.say_why, self.act(), self.visit_id, key, entry.words)
        elif kind == "call":
            self._ask_call()
        else:
            await self._ask_name(key)

    async def _set(self, key: str, state: str) -> None:
        line = self._line(key)
        assert line is not None
        await self.may("problem_state")

        async def done(why: str) -> None:
            await self.app.save(problem_list.set_state, self.act(), self.visit_id, key, state, why)

        if problem_list.needs_reason(line, state) and line.problem.state.value != state:
            self.ask(reason(f"{line.row.words} {state}", done, "gill and skin clear twice"))
            return
        await done("")
        await self.changed()

    async def action_add(self) -> None:
        await self._ask_name("")

    async def _ask_name(self, key: str) -> None:
        await self.may("problem")
        groups = tuple((g.id, g.name) for g in self.seen.groups)

        async def done(answers: Answers) -> None:
            await self.app.save(
                problem_list.name_problem,
                self.act(),
                self.visit_id,
                self.system.id,
                **named(answers),
            )

        kind = kinds().get(key)
        given = {"problem": Entry(kind.name, kind.key)} if kind else None
        dialog = FormDialog(
            "Name a problem: the vet's own act",
            lambda answers: name_fields(answers, groups),
            done,
            self._preview,
            given,
            widths=LIKELY_WIDTHS,
        )
        self.ask(dialog)

    @staticmethod
    def _preview(answers: Answers) -> str:
        """Say what goes with a name before it is given: how soon, and the cautions."""
        kind = kinds().get(answers["problem"].words) if "problem" in answers else None
        if kind is None:
            return ""
        return "\n".join((f"Seen to: {kind.urgency}.", *kind.cautions))

    def _ask_call(self) -> None:
        async def done(answers: Answers) -> None:
            words = answers["words"].words if "words" in answers else ""
            await self.app.save(
                assessment.record_authority_call,
                self.act(),
                self.visit_id,
                self.system.id,
                answers["whom"].words,
                words,
            )

        fields = call_fields(self.seen.authority)
        self.ask(FormDialog("The authority was rung", fields, done, widths=LIKELY_WIDTHS))

    async def action_strike(self) -> None:
        line = self._line(self.form.field.key.partition(" ")[2])
        if line is None:
            return
        await self.may("problem")

        async def done(why: str) -> None:
            await self.app.save(
                problem_list.strike_problem, self.act(), self.visit_id, line.row.id, why
            )

        self.ask(reason(f"Strike {line.row.words}", done, "named in the wrong visit"))

    def below(self) -> str:
        seen = self.seen
        stop = [f"MOVEMENT STOP. {s}" for s in seen.movement]
        if seen.movement and seen.call is None:
            stop.append("The authority is not rung yet.")
        tests = [test_words(n) for n in seen.next_tests[:2]]
        best = f"Would decide most: {'; then '.join(tests)}" if tests else ""
        sent = ", ".join(t.name for t in seen.awaited)
        awaited = f"Awaited: {sent}" if sent else ""
        return "\n".join(filter(None, (*stop, *seen.zoonoses, best, awaited)))

    def working_text(self) -> str:
        kind, _, key = self.form.field.key.partition(" ")
        worth = self._worth(key) if kind == "worth" else None
        line = self._line(key)
        found = worth.evidence if worth else line.evidence if line else None
        history = history_words(line, self._said) if line else ""
        if found is None:
            return history
        parts = [
            history,
            part_words("For", found.lines_for),
            part_words("Against", found.lines_against),
            part_words("Missing", found.missing),
            f"Would decide most: {test_words(line.next_test)}" if line and line.next_test else "",
            "The app counts nothing and names nothing: the vet does.",
        ]
        return "\n\n".join(p for p in parts if p)
