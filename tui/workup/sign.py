"""Sign: what is missing, said plainly; then the record is closed, and what comes late waits."""

from __future__ import annotations

from core.errors import Refusal
from core.practice import keep, keeping, late, sign, signatures
from core.practice.visits import Opened
from core.records.tables import Hold, System
from tui.keys import bind
from tui.widgets.confirm import ConfirmSign, confirm
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Entry, Field
from tui.widgets.panel import Panel
from tui.widgets.row import Shown, Widths
from tui.workup.late_ask import EndHold, HoldRecords, Settle, date_lines, entered
from tui.workup.stage import Stage

SETTLED = {"addendum": "added", "set aside": "aside"}
"""The word of a row that somebody has settled."""


class SignStage(Stage):
    """The signature of the visit."""

    TITLE = "Sign"
    WIDTHS = Widths(label=46, value=1)
    BINDINGS = [
        bind("take_all", "finish_begun", "Begun is done"),
        bind("sign", "sign", "Sign"),
        bind("add", "addendum", "Addendum"),
    ]

    def __init__(self, opened: Opened, system: System) -> None:
        super().__init__(opened, system)
        self.missing: tuple[sign.Missing, ...] = ()
        self.late: dict[str, late.Proposal] = {}
        self.holds: dict[str, Hold] = {}
        self.added: dict[str, sign.Added] = {}
        self.kept: tuple[keeping.Kept, ...] = ()
        self.link: signatures.Link | None = None
        self.dates = ""

    async def load(self) -> None:
        self.missing = await self.app.look(sign.missing, self.visit_id)
        if self.opened.closed:
            await self.app.look(self._load_signed)

    def _load_signed(self) -> None:
        self.late = {f"late {p.id}": p for p in late.proposals(self.visit_id)}
        self.holds = {f"hold {h.id}": h for h in keeping.holds(self.visit_id)}
        self.added = {f"added {a.id}": a for a in sign.addenda(self.visit_id)}
        self.kept = keeping.kept(self.visit_id)
        self.dates = date_lines(self.kept)
        self.link = signatures.link(self.visit_id)

    def fields(self) -> list[Field]:
        waiting = [Field(key, p.words, "act") for key, p in self.late.items() if p.waits]
        settled = [Field(key, p.words, "act") for key, p in self.late.items() if not p.waits]
        missing = [Field(f"{n}", m.what, "act") for n, m in enumerate(self.missing)]
        none = [Field("none", "Nothing is missing", "act")]
        added = [Field(key, f"Addendum: {a.words}", "act") for key, a in self.added.items()]
        return [*waiting, *added, *(missing or none), *settled, *self._kept_fields()]

    def _kept_fields(self) -> list[Field]:
        holds = [Field(key, f"Records held: {h.why}", "act") for key, h in self.holds.items()]
        last = max((k.until for k in self.kept if k.until), default=None)
        words = f"Records kept until {last.day} {last:%b %Y}" if last else ""
        return [*holds, *([Field("keep", words, "act")] if last else [])]

    def shown(self, field: Field) -> Shown:
        if field.key in self.late:
            return _proposed(self.late[field.key])
        if field.key in self.added:
            one = self.added[field.key]
            said = _addendum(one)
            return Shown(word="added", note=f"by {one.by}", detail=said)
        if field.key in self.holds:
            return Shown(word="held", note="Enter ends it")
        if field.key == "keep":
            note = "while held" if self.holds else "Enter holds"
            return Shown(note=note, detail=f"{self.dates}\nEnter holds them, for a dispute.")
        if field.key == "none" or int(field.key) >= len(self.missing):
            return Shown()
        missing = self.missing[int(field.key)]
        word = "needed" if missing.blocks else "note"
        return Shown(word=word, note=f"in {missing.stage}")

    async def keep(self, field: Field, entry: Entry) -> None:
        """Enter settles what came late, holds records, or goes to where a thing is mended."""
        if field.key in self.late:
            self._settle(self.late[field.key])
        elif field.key in self.added:
            self.app.push_screen(Panel("Addendum", _addendum(self.added[field.key])))
        elif field.key in self.holds:
            self.ask(EndHold(self.holds[field.key]))
        elif field.key == "keep":
            self.ask(HoldRecords(self.opened.visit, self.opened.client.name, self.dates))
        elif field.key != "none":
            self.post_message(self.GoTo(self.missing[int(field.key)].stage))

    def _settle(self, one: late.Proposal) -> None:
        if not one.waits:
            self.app.push_screen(Panel("Came in after signing", _whole(one)))
        elif not self.app.worker.signs:
            raise Refusal(f"A veterinarian settles this; {self.app.worker.name} does not.")
        else:
            self.ask(Settle(one))

    def below(self) -> str:
        visit = self.opened.visit
        if visit.signed_at is not None:
            return self._signed()
        blocking = sum(m.blocks for m in self.missing)
        if blocking:
            needed = "1 thing is" if blocking == 1 else f"{blocking} things are"
            return f"{needed} needed before it can be signed. Enter goes there."
        if not self.app.worker.signs:
            return f"{self.app.worker.name} does not sign; a veterinarian does."
        return "z signs: the record is closed, and later words are addenda with their own time."

    def _signed(self) -> str:
        hash_ = self.opened.visit.sign_hash or ""
        chain = f"in the chain {self.link.words}" if self.link else f"hash {hash_[:12]}, no chain"
        lines = [f"Signed; {chain}. Later words are addenda: a."]
        waiting = sum(p.waits for p in self.late.values())
        if waiting:
            came = "1 entry" if waiting == 1 else f"{waiting} entries"
            lines.append(f"{came} came in after signing. Enter on it settles it.")
        return "\n".join(lines)

    async def action_finish(self) -> None:
        """Refuse: only signing makes this stage done."""
        raise keep.only_signing()

    def action_pass_over(self) -> None:
        """Refuse before a reason is asked for."""
        raise keep.only_signing()

    async def action_finish_begun(self) -> None:
        await self.app.save(sign.finish_begun, self.act(), self.visit_id)
        await self.changed()

    async def action_sign(self) -> None:
        """Ask once more; at once when it can not be signed, which is refused by name."""
        missing = await self.app.look(sign.missing, self.visit_id)
        if self.opened.closed or not self.app.worker.signs or any(m.blocks for m in missing):
            await self._sign()
            return
        body = (
            f"{self.app.worker.name} signs the visit of {self.opened.client.name}. The record "
            "closes: later words are addenda.\nz signs it; Esc leaves."
        )
        confirm(self.app, ConfirmSign("Sign and close the record?", body), self._sign)

    async def _sign(self) -> None:
        await self.app.save(sign.sign, self.act(), self.visit_id)
        self.app.notify("The record is closed.", title="Signed", markup=False)
        await self.changed()

    async def action_addendum(self) -> None:
        await self.may("addendum")
        fields = [
            Field("words", "What is added", required=True, example="culture grew Aeromonas"),
            Field("why", "Why", required=True, example="result came in"),
        ]

        async def done(answers: Answers) -> None:
            await self.app.save(
                sign.add_addendum,
                self.act(),
                self.visit_id,
                answers["words"].words,
                answers["why"].words,
            )

        self.ask(FormDialog("Addendum", fields, done, widths=Widths(label=14, value=50)))


def _addendum(one: sign.Added) -> str:
    return f"{one.words}. By {one.by}, {one.at.day} {one.at:%b %Y %H:%M}. Why: {one.why}."


def _proposed(one: late.Proposal) -> Shown:
    if one.waits:
        return Shown(
            word="late",
            note="Enter settles",
            detail=f"{one.words}. {entered(one)} Enter takes it as an addendum or sets it aside.",
        )
    return Shown(word=SETTLED[one.outcome], note="Enter shows it", detail=_whole(one))


def _whole(one: late.Proposal) -> str:
    said = f"Set aside by {one.settled_by}: {one.why}" if one.why else f"Taken by {one.settled_by}"
    return f"{one.words}. {entered(one)} {said}."
