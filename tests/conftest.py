"""What every test shares: no test sees the user's own records, and nothing on screen moves."""

from __future__ import annotations

import os

# Textual reads this when it is imported, so it is set before any test module is.
os.environ["TEXTUAL_ANIMATIONS"] = "none"

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import settings

from core.practice.keep import Act
from core.records import engine
from tests.engines import Counting
from tests.servers import server as server
from tests.small import Small, fill

settings.register_profile("house", deadline=None, max_examples=60)
settings.load_profile("house")

MOMENT = datetime(2026, 11, 25, 8, 30, tzinfo=UTC)
"""When the tests take place."""


def pytest_configure(config: pytest.Config) -> None:
    """Count what runs on each engine."""
    config.pluginmanager.register(Counting(config), "counting of engines")


@pytest.fixture(scope="session", autouse=True)
def _away_from_the_user(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Point everything that would find the user's own data at a folder of the session."""
    folder = tmp_path_factory.mktemp("nobody")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("FINROUNDS_DATABASE", f"sqlite:///{folder / 'practice.db'}")
        patch.setenv("XDG_DATA_HOME", str(folder))
        patch.setenv("HOME", str(folder))
        yield


@pytest.fixture(scope="session", autouse=True)
def _still_cursor() -> Iterator[None]:
    from textual.widgets import Input, TextArea

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Input, "cursor_blink", False)
        patch.setattr(TextArea, "cursor_blink", False)
        yield


@pytest.fixture
def records(tmp_path: Path) -> Iterator[Path]:
    """Give the file of new, open, empty records, with a connection on this thread."""
    file = tmp_path / "practice.db"
    engine.open_records(file)
    with engine.connection():
        yield file


@pytest.fixture
def act() -> Act:
    """Somebody does something at the moment of the tests, before there is a person."""
    return Act("setup", MOMENT)


@pytest.fixture
def practice(records: Path, act: Act) -> Small:
    """Give a small practice with one visit on the day of the tests."""
    return fill(act, MOMENT.date())
