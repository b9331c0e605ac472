"""Dates as people type them."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from core.dates import expiry, said, understand
from core.errors import BadInput

TODAY = date(2026, 11, 25)
READ = {
    "today": date(2026, 11, 25),
    "t": date(2026, 11, 25),
    "yesterday": date(2026, 11, 24),
    "y": date(2026, 11, 24),
    "tomorrow": date(2026, 11, 26),
    "12 oct": date(2026, 10, 12),
    "12 OCT": date(2026, 10, 12),
    " 12  october ": date(2026, 10, 12),
    "12.10.": date(2026, 10, 12),
    "12.10": date(2026, 10, 12),
    "12. 10. 2025": date(2025, 10, 12),
    "12 10 2025": date(2025, 10, 12),
    "12 oct 2024": date(2024, 10, 12),
    "2026-10-12": date(2026, 10, 12),
    "2026-1-2": date(2026, 1, 2),
    "-3": date(2026, 11, 22),
    "+3": date(2026, 11, 28),
    "-3d": date(2026, 11, 22),
    "+2w": date(2026, 12, 9),
    "-2 w": date(2026, 11, 11),
    "3 jan": date(2027, 1, 3),
    "1 sept": date(2026, 9, 1),
    "8 months ago": date(2026, 3, 25),
    "3 weeks ago": date(2026, 11, 4),
    "10 days ago": date(2026, 11, 15),
    "1 day ago": date(2026, 11, 24),
    "a year ago": date(2025, 11, 25),
    "A  month ago": date(2026, 10, 25),
    "one week ago": date(2026, 11, 18),
    "11 months ago": date(2025, 12, 25),
}
BEEN = {
    "25 mar": date(2026, 3, 25),
    "25.3.": date(2026, 3, 25),
    "30 dec": date(2025, 12, 30),
    "3 jan": date(2026, 1, 3),
    "25 nov": date(2026, 11, 25),
    "26 nov": date(2025, 11, 26),
    "29 feb": date(2024, 2, 29),
    "30 dec 2024": date(2024, 12, 30),
    "8 months ago": date(2026, 3, 25),
    "today": date(2026, 11, 25),
}
TO_COME = ["tomorrow", "+1", "+2w", "26 nov 2026", "2026-11-26", "2027-01-01"]
REFUSED = [
    "",
    "abc",
    "30 feb",
    "31 apr",
    "0 oct",
    "32 oct",
    "12 foo",
    "12 octopus",
    "12 13",
    "oct",
    "12",
    "12/10",
    "10/12/2026",
    "2026-13-01",
    "2026-02-30",
    "0000-01-01",
    "2026-10",
    "12 oct 26",
    "٣ oct",
    "1e5",
    "+1e3",
    "+99999",
    "[b]today[/b]",
    "\x1b[31mtoday",
    "2026-10-12T08:00",
    "9" * 10_000,
    "today" * 2_000,
    "ago",
    "months ago",
    "9999 years ago",
    "8 moons ago",
]


@pytest.mark.parametrize(("text", "wanted"), READ.items())
def test_is_read(text: str, wanted: date) -> None:
    assert understand(text, TODAY) == wanted


@pytest.mark.parametrize(("text", "wanted"), BEEN.items())
def test_what_has_been_is_read_as_the_latest_such_day(text: str, wanted: date) -> None:
    assert understand(text, TODAY, past=True) == wanted


@pytest.mark.parametrize("text", TO_COME)
def test_a_day_to_come_has_not_been(text: str) -> None:
    assert understand(text, TODAY) > TODAY
    with pytest.raises(BadInput, match=r"That day is still to come\."):
        understand(text, TODAY, past=True)


def test_a_month_ago_ends_with_the_shorter_month() -> None:
    assert understand("a month ago", date(2026, 3, 31)) == date(2026, 2, 28)
    assert understand("a year ago", date(2024, 2, 29)) == date(2023, 2, 28)


@given(st.dates(date(1950, 1, 1), date(2150, 1, 1)), st.integers(0, 364))
def test_what_has_been_is_within_the_last_year(today: date, back: int) -> None:
    day = today - timedelta(days=back)
    if (day.month, day.day) != (2, 29):
        assert understand(f"{day.day}.{day.month}.", today, past=True) == day


@pytest.mark.parametrize("text", REFUSED, ids=lambda t: repr(t)[:14])
def test_is_refused_with_a_sentence_and_an_example(text: str) -> None:
    with pytest.raises(BadInput, match=r"not a date.*12 oct") as refused:
        understand(text, TODAY)
    assert len(str(refused.value)) < 160


@given(st.dates(date(1900, 1, 1), date(2199, 12, 31)))
def test_an_iso_date_comes_back(day: date) -> None:
    assert understand(day.isoformat(), TODAY) == day


@given(st.dates(date(1900, 1, 1), TODAY) | st.dates(date(2026, 1, 1), TODAY))
def test_a_shown_date_of_the_past_can_be_typed_again(day: date) -> None:
    assert understand(said(day, TODAY), TODAY, past=True) == day


@given(st.dates(date(1900, 1, 1), date(2199, 12, 31)) | st.dates(TODAY, date(2026, 12, 31)))
@example(date(2026, 5, 27))
def test_a_shown_date_can_be_typed_again(day: date) -> None:
    # Of this year and more than half a year off, the nearest such day is another year's.
    assume(day.year != TODAY.year or abs(day - TODAY) < timedelta(days=183))
    assert understand(said(day, TODAY), TODAY) == day


@given(st.dates(date(1950, 1, 1), date(2150, 1, 1)), st.integers(-180, 180))
def test_without_a_year_it_is_the_nearest(today: date, away: int) -> None:
    day = today + timedelta(days=away)
    if (day.month, day.day) != (2, 29):
        assert understand(f"{day.day}.{day.month}.", today) == day


@given(st.integers(0, 9999), st.sampled_from(["", "d", "w", "m"]), st.sampled_from("+-"))
def test_a_shift_goes_the_way_of_its_sign(number: int, unit: str, sign: str) -> None:
    got = understand(f"{sign}{number}{unit}", TODAY)
    assert (got >= TODAY) if sign == "+" else (got <= TODAY)


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("2027-03", date(2027, 3, 31)),
        ("03/2027", date(2027, 3, 31)),
        ("2/2028", date(2028, 2, 29)),
        ("02.2027", date(2027, 2, 28)),
        ("Sep 2027", date(2027, 9, 30)),
        ("2027-03-05", date(2027, 3, 5)),
        ("5.3.2027", date(2027, 3, 5)),
    ],
)
def test_an_expiry_without_a_day_is_the_end_of_its_month(text: str, wanted: date) -> None:
    assert expiry(text, TODAY) == wanted


@pytest.mark.parametrize("text", ["2027-13", "0/2027", "03/27", "00/0000", "mar"])
def test_what_is_no_expiry_is_refused(text: str) -> None:
    with pytest.raises(BadInput):
        expiry(text, TODAY)
