"""A run of the shop in a child process: started, watched and stopped by a program that lives on beside it.

How far it is stands in the shop's record for every reader (``shop/noting.py``); here is only whether it still
goes on, how it ended, and the wish to stop. A child, since the memory that pictures take then goes back to
the computer, and a library that dies takes no page with it.
"""

import multiprocessing
import threading
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from enum import StrEnum
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from multiprocessing.synchronize import Event
from pathlib import Path

from hundredfold.kernel.errors import ExitCode, ShopError
from hundredfold.workshop.shop.buglog import write_bug_log

_LAST_WORDS_S = 15.0  # what is under way when a run is stopped is finished first


class Work(StrEnum):
    """What can be done in the background."""

    PROOF = "proof"
    TYPESET = "typeset"
    MONTH = "month"


@dataclass(frozen=True)
class Ended:
    """How a run ended: well, stopped on purpose, or by ``error``."""

    work: Work
    stopped: bool = False
    error: ShopError | None = None


class Background:
    """At most one run at a time. Safe to ask from several threads."""

    def __init__(self, shop: Path) -> None:
        self._shop = shop
        self._lock = threading.Lock()
        self._stop: Event | None = None
        self._child: BaseProcess | None = None
        self._answer: Connection | None = None
        self._work = Work.MONTH
        self._ended: Ended | None = None

    def start(self, work: Work, about: str = "") -> bool:
        """Begin; whether it was begun: false while the last one still goes on. ``about`` is the word list to
        set; "" for all."""
        with self._lock:
            self._settle()
            if self._child is not None:
                return False
            context = multiprocessing.get_context("spawn")
            self._answer, theirs = context.Pipe(duplex=False)
            self._stop = context.Event()
            self._work, self._ended = work, None
            self._child = context.Process(
                target=run_here,
                args=(str(self._shop), work.value, self._stop, theirs, about),
                daemon=False,
            )
            self._child.start()
            theirs.close()
            return True

    def stop(self) -> None:
        """Ask the run to end; what is under way is finished and kept."""
        with self._lock:
            if self._stop is not None:
                self._stop.set()

    @property
    def going_on(self) -> Work | None:
        """What runs now."""
        with self._lock:
            self._settle()
            return self._work if self._child is not None else None

    @property
    def stopping(self) -> bool:
        """Whether it was asked to end and has not yet."""
        with self._lock:
            return self._child is not None and self._stop is not None and self._stop.is_set()

    @property
    def ended(self) -> Ended | None:
        """How the last run ended; None where none has, or while one goes on."""
        with self._lock:
            self._settle()
            return self._ended

    def wait(self, seconds: float) -> None:
        """Wait for the run to end, at most so long."""
        child = self._child
        if child is not None:
            child.join(seconds)

    def close(self) -> None:
        """Stop what goes on and wait for it: it keeps what it made."""
        self.stop()
        self.wait(_LAST_WORDS_S)
        with self._lock:
            if self._child is not None and self._child.is_alive():
                self._child.terminate()
            self._settle()

    def _settle(self) -> None:
        """Take in how the child ended, once it has."""
        if self._child is None or self._child.is_alive():
            return
        assert self._answer is not None
        self._ended = _last_words(self._answer, self._work)
        self._child.join()
        self._child = self._answer = self._stop = None


def _last_words(answer: Connection, work: Work) -> Ended:
    try:
        stopped, error = answer.recv() if answer.poll() else (False, _died(work))
    except (EOFError, OSError):
        stopped, error = False, _died(work)
    finally:
        answer.close()
    return Ended(work, stopped, error)


def _died(work: Work) -> ShopError:
    what = f"the {work.value} was cut off: its process ended without a word"
    return ShopError("work-cut-off", what, "start it again: what was made is kept", None, ExitCode.PROBLEMS)


def run_here(shop: str, work: str, stop: Event, answer: Connection, about: str = "") -> None:
    """What the child does: the run, then one word on how it ended."""
    try:
        if work == Work.TYPESET.value:
            _typeset(Path(shop), stop, about)
        else:
            _RUNS[Work(work)](Path(shop), stop)
        answer.send((False, None))
    except KeyboardInterrupt:
        answer.send((True, None))
    except ShopError as error:
        answer.send((False, error))
    except Exception as error:
        log = write_bug_log(error, ["open", work], Path(shop))
        place = f"the details are in {log}" if log else "no log could be written"
        what = f"a mistake in Hundredfold itself: {type(error).__name__}; {place}"
        fix = "nothing of yours is lost; start it again, and if it comes back send us that file"
        answer.send((False, ShopError("our-bug", what, fix, None, ExitCode.OUR_BUG)))


def _stoppable(stop: Event) -> tuple[Callable[[str], None], Callable[[int, int], None]]:
    """Stage and progress that obey the wish to stop where stopping is safe: where a run tells of itself."""

    def look() -> None:
        if stop.is_set():
            raise KeyboardInterrupt

    return (lambda _: look()), (lambda _done, _all: look())


def _proof(shop: Path, stop: Event) -> None:
    from hundredfold.workshop.proof.alldesigns import proof_run
    from hundredfold.workshop.shop.bench import bench  # lazily: image libraries load slowly
    from hundredfold.workshop.shop.desk import Turn

    stage, progress = _stoppable(stop)
    with bench(shop, Work.PROOF.value, turn=Turn.RUN) as tools:
        proof_run(tools, stage=stage, progress=progress)


def _typeset(shop: Path, stop: Event, words: str) -> None:
    """The designs of a word list, or of all; then their proofs, so that they can be looked at."""
    from hundredfold.runner.workers import spawn_pool
    from hundredfold.workshop.shop.bench import bench  # lazily: image libraries load slowly
    from hundredfold.workshop.shop.noting import Noting
    from hundredfold.workshop.typeset.typesetting import TypesetOrder, typeset

    stage, progress = _stoppable(stop)
    with bench(shop, Work.TYPESET.value) as tools, spawn_pool() as pool:
        noting = Noting(tools, stage, progress)
        noting.stage("setting designs")
        order = TypesetOrder(lists=(words,) if words else ())
        done = typeset(tools.shop.paths, order, pool, noting.progress)
        tools.store.runs.end(
            tools.run_number, f"made {done.made}, reused {done.reused}, failed {done.failed}"
        )
    _proof(shop, stop)


def _month(shop: Path, stop: Event) -> None:
    """The proofs with their repairs first: who plans a month by looking wants to be shown what mends it."""
    _proof(shop, stop)
    from hundredfold.workshop.month.preparing import Telling
    from hundredfold.workshop.month.run import default_start, month
    from hundredfold.workshop.shop.bench import bench
    from hundredfold.workshop.shop.desk import Turn

    stage, progress = _stoppable(stop)
    with bench(shop, Work.MONTH.value, turn=Turn.RUN) as tools:
        today = datetime.now(UTC).astimezone().date()
        month(tools, default_start(tools, today), tools.shop.settings.month_days, Telling(stage, progress))


_RUNS: dict[Work, Callable[[Path, Event], None]] = {Work.PROOF: _proof, Work.MONTH: _month}
