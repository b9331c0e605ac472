"""When a treatment against a parasite is given again, by its life cycle and the temperature."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from core.errors import BadInput


@dataclass(frozen=True)
class RepeatRule:
    """One row: days from one treatment to the next, and how long it goes on.

    Parameters
    ----------
    key : str
        Identity.
    problems : tuple of str
        Keys of the problems it is for.
    low_c, below_c : float or None
        Coldest water in degrees C it is for, and the first temperature it is not for any more.
    every : tuple of int
        Shortest and longest days from one to the next.
    times, go_on : int or None
        So many in all; or so many days past the last sign of the parasite.
    hatch : str
        Key of the hatching figures of this parasite, "" where there are none.
    note, source, how : str
        What to know, the key of the source, and how the row is known.
    """

    key: str
    problems: tuple[str, ...]
    low_c: float | None
    below_c: float | None
    every: tuple[int, int]
    times: int | None
    go_on: int | None
    hatch: str
    note: str
    source: str
    how: str

    @classmethod
    def from_row(cls, key: str, row: Mapping[str, Any]) -> RepeatRule:
        """Make a rule from its catalogue row.

        Raises
        ------
        ValueError
            For an interval below a day, or when it is not said how long it goes on.
        """
        least, most = row["every"]
        if not 1 <= least <= most or ("times" in row) == ("go_on" in row):
            raise ValueError(f"{key}: an interval, and either times or go_on, are needed")
        low, below = row.get("low"), row.get("below")
        return cls(
            key,
            tuple(row["problems"]),
            None if low is None else float(low),
            None if below is None else float(below),
            (least, most),
            row.get("times"),
            row.get("go_on"),
            row.get("hatch", ""),
            row["note"],
            row["source"],
            row["how"],
        )

    def fits(self, problem: str, temperature_c: float | None) -> bool:
        """Return whether a row is for a problem in water of this temperature."""
        if problem not in self.problems:
            return False
        if self.low_c is None and self.below_c is None:
            return True
        if temperature_c is None:
            return False
        return (self.low_c is None or temperature_c >= self.low_c) and (
            self.below_c is None or temperature_c < self.below_c
        )

    @property
    def count(self) -> int:
        """How many treatments are put forward: for `go_on`, as if the last sign were today."""
        if self.times is not None:
            return self.times
        assert self.go_on is not None
        return -(-self.go_on // self.every[0]) + 1

    def dates(self, start: date) -> tuple[date, ...]:
        """Return the days of the treatments, the shorter interval apart.

        Examples
        --------
        >>> rule = RepeatRule("x", ("ich",), 15, 20, (3, 4), None, 14, "", "", "", "")
        >>> [d.day for d in rule.dates(date(2026, 11, 25))]
        [25, 28, 1, 4, 7, 10]
        """
        return tuple(start + timedelta(days=self.every[0] * n) for n in range(self.count))

    def outside(self, every_days: int) -> str:
        """Return why an interval is not that of the row, "" when it is.

        Raises
        ------
        BadInput
            For an interval below one day.
        """
        if every_days < 1:
            raise BadInput("Days between two treatments are at least 1.", "For example 7.")
        least, most = self.every
        if least <= every_days <= most:
            return ""
        which = "longer" if every_days > most else "shorter"
        return f"every {every_days} d is {which} than {self.every_words}"

    @property
    def every_words(self) -> str:
        """The interval in words."""
        least, most = self.every
        return f"every {least} d" if least == most else f"every {least} to {most} d"


def rule_for(
    rules: Iterable[RepeatRule], problem: str, temperature_c: float | None
) -> RepeatRule | None:
    """Return the row for a problem at a temperature; None where no row was made for it."""
    return next((rule for rule in rules if rule.fits(problem, temperature_c)), None)
