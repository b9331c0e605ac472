"""What is never taken back, each with its sentence: the one place where it is declared."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from core.errors import Refusal
from core.records.models import ROWS


class NeverUndone(Refusal):
    """What was done is of a kind that is never taken back."""

    title = "Not taken back"


@dataclass(frozen=True)
class Never:
    """One rule of what is never taken back.

    Attributes
    ----------
    kinds : frozenset of str
        Kinds of edit.
    tables : frozenset of str
        Tables of which no row is ever taken back.
    columns : frozenset of (str, str)
        Tables and columns that are never put back.
    rows : mapping
        Table to a column and the values of it that a row is kept for.
    made : frozenset of str
        Tables of which no row's making is taken back, though its changes are.
    grows : bool
        Every table that only grows.
    """

    sentence: str
    todo: str
    kinds: frozenset[str] = frozenset()
    tables: frozenset[str] = frozenset()
    columns: frozenset[tuple[str, str]] = frozenset()
    rows: Mapping[str, tuple[str, frozenset[str]]] = field(default_factory=dict)
    made: frozenset[str] = frozenset()
    grows: bool = False

    def of_table(self, table: str) -> bool:
        """Say whether no row of a table is ever taken back."""
        return table in self.tables or (self.grows and ROWS[table].closing == "grows")

    def of_row(
        self, table: str, made: bool, change: Mapping[str, Any], held: Mapping[str, Any]
    ) -> bool:
        """Say whether the making or the change of a row, as held now, is never taken back."""
        if (made and table in self.made) or any(
            (table, column) in self.columns for column in change
        ):
            return True
        column, values = self.rows.get(table, ("", frozenset()))
        return bool(column) and held.get(column) in values

    def refusal(self) -> NeverUndone:
        """Return what is told."""
        return NeverUndone(self.sentence, self.todo)


NEVER: tuple[Never, ...] = (
    Never(
        "A signature is never taken back.",
        "Write an addendum; the record itself stays.",
        tables=frozenset({"signature"}),
        columns=frozenset({("visit", "signed_at")}),
    ),
    Never(
        "An issued invoice is never taken back.",
        "Correct it with a credit note.",
        tables=frozenset({"invoice"}),
        columns=frozenset({("charge", "invoice")}),
    ),
    Never(
        "A payment is never taken back.",
        "Enter what was paid back as a payment of its own.",
        tables=frozenset({"payment"}),
    ),
    Never(
        "What was given or dispensed stays in the drug log.",
        "If it did not happen, strike its line with the reason.",
        rows={"treatment": ("act", frozenset({"given here", "dispensed"}))},
    ),
    Never(
        "A line of the stock and drug log is never taken back.",
        "Strike the order that took it, or put it right with a new line beside it.",
        tables=frozenset({"stock_line"}),
    ),
    Never(
        "That a medicine was read is never taken back.",
        "Switch it off, with a line of its own.",
        tables=frozenset({"medicine_read"}),
    ),
    Never(
        "A paper that was issued, and how it was handed over, is never taken back.",
        "Make a new one: it replaces the old.",
        tables=frozenset({"document", "delivery"}),
    ),
    Never(
        "An addendum is never taken back.",
        "Write another one beside it.",
        tables=frozenset({"addendum"}),
    ),
    Never(
        "A result, and that the owner was told of it, is never taken back.",
        "Enter the right one beside it; the newest counts.",
        tables=frozenset({"test_result", "owner_told"}),
    ),
    Never(
        "A call that was logged is never taken back.",
        "Log another one, or cancel the visit that was booked.",
        tables=frozenset({"attempt"}),
    ),
    Never(
        "Who may open the app is not changed by taking something back.",
        "Set it anew.",
        tables=frozenset({"access_mark"}),
    ),
    Never(
        "What came in for a signed visit waits for a veterinarian.",
        "Settle it in the visit's signing stage.",
        tables=frozenset({"proposed"}),
    ),
    Never(
        "A hold on records is ended with a reason, never taken back.",
        "End it where it was made.",
        tables=frozenset({"hold"}),
    ),
    Never(
        "Setting up the practice is never taken back.",
        "Change its details instead.",
        kinds=frozenset({"first start"}),
        made=frozenset({"practice", "person"}),
    ),
    Never("What was issued is never taken back.", "Add a new line beside it.", grows=True),
)
"""Every rule; the first that fits is told."""


def of_edit(kind: str, tables: Iterable[str]) -> Never | None:
    """Return the rule that keeps an edit of this kind, which touches these tables, or None."""
    touched = set(tables)
    return next((n for n in NEVER if kind in n.kinds or any(map(n.of_table, touched))), None)


def of_row(
    table: str, made: bool, change: Mapping[str, Any], held: Mapping[str, Any]
) -> Never | None:
    """Return the rule that keeps the making or the change of a row, as held now, or None."""
    return next((n for n in NEVER if n.of_row(table, made, change, held)), None)
