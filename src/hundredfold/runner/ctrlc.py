"""Ctrl-C that is obeyed only where stopping is safe.

KeyboardInterrupt comes between any two instructions: between two of the locks that ``futures.wait`` takes,
which then nobody gives back and the run hangs, or between the hand-over of a job and the note of it. While
Ctrl-C is held, a press is counted, and raised where the holder looks.
"""

import contextlib
import ctypes
import signal
import sys
import threading
from collections.abc import Collection, Iterator
from concurrent.futures import ALL_COMPLETED, FIRST_COMPLETED, Future, wait
from types import FrameType
from typing import Any, Self

_LOOK_EVERY_S = 0.1
_PATIENCE = 2  # presses; the next one ends us wherever we are, so that nothing can hold a person for ever


class HeldCtrlC:
    """Holds Ctrl-C back within a ``with`` block of the main thread; in other threads it never arrives.

    Every press comes out once, at ``look``, in ``wait_for``, or at the end of the block, unless an error ends
    that. A handler that somebody else has set is left alone.
    """

    def __init__(self) -> None:
        self._heard = 0
        self._raised = 0
        self._holding = False

    def __enter__(self) -> Self:
        ours = threading.current_thread() is threading.main_thread()
        if ours and signal.getsignal(signal.SIGINT) is signal.default_int_handler:
            signal.signal(signal.SIGINT, self._press)
            self._holding = True
        return self

    def __exit__(self, kind: type[BaseException] | None, *_: object) -> None:
        if self._holding:
            signal.signal(signal.SIGINT, signal.default_int_handler)
        if kind is None:
            self.look()

    def _press(self, number: int, frame: FrameType | None) -> None:
        self._heard += 1
        if self._heard == _PATIENCE:
            signal.signal(signal.SIGINT, signal.default_int_handler)

    def look(self) -> None:
        """Raise KeyboardInterrupt for a press that has not been raised yet."""
        if self._raised < self._heard:
            self._raised += 1
            raise KeyboardInterrupt

    def wait_for(self, futures: Collection[Future[Any]], first: bool = False) -> set[Future[Any]]:
        """Those finished, once all are, or the ``first``. Raises KeyboardInterrupt, all locks given back."""
        until = FIRST_COMPLETED if first else ALL_COMPLETED
        while True:
            self.look()
            finished, running = wait(futures, _LOOK_EVERY_S, until)
            if not running or (first and finished):
                return finished


@contextlib.contextmanager
def kept_from_children() -> Iterator[None]:
    """Processes started in this block do not hear Ctrl-C, long before they can say that they ignore it.

    We hear it after the block; on Windows, which has no mask, a press within it is lost.
    """
    if sys.platform == "win32":
        ignoring = ctypes.windll.kernel32.SetConsoleCtrlHandler  # handed on to children, as masks are
        ignoring(None, True)
        try:
            yield
        finally:
            ignoring(None, False)
    else:
        before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
        try:
            yield
        finally:
            signal.pthread_sigmask(signal.SIG_SETMASK, before)


def ignore() -> None:
    """This process leaves Ctrl-C to its parent."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if sys.platform != "win32":
        signal.pthread_sigmask(signal.SIG_UNBLOCK, {signal.SIGINT})
