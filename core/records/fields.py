"""Column types whose stored form sorts, sums and replays exactly on every engine."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

from core.errors import BadInput
from core.records.lean import pw

_FORM = "%Y-%m-%dT%H:%M:%S.%fZ"
NOT_TEXT = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff]")
"""What no text may hold: control characters, which a terminal would obey and of which PostgreSQL
refuses one, and halves of letters, which can not be written down."""


def _on_postgres(field: pw.Field) -> bool:
    of = field.model._meta.database
    return isinstance(getattr(of, "obj", of), pw.PostgresqlDatabase)


class WordsField(pw.TextField):
    """Text that sorts by its code points, on every engine."""

    def ddl(self, ctx: Any) -> Any:
        """Return the column's declaration; PostgreSQL would sort by the server's language."""
        declared = super().ddl(ctx)
        if _on_postgres(self):
            declared.nodes.append(pw.SQL('COLLATE "C"'))
        return declared

    def db_value(self, value: Any) -> Any:
        """Return the text to store, on every engine the same.

        Raises
        ------
        BadInput
            When it holds what is no text.
        """
        if isinstance(value, str) and NOT_TEXT.search(value):
            raise BadInput(
                "There is a character of no meaning in this text.",
                "Type it anew, without control characters.",
            )
        return super().db_value(value)  # type: ignore[no-untyped-call]


class UtcField(WordsField):
    """An aware moment as fixed-width UTC text, so that order by text is order in time."""

    def db_value(self, value: Any) -> str | None:
        """Return the text to store; refuse a moment without a zone."""
        if value is None or isinstance(value, str):
            return value
        if value.tzinfo is None:
            raise ValueError("a moment needs its time zone")
        return str(value.astimezone(UTC).strftime(_FORM))

    def python_value(self, value: Any) -> datetime | None:
        """Return the aware moment."""
        return None if value is None else datetime.strptime(value, _FORM).replace(tzinfo=UTC)


class DayField(WordsField):
    """A date as ISO text."""

    def db_value(self, value: Any) -> str | None:
        """Return the ISO text to store."""
        return value if value is None or isinstance(value, str) else str(value.isoformat())

    def python_value(self, value: Any) -> date | None:
        """Return the date."""
        return None if value is None else date.fromisoformat(value)


class ExactField(WordsField):
    """A Decimal kept as text; peewee's own decimal is a float in SQLite."""

    def db_value(self, value: Any) -> str | None:
        """Return the digits to store, without an exponent."""
        return None if value is None else format(Decimal(value), "f")

    def python_value(self, value: Any) -> Decimal | None:
        """Return the Decimal."""
        return None if value is None else Decimal(value)


class WholeField(pw.IntegerField):
    """A whole number; as large on a server as it may be in a file."""

    def ddl_datatype(self, ctx: Any) -> Any:
        """Return the column's type; a PostgreSQL integer has half the digits of a SQLite one."""
        return pw.SQL("BIGINT") if _on_postgres(self) else super().ddl_datatype(ctx)


class FlagField(pw.IntegerField):
    """Yes or no as 1 or 0, the form in which the journal notes it."""

    def db_value(self, value: Any) -> int | None:
        """Return 1 or 0."""
        return None if value is None else int(bool(value))

    def python_value(self, value: Any) -> bool | None:
        """Return True or False."""
        return None if value is None else bool(value)


class RealField(pw.DoubleField):
    """A measured value; an int is stored as the float it will come back as."""

    def db_value(self, value: Any) -> float | None:
        """Return the float to store."""
        return None if value is None else float(value)
