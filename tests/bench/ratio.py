"""How fast the app is, as ratios to an empty Textual app started beside it.

    python -m tests.bench.ratio --app .venv/bin/finrounds

The app and the floor are run in turn, from the app's own environment, in a pseudo-terminal of
80 by 24; each figure is the median over the pairs of the app's figure divided by the floor's.
Milliseconds move with the load of the machine, the ratio of two neighbours far less.
"""

from __future__ import annotations

import argparse
import json
import random
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from core import clock
from core.practice import visits
from core.practice.desk import Desk
from core.practice.keep import Act
from tests.small import VET, ZONE, fill
from tests.terminal import BACKSPACE, DOWN, UP, Terminal, open_stage

HEAVY = ("numpy", "psycopg", "psycopg2")
AIMS = {"start_ms": 1.5, "memory_mib": 1.4, "cursor_ms": 1.3, "letter_ms": 1.6}
QUIET = 0.06
"""Seconds of silence that end what one key has changed."""


@dataclass(frozen=True)
class Measured:
    """One start: to the first paint, resident memory then, and the last repaint after a key."""

    start_ms: float
    memory_mib: float
    cursor_ms: float = 0.0
    letter_ms: float = 0.0


@dataclass(frozen=True)
class Measurable:
    """The app to measure: its command, its Python and the file of records it opens."""

    command: list[str]
    python: str
    file: Path


def command_of(app: Path) -> tuple[list[str], str]:
    """Return the command of an app and the Python it runs in, from its script or that Python."""
    app = app.absolute()
    if app.name.startswith("python"):
        return [str(app), "-m", "tui.cli"], str(app)
    return [str(app)], str(app.with_name("python"))


def refuse_heavy(python: str) -> None:
    """End when the app's environment holds what would be loaded into it unasked."""
    code = f"import importlib.util as u; print(*(n for n in {HEAVY} if u.find_spec(n)))"
    done = subprocess.run([python, "-c", code], capture_output=True, text=True, check=True)
    if found := done.stdout.split():
        raise SystemExit(
            f"{' and '.join(found)} can be imported by {python}; peewee and pint load them when "
            "they find them. Measure an environment that holds the app alone."
        )


def make_day(file: Path) -> None:
    """Make a small practice with eight visits today."""

    def day() -> None:
        act, today = Act("setup", clock.now()), clock.today(ZONE)
        made = fill(act, today)
        for hour in range(11, 18):
            visits.book(act, made.system, today, f"{hour}:30", made.vet, "test visit")

    desk = Desk(file)
    try:
        desk.save(day).result(timeout=60)
    finally:
        desk.close()


def memory_mib(pid: int) -> float:
    """Return the resident memory of a process; 0 where the system does not tell."""
    status = Path(f"/proc/{pid}/status")
    if not status.exists():
        return 0.0
    told = dict(line.split(":", 1) for line in status.read_text().splitlines())
    return int(told["VmRSS"].split()[0]) / 1024


@dataclass(frozen=True)
class Started:
    """A running program and what its start took."""

    terminal: Terminal
    measured: Measured


@contextmanager
def started(argv: list[str], text: str, env: dict[str, str] | None = None) -> Iterator[Started]:
    with Terminal(argv, env=env) as terminal:
        terminal.wait(text)
        took = (time.monotonic() - terminal.started) * 1000
        terminal.settle()
        yield Started(terminal, Measured(took, memory_mib(terminal.process.pid)))


def last_repaint_ms(terminal: Terminal, keys: tuple[str, ...], presses: int) -> float:
    """Return the median time from a press to the last output that it caused."""
    took = []
    terminal.settle(QUIET)
    for number in range(presses):
        time.sleep(random.uniform(0.0, 0.03))  # so that presses do not fall in step with frames
        begun = last = time.monotonic()
        terminal.send(keys[number % len(keys)])
        data, patience = b"", 2.0
        while more := terminal.read(patience):
            data, last, patience = data + more, time.monotonic(), QUIET
        if not data:
            raise SystemExit(f"a key changed nothing on the screen:\n{terminal.text}")
        took.append((last - begun) * 1000)
        terminal.feed(data)
    return statistics.median(took)


def measure_app(app: Measurable, presses: int) -> Measured:
    env = {"FINROUNDS_DATABASE": f"sqlite:///{app.file}"}
    with started([*app.command, "--as", VET], "test visit", env) as run:
        cursor = last_repaint_ms(run.terminal, (DOWN, UP), presses)
        open_stage(run.terminal, "Water")
        for label, answer in (("Temperature", "24"), ("pH", "8.2")):
            go_to(run.terminal, label)
            run.terminal.send(answer + DOWN + BACKSPACE)
            run.terminal.wait(rf"{label}.* {answer} .* saved")
            run.terminal.settle()
        go_to(run.terminal, "Ammonia")
        letter = last_repaint_ms(run.terminal, ("3", BACKSPACE), presses)
        return replace(run.measured, cursor_ms=cursor, letter_ms=letter)


def current(terminal: Terminal) -> str:
    """Return the current row, from its label on."""
    return next((line[9:] for line in terminal.lines if line.startswith("> ")), "")


def go_to(terminal: Terminal, label: str) -> None:
    """Go down to the row of this label."""
    while not (before := current(terminal)).startswith(label):
        terminal.send(DOWN)
        terminal.wait_for(lambda before=before: current(terminal) != before, 5, f"a row {label}")
        terminal.settle(QUIET)


def measure_floor(python: str, presses: int) -> Measured:
    floor = [python, str(Path(__file__).with_name("floor.py"))]
    with started(floor, "line 11") as run:
        cursor = last_repaint_ms(run.terminal, (DOWN, UP), presses)
    with started([*floor, "--field"], "ready") as field:
        letter = last_repaint_ms(field.terminal, ("3", BACKSPACE), presses)
    return replace(run.measured, cursor_ms=cursor, letter_ms=letter)


def summary(pairs: list[tuple[Measured, Measured]]) -> dict[str, dict[str, float]]:
    """Return for each figure both medians, the ratio with its spread, and the aim."""
    found = {}
    for name, aim in AIMS.items():
        both = [(getattr(app, name), getattr(floor, name)) for app, floor in pairs]
        ratios = sorted(app / floor for app, floor in both if floor)
        found[name] = {
            "app": round(statistics.median(a for a, _ in both), 1),
            "floor": round(statistics.median(f for _, f in both), 1),
            "ratio": round(statistics.median(ratios), 2),
            "least": round(ratios[0], 2),
            "most": round(ratios[-1], 2),
            "aim": aim,
        }
    return found


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else "")
    parser.add_argument("--app", type=Path, required=True, help="finrounds, or the Python it is in")
    parser.add_argument("--runs", type=int, default=9, help="pairs (9)")
    parser.add_argument("--presses", type=int, default=40, help="presses timed in each start (40)")
    options = parser.parse_args()
    command, python = command_of(options.app)
    refuse_heavy(python)
    with tempfile.TemporaryDirectory() as folder:
        pairs = []
        for number in range(options.runs + 1):
            file = Path(folder) / f"{number}.db"
            make_day(file)
            app = Measurable(command, python, file)
            pairs.append(
                (measure_app(app, options.presses), measure_floor(python, options.presses))
            )
    found = summary(pairs[1:])  # the first pair warms the caches
    print(json.dumps({"pairs": options.runs, "figures": found}, indent=1))
    return 0


if __name__ == "__main__":
    sys.exit(main())
