"""The two sets the predictor is judged on, and what is counted on each."""

import pickle
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from hundredfold.proofing.reading.names import DESIGN_NAMES
from tools.reading.dataset import (
    SEEDS,
    Label,
    Pair,
    best,
    held_out,
    label_file,
    labels_in,
    pairs_of_labels,
    usable,
    verdict,
)
from tools.reading.designs import OUTLINED
from tools.reading.judge import chances, design_table

SPLIT = SEEDS[0]
# Drawn when the model was frozen: the first six hexadecimal digits of the commit that froze it, b760153.
FRESH = 0xB76015
Doubles = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Judged:
    """Pairs that no tree was fitted on, with the chance the shipped predictor gives."""

    title: str
    seed: int
    labels: list[Label]  # all of the set's labels, dropped designs included
    pairs: list[Pair]
    table: Doubles  # pairs x DESIGN_NAMES
    chance: Doubles

    @property
    def share(self) -> Doubles:
        """The better engine's share of letters, pair by pair."""
        return np.array([pair.share for pair in self.pairs])

    @property
    def read(self) -> Flags:
        """Read by either engine."""
        return np.array([verdict(pair.share) == 1 for pair in self.pairs])

    @property
    def clear(self) -> Flags:
        """Read, or failed badly by both: not in between."""
        return np.array([verdict(pair.share) >= 0 for pair in self.pairs])

    @property
    def outlined(self) -> Flags:
        """Art with an outline or a double outline."""
        return np.array([pair.label["style"] in OUTLINED for pair in self.pairs])

    def column(self, name: str) -> Doubles:
        """One measure of every pair."""
        return np.asarray(self.table[:, DESIGN_NAMES.index(name)])

    def texts(self, field: str) -> NDArray[np.str_]:
        """One field of every pair's label."""
        return np.array([pair.label[field] for pair in self.pairs])


def judged(title: str, seed: int, only_held_out: bool, cache: Path | None) -> Judged:
    """Measure a seed's pairs (or take them from this tool's own cache) and let the predictor judge them."""
    labels = [label for label in labels_in(label_file(seed)) if held_out(label) or not only_held_out]
    kept = cache / f"pairs-{seed}.pkl" if cache is not None else None
    if kept is not None and kept.exists():
        pairs = list(pickle.loads(kept.read_bytes()))
    else:
        pairs = pairs_of_labels(seed, labels)
        if kept is not None:
            kept.parent.mkdir(parents=True, exist_ok=True)
            kept.write_bytes(pickle.dumps(pairs))
    pairs = [pair for pair in pairs if held_out(pair.label) or not only_held_out]
    table = design_table(pairs)
    return Judged(title, seed, labels, pairs, table, chances(table))


def both(cache: Path | None) -> tuple[Judged, Judged]:
    """Held-out fonts of the seed that was fitted on, and the fresh seed."""
    return (
        judged("held-out fonts", SPLIT, True, cache),
        judged("fresh seed", FRESH, False, cache),
    )


@dataclass(frozen=True)
class Noise:
    """The same thumbnails moved by one pixel, with other grain, and read again."""

    pairs: int
    agree: float  # both times read, or both times not
    flipped: float  # of the clear pairs, read once and failed badly the other time


def noise(labels: list[Label]) -> Noise:
    """How far the truth agrees with itself."""
    twice = [
        (verdict(best(label)), verdict(best(label, moved=True)))
        for label in labels
        if label["shifted_tesseract"] and usable(label)
    ]
    first, again = np.array(twice).T
    clear = first >= 0
    flipped = clear & (again >= 0) & (first != again)
    return Noise(len(twice), float(((first == 1) == (again == 1)).mean()), float(flipped.sum() / clear.sum()))
