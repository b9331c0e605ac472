"""The list of a day's visits: a line each, grouped by round when several vets are out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import groupby

from rich.text import Text
from textual.widgets.option_list import Option

from core.practice.day import DayLine, DayView
from tui.day import columns
from tui.keys import bind
from tui.widgets.lines import Marked


class VisitList(Marked):
    """Paints the visits of a day."""

    BINDINGS = [
        bind("open", "select"),
        # A list of its own would scroll sideways on these.
        bind("earlier", "screen.earlier", show=False),
        bind("later", "screen.later", show=False),
    ]

    def __init__(self, units: str, moved: Callable[[], None], *, id: str) -> None:  # noqa: A002 (Textual's own name)
        super().__init__(id=id, markup=False)
        self.units = units
        self.moved = moved
        """Called at every step of the cursor."""
        self.lines: tuple[DayLine, ...] = ()
        self.fitted = columns.layout((), 80)
        self._cells: dict[str, tuple[columns.Cell, ...]] = {}

    def watch_highlighted(self, highlighted: int | None) -> None:
        """Let what stands beside the list follow in the same frame as the cursor."""
        super().watch_highlighted(highlighted)
        self.moved()

    def fill(self, view: DayView, lines: Sequence[DayLine], width: int, wanted: str = "") -> None:
        """Paint these visits of a day, on the one wanted, else on the one that was current."""
        current = self.current
        # Clearing moves the cursor away, which must find no lines to mark.
        self.lines = ()
        self.clear_options()
        self.lines = tuple(lines)
        self._cells = {
            line.visit: columns.cells(line, view.arrivals[line.visit].lock, self.units)
            for line in lines
        }
        self.fitted = columns.layout(tuple(self._cells.values()), width)
        self.add_options(self._made())
        if self.lines:
            liked = (wanted, current.visit if current else "", self.lines[0].visit)
            visit = next(v for v in liked if v in self._cells)
            self.highlighted = self.get_option_index(visit)

    def _made(self) -> list[Option]:
        found: list[Option] = []
        rounds = [(name, tuple(of)) for name, of in groupby(self.lines, lambda n: n.vet_name)]
        for name, of in rounds:
            if len(rounds) > 1:
                head = Text(f" {name}: {columns.count(of)}", no_wrap=True)
                found.append(Option(head, disabled=True))
            found += [Option(self._row(line.visit), id=line.visit) for line in of]
        return found

    def _row(self, visit: str) -> Text:
        return self.fitted.text(self._cells[visit])

    @property
    def current(self) -> DayLine | None:
        """The visit on which the list stands."""
        option = self.highlighted_option
        return next((n for n in self.lines if option and n.visit == option.id), None)
