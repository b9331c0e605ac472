"""The problem list in words: the history of a problem, what speaks for and against it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime

from core import clock, dates
from core.assessment.problems import Evidence, Line, NextTest
from core.practice.assessment import against_words, asked, cited, for_words
from core.practice.problem_list import ProblemLine, kinds

NOTHING = "nothing recorded"


def sides_words(found: Evidence) -> str:
    """Return what is recorded for and against in one line, without any number."""
    against = "; ".join(against_words(found))
    text = f"For: {'; '.join(for_words(found)) or NOTHING}."
    return f"{text} Against: {against}." if against else text


def test_words(found: NextTest | None) -> str:
    """Return a test with what it bears on; "" for none."""
    if found is None:
        return ""
    days = f", {found.test.days} d" if found.test.days else ""
    bears = ", ".join(kinds()[k].name for k in found.problems)
    return f"{found.test.name}{days} ({bears})"


def said_at(moment: datetime, zone: str, today: date) -> str:
    """Return the day of a moment on the practice's wall."""
    return dates.said(clock.local(moment, zone).date(), today)


def history_words(line: ProblemLine, said: Callable[[datetime], str]) -> str:
    """Return every state a problem has had, with who, when and why."""
    rows = (
        f"  {said(s.at)} {s.state}, {line.people.get(s.by, '')}" + (f": {s.why}" if s.why else "")
        for s in line.states
    )
    return "\n".join(("History", *rows))


def part_words(title: str, lines: tuple[Line, ...]) -> str:
    """Return lines of evidence under a title, each with its ground and its source."""
    rows = tuple(f"  {x.clue.says} {_ground(x)} [{cited(x.clue)}]" for x in lines)
    return "\n".join((title, *(rows or (f"  {NOTHING}",))))


def _ground(line: Line) -> str:
    if line.fact is None:
        return f"({asked(line.clue.fact)})"
    return f"Recorded: {line.fact.words.rstrip('.')}."


def long_name(name: str, room: int) -> str:
    """Return a name that its row has no room for, to be read in the note; else nothing."""
    return f"{name}. " if len(name) > room else ""
