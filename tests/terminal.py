"""The app in a real pseudo-terminal: start it, press keys, read its screen.

A pilot inside the process hands keys over one at a time and waits for each; only a terminal
shows what happens when they all lie ready at once, or when the process is killed.
"""

from __future__ import annotations

import fcntl
import os
import pty
import re
import select
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Self

import pyte

from tests.small import VET

ROOT = Path(__file__).resolve().parent.parent

ENTER, TAB, ESC, BACKSPACE = "\r", "\t", "\x1b", "\x7f"
UP, DOWN, RIGHT, LEFT = "\x1b[A", "\x1b[B", "\x1b[C", "\x1b[D"

FRAME_END = b"\x1b[?2026l"
_ASKED = re.compile(rb"\x1b\[\?(\d+)\$p")
# pyte prints private sequences that it does not know, so they are taken out before.
_PRIVATE = re.compile(rb"\x1b\[[<=>][0-9;:]*[ -/]*[@-~]|\x1b[PX^_].*?\x1b\\", re.DOTALL)
_UNFINISHED = re.compile(rb"\x1b(?:\[[0-9;:<=>?]*[ -/]*|[PX^_](?:[^\x1b]|\x1b(?!\\))*)?\Z")


class Terminal:
    """One program in one pseudo-terminal; leaving the block ends it.

    `on_frame`, when set, is called after each whole frame has been put on the screen.
    """

    def __init__(
        self,
        argv: Sequence[str],
        *,
        columns: int = 80,
        rows: int = 24,
        env: Mapping[str, str] | None = None,
        cwd: Path = ROOT,
    ) -> None:
        self.screen = pyte.Screen(columns, rows)
        self.frames = self.bytes = 0
        self.alive = True
        self.on_frame: Callable[[], None] | None = None
        self._stream = pyte.ByteStream(self.screen)
        self._held = b""
        self.fd, inner = pty.openpty()
        fcntl.ioctl(inner, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
        hidden = {"COLUMNS", "LINES"}
        around = {name: value for name, value in os.environ.items() if name not in hidden}
        around |= {"TERM": "xterm-256color", "COLORTERM": "truecolor", **(env or {})}
        self.started = time.monotonic()
        self.process = subprocess.Popen(
            list(argv),
            stdin=inner,
            stdout=inner,
            stderr=inner,
            env=around,
            cwd=cwd,
            start_new_session=True,
        )
        os.close(inner)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.kill()

    @property
    def text(self) -> str:
        """What stands on the screen."""
        return "\n".join(self.lines)

    @property
    def lines(self) -> list[str]:
        """The screen line by line, without the blanks at the ends."""
        return [line.rstrip() for line in self.screen.display]

    def send(self, keys: str) -> None:
        """Press keys, all of them in one write."""
        left = keys.encode()
        while left:
            left = left[os.write(self.fd, left) :]

    def read(self, patience: float) -> bytes:
        """Return what the program writes next, unparsed; nothing after so many seconds."""
        if not self.alive or not select.select([self.fd], [], [], max(0.0, patience))[0]:
            return b""
        try:
            data = os.read(self.fd, 65536)
        except OSError:  # so Linux says that the other end is closed
            data = b""
        self.alive = bool(data)
        self._answer(data)
        return data

    def _answer(self, data: bytes) -> None:
        """Say, as a current terminal does, that whole frames are understood."""
        for mode in _ASKED.findall(data):
            state = b"2" if mode == b"2026" else b"0"
            os.write(self.fd, b"\x1b[?" + mode + b";" + state + b"$y")

    def feed(self, data: bytes) -> None:
        """Put what was read on the screen, frame by frame."""
        self.bytes += len(data)
        whole, held = self._held + data, b""
        if tail := _UNFINISHED.search(whole):
            whole, held = whole[: tail.start()], whole[tail.start() :]
        self._held = held
        pieces = whole.split(FRAME_END)
        for number, piece in enumerate(pieces):
            self._stream.feed(_PRIVATE.sub(b"", piece))
            if number < len(pieces) - 1:
                self.frames += 1
                if self.on_frame is not None:
                    self.on_frame()

    def pump(self, seconds: float) -> None:
        """Take in what comes for so long."""
        end = time.monotonic() + seconds
        while self.alive and (left := end - time.monotonic()) > 0:
            self.feed(self.read(left))

    def settle(self, quiet: float = 0.15, limit: float = 10.0) -> None:
        """Take in what comes until nothing has come for a while."""
        end = time.monotonic() + limit
        while time.monotonic() < end and (data := self.read(quiet)):
            self.feed(data)

    def wait(self, pattern: str, limit: float = 20.0) -> None:
        """Wait until a regular expression matches the screen; fail, showing it, when none does."""
        self.wait_for(lambda: bool(re.search(pattern, self.text)), limit, repr(pattern))

    def wait_for(self, done: Callable[[], bool], limit: float, what: str) -> None:
        """Wait until something holds, looking after everything that comes."""
        end = time.monotonic() + limit
        while not done():
            if not self.alive or time.monotonic() > end:
                raise AssertionError(f"{what} did not come in {limit} s:\n{self.text}")
            self.feed(self.read(0.05))

    def kill(self) -> None:
        """End this one process at once and take in what it had still written."""
        if self.fd < 0:
            return
        self.process.kill()
        self.process.wait()
        while data := self.read(0.05):
            self.feed(data)
        os.close(self.fd)
        self.fd = -1


def start_app(file: Path, *arguments: str, columns: int = 80, rows: int = 24) -> Terminal:
    """Start the app of this checkout on a file of records."""
    return Terminal(
        [sys.executable, "-m", "tui.cli", "--as", VET, *arguments],
        columns=columns,
        rows=rows,
        env={"FINROUNDS_DATABASE": f"sqlite:///{file}"},
    )


def open_stage(app: Terminal, stage: str = "Water") -> None:
    """From the day's list, open its first visit at a stage."""
    app.wait("test visit")
    app.settle(0.06)
    app.send(ENTER)
    app.wait(r"Clara Test +koi pond 9.000 L(.*\n)+.*\b[A-Z]{4,}\b")
    app.settle(0.06)
    for _ in range(12):
        if re.search(rf"\b{stage.upper()}\b", app.text):
            return
        before = app.lines[:4]
        app.send(RIGHT)
        app.wait_for(lambda before=before: app.lines[:4] != before, 20, "the next stage")
        app.settle(0.06)
    raise AssertionError(f"no stage {stage}:\n{app.text}")
