"""Makes what is missing and nothing else, in the order asked, and keeps every result as it comes."""

import contextlib
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from hundredfold.kernel.errors import ShopError
from hundredfold.runner.assessing import Assessment, Job, KnownOutputs, assess
from hundredfold.runner.atomic import write_whole
from hundredfold.runner.cache import Vault
from hundredfold.runner.ctrlc import HeldCtrlC
from hundredfold.runner.inputs import GONE, Inputs, SharedInputs, carried
from hundredfold.runner.jobqueue import JobQueue
from hundredfold.runner.rows import BuildRows, FailureRow, MadeRow
from hundredfold.runner.steps import Maker
from hundredfold.runner.tasks import Counts, Failed, GroupDone, Outcome, Output, Task, Unmade, WorkPart
from hundredfold.runner.workers import (
    LOCAL,
    GroupResult,
    InProcess,
    WorkerPool,
    Workers,
    kept,
    make_group,
    worker_count,
)

# Results reach the database this often at the latest; a crash costs no more than this much work.
_SAVE_EVERY_S = 0.5


@dataclass(frozen=True)
class Watching:
    """What the caller hears while a run goes on, always in the caller's own process.

    ``group_done`` comes once for every group, as soon as its outputs are in the vault; ``progress`` gets the
    number of settled tasks and of all tasks.
    """

    group_done: Callable[[GroupDone], None] | None = None
    progress: Callable[[int, int], None] | None = None


class Runner:
    """Runs tasks of one run of the shop. Several calls of ``run`` share what they know.

    ``run`` is the number of this run in the store. ``log_folder`` takes the tracebacks of failures. ``pool``
    is whoever the caller keeps for several calls of ``run``; without it each call starts and ends its own.
    """

    def __init__(
        self,
        vault: Vault,
        rows: BuildRows,
        run: int,
        log_folder: Path | None = None,
        workers: Workers = LOCAL,
        pool: WorkerPool | None = None,
    ) -> None:
        self._vault = vault
        self._rows = rows
        self._run = run
        self._log_folder = log_folder
        self._workers = workers
        self._pool = pool
        self._files: dict[str, str] = {}
        self._known = KnownOutputs(vault, rows.made())

    def knows(self, files: Mapping[str, Path]) -> None:
        """Where contents lie that are not in the vault, by digest: the seller's own files."""
        self._files.update((digest, str(path)) for digest, path in files.items())

    def assess(self, tasks: Iterable[Task]) -> Assessment:
        """What is current and what has to be made, before any work. Raises ``two-outputs-one-name``."""
        return assess(self._known, tasks)

    def run(
        self,
        tasks: Iterable[Task] | Assessment,
        maker: Maker,
        watching: Watching = Watching(),
    ) -> Outcome:
        """Make what is missing, groups in the order of the tasks.

        ``maker`` gets the parts of the missing tasks of one group and the inputs to ask; it gives one result
        for each, in their order. A failure is recorded and the rest goes on.
        Raises ShopError ``disk-full``, ``cannot-write``, ``workers-die``; on Ctrl-C what is under way is
        finished, kept, and KeyboardInterrupt goes on up. Whatever happens, what was made stays made.
        """
        held = tasks if isinstance(tasks, Assessment) else self.assess(tasks)
        run = _Run(self._vault, self._rows, self._known, self._run, self._log_folder, watching, held)
        pending = sum(1 for job in held.jobs if job.missing)
        here = _WorkingHere(self._vault.root, pending, self._workers.small_groups)
        with HeldCtrlC() as ctrl_c, self._at_work(here.wanted) as pool:
            queue = JobQueue(
                pool,
                lambda job: (make_group, self._call(maker, job)),
                run.settle,
                2 * (self._workers.count or worker_count()),
                ctrl_c,
            )
            with contextlib.closing(queue):
                try:
                    with here:
                        _drive(queue, run, held, ctrl_c)
                except KeyboardInterrupt:
                    run.stop_telling()  # a person who stops does not wait for packs to be written
                    queue.wind_down()
                    raise
                finally:
                    run.save()
        outcome = run.outcome()
        if any(failed.why.what == GONE for failed in outcome.failures):
            self._vault.note_rotten()
        return outcome

    @contextlib.contextmanager
    def _at_work(self, here: bool) -> Iterator[WorkerPool]:
        """Who makes what one call of ``run`` wants."""
        if self._pool is not None and not here:
            yield self._pool
            return
        pool = WorkerPool(InProcess if here else self._workers.start)
        try:
            yield pool
        finally:
            pool.close()

    def _call(self, maker: Maker, job: Job) -> tuple[Maker, tuple[WorkPart, ...], Inputs, str | None]:
        """What a worker is called with for a job."""
        reads = [digest for task in job.missing for digest in task.reads]
        files = {digest: self._files[digest] for digest in reads if digest in self._files}
        shared = SharedInputs(str(self._vault.root), files)
        parts = tuple(task.part() for task in job.missing)
        if self._workers.share_folders:
            return maker, parts, shared, shared.vault
        return maker, parts, carried(shared, dict.fromkeys(reads)), None


def _drive(queue: JobQueue, run: "_Run", held: Assessment, ctrl_c: HeldCtrlC) -> None:
    for job in held.jobs:
        ctrl_c.look()
        if job.missing:
            queue.give(job)
        else:
            run.settle(job, GroupResult())
    queue.finish()


class _WorkingHere:
    """Whether little work is done in this process; a mark shows the next run that it killed us.

    Art that brings down the library that decodes it would bring down every later run too: after such an end
    the work goes to worker processes, which may die.
    """

    def __init__(self, folder: Path, pending: int, most: int) -> None:
        self._mark = folder / "working-in-process"
        self.wanted = 0 < pending <= most and not self._mark.exists()

    def __enter__(self) -> None:
        if self.wanted:
            write_whole(self._mark, b"", durable=False)

    def __exit__(self, *_: object) -> None:
        with contextlib.suppress(OSError):
            self._mark.unlink(missing_ok=True)


class _Run:
    """The growing result of one call of ``run``."""

    def __init__(
        self,
        vault: Vault,
        rows: BuildRows,
        known: KnownOutputs,
        number: int,
        log_folder: Path | None,
        watching: Watching,
        held: Assessment,
    ) -> None:
        self._vault = vault
        self._rows = rows
        self._known = known
        self._number = number
        self._log_folder = log_folder
        self._watching = watching
        self._total = held.to_make + held.current
        self._settled = 0
        self._counts = Counts()
        self._outputs: dict[tuple[str, str], Output] = {}
        self._failures: list[Failed] = []
        self._new_made: list[MadeRow] = []
        self._new_failed: list[FailureRow] = []
        self._used: list[tuple[str, str]] = []
        self._unmade: dict[str, Unmade] = {}
        self._open_jobs: list[Job] = []
        self._saved_s = time.monotonic()

    def settle(self, job: Job, result: GroupResult) -> None:
        """Record what the job made. Raises the ShopError that stopped the worker, if one did."""
        if result.stop is not None:
            raise result.stop
        for task, one in zip(job.missing, result.results, strict=True):
            if isinstance(one, Unmade):
                self._unmade[task.recipe.key()] = one
            else:
                self._keep(task, kept(self._vault, one) if isinstance(one, bytes) else one)
        self._open_jobs.append(job)
        self._close_ready()
        if time.monotonic() - self._saved_s > _SAVE_EVERY_S:
            self.save()

    def _close_ready(self) -> None:
        # A job stays open while it waits for an output that another job makes for both.
        ready = [job for job in self._open_jobs if all(map(self._is_settled, job.tasks))]
        for job in ready:
            self._open_jobs.remove(job)
            self._close(job)

    def _is_settled(self, task: Task) -> bool:
        return task.recipe.key() in self._unmade or self._known.output_for(task) is not None

    def _close(self, job: Job) -> None:
        asked = {id(task) for task in job.missing}
        made = failed = 0
        for task in job.tasks:
            if (unmade := self._unmade.get(task.recipe.key())) is not None:
                self._fail(task, unmade)
                failed += 1
            elif id(task) in asked:
                made += 1
            else:
                self._reuse(task)
        reused = len(job.tasks) - made - failed
        self._counts += Counts(made, reused, failed)
        self._settled += len(job.tasks)
        names = tuple((task.item, task.recipe.step) for task in job.tasks)
        outputs = {name: self._outputs[name] for name in names if name in self._outputs}
        self._tell(GroupDone(job.group, names, made, reused, failed, outputs))

    def stop_telling(self) -> None:
        self._watching = Watching()

    def _tell(self, done: GroupDone) -> None:
        if self._watching.group_done:
            self._watching.group_done(done)
        if self._watching.progress:
            self._watching.progress(self._settled, self._total)

    def _keep(self, task: Task, output: Output) -> None:
        recipe = task.recipe
        row = MadeRow(task.item, recipe.step, recipe.key(), output.digest, output.bytes, recipe.json())
        self._known.learn(row)
        self._new_made.append(row)
        self._outputs[(task.item, recipe.step)] = output

    def _reuse(self, task: Task) -> None:
        output = self._known.output_for(task)
        assert output is not None, task
        if self._known.has_row(task):
            self._used.append((task.item, task.recipe.step))
            self._outputs[(task.item, task.recipe.step)] = output
        else:
            self._keep(task, output)

    def _fail(self, task: Task, unmade: Unmade) -> None:
        recipe = task.recipe
        log = self._log(task, unmade)
        row = FailureRow(task.item, recipe.step, recipe.key(), recipe.json(), unmade.sentence, log)
        self._failures.append(Failed(task.item, recipe.step, unmade))
        self._new_failed.append(row)

    def _log(self, task: Task, unmade: Unmade) -> str:
        if self._log_folder is None or not unmade.details:
            return ""
        path = self._log_folder / f"failure-{task.recipe.key()[:16]}.log"
        text = f"{task.item}\n{unmade.sentence}\n\n{task.recipe.json()}\n\n{unmade.details}"
        with contextlib.suppress(ShopError):
            write_whole(path, text.encode("utf-8", "replace"), durable=False)
            return str(path)
        return ""

    def save(self) -> None:
        """Hand what is new to the rows. What fails to be saved is kept for the next try."""
        if self._new_made or self._new_failed:
            self._rows.save(self._number, self._new_made, self._new_failed)
            self._new_made, self._new_failed = [], []
        if self._used:
            self._rows.touch(self._number, self._used)
            self._used = []
        self._saved_s = time.monotonic()

    def outcome(self) -> Outcome:
        return Outcome(self._counts, self._outputs, tuple(self._failures))
