"""Sign: what is missing, said plainly; then the record is closed."""

from __future__ import annotations

from core.practice import sign
from core.practice.visits import Opened
from core.records.tables import System
from tui.keys import bind
from tui.widgets.confirm import ConfirmSign, confirm
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Entry, Field
from tui.widgets.row import Shown, Widths
from tui.workup.stage import Stage


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

    async def load(self) -> None:
        self.missing = await self.app.look(sign.missing, self.visit_id)

    def fields(self) -> list[Field]:
        rows = [Field(f"{n}", m.what, "act") for n, m in enumerate(self.missing)]
        return rows or [Field("none", "Nothing is missing", "act")]

    def shown(self, field: Field) -> Shown:
        if field.key == "none" or int(field.key) >= len(self.missing):
            return Shown()
        missing = self.missing[int(field.key)]
        word = "needed" if missing.blocks else "note"
        return Shown(word=word, note=f"in {missing.stage}")

    async def keep(self, field: Field, entry: Entry) -> None:
        """Enter on a line goes to the stage where it is mended."""
        if field.key != "none":
            self.post_message(self.GoTo(self.missing[int(field.key)].stage))

    def below(self) -> str:
        visit = self.opened.visit
        if visit.signed_at is not None:
            return f"Signed; hash {visit.sign_hash}. Later words are addenda: a."
        blocking = sum(m.blocks for m in self.missing)
        if blocking:
            return f"{blocking} things are needed before it can be signed. Enter goes there."
        if not self.app.worker.signs:
            return f"{self.app.worker.name} does not sign; a veterinarian does."
        return "z signs: the record is closed, and later words are addenda with their own time."

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

    def action_addendum(self) -> None:
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
