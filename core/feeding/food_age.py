"""Whether a food is within its dates, with the limit and where the limit comes from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from core.errors import BadInput


@dataclass(frozen=True)
class Food:
    """One kind of food.

    Attributes
    ----------
    key, name, kind : str
        Short name, words for a person, and dry pellet, flake, gel, frozen or live.
    protein_fraction, water_fraction : float
        Of the weight as fed.
    unopened_days : int or None
        Storage life sealed, when no use-by date is printed; None when none can be given.
    opened_days : int
        Longest time open that we go by: the cautious of those published.
    other_opened_days : int or None
        A longer time that others allow; shown beside it.
    storage, note : str
        How it is kept, and a remark.
    source, how, other_source, other_how : str
        Keys of the sources and how they are known; *other* for `other_opened_days`.
    unopened_how : str
        How `unopened_days` is known.
    """

    key: str
    name: str
    kind: str
    protein_fraction: float
    water_fraction: float
    unopened_days: int | None
    opened_days: int
    other_opened_days: int | None
    storage: str
    note: str
    source: str
    how: str
    other_source: str
    other_how: str
    unopened_how: str


@dataclass(frozen=True)
class FoodAge:
    """What the dates of one bag or jar say.

    Attributes
    ----------
    words : tuple of str
        One or more of ``in date``, ``past its date``, ``open too long``, ``no date``.
    within : bool
        True only when the one word is ``in date``.
    days_open : int or None
        Days since it was opened; None when sealed or not known.
    limit_days : int
        The limit it was held against.
    sentence : str
        Each reason with its limit and source.
    source, how : str
        Of the limit.
    """

    words: tuple[str, ...]
    within: bool
    days_open: int | None
    limit_days: int
    sentence: str
    source: str
    how: str


def foods_from(rows: Mapping[str, Mapping[str, Any]]) -> dict[str, Food]:
    """Return the foods of a catalogue table, by key."""
    return {
        key: Food(
            key,
            str(row["name"]),
            str(row["kind"]),
            float(row["protein_fraction"]),
            float(row["water_fraction"]),
            row.get("unopened_days"),
            int(row["opened_days"]),
            row.get("other_opened_days"),
            str(row["storage"]),
            str(row.get("note", "")),
            str(row["source"]),
            str(row["how"]),
            str(row.get("other_source", "")),
            str(row.get("other_how", "")),
            str(row.get("unopened_how", "")),
        )
        for key, row in rows.items()
    }


def food_age(
    food: Food,
    today: date,
    use_by: date | None = None,
    opened: date | None = None,
    sealed: bool = False,
    citations: Mapping[str, str] | None = None,
) -> FoodAge:
    """Judge the dates of one bag or jar.

    Parameters
    ----------
    food : Food
        Its kind, which brings the limits.
    today : date
        The day of the check.
    use_by, opened : date or None
        As printed and as noted; None when there is none.
    sealed : bool
        True when it has not been opened.
    citations : mapping, optional
        Source key to citation; without it the sentence shows the key.

    Raises
    ------
    BadInput
        When it was opened after today, or is said to be both sealed and opened.
    """
    if opened is not None and (sealed or opened > today):
        raise BadInput("A food is either sealed, or was opened on a day that is not after today.")
    days_open = None if opened is None else (today - opened).days
    limit = _limit(food, citations or {})
    found = (
        _past(use_by, today)
        + _open_too_long(days_open, food.opened_days, limit)
        + _no_date(food, use_by, opened, sealed)
    )
    words = tuple(word for word, _ in found)
    said = " ".join(reason for _, reason in found) or _in_date(limit, use_by, days_open)
    return FoodAge(
        words or ("in date",), not words, days_open, food.opened_days, said, food.source, food.how
    )


def _past(use_by: date | None, today: date) -> list[tuple[str, str]]:
    if use_by is None or today <= use_by:
        return []
    days = (today - use_by).days
    return [("past its date", f"Past its use-by date of {use_by.isoformat()} by {_days(days)}.")]


def _open_too_long(days_open: int | None, most: int, limit: str) -> list[tuple[str, str]]:
    if days_open is None or days_open <= most:
        return []
    said = f"Open for {_days(days_open)}; the limit is {limit}."
    return [("open too long", said)]


def _no_date(
    food: Food, use_by: date | None, opened: date | None, sealed: bool
) -> list[tuple[str, str]]:
    missing = []
    if use_by is None:
        missing.append("There is no use-by date.")
    if opened is None and not sealed:
        missing.append("The day of opening is not known.")
    if missing and sealed and food.unopened_days is not None:
        missing.append(
            f"Sealed, this kind keeps {_days(food.unopened_days)} from the day it was made "
            f"({food.unopened_how})."
        )
    return [("no date", " ".join(missing))] if missing else []


def _in_date(limit: str, use_by: date | None, days_open: int | None) -> str:
    until = "" if use_by is None else f"Within its use-by date of {use_by.isoformat()}"
    if days_open is None:
        return f"{until}, sealed."
    return f"{until}, open for {_days(days_open)}; the limit is {limit}."


def _limit(food: Food, citations: Mapping[str, str]) -> str:
    cited = citations.get(food.source, food.source)
    text = f"{_days(food.opened_days)} ({cited}; {food.how})"
    if food.other_opened_days is None:
        return text
    other = citations.get(food.other_source, food.other_source)
    return f"{text}; others allow {_days(food.other_opened_days)} ({other}; {food.other_how})"


def _days(count: int) -> str:
    return f"{count} day" if count == 1 else f"{count} days"
