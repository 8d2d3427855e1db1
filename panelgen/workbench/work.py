"""The one long piece of work that a workbench does at a time, as its desk shows it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from panelgen.workbench.jobs import Job
from panelgen.workbench.waysout import Tick

__all__ = ["Work"]


class Work:
    """At most one job; `told` is called whenever there is news of it."""

    def __init__(self, told: Callable[[], None]) -> None:
        self._told = told
        self._job: Job[Any] | None = None
        self._done = (0, 0)

    @property
    def words(self) -> str:
        """What is at work, empty for nothing."""
        return "" if self._job is None else self._job.words

    @property
    def state(self) -> dict[str, Any] | None:
        """The same with how much of how much is done, as the desk shows it; None for nothing."""
        return {"words": self.words, "done": self._done[0], "total": self._done[1]} if self._job else None

    def start(self, words: str, work: Callable[[Tick], Any], ended: Callable[[Job[Any]], None]) -> None:
        """Begin a job; `ended` gets it when it is over and another may begin."""

        def progress(done: int, total: int) -> None:
            self._done = (done, total)
            self._told()

        def end(job: Job[Any]) -> None:
            self._job = None
            ended(job)

        self._done = (0, 0)
        self._job = Job(words, work, progress, end)
        self._told()
        self._job.start()

    def cancel(self) -> None:
        """Ask the job to end, where there is one."""
        if self._job is not None:
            self._job.cancel()
