"""One thread owns the writing connection and takes writes in order."""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import Future
from contextlib import suppress
from queue import SimpleQueue
from typing import Any, TypeVar

from core.errors import Refusal
from core.records import trouble
from core.records.engine import connection, renew

R = TypeVar("R")


class Writer:
    """Runs write functions one after another on a thread of its own.

    A write counts as accepted when its future is done: the commit is on the disk.
    """

    def __init__(self) -> None:
        self._queue: SimpleQueue[tuple[Future[Any], Callable[[], Any]] | None] = SimpleQueue()
        self._closed = False
        self._thread = threading.Thread(target=self._run, name="records writer", daemon=True)
        self._thread.start()

    def submit(self, write: Callable[..., R], *args: Any, **kwargs: Any) -> Future[R]:
        """Queue a write; the future is done when it is on the disk.

        Raises
        ------
        Refusal
            When the writer is closed already.
        """
        if self._closed:
            raise Refusal("The records are being closed.", "Start the app again.")
        future: Future[R] = Future()
        self._queue.put((future, lambda: write(*args, **kwargs)))
        return future

    def close(self) -> None:
        """Finish what is queued, then end; may be called twice."""
        if not self._closed:
            self._closed = True
            self._queue.put(None)
        self._thread.join()

    def _run(self) -> None:
        with connection():
            while (task := self._queue.get()) is not None:
                future, write = task
                if not future.set_running_or_notify_cancel():
                    continue
                try:
                    renew()
                    future.set_result(write())
                except BaseException as error:  # the thread's boundary: whoever waits is told
                    with suppress(Exception):
                        future.set_exception(trouble.said(error) or error)
