"""Keys that all lie ready at once: every entry reaches its own field, in order."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from core.records import engine
from tests.core.records.checks import all_hold, entries
from tests.small import build
from tests.terminal import DOWN, ENTER, UP, open_stage, start_app
from tests.tui.water import answers, numeric, rows_of

WANTED = 50


def count_of(file: Path) -> int:
    with closing(sqlite3.connect(file)) as found:
        sql = "SELECT count(*) FROM edit WHERE kind = 'reading'"
        return int(found.execute(sql).fetchone()[0])


def analytes() -> dict[str, str]:
    return dict(engine.query('SELECT "id", "analyte" FROM "reading"'))


async def test_fifty_entries_written_at_once_reach_their_own_fields(tmp_path: Path) -> None:
    file = tmp_path / "practice.db"
    made = build(file)
    rows = await rows_of(file, made)
    fields = rows.fields
    sources = {field.key: answers(field) for field in fields if numeric(field)}
    sent: list[tuple[str, str]] = []
    pressed = ""
    while len(sent) < WANTED:
        # Each time from the first row in moving: accepting the last row ends in moving again.
        first = [numeric(f) for f in fields].index(True)
        pressed += DOWN * first
        for field in fields[first:]:
            if numeric(field):
                sent.append((field.key, next(sources[field.key])))
                pressed += sent[-1][1]
            pressed += ENTER
        pressed += UP * (len(fields) - 1)
    assert len({*sent}) == len(sent) >= WANTED

    with start_app(file, rows=60) as app:
        open_stage(app, "Water")
        app.send(pressed)
        app.wait_for(lambda: count_of(file) >= len(sent), 40, f"{len(sent)} readings")
        wanted = set(dict(sent).items())
        app.wait_for(lambda: rows.saved(app.lines) == wanted, 10, "the last answers, saved,")

    engine.open_records(file)
    with engine.connection():
        named = analytes()
        got = [(named[row], typed) for row, typed in entries("reading", "typed")]
        assert got == sent
        all_hold()
