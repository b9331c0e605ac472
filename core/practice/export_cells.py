"""Values of the records as other programs take them, and text that no spreadsheet will run."""

from __future__ import annotations

import re
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from core.numbers import plain
from core.records.fields import ExactField, UtcField

_RUN = re.compile(r"'*(?:\s*[=+\-@＝＋－＠]|[\t\r\n])")
"""How a text begins that a spreadsheet runs as a formula; apostrophes in front, so that a guarded
text can be told from one that had its own."""
_SEEN = {n: 0x2400 + n for n in range(32) if chr(n) not in "\t\r\n"} | {0x7F: 0x2421}
_SEEN |= {n: 0xFFFD for n in range(0x80, 0xA0)}


def guarded(text: str) -> str:
    """Return a text that a spreadsheet shows and does not run: with an apostrophe before it.

    Examples
    --------
    >>> guarded("=1+1"), guarded("+44 7700 900123"), guarded("Odile")
    ("'=1+1", "'+44 7700 900123", 'Odile')
    """
    return f"'{text}" if _RUN.match(text) else text


def unguarded(text: str) -> str:
    """Return the text that was guarded.

    Examples
    --------
    >>> unguarded("'=1+1"), unguarded("'t Hooft")
    ('=1+1', "'t Hooft")
    """
    return text[1:] if text.startswith("'") and _RUN.match(text[1:]) else text


def seen(text: str) -> str:
    """Return a text in which control characters are signs that a terminal shows.

    Examples
    --------
    >>> seen("\\x1b[31mred\\x00")
    '␛[31mred␀'
    """
    return text.translate(_SEEN)


def cell(value: Any) -> str:
    """Return a value as a cell of a CSV file: ISO dates, plain decimals, empty for none."""
    if isinstance(value, str):
        return guarded(seen(value))
    found = exact(value)
    if isinstance(found, bool):
        return "true" if found else "false"
    if isinstance(found, float):
        return plain(found)
    return "" if found is None else str(found)


def exact(value: Any) -> Any:
    """Return a value as JSON takes it: dates and decimals as text, all else as it is."""
    if isinstance(value, datetime):
        return UtcField().db_value(value)
    if isinstance(value, date):
        return value.isoformat()
    return ExactField().db_value(value) if isinstance(value, Decimal) else value
