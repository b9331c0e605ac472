"""Fitting sentences under a form: wrapped, and where there are too many, said so."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable

LINES = 7
"""So many lines fit under the form."""


def in_lines(texts: Iterable[str], width: int = 78, most: int = LINES) -> str:
    """Return texts as wrapped lines; when there are too many, say where the rest is."""
    lines = [line for text in texts for line in textwrap.wrap(text, width)]
    if len(lines) > most:
        lines = [*lines[: most - 1], "There is more: w shows all of it."]
    return "\n".join(lines)
