"""Files that appear whole or not at all: written aside, made durable, then put in place in one move."""

import contextlib
import itertools
import os
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

import psutil

from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.runner.diskerrors import PART_PREFIX, writing_to

_numbers = itertools.count()
# Waits between tries while another program holds the file: about 3 s together (common practice, no source).
_WAITS_S = (0.05, 0.1, 0.2, 0.4, 0.75, 1.5)


def part_beside(path: Path) -> Path:
    """A fresh name in the same folder, so that the later move never crosses a file system."""
    return path.with_name(f"{PART_PREFIX}{os.getpid()}-{next(_numbers)}")


def replace_patiently(source: Path, target: Path, wait: Callable[[float], None] = time.sleep) -> None:
    """Move ``source`` over ``target`` in one step.

    On Windows a file that another program holds open cannot be replaced: this tries again for a few seconds.
    Raises ShopError ``file-in-use`` after that, and other OSErrors as they are.
    """
    for pause in (*_WAITS_S, None):
        try:
            os.replace(source, target)
            return
        except PermissionError as error:
            if os.name != "nt" and not _held_open(error):
                raise
            if pause is None:
                raise _in_use(target) from error
            wait(pause)


def _held_open(error: OSError) -> bool:
    # 5 access denied, 32 sharing violation, 33 lock violation: Windows' codes for an open file.
    return getattr(error, "winerror", None) in (5, 32, 33)


def _in_use(target: Path) -> ShopError:
    return ShopError(
        "file-in-use",
        "another program has it open, so it cannot be replaced",
        "close it in the other program, then run the same command again",
        Where(file=str(target)),
        ExitCode.PROBLEMS,
    )


def sync_folder(folder: Path) -> None:
    """Make a finished move in this folder survive a power cut; nothing to do on Windows."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError:
        pass  # Some network folders refuse it for a directory; the file itself has been synced.
    finally:
        os.close(handle)


@contextmanager
def writing_part(path: Path) -> Iterator[Path]:
    """A fresh name beside ``path`` to write under; gone again, with what it holds, where the block fails.

    Raises ShopError ``disk-full``, ``cannot-write``, ``file-in-use`` for what the disk says of this file;
    an OSError that the block meets with another file goes up as it is.
    """
    part = part_beside(path)
    with writing_to(path):
        path.parent.mkdir(parents=True, exist_ok=True)
        try:
            yield part
        except BaseException:
            with contextlib.suppress(OSError):
                part.unlink()
            raise


@contextmanager
def write_aside(path: Path, durable: bool = True) -> Iterator[BinaryIO]:
    """A binary file to write into; it takes its name only when the block ends well.

    Where the block fails, or the disk does, nothing is left and an earlier file of that name is untouched.
    ``durable`` waits for the disk (fsync). Raises ShopError ``disk-full``, ``cannot-write``, ``file-in-use``.
    """
    with writing_part(path) as part:
        with part.open("xb") as file:
            yield file
            file.flush()
            if durable:
                os.fsync(file.fileno())
        replace_patiently(part, path)
        if durable:
            sync_folder(path.parent)


def write_whole(path: Path, data: bytes, durable: bool = True) -> None:
    """Write ``data`` as the file ``path``, whole or not at all. Raises as ``write_aside`` does."""
    with write_aside(path, durable) as file:
        file.write(data)


def sweep_dead_parts(folder: Path, older_than_s: float = 3600) -> int:
    """Take away parts in a folder that others use too: of processes that are gone, and old enough."""
    gone = 0
    for path in folder.glob(f"{PART_PREFIX}*") if folder.is_dir() else ():
        pid = path.name.removeprefix(PART_PREFIX).partition("-")[0]
        with contextlib.suppress(OSError):
            old = time.time() - path.stat().st_mtime > older_than_s
            if path.is_file() and pid.isdigit() and old and not psutil.pid_exists(int(pid)):
                path.unlink()
                gone += 1
    return gone


def sweep_parts(folder: Path) -> int:
    """Take away what a killed run left half-written in this folder; call it under the runner lock only."""
    left = [path for path in folder.glob(f"{PART_PREFIX}*") if path.is_file()] if folder.is_dir() else []
    for path in left:
        with contextlib.suppress(OSError):
            path.chmod(0o600)
            path.unlink()
    return len(left)
