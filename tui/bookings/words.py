"""The lines of the Bookings desk, each made to fit the window."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from core.clock import local
from core.dates import said
from core.practice.booking import kinds
from core.practice.diary import DiaryDay, DiaryLine, DueLine, Try
from core.scheduling.rechecks import Window
from tui.widgets.lines import fit

TRIES = 3
"""So many of the latest attempts are shown under the list."""


def due_line(line: DueLine, today: date, width: int) -> str:
    """Return a recheck as one line."""
    tries = f"{len(line.attempts)} tried" if line.attempts else ""
    target = said(line.window.target, today)
    spare = max(0, width - 78)
    words = (
        (line.said(today), 19),
        (line.client, 16 + spare // 2),
        (line.system, 14 + spare // 2),
        ("call" if line.kind == "phone" else "visit", 5),
        (target, 11 if len(target) > 6 else 6),
        (tries, 8),
    )
    return " ".join(fit(text, cells) for text, cells in words)


def due_detail(line: DueLine, today: date, zone: str) -> str:
    """Return what is to be known on the telephone."""
    what = "A call by telephone" if line.kind == "phone" else "A visit"
    lines = [
        f"{what}: {line.reason}",
        f"{window_words(line, today)} {line.site}, planned by {line.vet_name}.",
    ]
    if line.booked:
        lines.append(f"Booked {said(line.booked.day, today)} at {line.booked.starts}.")
    shown = line.attempts[-TRIES:]
    if len(line.attempts) > len(shown):
        lines.append(f"{len(line.attempts) - len(shown)} earlier attempts, then:")
    lines += [_try_words(attempt, today, zone) for attempt in shown]
    return "\n".join(lines if line.attempts else [*lines, "Not rung yet. k logs a call."])


def window_words(line: DueLine, today: date) -> str:
    """Return a recheck's window in words."""
    earliest, target, latest = (
        said(day, today) for day in (line.window.earliest, line.window.target, line.window.latest)
    )
    return f"Window: earliest {earliest}, target {target}, latest {latest}."


def asked_words(line: DueLine, today: date, width: int) -> str:
    """Return for whom a day is being chosen, and in which window."""
    who = fit(f"{line.client}, {line.reason}", width)
    return f"{window_words(line, today)} Enter books.\n{who}"


def _try_words(attempt: Try, today: date, zone: str) -> str:
    at = local(attempt.at, zone)
    return f"{said(at.date(), today)} {at:%H:%M} {attempt.result} ({attempt.by})"


def heading(due: Sequence[DueLine], in_diary: bool, width: int) -> str:
    """Return the first line: how many must be rung, how many are late, where the desks are."""
    ring = [line for line in due if line.booked is None]
    late = sum(1 for line in ring if line.overdue_days)
    which = "Diary" if in_diary else "Rechecks"
    left = f" {which}: {len(ring)} to ring{f', {late} overdue' if late else ''}"
    right = "d Day  BOOKINGS  p Paperwork "
    return left.ljust(width - len(right)) + right


def day_word(day: DiaryDay, today: date, window: Window | None) -> str:
    """Return what is special about a day, in a word."""
    if window is not None and day.day == window.target:
        return "TARGET"
    if window is not None and not window.warning(day.day):
        return "window"
    if not day.open:
        return "closed"
    return "today" if day.day == today else ""


def day_line(day: DiaryDay, today: date, window: Window | None, width: int) -> str:
    """Return a day of the diary as one line: how many visits each vet has, from when to when."""
    rounds = "; ".join(
        f"{vet.split()[-1]} {len(of)}, {of[0].starts}-{max(line.ends for line in of)}"
        for vet, of in day.by_vet().items()
    )
    date_words = f"{day.day:%a} {day.day.day:>2} {day.day:%b}"
    word = day_word(day, today, window)
    return f"{date_words}  {word:7} {fit(rounds or 'no visits', width - 22)}"


def visit_line(line: DiaryLine, width: int) -> str:
    """Return one visit as one line."""
    state = line.state if line.off else line.reason
    spare = max(0, width - 78)
    words = (
        (f"{line.starts}-{line.ends}", 11),
        (line.client, 17 + spare // 3),
        (line.system, 14 + spare // 3),
        (state, 15 + spare // 3),
        (line.vet_name.split()[-1], 15),
    )
    return " ".join(fit(text, cells) for text, cells in words)


def visit_detail(line: DiaryLine) -> str:
    """Return everything the desk knows of a booking."""
    kind = next((k.name for k in kinds() if k.key == line.kind), line.kind)
    parts = [
        f"{line.client}, {line.phone or 'no number'}: {line.system}, {line.site}",
        f"{kind}, {line.minutes} min: {line.reason}",
        f"rank {line.rank}{f': {line.rank_why}' if line.rank_why else ''}",
        f"{line.state}{f', {line.why}' if line.why else ''}",
        f"Stands although: {line.booked_why}" if line.booked_why else "",
        f"Until then: {line.advice}" if line.advice else "",
    ]
    return "\n".join(part for part in parts if part)


def day_detail(day: DiaryDay, width: int, most: int) -> str:
    """Return a day's visits as lines, as many as there is room for."""
    shown = [visit_line(line, width) for line in day.lines[:most]]
    more = len(day.lines) - len(shown)
    return "\n".join([*shown, f"and {more} more: Enter"] if more else shown)
