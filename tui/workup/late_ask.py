"""The dialogs of a signed record: what came in late is settled, and its records are held."""

from __future__ import annotations

from core import clock
from core.practice import keeping, late
from core.practice.keep import Act
from core.practice.keeping import Kept
from core.practice.late import Proposal
from core.records.tables import Hold, Visit
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Choice, Field
from tui.widgets.row import Widths

HOW = (Choice("t", "take", "taken as an addendum"), Choice("s", "aside", "set aside"))
WHICH = (Choice("v", "visit", "this visit"), Choice("c", "client", "all of this client"))
WIDTHS = Widths(label=12, value=48)


class _Ask(FormDialog):
    def act(self) -> Act:
        """Who is doing something now."""
        return Act(self.app.worker.id, clock.now())


class Settle(_Ask):
    """One entry that came in after the signature: an addendum, or set aside with a reason."""

    REMEMBERS = False

    def __init__(self, proposal: Proposal) -> None:
        self.proposal = proposal
        super().__init__(
            "Came in after signing", self._asked, self.write, self._said, widths=WIDTHS
        )

    def _asked(self, answers: Answers) -> list[Field]:
        how = Field("how", "It is", "choice", choices=HOW, required=True)
        if "how" not in answers:
            return [how]
        if answers["how"].words == "take":
            return [how, Field("words", "Own words", example="measured again, the same")]
        return [how, Field("why", "Why", example="the wrong pond", required=True)]

    def _said(self, _: Answers) -> str:
        one = self.proposal
        return f"{one.words}\n{entered(one)}\n\nf keeps it. Esc leaves it waiting."

    async def write(self, answers: Answers) -> None:
        """Take it or set it aside."""
        if answers["how"].words == "take":
            own = answers["words"].words if "words" in answers else ""
            await self.app.save(late.take, self.act(), self.proposal.id, own)
        else:
            why = answers["why"].words
            await self.app.save(late.set_aside, self.act(), self.proposal.id, why)


def entered(one: Proposal) -> str:
    """Say who entered something, and when."""
    return f"Entered by {one.by}, {one.at.day} {one.at:%b %Y %H:%M}."


class HoldRecords(_Ask):
    """Holds the records of a visit, or of all visits of its client, whatever their dates."""

    def __init__(self, visit: Visit, client: str, dates: str) -> None:
        self.visit = visit
        self.dates = dates
        fields = [
            Field("which", "Hold", "choice", choices=WHICH, required=True),
            Field("why", "Why", example="claim about the dose", required=True),
        ]
        super().__init__(f"Hold records of {client}", fields, self.write, self._said, widths=WIDTHS)

    def _said(self, _: Answers) -> str:
        return f"{self.dates}\nA hold stops every date until it is ended.\nf holds. Esc leaves."

    async def write(self, answers: Answers) -> None:
        """Hold them."""
        visit = self.visit.id if answers["which"].words == "visit" else None
        why = answers["why"].words
        await self.app.save(keeping.hold, self.act(), self.visit.client, why, visit)


class EndHold(_Ask):
    """Ends a hold, with the reason."""

    def __init__(self, hold: Hold) -> None:
        self.hold = hold
        field = Field("why", "Why", example="the claim was settled", required=True)
        super().__init__("End the hold", [field], self.write, self._said, widths=WIDTHS)

    def _said(self, _: Answers) -> str:
        return f"Held: {self.hold.why}\nf ends it: the dates count again. Esc leaves it."

    async def write(self, answers: Answers) -> None:
        """End it."""
        await self.app.save(keeping.end_hold, self.act(), self.hold.id, answers["why"].words)


def date_lines(rows: tuple[Kept, ...]) -> str:
    """Say until when each kind of record of a visit is kept."""
    names = {kind.key: kind.name for kind in keeping.kinds()}
    return "\n".join(f"{names[row.kind].capitalize()}: {_until(row)}" for row in rows)


def _until(row: Kept) -> str:
    if row.until is None:
        return "no date runs before it is signed"
    return f"until {row.until.day} {row.until:%b %Y}, last entry {row.last.day} {row.last:%b %Y}"
