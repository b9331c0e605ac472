"""The app killed at any moment: what the screen had marked saved is there, and nothing is half.

A kill leaves the system's page cache alone, so this can not tell whether the file would outlive
a power cut; that every connection writes through is asked in `test_engine`.
"""

from __future__ import annotations

import random
import re
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import cycle, islice
from pathlib import Path

from core.records import engine
from tests.core.records.checks import all_hold, edits, entries
from tests.small import build
from tests.terminal import DOWN, UP, open_stage, start_app
from tests.tui.water import Rows, answers, numeric, rows_of

RUNS, FEWEST, SECONDS = 10, 5, 18.0
"""So many starts, fewer where they take longer than this in all."""
ENTRIES, SLOWLY = 30, 8
SEED = 20261125


@dataclass
class Run:
    """One start of the app, killed while entries are typed."""

    file: Path
    rows: Rows
    sent: list[tuple[str, str]]
    seen: set[tuple[str, str]] = field(default_factory=set)
    """Every answer that a whole frame of the screen showed as saved."""

    def play(self, seconds: float) -> None:
        """Type the first answers key by key and the others at once, and kill after a while."""
        texts = [text + step for (_, text), step in zip(self.sent, steps(), strict=False)]
        with start_app(self.file, rows=60) as app:
            open_stage(app)
            app.on_frame = lambda: self.seen.update(self.rows.saved(app.lines))
            end = time.monotonic() + seconds
            for key in keys_of("".join(texts[:SLOWLY])):
                if time.monotonic() < end:
                    app.send(key)
                    app.pump(0.012)
            if time.monotonic() < end:
                app.send("".join(texts[SLOWLY:]))
                app.pump(end - time.monotonic())
            app.kill()

    def check(self) -> None:
        """What was marked saved is there; what is there is a whole beginning of what was typed."""
        engine.open_records(self.file)
        with engine.connection():
            named = dict(engine.query('SELECT "id", "analyte" FROM "reading"'))
            got = [(named[row], typed) for row, typed in entries("reading", "typed")]
            all_hold()
            assert len([e for e in edits() if e["kind"] == "reading"]) == len(got)
        assert self.seen <= set(got)
        assert got == self.sent[: len(got)]


def keys_of(text: str) -> list[str]:
    """Return a text key by key, an arrow being one."""
    return re.findall(r"\x1b\[.|.", text)


def steps() -> Iterator[str]:
    """Go down two rows and up again, over and over: an arrow while typing saves and moves."""
    return cycle((DOWN, DOWN, UP, UP))


def entries_for(rows: Rows) -> list[tuple[str, str]]:
    """Return answers for the first three rows as `steps` walks them, each row again and again."""
    sources = {f.key: answers(f) for f in rows.fields[:3]}
    walked = cycle(rows.fields[n].key for n in (0, 1, 2, 1))
    return [(key, next(sources[key])) for key in islice(walked, ENTRIES)]


async def test_what_was_marked_saved_is_there_after_a_kill(tmp_path: Path) -> None:
    dice = random.Random(SEED)
    first = tmp_path / "first.db"
    rows = await rows_of(first, build(first))
    assert all(numeric(f) for f in rows.fields[:3])
    marked: list[int] = []
    end = time.monotonic() + SECONDS
    while len(marked) < RUNS and (len(marked) < FEWEST or time.monotonic() < end):
        file = tmp_path / f"{len(marked)}.db"
        build(file)
        run = Run(file, rows, entries_for(rows))
        # The first is killed when much is long done, the others between keys and saved.
        run.play(dice.uniform(0.1, 1.3) if marked else 3.5)
        run.check()
        marked.append(len(run.seen))
    print(f"answers marked saved in each of {len(marked)} runs: {marked}")
    assert sum(n > 0 for n in marked) * 2 >= len(marked)
    assert min(marked) < ENTRIES
