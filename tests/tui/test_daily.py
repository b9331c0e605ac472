"""The backup that the app makes by itself: once a day, quietly, and said when it fails."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.records import backup, files
from tests.tui.shell import app_on, settle
from tui import app as shell
from tui import daily


def notes(app: shell.FinroundsApp) -> list[str]:
    return [note.message for note in app._notifications]


async def test_it_is_made_while_the_app_runs_and_said_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(shell, "BACKUP_AFTER_S", 0.01)
    with app_on(tmp_path) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            while not backup.dated(app.desk.place):
                await pilot.pause(0.01)
            await settle(pilot)
            [made] = backup.dated(app.desk.place)
            assert notes(app) == [f"The day's backup was made and proved: {made.file.name}"]
        assert daily.back_up(app.desk.place) == ""
    assert files.proved(made.file).edits > 5


async def test_it_does_not_come_with_the_start(tmp_path: Path) -> None:
    with app_on(tmp_path) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
        assert backup.dated(app.desk.place) == ()
    assert shell.BACKUP_AFTER_S > 10 * shell.WARM_AFTER_S


async def test_a_backup_that_fails_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(part: Path) -> None:
        raise OSError(28, "No space left on device")

    with app_on(tmp_path) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            monkeypatch.setattr(files, "flush", full)
            app.back_up()
            await settle(pilot)
            [told] = notes(app)
    assert "could not be written" in told
    assert "No space left" in told
