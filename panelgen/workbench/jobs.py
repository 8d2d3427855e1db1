"""Work that takes long: done on a thread of its own, watched, and ended where someone asks for that.

The work is told of by `Job.tick`, which it calls as often as it can; a cancelled job ends in that call, so whatever
it had begun is dropped there. Only the thread that started a job hears of its progress and its end.
"""

from __future__ import annotations

import asyncio
import threading
from collections.abc import Callable
from typing import Generic, TypeVar

__all__ = ["Job", "JobCancelledError"]

_T = TypeVar("_T")
_GLANCE = 0.05
"""s. How often a running job is looked at."""


class JobCancelledError(Exception):
    """Raised in the work of a job that was cancelled."""


class Job(Generic[_T]):
    """One piece of work. `progress` is told how much of how much is done, `ended` gets the job when it is over.

    Where an event loop runs, as in a notebook, `start` returns at once; elsewhere it returns when all is done.
    """

    def __init__(
        self,
        words: str,
        work: Callable[[Callable[[int, int], None]], _T],
        progress: Callable[[int, int], None],
        ended: Callable[[Job[_T]], None],
    ) -> None:
        self.words = words
        self.result: _T | None = None
        self.error: Exception | None = None
        self._work, self._progress, self._ended = work, progress, ended
        self._cancelled = threading.Event()
        self._done = (0, 0)
        self._thread = threading.Thread(target=self._run, name=words, daemon=True)
        self._watch: asyncio.Task[None] | None = None

    @property
    def is_cancelled(self) -> bool:
        """Whether it was asked to end early."""
        return self._cancelled.is_set()

    @property
    def is_running(self) -> bool:
        """Whether it is still at work."""
        return self._thread.is_alive()

    def start(self) -> None:
        """Begin."""
        self._thread.start()
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            self._thread.join()
            self._end()
        else:
            self._watch = loop.create_task(self._watched())

    def cancel(self) -> None:
        """Ask it to end; it does at its next tick."""
        self._cancelled.set()

    def tick(self, done: int, total: int) -> None:
        """Called by the work. Raises JobCancelledError where it is to end."""
        self._done = (done, total)
        if self.is_cancelled:
            raise JobCancelledError

    def _run(self) -> None:
        try:
            self.result = self._work(self.tick)
        except JobCancelledError:
            return
        except Exception as error:  # handed to whoever waits for the end
            self.error = error

    async def _watched(self) -> None:
        told = None
        while self.is_running:
            if told != self._done:
                told = self._done
                self._progress(*told)
            await asyncio.sleep(_GLANCE)
        self._end()

    def _end(self) -> None:
        self._progress(*self._done)
        self._ended(self)
