"""Counts the tests of the records on each engine: what is tried on one is tried on the other.

A run that takes the whole folder of the records' tests fails when the counts differ.
"""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

ENGINES = ("sqlite", "postgresql")
WHOLE = Path(__file__).parent / "core" / "records"


def engine_of(nodeid: str) -> str | None:
    """Return the engine that a test ran on, by the name that its fixture gives it."""
    _, _, named = nodeid.partition("[")
    words = named.rstrip("]").split("-")
    return next((engine for engine in ENGINES if engine in words), None)


def whole_folder(config: pytest.Config) -> bool:
    """Return whether every test of the records was asked for, none chosen by name."""
    option = config.option
    if option.keyword or option.markexpr or option.collectonly or getattr(option, "lf", False):
        return False
    asked = [Path(config.invocation_params.dir, argument) for argument in config.args]
    return any(WHOLE.is_relative_to(path.resolve()) for path in asked)


class Counting:
    """The part of pytest that counts; it hears of what workers ran too."""

    def __init__(self, config: pytest.Config) -> None:
        self.config = config
        self.ran: Counter[str] = Counter()

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Count a test that was run, once."""
        engine = engine_of(report.nodeid)
        if engine and report.when == "call" and not report.skipped:
            self.ran[engine] += 1

    @property
    def wrong(self) -> bool:
        """Whether a whole run tried one engine less than the other."""
        return whole_folder(self.config) and len({self.ran[e] for e in ENGINES}) > 1

    @pytest.hookimpl(tryfirst=True)
    def pytest_sessionfinish(self, session: pytest.Session) -> None:
        """Fail a run that is green but for the counts."""
        if session.exitstatus == 0 and self.wrong and not hasattr(self.config, "workerinput"):
            session.exitstatus = pytest.ExitCode.TESTS_FAILED

    def pytest_terminal_summary(self, terminalreporter: pytest.TerminalReporter) -> None:
        """Say how many tests ran on each engine."""
        if self.ran:
            counts = ", ".join(f"{engine} {self.ran[engine]}" for engine in ENGINES)
            terminalreporter.write_line(f"tests on each engine: {counts}")
        if self.wrong:
            terminalreporter.write_line("FAILED: every test of the records runs on both", red=True)
