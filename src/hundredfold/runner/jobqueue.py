"""Hands jobs to an executor, a bounded number at a time, and survives workers that die."""

from collections.abc import Callable, Iterator
from concurrent.futures import BrokenExecutor, Future
from typing import Any

from hundredfold.kernel.errors import ExitCode, ShopError
from hundredfold.runner.assessing import Job
from hundredfold.runner.ctrlc import HeldCtrlC
from hundredfold.runner.tasks import Unmade
from hundredfold.runner.workers import GroupResult, WorkerPool

# Lone deaths in a row, with no job between that went well: then it is the machine, not the item.
MOST_DEATHS = 5
_DIED = "the process that worked on it died (out of memory, or ended from outside)"


class JobQueue:
    """What a pool was given and has not given back.

    ``call`` is what runs in the worker for a job, ``settle`` takes each result in this process. Ctrl-C must
    be held; it comes out where the queue waits.
    """

    def __init__(
        self,
        pool: WorkerPool,
        call: Callable[[Job], tuple[Callable[..., GroupResult], tuple[Any, ...]]],
        settle: Callable[[Job, GroupResult], None],
        most_waiting: int,
        ctrl_c: HeldCtrlC,
    ) -> None:
        self._pool = pool
        self._call = call
        self._settle = settle
        self._most_waiting = most_waiting
        self._ctrl_c = ctrl_c
        self._waiting: dict[Future[GroupResult], Job] = {}
        self._deaths = 0

    def give(self, job: Job) -> None:
        """Submit a job; waits first while enough are under way, so that memory stays flat."""
        while len(self._waiting) >= self._most_waiting:
            self._take_finished()
        try:
            self._submit(job)
        except BrokenExecutor:
            self._recover([job])

    def finish(self) -> None:
        """Wait for all that is under way."""
        while self._waiting:
            self._take_finished()

    def wind_down(self) -> None:
        """Drop what has not started, finish what has, and settle it; at another Ctrl-C end the workers."""
        for future in self._waiting:
            future.cancel()
        try:
            self._ctrl_c.wait_for(self._waiting)
            for future, job in list(self._waiting.items()):
                if not future.cancelled() and future.exception() is None:
                    self._settle(job, future.result())
            self._waiting.clear()
        except KeyboardInterrupt:
            self._pool.kill()

    def close(self) -> None:
        """Leave nothing under way: workers that are still at something are let go after it."""
        if self._waiting:
            self._waiting.clear()
            self._pool.close()

    def _submit(self, job: Job) -> Future[GroupResult]:
        function, arguments = self._call(job)
        future: Future[GroupResult] = self._pool.submit(function, *arguments)
        self._waiting[future] = job
        return future

    def _take_finished(self) -> None:
        finished = self._ctrl_c.wait_for(self._waiting, first=True)
        broken = []
        for future in [each for each in self._waiting if each in finished]:
            job = self._waiting.pop(future)
            if isinstance(future.exception(), BrokenExecutor):
                broken.append(job)
            else:
                self._deaths = 0
                self._settle(job, future.result())
        if broken:
            self._recover(broken)

    def _recover(self, suspects: list[Job]) -> None:
        """Start new workers and try each suspect alone: the one that kills them again is the poison."""
        for future, job in list(self._waiting.items()):
            if future.done() and not future.cancelled() and future.exception() is None:
                self._settle(job, future.result())
            else:
                suspects.append(job)
        self._start_anew()
        for job in suspects:
            for result in self._alone(job):
                self._settle(job, result)

    def _start_anew(self) -> None:
        self._waiting.clear()
        self._pool.close()

    def _alone(self, job: Job) -> Iterator[GroupResult]:
        try:
            future = self._submit(job)
            self._ctrl_c.wait_for([future])
            yield future.result()
            self._deaths = 0
            self._waiting.pop(future, None)
        except BrokenExecutor:
            self._start_anew()
            self._deaths += 1
            if self._deaths >= MOST_DEATHS:
                raise _workers_die() from None
            yield GroupResult((Unmade(_DIED, what=_DIED),) * len(job.missing))


def _workers_die() -> ShopError:
    return ShopError(
        "workers-die",
        f"the processes that make the files died {MOST_DEATHS} times in a row",
        "close other programs to free memory, then run the same command again; what was finished is kept",
        exit_code=ExitCode.PROBLEMS,
    )
