"""The operating system's own lock beside a file: it keeps processes and threads apart.

It goes with its holder, however that ends. Where the file system knows no locks (some network folders) it is
always free, and the row in the database has to do.
"""

import contextlib
import errno
import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

_TURN_S = 0.05  # between two tries of one who waits
_TAKEN = {errno.EACCES, errno.EAGAIN, errno.EWOULDBLOCK, errno.EDEADLK}


@contextmanager
def locked_beside(file: Path, wait_s: float = 0.0) -> Iterator[bool]:
    """Hold the lock beside ``file``, waiting for it up to ``wait_s``; gives False where somebody holds it.

    Every taking opens the lock's file anew, so that two threads of one process keep each other out as well
    (flock(2): locks belong to an open file description).
    """
    with contextlib.suppress(OSError):  # a folder that cannot be made is told by whoever writes into it
        file.parent.mkdir(parents=True, exist_ok=True)
    try:
        handle = os.open(file.with_name(f"{file.name}.lock"), os.O_RDWR | os.O_CREAT, 0o666)
    except OSError:
        yield True  # a read-only folder: writing the record fails by itself
        return
    try:
        yield _take(handle, time.monotonic() + wait_s)
    finally:
        os.close(handle)  # which lets go of the lock


def _take(handle: int, until: float) -> bool:
    while True:
        try:
            _try(handle)
            return True
        except OSError as error:
            if error.errno not in _TAKEN:
                return True
        if time.monotonic() >= until:
            return False
        time.sleep(_TURN_S)


if sys.platform == "win32":
    import msvcrt

    def _try(handle: int) -> None:
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _try(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
