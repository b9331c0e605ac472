"""What the commands print: whole words at any width, and numbers with their nouns."""

from __future__ import annotations

import io
import shlex
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.records.backup import Dated, Made
from core.records.files import Facts
from tui import cli
from tui.commands import backup
from tui.saying import counted, say, wrapped

LINE = "    edit 79 was changed after it was made, or a part of it can not be read any more"


def test_a_long_line_breaks_between_words_and_keeps_its_indentation() -> None:
    lines = wrapped(f"short\n{LINE}", 40).split("\n")
    assert lines[0] == "short"
    assert all(line.startswith("    ") and len(line) <= 40 for line in lines[1:])
    assert " ".join(lines[1:]).split() == LINE.split()


def test_a_path_is_not_broken_and_what_fits_stays_as_it_is() -> None:
    path = "/a-long/way-to/" + "x" * 60 + "/practice-set-aside.db"
    assert path in wrapped(f"It lies in {path} now.", 40).split("\n")
    table = "  ok     pages:   12 rows"
    assert wrapped(table, 40) == table


@given(st.lists(st.text("abc", min_size=1, max_size=30), max_size=30), st.integers(0, 60))
def test_no_width_breaks_or_loses_a_word(words: list[str], width: int) -> None:
    assert wrapped(" ".join(words), width).split() == words


def test_a_file_gets_whole_lines() -> None:
    stream = io.StringIO()
    say(LINE, stream)
    assert stream.getvalue() == f"{LINE}\n"


def test_numbers_have_their_nouns() -> None:
    assert [counted(n, "edit") for n in (0, 1, 2)] == ["0 edits", "1 edit", "2 edits"]


@pytest.mark.parametrize(
    ("hours", "told"),
    [
        ((), ""),
        ((8,), "the older backup of 2026-11-25 08:30:00 UTC was taken away."),
        (
            (7, 8),
            "the older backups of 2026-11-25 07:30:00 and 2026-11-25 08:30:00 UTC were taken away.",
        ),
    ],
)
def test_backups_taken_away_are_named_by_their_date(hours: tuple[int, ...], told: str) -> None:
    gone = tuple(
        Dated(Path("practice.db"), datetime(2026, 11, 25, h, 30, tzinfo=UTC)) for h in hours
    )
    said = backup.taken_away(Made(Path("practice.db"), Facts(2, 1, "", ""), 1, gone))
    assert said.endswith(told)
    assert bool(said) == bool(hours)


def test_the_demo_says_the_command_that_opens_it_again() -> None:
    said = cli.stays(Path("/tmp/a folder/practice.db"))
    assert shlex.split(said.splitlines()[-1]) == [
        "FINROUNDS_DATABASE=sqlite:////tmp/a folder/practice.db",
        "finrounds",
    ]
