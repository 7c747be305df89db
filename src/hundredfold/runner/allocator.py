"""How this process asks the system for memory."""

import ctypes
import functools
import sys

_TRIM_THRESHOLD, _MMAP_MAX = -1, -4  # glibc, malloc.h: M_TRIM_THRESHOLD, M_MMAP_MAX
_KEPT_BYTES = 1 << 28


@functools.cache
def keep_freed_memory() -> None:
    """Let picture-sized blocks be used again instead of going back to the system after each use.

    Pages fresh from the system are zeroed and mapped one by one: on a 3600 x 4500 print file that was a third
    of the processor time. glibc only; elsewhere nothing is done.
    """
    libc = _glibc()
    if libc is not None:
        libc.mallopt(_MMAP_MAX, 0)
        libc.mallopt(_TRIM_THRESHOLD, _KEPT_BYTES)


def give_back_memory() -> None:
    """Hand freed memory back after all: the next work asks for blocks of other sizes. glibc only."""
    libc = _glibc()
    if libc is not None:
        libc.malloc_trim(0)


@functools.cache
def _glibc() -> ctypes.CDLL | None:
    """The C library of this process where it can be told how to keep memory."""
    if not sys.platform.startswith("linux"):
        return None
    try:
        libc = ctypes.CDLL(None)
    except OSError:
        return None
    return libc if hasattr(libc, "mallopt") and hasattr(libc, "malloc_trim") else None
