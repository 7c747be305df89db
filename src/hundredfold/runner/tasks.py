"""What the runner is asked for, and what it answers."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from hundredfold.kernel.counting import counted
from hundredfold.runner.recipes import Recipe

Wanted = TypeVar("Wanted")


@dataclass(frozen=True)
class WorkPart:
    """What a worker gets of one task: no path, no clock, nothing of this computer.

    ``inputs`` maps the recipe's input names to digests; ``wanted`` is the task's.
    """

    step: str
    item: str
    inputs: Mapping[str, str]
    wanted: object = None

    def wanted_as(self, kind: type[Wanted]) -> Wanted:
        """``wanted``, which its step always gives as this kind. Raises TypeError otherwise."""
        if not isinstance(self.wanted, kind):
            raise TypeError(f"{self.step} of {self.item} wants {self.wanted!r}")
        return self.wanted


@dataclass(frozen=True)
class Task:
    """One output. Tasks of one group that follow each other are made together, by one call of the maker.

    ``item`` is what a person asks about (``proud-beekeeper on MUG-325, navy``); item and step together are
    unique. ``wanted`` says, in a picklable record, what the maker has to know beyond the recipe; ``reads``
    are the digests of the inputs whose content it asks for.
    """

    item: str
    recipe: Recipe
    group: str
    wanted: object = None
    reads: tuple[str, ...] = ()

    def part(self) -> WorkPart:
        """What travels to a worker."""
        return WorkPart(self.recipe.step, self.item, dict(self.recipe.inputs), self.wanted)


@dataclass(frozen=True)
class Output:
    """What lies in the vault for a task."""

    digest: str
    bytes: int


@dataclass(frozen=True)
class Unmade:
    """What a maker gives in the place of bytes for an output that cannot be made, when others can.

    ``sentence`` says it all in one line; ``what`` happened and how to ``fix`` it stand apart where known.
    """

    sentence: str
    details: str = ""
    what: str = ""
    fix: str = ""


@dataclass(frozen=True)
class Failed:
    """An output of this run that could not be made, and why."""

    item: str
    step: str
    why: Unmade


@dataclass(frozen=True)
class GroupDone:
    """A group whose tasks are all settled: made, reused or failed. ``outputs`` lacks what failed."""

    group: str
    names: tuple[tuple[str, str], ...]  # (item, step) of every task
    made: int
    reused: int
    failed: int
    outputs: Mapping[tuple[str, str], Output] = field(default_factory=dict)  # by (item, step)


@dataclass(frozen=True)
class Counts:
    """The sums of a run."""

    made: int = 0
    reused: int = 0
    failed: int = 0
    read: int = 0
    rehashed: int = 0

    def __add__(self, other: "Counts") -> "Counts":
        return Counts(
            self.made + other.made,
            self.reused + other.reused,
            self.failed + other.failed,
            self.read + other.read,
            self.rehashed + other.rehashed,
        )

    def line(self) -> str:
        """The one line that every run ends with."""
        line = f"made {self.made}, reused {self.reused}, failed {self.failed}"
        if self.read or self.rehashed:
            line += f", read {counted(self.read, 'file')}, rehashed {self.rehashed}"
        return line


@dataclass(frozen=True)
class Outcome:
    """All that a run gives back. ``outputs`` lacks exactly the tasks named in ``failures``."""

    counts: Counts
    outputs: Mapping[tuple[str, str], Output] = field(default_factory=dict)
    failures: tuple[Failed, ...] = ()

    def __add__(self, other: "Outcome") -> "Outcome":
        return Outcome(
            self.counts + other.counts, {**self.outputs, **other.outputs}, self.failures + other.failures
        )

    def output(self, item: str, step: str) -> Output | None:
        """The output of one step for one item, or None where it failed."""
        return self.outputs.get((item, step))
