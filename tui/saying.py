"""Printing sentences so that no word is broken at the terminal's edge."""

from __future__ import annotations

import os
import textwrap
from typing import TextIO


def say(text: str, stream: TextIO) -> None:
    """Print a text, each of its lines wrapped between words where a terminal would break it."""
    print(wrapped(text, _width(stream)), file=stream)


def wrapped(text: str, width: int) -> str:
    """Return a text with its lines wrapped between words; as it is where the width is 0.

    Lines that fit stay as they are; the rest of one that does not keeps its indentation. A path
    or an address is never broken, so that it can be copied.
    """
    if width <= 0:
        return text
    return "\n".join(_line(line, width) for line in text.split("\n"))


def _line(line: str, width: int) -> str:
    if len(line) <= width:
        return line
    indent = line[: len(line) - len(line.lstrip(" "))]
    return textwrap.fill(
        line,
        width,
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )


def _width(stream: TextIO) -> int:
    """Return the columns of the terminal a stream goes to; 0 for a file or a pipe."""
    if not stream.isatty():
        return 0
    try:
        return os.get_terminal_size(stream.fileno()).columns
    except OSError:
        return 0


def counted(number: int, one: str, many: str = "") -> str:
    """Return a number with its noun.

    Examples
    --------
    >>> counted(1, "backup"), counted(2, "backup")
    ('1 backup', '2 backups')
    """
    return f"{number} {one if number == 1 else many or one + 's'}"
