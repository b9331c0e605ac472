"""The text being typed in a row, with its cursor: a value, so that a form stays one widget.

An Input of its own for each row would have a queue of its own, and fast keys would reach
the wrong row; the form keeps the focus and edits this.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

JOINERS = "\u200c\u200d"
"""Not printable by themselves, and part of the spelling of names in several scripts."""


def readable(text: str) -> str:
    """Return a text without what a terminal would obey instead of showing."""
    return "".join(c for c in text if c.isprintable() or c in JOINERS)


@dataclass(frozen=True)
class Typing:
    """Text and cursor; `fresh` means that the first printable key replaces the text."""

    text: str = ""
    at: int = 0
    fresh: bool = False

    @classmethod
    def over(cls, text: str) -> Typing:
        """Return the state in which what stands there is replaced by the first key."""
        return cls(text, len(text), fresh=True)

    def insert(self, more: str) -> Typing:
        """Return the text with more put in at the cursor, without control characters."""
        more = readable(more)
        if self.fresh:
            return Typing(more, len(more))
        return Typing(self.text[: self.at] + more + self.text[self.at :], self.at + len(more))

    def key(self, name: str) -> Typing | None:
        """Return the state after an editing key, or None when the key is none."""
        move = _MOVES.get(name)
        return replace(move(self), fresh=False) if move else None


def _backspace(t: Typing) -> Typing:
    if t.at == 0:
        return t
    return Typing(t.text[: t.at - 1] + t.text[t.at :], t.at - 1)


def _delete(t: Typing) -> Typing:
    return Typing(t.text[: t.at] + t.text[t.at + 1 :], t.at)


_MOVES: dict[str, Callable[[Typing], Typing]] = {
    "backspace": _backspace,
    "delete": _delete,
    "left": lambda t: replace(t, at=max(0, t.at - 1)),
    "right": lambda t: replace(t, at=min(len(t.text), t.at + 1)),
    "home": lambda t: replace(t, at=0),
    "end": lambda t: replace(t, at=len(t.text)),
    "ctrl+u": lambda t: Typing(),
}
