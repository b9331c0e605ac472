"""The dialog of a recheck: its window, and the visit that is booked inside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from core.errors import BadInput
from core.practice import plan_rechecks, recheck_visits
from core.practice.recheck_visits import When
from core.records.tables import Recheck, Visit
from core.scheduling.rechecks import Window
from tui.widgets.booking_dialog import STARTS, BookingDialog, People, vet_row
from tui.widgets.dialog import Answers
from tui.widgets.field import Choice, Entry, Field
from tui.workup.plan_dialogs import dated

LATER = "later"
WAYS = (
    Choice("v", "visit", "visit"),
    Choice("p", "phone", "phone"),
    Choice("l", LATER, "visit, the desk books it later"),
)
FIRST = (
    Field("reason", "Reason", required=True, example="gill snip again"),
    Field("kind", "Visit or phone", "choice", choices=WAYS, required=True),
    Field("target", "Best on", "date", required=True, example="+8"),
    Field("earliest", "Not before", "date", hint="same day"),
    Field("latest", "Not after", "date", hint="same day"),
)
DAY = Field("day", "Booked on", "date", hint="found inside the window")
AT = replace(STARTS, label="Booked at", required=False, hint="the first free time")
FINDS = frozenset({"kind", "target", "earliest", "latest", "vet", "day", "starts"})
"""Rows after which the free time is looked for again."""


@dataclass(frozen=True)
class Planned:
    """What a recheck is planned for, and what stands of it already."""

    visit: Visit
    system: str
    row: Recheck | None = None
    held: Visit | None = None
    """The visit it is booked as."""


class RecheckDialog(BookingDialog):
    """Asks why and when to look again; day and time are the first free ones unless typed."""

    def __init__(self, of: Planned, vets: People) -> None:
        self.of, self.vets = of, vets
        self.typed: set[str] = set()
        self.note = ""
        super().__init__("A recheck", _stands(of, dict(vets)))

    def rows(self, answers: Answers) -> Sequence[Field]:
        if "kind" not in answers or answers["kind"].words != "visit":
            return FIRST
        vet = [vet_row(self.vets)] if len(self.vets) > 1 else []
        return [*FIRST, DAY, AT, *vet]

    def said(self, answers: Answers) -> str:
        """Say what does not fit, or what was found free."""
        return self.clash or self.note or "f plans it. Esc leaves."

    async def _keep(self, field: Field, entry: Entry) -> None:
        await super()._keep(field, entry)
        if field.key in ("day", "starts"):
            self.typed.add(field.key)
        if field.key in FINDS and "target" in self.answers:
            await self._find()

    async def _forgotten(self, field: Field) -> None:
        self.typed.discard(field.key)
        if field.key in FINDS and "target" in self.answers:
            await self._find()

    async def _find(self) -> None:
        """Fill in the free day and time that nobody typed."""
        try:
            window = self._looked_in()
        except BadInput as error:
            self.note = f"{error.sentence} {error.todo}"
        else:
            await self._fill(window)
        self.form.refresh_rows()
        self._paint_below()

    def _looked_in(self) -> Window:
        if "day" in self.typed:
            day = self.answers["day"].day
            return Window(day, day, day)
        return window_of(self.answers)

    async def _fill(self, window: Window) -> None:
        today, held, self.note = self.app.today(), self.of.held, ""
        if "starts" in self.typed:
            self.answers |= dated("day", window.target, today)
        elif held is not None and window.earliest <= held.day <= window.latest:
            self.answers |= dated("day", held.day, today) | _time(held.starts)
        else:
            vet, visit = self._vet(), self.of.visit.id
            found = await self.app.look(
                recheck_visits.free, visit, self.of.system, window, vet, today
            )
            self.note = found.said
            self._put(found.day, found.starts, today)

    def _put(self, day: date | None, starts: str, today: date) -> None:
        for key in {"day", "starts"} - self.typed:
            self.answers.pop(key, None)
        if day is not None:
            self.answers |= dated("day", day, today) | _time(starts)

    def _vet(self) -> str:
        return self.answers["vet"].words if "vet" in self.answers else ""

    def _when(self, although: str) -> When | None:
        if self.answers["kind"].words == LATER:
            return None
        day, starts = self.answers.get("day"), self.answers.get("starts")
        return When(day.day if day else None, starts.words if starts else "", self._vet(), although)

    async def write(self, answers: Answers, although: str) -> None:
        kind, row = answers["kind"].words, self.of.row
        said: dict[str, Any] = {
            "reason": answers["reason"].words,
            "kind": "visit" if kind == LATER else kind,
            "window": window_of(answers),
            "when": self._when(although),
        }
        if row is None:
            visit, system = self.of.visit.id, self.of.system
            plans = plan_rechecks.plan_recheck
            self.made = await self.app.save(plans, self.act(), visit, system, **said)
        else:
            await self.app.save(plan_rechecks.change_recheck, self.act(), row.id, **said)
            self.made = row.id


def window_of(answers: Answers) -> Window:
    """Return the dates of a recheck; both ends are the best day unless they are said."""
    target = answers["target"].day
    early, late = answers.get("earliest"), answers.get("latest")
    return Window(early.day if early else target, target, late.day if late else target)


def _time(starts: str) -> Answers:
    return {"starts": Entry(starts, starts)}


def _stands(of: Planned, vets: dict[str, str]) -> Answers:
    """Return what stands there when the dialog opens."""
    vet = of.held.vet if of.held else of.visit.vet
    answers: Answers = {"vet": Entry(vets[vet], vet)} if vet in vets else {}
    row, day = of.row, of.visit.day
    if row is None:
        return answers
    kind = LATER if row.kind == "visit" and of.held is None else row.kind
    way = next(c for c in WAYS if c.value == kind)
    answers |= {"reason": Entry(row.reason, row.reason), "kind": Entry(way.label, way.value)}
    for key, when in (("target", row.target), ("earliest", row.earliest), ("latest", row.latest)):
        answers |= dated(key, when, day)
    if of.held is not None:
        answers |= dated("day", of.held.day, day) | _time(of.held.starts)
    return answers
