"""A random walk of edits, undos, redos and signings: the journal always tells what stands."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    precondition,
    rule,
    run_state_machine_as_test,
)

from core.errors import Refusal
from core.records import edits, read, undo, verify
from core.records.journal import Closed, edit, replay
from core.records.place import Place
from core.records.tables import Client, Lesion, Reading, Row, Sample, Site, Treatment, Visit
from tests.conftest import MOMENT
from tests.core.records.checks import held
from tests.core.records.rows import ids_of, one_of_each, sample

KINDS: tuple[type[Row], ...] = (Client, Site, Visit, Reading, Sample, Lesion, Treatment)
FREE = {
    "client": "name",
    "site": "access",
    "visit": "advice",
    "reading": "method",
    "sample": "place",
    "lesion": "note",
    "treatment": "directions",
}
"""A column of each table that holds any words."""
WORDS = st.text(st.characters(codec="utf-8", exclude_categories=["C"]), min_size=1, max_size=8)
EXAMPLES = {"sqlite": 25, "postgresql": 6}
"""A step costs several times as much on a server; the walks are of one kind on both."""
STEPS = 20


class Walk(RuleBasedStateMachine):
    """Does what several people do, over several tables and two visits, one of them signed late."""

    taken = 0
    """How often something was taken back, in all walks: else they would show nothing."""

    def __init__(self) -> None:
        super().__init__()
        rows = one_of_each()
        self.first = ids_of(rows)
        self.made = {kind: [self.first[kind.table]] for kind in KINDS}
        """Rows of this walk: the records keep those of the walks before it."""
        self.moment = MOMENT
        self.done: list[str] = []
        with self._edit() as doing:
            for row in rows.values():
                doing.add(row)

    def _edit(self, kind: str = "walk", visit: str | None = None) -> Any:
        self.moment += timedelta(seconds=1)
        return edit(kind, who="ana", at=self.moment, visit=visit)

    def _ids(self) -> dict[str, str]:
        """Return the newest row of each kind, for others to refer to."""
        newest = {kind.table: ids[-1] for kind, ids in self.made.items()}
        return {**self.first, **newest}

    @rule(kind=st.sampled_from(KINDS), words=WORDS)
    def add(self, kind: type[Row], words: str) -> None:
        """Add a row that refers to the newest ones."""
        free: dict[str, Any] = {FREE[kind.table]: words}
        row = sample(kind, self._ids(), **free)
        if self._keep(lambda doing: doing.add(row)):
            self.made[kind].append(row.id)

    @rule(kind=st.sampled_from(KINDS), at=st.integers(0, 9), words=WORDS)
    def change(self, kind: type[Row], at: int, words: str) -> None:
        """Change a row, struck or not."""
        row = self._pick(kind, at)
        self._keep(lambda doing: doing.change(kind, row, **{FREE[kind.table]: words}))

    @rule(kind=st.sampled_from(KINDS), at=st.integers(0, 9))
    def strike(self, kind: type[Row], at: int) -> None:
        """Strike a row, whatever refers to it."""
        row = self._pick(kind, at)
        self._keep(lambda doing: doing.strike(kind, row, "a reason"))

    @precondition(lambda self: len(self.done) > 8)
    @rule(at=st.integers(0, 9))
    def sign(self, at: int) -> None:
        """Sign a visit."""
        visit = self._pick(Visit, at)
        self._keep(lambda doing: doing.change(Visit, visit, signed_at=self.moment), "sign")

    @precondition(lambda self: self.done)
    @rule(at=st.integers(0, 6))
    def take_back(self, at: int) -> None:
        """Take an edit back, or do again what was; then the other way, and back to here."""
        which = self.done[-1 - at % len(self.done)]
        before = self._rows()
        taken = self._undo(which)
        if taken is None:
            assert self._rows() == before
            return
        Walk.taken += 1
        self.done.append(taken)
        after = self._rows()
        assert which in edits.taken_back([which])
        if (again := self._undo(taken)) is not None:
            assert self._rows() == before
            assert self._undo(again) is not None
            assert self._rows() == after

    def _undo(self, which: str) -> str | None:
        self.moment += timedelta(seconds=1)
        try:
            return undo.undo(which, who="ana", at=self.moment)
        except Refusal:
            return None

    def _pick(self, kind: type[Row], at: int) -> str:
        return self.made[kind][at % len(self.made[kind])]

    def _keep(self, write: Any, kind: str = "walk") -> bool:
        try:
            with self._edit(kind) as doing:
                write(doing)
        except Closed:
            return False
        if doing.lines:
            self.done.append(doing.id)
        return True

    def _rows(self) -> list[Row]:
        return [read.one(kind, row) for kind, ids in self.made.items() for row in ids]

    def teardown(self) -> None:
        """Look at all of it once: every edit shows in what replay gives."""
        assert replay() == held()
        assert verify.broken() == []
        super().teardown()


@pytest.mark.timeout(120)
def test_any_sequence_leaves_the_rows_that_replay_gives(records: Place) -> None:
    Walk.taken = 0
    engine = "sqlite" if records.file is not None else "postgresql"
    run_state_machine_as_test(
        Walk,
        settings=settings(
            max_examples=EXAMPLES[engine],
            stateful_step_count=STEPS,
            deadline=None,
            suppress_health_check=list(HealthCheck),
        ),
    )
    assert Walk.taken >= EXAMPLES[engine] // 2
