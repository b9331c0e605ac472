"""Booking ahead: a visit for anybody, or one for a recheck inside its window."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime

from core.dates import said
from core.practice import booking, bookings, recency
from core.practice.bookings import Asked, Newcomer
from core.practice.diary import DueLine
from core.practice.visits import Choices
from tui.bookings.words import window_words
from tui.day.add import AddVisit
from tui.widgets.booking_dialog import STARTS, BookingDialog, People, vet_row
from tui.widgets.dialog import Answers
from tui.widgets.field import Choice, Entry, Field

DAY = Field("day", "Day", "date", required=True)
MINUTES = Field("minutes", "Minutes", "count", low=5, high=720, example="90", required=True)
ADVICE = Field("advice", "Until then", hint="what the owner is told to do", example="more air")
RANK_WHY = Field("rank_why", "Why this rank", example="quarantined since May", required=True)


def _minutes(kind: str) -> Entry:
    minutes = next(k.minutes for k in booking.kinds() if k.key == kind)
    return Entry(str(minutes), minutes)


def _facts() -> tuple[Choice, ...]:
    facts = bookings.rank_facts().items()
    return tuple(Choice("", key, f"{fact.rank}: {fact.says.rstrip('.')}") for key, fact in facts)


class BookVisit(AddVisit):
    """Adds a visit on any day, with its minutes, its rank by the plain rules, and advice."""

    def __init__(self, day: date, today: date, known: Choices, worker: str, now: datetime) -> None:
        super().__init__(day, known, worker, now)
        self._title = "Book a visit"
        self.late = ""
        self.answers.pop("rank", None)
        self.answers["day"] = Entry(said(day, today), day)
        self.answers["minutes"] = _minutes(self.answers["kind"].words)

    def rows(self, answers: Answers) -> Sequence[Field]:
        rows = {row.key: row for row in super().rows(answers)}
        late = [rows.pop(key) for key in ("reason", "starts", "kind", "rank")]
        reason, starts, kind, rank = late
        vet = [rows.pop("vet")] if "vet" in rows else []
        facts = Field(
            "fact", "Risk", "pick", choices=_facts(), hint="the dirtiest thing known; gives rank"
        )
        rank = replace(rank, required=False, hint=self._given(answers))
        why = [RANK_WHY] if self._overridden(answers) else []
        return [
            *rows.values(),
            reason,
            DAY,
            starts,
            *vet,
            kind,
            MINUTES,
            facts,
            rank,
            *why,
            ADVICE,
        ]

    def _facts_of(self, answers: Answers) -> tuple[str, ...]:
        return (answers["fact"].words,) if "fact" in answers else ()

    def _given(self, answers: Answers) -> str:
        rank = bookings.rank_of(self._facts_of(answers))
        return f"{rank.number} by the rules: {rank.why[0]}"

    def _overridden(self, answers: Answers) -> bool:
        given = bookings.rank_of(self._facts_of(answers)).number
        return "rank" in answers and answers["rank"].words != str(given)

    async def _keep(self, field: Field, entry: Entry) -> None:
        if field.key == "kind":
            self.answers["minutes"] = _minutes(entry.words)
        if field.key == "minutes":
            self.clash = ""
        if field.key == "fact":
            self.answers.pop("rank", None)
        await super()._keep(field, entry)
        await self._look_back()
        self.form.refresh_rows()

    async def _look_back(self) -> None:
        """Say of a call whether a visit lies near enough to prescribe anything on it."""
        self.late = ""
        if self.answers["kind"].words == "phone":
            water, day = self.answers.get("water"), self.answers["day"].day
            key = water.words if water else ""
            self.late = await self.app.look(recency.of_water, key, day)
        self._paint_below()

    async def _forgotten(self, field: Field) -> None:
        if field.key == "fact":
            self.answers.pop("rank", None)
        await super()._forgotten(field)
        await self._look_back()

    def said(self, answers: Answers) -> str:
        """Say the clash, or the rank that the rules give."""
        given = f"Rank {self._given(answers)}"
        if self._overridden(answers):
            why = f": {answers['rank_why'].words}" if "rank_why" in answers else ", why?"
            given = f"Rank {answers['rank'].words}{why} (rank {self._given(answers)})"
        late = f"\n{self.late}" if self.late else ""
        return self.double() + (self.clash or f"f books it. Esc leaves. {given}{late}")

    def _take_rank(self, system: str) -> None:
        """The rank of the last visit stands, with that as its reason."""
        super()._take_rank(system)
        if self._overridden(self.answers):
            self.answers["rank_why"] = Entry("as at the last visit", "as at the last visit")

    def _wanted(self, answers: Answers, although: str) -> tuple[Asked, Newcomer | None]:
        facts = self._facts_of(answers)
        why = answers["rank_why"].words if self._overridden(answers) else ""
        number = int(answers["rank"].words) if "rank" in answers else None
        rank = bookings.rank_of(facts, number, why)
        answers.setdefault("rank", Entry(str(rank.number), str(rank.number)))
        asked, newcomer = super()._wanted(answers, although)
        asked = replace(
            asked,
            day=answers["day"].day,
            minutes=int(answers["minutes"].number),
            rank=rank.number,
            rank_why="; ".join(rank.why),
            advice=answers["advice"].words if "advice" in answers else "",
        )
        return asked, newcomer


class BookRecheck(BookingDialog):
    """Books a recheck as a visit; outside its window a reason is asked."""

    def __init__(self, line: DueLine, day: date, today: date, vets: People) -> None:
        self.line = line
        self.vets = vets
        self.today = today
        known = dict(vets)
        vet = line.vet if line.vet in known else next(iter(known), "")
        kind = "phone" if line.kind == "phone" else "recheck"
        answers = {
            "day": Entry(said(day, today), day),
            "vet": Entry(known.get(vet, ""), vet),
            "minutes": _minutes(kind),
            "reason": Entry(line.reason, line.reason),
        }
        self.kind = kind
        super().__init__(f"Book {line.client}, {line.system}: {line.reason}", answers)

    def rows(self, answers: Answers) -> Sequence[Field]:
        vet = [vet_row(self.vets)] if len(self.vets) > 1 else []
        reason = Field("reason", "Why", example="second count", required=True)
        return [STARTS, DAY, *vet, MINUTES, reason, ADVICE]

    def said(self, answers: Answers) -> str:
        """Say the window, and whether the day lies in it."""
        warning = self.line.window.warning(answers["day"].day)
        outside = f"\nOUTSIDE THE WINDOW: {warning}" if warning else ""
        window = window_words(self.line, self.today)
        return self.clash or f"f books it. Esc leaves.{outside}\n{window}"

    async def _keep(self, field: Field, entry: Entry) -> None:
        if field.key == "minutes":
            self.clash = ""
        await super()._keep(field, entry)

    async def write(self, answers: Answers, although: str) -> None:
        asked = Asked(
            self.line.system_id,
            answers["day"].day,
            answers["starts"].words,
            answers["vet"].words,
            int(answers["minutes"].number),
            self.kind,
            answers["reason"].words,
            self.line.rank,
            "as at the visit that planned it",
            answers["advice"].words if "advice" in answers else "",
            although,
        )
        await self.app.save(bookings.book, self.act(), asked, recheck=self.line.recheck)
