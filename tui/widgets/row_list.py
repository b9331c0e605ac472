"""Rows of questions one under another, of which one is the current one: what is under a form."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from textual.containers import VerticalScroll

from tui.widgets.field import Field
from tui.widgets.row import FormRow, RowState, Shown, Widths


class RowList(VerticalScroll):
    """Rows, painted in place; which row is current, and what was typed in each and not accepted.

    Parameters
    ----------
    fields : sequence of Field
        What is asked, in order.
    show : callable
        Gives what stands in a field's row now.
    widths : Widths
        The columns.
    """

    def __init__(
        self,
        fields: Sequence[Field],
        show: Callable[[Field], Shown],
        widths: Widths,
        *,
        id: str | None = None,  # noqa: A002 (Textual's own name)
    ) -> None:
        super().__init__(id=id)
        self.fields = list(fields)
        self._show = show
        self._widths = widths
        self.index = 0
        self.rows = [FormRow(s, widths, n) for n, s in enumerate(self._states())]

    def _states(self) -> list[RowState]:
        states = []
        for number, field in enumerate(self.fields):
            state = RowState(field.label, field.section, field.hint, self._show(field))
            if state.shown.value and not state.shown.pending:
                state.mark = "saved"
            state.current = number == self.index
            states.append(state)
        return states

    def compose(self):  # type: ignore[no-untyped-def]
        yield from self.rows

    @property
    def field(self) -> Field:
        """The current field."""
        return self.fields[self.index]

    @property
    def row(self) -> FormRow:
        """The current row."""
        return self.rows[self.index]

    @property
    def typing(self) -> bool:
        """Whether the form is in *typing*."""
        return bool(self.rows) and self.row.state.typing is not None

    async def set_fields(self, fields: Sequence[Field], widths: Widths | None = None) -> None:
        """Ask other fields, staying on the field of the same name where there is one.

        Rows that are there are painted anew, so that only the difference is mounted.
        """
        self._widths = widths or self._widths
        for row in self.rows:
            row.widths = self._widths
        key = self.field.key if self.fields else ""
        drafts = self.drafts()
        self.fields = list(fields)
        names = [f.key for f in self.fields]
        self.index = names.index(key) if key in names else min(self.index, len(names) - 1)
        self.index = max(0, self.index)
        states = self._states()
        kept, spare = self.rows[: len(states)], self.rows[len(states) :]
        more = [FormRow(s, self._widths, n) for n, s in enumerate(states)][len(kept) :]
        for row, state in zip(kept, states, strict=False):
            row.state = state
        self.rows = [*kept, *more]
        self.set_drafts(drafts)
        for row in kept:
            row.paint()
        async with self.batch():
            await self.remove_children(spare)
            await self.mount_all(more)
        self._tell()

    def drafts(self) -> dict[str, str]:
        """Return what was typed and not accepted yet, by field."""
        pairs = zip(self.fields, self.rows, strict=True)
        return {f.key: r.state.draft for f, r in pairs if r.state.draft}

    def set_drafts(self, drafts: dict[str, str]) -> None:
        """Put back what was typed and not accepted, shown with a question mark."""
        for field, row in zip(self.fields, self.rows, strict=True):
            row.state.draft = drafts.get(field.key, "")

    def refresh_rows(self) -> None:
        """Paint again what changed in any row."""
        for field, row in zip(self.fields, self.rows, strict=True):
            shown = self._show(field)
            if shown != row.state.shown:
                row.state.shown = shown
                if row.state.mark != "saving":
                    row.state.mark = "saved" if shown.value and not shown.pending else ""
                row.paint()

    def show_live(self, key: str, shown: Shown) -> None:
        """Paint what is worked out while typing into the row of a field."""
        for field, row in zip(self.fields, self.rows, strict=True):
            if field.key == key and row.state.shown != shown:
                row.state.shown = shown
                row.paint()

    def on_resize(self) -> None:
        """Keep the current row in sight when what stands below takes more room."""
        if self.rows:
            self.row.scroll_visible(animate=False)

    def go(self, index: int, *, tell: bool = True) -> None:
        """Make a row the current one."""
        if not self.rows:
            return
        self.row.state.current = False
        self.row.paint()
        self.index = max(0, min(index, len(self.rows) - 1))
        self.row.state.current = True
        self.row.paint()
        self.row.scroll_visible(animate=False)
        if tell:
            self._tell()

    def _tell(self) -> None:
        """Tell whoever listens that another row is current; a form says to whom."""
