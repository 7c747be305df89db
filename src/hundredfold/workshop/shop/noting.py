"""How far a run is, noted in the shop's record for whoever looks meanwhile; seldom: each note is a write."""

import contextlib
import time
from collections.abc import Callable

from hundredfold.kernel.errors import ShopError
from hundredfold.workshop.shop.bench import Bench

EVERY_S = 2.0  # our choice: a person looks no more often


class Noting:
    """Passes stages and progress on, and notes them. A note that fails stops no work."""

    def __init__(
        self,
        bench: Bench,
        stage: Callable[[str], None],
        progress: Callable[[int, int], None],
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._bench, self._stage, self._progress, self._clock = bench, stage, progress, clock
        self._words = ""
        self._noted_s = clock()

    def stage(self, words: str) -> None:
        """A new stage began."""
        self._words = words
        self._note(0, 0)
        self._stage(words)

    def progress(self, done: int, of_all: int) -> None:
        """So many things of the stage are settled."""
        if self._clock() - self._noted_s >= EVERY_S:
            self._note(done, of_all)
        self._progress(done, of_all)

    def _note(self, done: int, of_all: int) -> None:
        self._noted_s = self._clock()
        with contextlib.suppress(ShopError):
            self._bench.store.runs.note(self._bench.run_number, self._words, done, of_all)
