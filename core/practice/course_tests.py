"""What is measured during and after a course, and when: lines for the owner, rechecks with them."""

from __future__ import annotations

import functools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from core.catalogue import load
from core.dosing.medicines import Medicine
from core.practice.goes_with import ends_on, own_bath
from core.practice.step_offer import StepOffer
from core.practice.treatment_said import days_of
from core.records.tables import Treatment


@dataclass(frozen=True)
class CourseTest:
    """One row: for which medicines, when, and what the owner is told."""

    key: str
    routes: tuple[str, ...]
    words: str
    flag: str = ""
    agent: str = ""
    during: tuple[int, ...] = ()
    after: tuple[int, ...] = ()
    unless: str = ""
    kit: str = ""
    recheck: str = ""
    source: str = ""

    @classmethod
    def from_row(cls, key: str, row: Mapping[str, Any]) -> CourseTest:
        """Make a test from its catalogue row."""
        values: dict[str, Any] = {k: tuple(v) if isinstance(v, list) else v for k, v in row.items()}
        return cls(key=key, **values)

    def answers(self, found: Medicine, route: str) -> bool:
        """Whether a medicine by a route asks for this test."""
        asked = bool(self.flag and getattr(found, self.flag))
        asked = asked or bool(self.agent and self.agent in found.name.lower())
        own = f"{found.stay} {found.stop_at} {found.kit}".lower()
        return asked and route in self.routes and not (self.unless and self.unless in own)

    def days(self, course: tuple[date, ...], over: date) -> tuple[date, ...]:
        """Return the days of the test, for the days of a course and the day it is over."""
        during = [course[0] + timedelta(days=n) for n in self.during]
        return (*during, *(over + timedelta(days=n) for n in self.after))


@functools.cache
def rows() -> tuple[CourseTest, ...]:
    """Return every row of the tests."""
    return tuple(CourseTest.from_row(k, row) for k, row in load.table("course_tests").items())


def asked(row: Treatment, found: Medicine) -> Iterator[CourseTest]:
    """Give the tests that a treatment of a water asks for; a bath in a tub asks for none."""
    if not (row.act == "given here" and own_bath(row)) and row.handling is None:
        yield from (test for test in rows() if test.answers(found, row.route))


def for_owner(row: Treatment, found: Medicine) -> Iterator[StepOffer]:
    """Give the tests of a course as lines; the same test of one day is one line of a water."""
    for test in asked(row, found):
        words = test.words.format(medicine=found.name)
        if test.kit and test.kit in found.kit.lower():
            words += f" Not while {found.name} is in the water: the kit is not to be trusted then."
        for day in test.days(days_of(row), ends_on(row)):
            yield StepOffer(f"test:{row.system}:{test.key}:{day.isoformat()}", "do", words, day)
