"""Where the work happens: this process for little of it, spawned processes for much."""

import multiprocessing
import multiprocessing.connection
import os
import threading
import traceback
from collections.abc import Callable, Sequence
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from hundredfold.kernel.errors import ShopError
from hundredfold.runner import ctrlc
from hundredfold.runner.cache import Vault
from hundredfold.runner.inputs import Inputs
from hundredfold.runner.steps import Maker
from hundredfold.runner.tasks import Output, Unmade, WorkPart

_MOST_WORKERS = 61  # the most that a process pool can wait for on Windows
# These stop the whole run: every later item would meet the same wall.
STOPPING = frozenset({"disk-full", "cannot-write", "tool-missing"})


@dataclass(frozen=True)
class GroupResult:
    """What a worker sends back, in the order wanted; ``stop`` ends the run.

    Bytes come back only from workers that cannot reach the vault.
    """

    results: tuple[Output | Unmade | bytes, ...] = ()
    stop: ShopError | None = None


@dataclass(frozen=True)
class Workers:
    """Who makes what is missing.

    ``start`` starts any concurrent.futures executor. Workers that do not ``share_folders`` with this process
    get contents with their work and send bytes back. Up to ``small_groups`` groups are made in this process.
    ``count`` is their number, where it is not that of this computer's cores.
    """

    start: Callable[[], Executor]
    share_folders: bool = True
    small_groups: int = 3  # the start of worker processes would cost more than they save
    count: int = 0


def make_group(
    maker: Maker, parts: Sequence[WorkPart], inputs: Inputs, vault_root: str | None
) -> GroupResult:
    """Run the maker on one group, and keep its outputs in the vault where the worker can reach it.

    Never raises what it can send back.
    """
    wanted = len(parts)
    try:
        made = maker(parts, inputs)
        if len(made) != wanted:
            raise ValueError(f"{wanted} outputs were wanted and {len(made)} came back")
        if vault_root is None:
            return GroupResult(tuple(made))
        vault = Vault(Path(vault_root))
        return GroupResult(tuple(one if isinstance(one, Unmade) else kept(vault, one) for one in made))
    except Exception as error:
        if isinstance(error, ShopError) and error.slug in STOPPING:
            return GroupResult(stop=error)
        return GroupResult((_unmade(error),) * wanted)


def kept(vault: Vault, data: bytes) -> Output:
    """Put bytes in the vault. Raises as ``Vault.put`` does."""
    return Output(vault.put(data), len(data))


def _unmade(error: Exception) -> Unmade:
    details = "".join(traceback.format_exception(error))
    said = " ".join(str(error).split())
    if isinstance(error, ShopError):
        return Unmade(said, details, error.what, error.fix)
    sentence = f"it could not be made ({type(error).__name__}{': ' + said if said else ''})"
    return Unmade(sentence, details, sentence)


class InProcess(Executor):
    """Runs each call at once, in this process: no start-up, for little work and for tests."""

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        """Call ``fn`` now and give its finished future."""
        future: Future[Any] = Future()
        try:
            future.set_result(fn(*args, **kwargs))
        except Exception as error:
            future.set_exception(error)
        return future


def worker_count() -> int:
    """One worker for each core this process may use, two at least so that reading and computing overlap."""
    usable = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count()
    return min(max(2, usable or 2), _MOST_WORKERS)


class _Pool(ProcessPoolExecutor):
    """Starts a worker at any hand-over that finds none idle."""

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        """As in ProcessPoolExecutor; workers that it starts do not hear Ctrl-C while they start."""
        with ctrlc.kept_from_children():
            return super().submit(fn, *args, **kwargs)


def spawn_pool(workers: int | None = None) -> Executor:
    """A pool of spawned processes that ignore Ctrl-C (this process decides) and end when it ends."""
    return _Pool(
        workers or worker_count(),
        mp_context=multiprocessing.get_context("spawn"),
        initializer=_start_worker,
    )


def _start_worker() -> None:
    ctrlc.ignore()
    # One pixel thread a process: the processes already keep every core busy.
    os.environ.setdefault("VIPS_CONCURRENCY", "1")
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    # A killed parent cannot stop its workers, and they hold both ends of the queue they wait on.
    parent = multiprocessing.parent_process()
    if parent is not None:
        multiprocessing.connection.wait([parent.sentinel])
        os._exit(1)


LOCAL = Workers(spawn_pool)


class WorkerPool:
    """One executor for all that is made one call after the other: its workers start once, at the first work.

    Once ended it can be asked again: new workers start then.
    """

    def __init__(self, start: Callable[[], Executor]) -> None:
        self._start = start
        self._executor: Executor | None = None

    def submit(self, fn: Callable[..., Any], *args: Any) -> Future[Any]:
        """Hand a call to a worker. Raises BrokenExecutor where a worker has died."""
        if self._executor is None:
            self._executor = self._start()
        return self._executor.submit(fn, *args)

    def close(self) -> None:
        """Let the workers go once they have done what they are at; what none has begun is dropped."""
        if self._executor is not None:
            executor, self._executor = self._executor, None
            executor.shutdown(wait=True, cancel_futures=True)

    def kill(self) -> None:
        """End the workers at once, in the middle of what they do. Only sound files are in the vault."""
        for process in list((getattr(self._executor, "_processes", None) or {}).values()):
            process.kill()
        self.close()
