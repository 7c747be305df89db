"""What the disk refuses, said as one sentence and one piece of advice."""

import errno
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from hundredfold.kernel.errors import ExitCode, ShopError, Where

PART_PREFIX = ".part-"  # what is written aside is called, until it takes its name
_FULL = {errno.ENOSPC, errno.EDQUOT}
_REFUSED = {errno.EACCES, errno.EPERM, errno.EROFS}


def say_bytes(count: int) -> str:
    """A size for people: ``640 bytes``, ``3.2 MB``, ``1.5 GB`` (powers of 1000)."""
    size = float(count)
    for unit in ("bytes", "kB", "MB", "GB"):
        if size < 1000:
            return f"{count} bytes" if unit == "bytes" else f"{size:.1f} {unit}"
        size /= 1000
    return f"{size:.1f} TB"


def disk_full(
    where: Path | str, needed_bytes: int | None = None, free_bytes: int | None = None, reserve_bytes: int = 0
) -> ShopError:
    """The disk (or the quota) cannot take what has to be written, or would leave less than the reserve."""
    what = "the disk is full; what was finished before is kept, nothing is half-written"
    fix = "free some space, then run the same command again: it goes on where it stopped"
    if needed_bytes is not None and free_bytes is not None:
        what = f"this needs {say_bytes(needed_bytes)} of disk, and {say_bytes(free_bytes)} are free"
        if reserve_bytes:
            what += f"; {say_bytes(reserve_bytes)} are left alone for everything else on this computer"
        short = max(needed_bytes + reserve_bytes - free_bytes, 0)
        fix = f"free {say_bytes(short)} or more, then run the same command again"
    return ShopError("disk-full", what, fix, Where(file=str(where)), ExitCode.PROBLEMS)


def cannot_write(where: Path | str, reason: str) -> ShopError:
    """The folder or the file may not be written."""
    return ShopError(
        "cannot-write",
        f"it cannot be written: {reason}",
        "check that the folder is not read-only and that it belongs to you, then run the same command again",
        Where(file=str(where)),
        ExitCode.PROBLEMS,
    )


def from_os_error(error: OSError, where: Path | str) -> ShopError:
    """The ShopError that says what an OSError of a write means."""
    if error.errno in _FULL:
        return disk_full(where)
    if error.errno in _REFUSED:
        return cannot_write(where, "permission refused")
    return cannot_write(where, error.strerror or str(error))


@contextmanager
def writing_to(where: Path | str) -> Iterator[None]:
    """Inside this block an OSError of writing ``where`` becomes a ShopError that names it."""
    try:
        yield
    except OSError as error:
        if not _is_about(error, Path(where)):
            raise
        raise from_os_error(error, where) from error


def _is_about(error: OSError, where: Path) -> bool:
    # A failed write names no file; else it is this place, a part written aside, or a folder on the way.
    if error.filename is None:
        return True
    named = Path(os.fsdecode(error.filename))
    on_the_way = named in where.parents or where in named.parents
    return named == where or on_the_way or named.name.startswith(PART_PREFIX)
