"""A maker, its tasks, rows in memory and full disks, for the tests of this room."""

import errno
import hashlib
import os
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from hundredfold.kernel.errors import ShopError
from hundredfold.runner.inputs import Inputs
from hundredfold.runner.recipes import Recipe
from hundredfold.runner.rows import FailureRow, FileStamp, MadeRow
from hundredfold.runner.tasks import Task, Unmade, WorkPart


def task(design: str, area: str = "front", art: str = "0", **params: object) -> Task:
    """One output of one design; ``wanted`` is what ``maker`` gets for it."""
    inputs = {"design art": hashlib.sha256(f"{design} {art}".encode()).hexdigest()}
    recipe = Recipe("print-file", (1,), {"libvips": "8.18"}, {"area": area, **params}, inputs)
    return Task(f"{design} on {area}", recipe, design, f"{design} {area} {art} {sorted(params.items())}")


def maker(parts: Sequence[WorkPart], _inputs: Inputs) -> list[bytes | Unmade]:
    """Gives each wanted text back as bytes; certain words in it make trouble."""
    made: list[bytes | Unmade] = []
    for wanted in (str(part.wanted) for part in parts):
        if "crash" in wanted:
            raise RuntimeError("the drawing\ncame apart")
        if "refuse" in wanted:
            raise ShopError("art-broken", "the file is cut short", "export it again")
        if "full" in wanted:
            raise ShopError("disk-full", "the disk is full", "free some space")
        if "kill" in wanted:
            os._exit(9)  # what the system does when memory runs out
        made.append(Unmade("too few pixels") if "small" in wanted else wanted.encode() * 3)
    return made


class MemoryRows:
    """BuildRows and StampRows without a database."""

    def __init__(self) -> None:
        self.made_rows: dict[tuple[str, str], MadeRow] = {}
        self.failed_rows: dict[tuple[str, str], FailureRow] = {}
        self.stamp_rows: dict[str, FileStamp] = {}
        self.saves = 0

    def made(self) -> Iterable[MadeRow]:
        return [replace(row, recipe="") for row in self.made_rows.values()]

    def made_for(self, item: str) -> Sequence[MadeRow]:
        return [row for key, row in sorted(self.made_rows.items()) if key[0] == item]

    def made_as(self, output: str) -> Sequence[MadeRow]:
        return [row for _, row in sorted(self.made_rows.items()) if row.output == output]

    def save(self, run: int, made: Sequence[MadeRow], failed: Sequence[FailureRow]) -> None:
        self.saves += 1
        for row in made:
            old = self.made_rows.get((row.item, row.step))
            before = old.recipe if old else ""
            self.made_rows[(row.item, row.step)] = replace(row, run=run, made_in=run, before=before)
            self.failed_rows.pop((row.item, row.step), None)
        for failure in failed:
            self.failed_rows[(failure.item, failure.step)] = replace(failure, run=run)

    def touch(self, run: int, used: Sequence[tuple[str, str]]) -> None:
        for key in used:
            self.made_rows[key] = replace(self.made_rows[key], run=run)

    def failures(self) -> Sequence[FailureRow]:
        return [row for _, row in sorted(self.failed_rows.items())]

    def mean_bytes(self) -> Mapping[str, float]:
        rows = self.made_rows.values()
        return {"print-file": sum(row.bytes for row in rows) / len(rows)} if rows else {}

    def last_used(self) -> Mapping[str, int]:
        used: dict[str, int] = {}
        for row in self.made_rows.values():
            used[row.output] = max(row.run, used.get(row.output, 0))
        return used

    def drop_unused(self, keep_runs: int) -> int:
        oldest_run = max((row.run for row in self.made_rows.values()), default=0) - keep_runs + 1
        old = [key for key, row in self.made_rows.items() if row.run < oldest_run]
        for key in old:
            del self.made_rows[key]
        return len(old)

    def stamps(self) -> Iterable[FileStamp]:
        return list(self.stamp_rows.values())

    def save_stamps(self, changed: Sequence[FileStamp]) -> None:
        self.saves += 1
        for stamp in changed:
            self.stamp_rows[stamp.path] = stamp


class _Filling:
    """A binary file on a disk that takes so many more bytes and no more."""

    def __init__(self, file: Any, room: list[int]) -> None:
        self._file = file
        self._room = room

    def __getattr__(self, name: str) -> Any:
        return getattr(self._file, name)

    def __enter__(self) -> "_Filling":
        return self

    def __exit__(self, *_: object) -> None:
        self._file.close()

    def write(self, data: bytes) -> int:
        taken = self._file.write(data[: self._room[0]])
        self._room[0] -= taken
        if taken < len(data):
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        return int(taken)


def full_disk(monkeypatch: pytest.MonkeyPatch, after_bytes: int) -> None:
    """From now on all new files together take ``after_bytes`` and then the disk is full."""
    really_open = Path.open
    room = [after_bytes]

    def opened(path: Path, mode: str = "r", *args: Any, **kwargs: Any) -> Any:
        file = really_open(path, mode, *args, **kwargs)
        return _Filling(file, room) if "x" in mode or "w" in mode else file

    monkeypatch.setattr(Path, "open", opened)
