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
    if not sys.platform.startswith("linux"):
        return
    try:
        mallopt = ctypes.CDLL(None).mallopt
    except (OSError, AttributeError):
        return
    mallopt(_MMAP_MAX, 0)
    mallopt(_TRIM_THRESHOLD, _KEPT_BYTES)


def give_back_memory() -> None:
    """Hand freed memory back after all: the next work asks for blocks of other sizes. glibc only."""
    if sys.platform.startswith("linux"):
        try:
            ctypes.CDLL(None).malloc_trim(0)
        except (OSError, AttributeError):
            return
