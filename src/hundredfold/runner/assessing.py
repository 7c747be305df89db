"""Deciding, before any work, what is current and what has to be made."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby

from hundredfold.kernel.errors import ShopError
from hundredfold.runner.cache import Vault
from hundredfold.runner.rows import MadeRow
from hundredfold.runner.space import needed_space
from hundredfold.runner.tasks import Output, Task


@dataclass(frozen=True)
class Job:
    """The tasks of one group, and those among them that it has to make: one for each key in all the run."""

    group: str
    tasks: tuple[Task, ...]
    missing: tuple[Task, ...]


@dataclass(frozen=True)
class Assessment:
    """All jobs in their order, with the sums that are worth saying before the work."""

    jobs: tuple[Job, ...]
    to_make: int
    current: int

    def needed_bytes(self, mean_bytes: Mapping[str, float], unknown_bytes: int) -> int:
        """Disk that the missing outputs will take; see ``space.needed_space``."""
        steps = (task.recipe.step for job in self.jobs for task in job.missing)
        return needed_space(steps, mean_bytes, unknown_bytes)


class KnownOutputs:
    """The outputs that earlier runs left, by item and by key, and whether the vault still has them sound."""

    def __init__(self, vault: Vault, rows: Iterable[MadeRow]) -> None:
        self._vault = vault
        self._rows = {(row.item, row.step): row for row in rows}
        self._by_key = {row.key: row for row in self._rows.values()}
        self._sound: dict[str, Output] = {}

    def output_for(self, task: Task) -> Output | None:
        """The output of the task's recipe, whoever it was made for; None where it has to be made."""
        key = task.recipe.key()
        found = self._sound.get(key)
        if found is None and (row := self._by_key.get(key)) is not None:
            if self._vault.holds(row.output, row.bytes):
                found = self._sound[key] = Output(row.output, row.bytes)
            else:
                del self._by_key[key]
        return found

    def has_row(self, task: Task) -> bool:
        """Whether this very item and step is recorded with this key."""
        row = self._rows.get((task.item, task.recipe.step))
        return row is not None and row.key == task.recipe.key()

    def learn(self, row: MadeRow) -> None:
        """Take in an output that was just made."""
        self._rows[(row.item, row.step)] = row
        self._by_key[row.key] = row
        self._sound[row.key] = Output(row.output, row.bytes)

    def recheck(self) -> None:
        """Look at the vault again at the next question; something may have been taken away since."""
        self._sound.clear()

    def job(self, group: str, tasks: tuple[Task, ...], claimed: set[str]) -> Job:
        """The group with what it has to make; a key that an earlier group claimed is left to that group."""
        missing: list[Task] = []
        for task in tasks:
            key = task.recipe.key()
            if key not in claimed and self.output_for(task) is None:
                claimed.add(key)
                missing.append(task)
        return Job(group, tasks, tuple(missing))


def assess(known: KnownOutputs, tasks: Iterable[Task]) -> Assessment:
    """Sort tasks into current and missing, in their order.

    Raises ShopError ``two-outputs-one-name`` where two tasks share item and step but not the recipe.
    """
    known.recheck()
    claimed: set[str] = set()
    jobs = tuple(known.job(group, members, claimed) for group, members in _groups(tasks))
    to_make = sum(len(job.missing) for job in jobs)
    return Assessment(jobs, to_make, sum(len(job.tasks) for job in jobs) - to_make)


def _groups(tasks: Iterable[Task]) -> Iterator[tuple[str, tuple[Task, ...]]]:
    keys: dict[tuple[str, str], str] = {}
    for group, members in groupby(tasks, key=lambda task: task.group):
        held = tuple(members)
        for task in held:
            key = task.recipe.key()
            if keys.setdefault((task.item, task.recipe.step), key) != key:
                raise _two_outputs(task)
        yield group, held


def _two_outputs(task: Task) -> ShopError:
    return ShopError(
        "two-outputs-one-name",
        f"{task.item} is asked for twice, with two different ways to make its {task.recipe.step}",
        "check that no two blanks, colours or designs share one code",
    )
