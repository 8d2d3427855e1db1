"""Long work: its result, its progress, its end when it is cancelled, with and without an event loop."""

from __future__ import annotations

import asyncio
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from panelgen.workbench.jobs import Job

Tick = Callable[[int, int], None]


def count(tick: Tick) -> int:
    """Work of three parts."""
    for done in range(3):
        tick(done, 3)
    tick(3, 3)
    return 7


def without_loop(act: Callable[[], object]) -> None:
    """Do something on a thread in which no event loop runs, whatever other tests have left running here."""
    with ThreadPoolExecutor(1) as pool:
        pool.submit(act).result(30)


def test_without_a_loop_it_is_done_when_start_returns() -> None:
    told: list[tuple[int, int]] = []
    ended: list[Job[int]] = []
    job = Job("counting", count, lambda done, total: told.append((done, total)), ended.append)
    without_loop(job.start)
    assert ended == [job]
    assert (job.result, job.error, job.is_cancelled) == (7, None, False)
    assert told[-1] == (3, 3)


def test_an_error_is_handed_over() -> None:
    ended: list[Job[int]] = []

    def fail(tick: Tick) -> int:
        raise ValueError("no")

    without_loop(Job("failing", fail, lambda done, total: None, ended.append).start)
    assert str(ended[0].error) == "no"
    assert ended[0].result is None


def test_cancel_ends_work_that_would_never_end() -> None:
    async def run() -> Job[int]:
        ended: asyncio.Future[Job[int]] = asyncio.get_running_loop().create_future()
        begun = threading.Event()

        def endless(tick: Tick) -> int:
            while True:
                tick(1, 2)
                begun.set()

        job = Job("endless", endless, lambda done, total: None, ended.set_result)
        job.start()
        await asyncio.to_thread(begun.wait, 10)
        assert job.is_running
        job.cancel()
        return await asyncio.wait_for(ended, 10)

    jobs: list[Job[int]] = []
    without_loop(lambda: jobs.append(asyncio.run(run())))
    (job,) = jobs
    assert job.is_cancelled
    assert (job.result, job.error, job.is_running) == (None, None, False)
