"""The backup that the app makes by itself, once a day."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from core.records.place import Place


def back_up(place: Place) -> str:
    """Make the day's backup when there is none yet; return a quiet line, or "".

    Raises
    ------
    Refusal
        When it could not be made.
    """
    from core import clock
    from core.records import backup

    at = clock.now()
    if not backup.due(place, at):
        return ""
    return f"The day's backup was made and proved: {backup.make(place, at).file.name}"
