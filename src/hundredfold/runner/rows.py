"""What the build keeps between runs, and the interface of whoever keeps it.

Only the process that runs the build reads and writes these rows; workers never do.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol


@dataclass(frozen=True, slots=True)
class MadeRow:
    """The newest output of one step for one item.

    ``run`` is the run that used it last and ``made_in`` the one that made it, 0 before saving; ``before`` is
    the recipe that it took the place of, empty where there was none.
    """

    item: str
    step: str
    key: str
    output: str
    bytes: int
    recipe: str = ""
    run: int = 0
    made_in: int = 0
    before: str = ""


@dataclass(frozen=True, slots=True)
class FailureRow:
    """An item that could not be made: the sentence for the seller, and the log with the rest."""

    item: str
    step: str
    key: str
    recipe: str
    sentence: str
    log: str = ""
    run: int = 0


@dataclass(frozen=True, slots=True)
class FileStamp:
    """What was known of a file when it was hashed. Times in nanoseconds since 1970, UTC."""

    path: str
    size: int
    mtime_ns: int
    inode: int
    digest: str
    hashed_ns: int


class BuildRows(Protocol):
    """Where outputs and failures are remembered."""

    def made(self) -> Iterable[MadeRow]:
        """All newest outputs, without their recipe texts."""

    def made_for(self, item: str) -> Sequence[MadeRow]:
        """The outputs of one item, one a step, with their recipe texts."""

    def made_as(self, output: str) -> Sequence[MadeRow]:
        """The rows whose output has this digest, with their recipe texts."""

    def save(self, run: int, made: Sequence[MadeRow], failed: Sequence[FailureRow]) -> None:
        """Keep new outputs (each clears the failure of its item and step) and new failures, all or none."""

    def touch(self, run: int, used: Sequence[tuple[str, str]]) -> None:
        """Note that this run used these (item, step) rows."""

    def failures(self) -> Sequence[FailureRow]:
        """What could not be made and has not been made since."""

    def mean_bytes(self) -> Mapping[str, float]:
        """The mean size of an output, by step."""

    def last_used(self) -> Mapping[str, int]:
        """The run that used each output last, by the digest of the output."""

    def drop_unused(self, keep_runs: int) -> int:
        """Forget outputs and failures that none of the last completed runs of their step used.

        Gives the number of outputs.
        """


class StampRows(Protocol):
    """Where the digests of files are remembered."""

    def stamps(self) -> Iterable[FileStamp]:
        """All of them."""

    def save_stamps(self, changed: Sequence[FileStamp]) -> None:
        """Keep the changed ones, all or none."""
