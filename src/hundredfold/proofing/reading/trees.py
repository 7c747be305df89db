"""Boosted decision trees as plain arrays: full binary trees of one depth, summed and squashed."""

import io
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

Doubles = NDArray[np.float64]
Numbers = NDArray[np.floating[Any]]  # half or single precision too, as measures are kept


@dataclass(frozen=True)
class Trees:
    """T trees of depth D over named measures. A measure at or under its threshold goes left."""

    names: tuple[str, ...]
    feature: NDArray[np.int16]  # T x (2**D - 1)
    threshold: NDArray[np.float32]  # T x (2**D - 1)
    leaf: NDArray[np.float32]  # T x 2**D, log-odds
    start: float  # log-odds before the first tree

    @property
    def depth(self) -> int:
        """Questions from root to leaf."""
        return int(self.leaf.shape[1]).bit_length() - 1

    def log_odds(self, measures: Numbers) -> Doubles:
        """Log-odds for N x len(names) measures."""
        rows = np.arange(len(measures))[:, None]
        trees = np.arange(len(self.feature))[None, :]
        node = np.zeros((len(measures), len(self.feature)), np.int64)
        for _ in range(self.depth):
            value = measures[rows, self.feature[trees, node]].astype(np.float32)
            node = 2 * node + 1 + (value > self.threshold[trees, node])
        values = self.leaf[trees, node - (2**self.depth - 1)].astype(np.float64)
        return np.asarray(values.sum(1) + self.start)


def chance(log_odds: Doubles) -> Doubles:
    """Probability of log-odds."""
    return np.asarray(1 / (1 + np.exp(-np.clip(log_odds, -30, 30))))


@dataclass(frozen=True, eq=False)
class ReadingTrees:
    """Is a row of shapes letters; is a line of text read; is a design read, given its lines."""

    text: Trees
    line: Trees
    design: Trees


def as_file(trees: Trees) -> bytes:
    """The arrays as a compressed NumPy archive."""
    file = io.BytesIO()
    np.savez_compressed(
        file, feature=trees.feature, threshold=trees.threshold, leaf=trees.leaf, start=trees.start
    )
    return file.getvalue()


def from_file(names: tuple[str, ...], data: bytes) -> Trees:
    """The inverse of ``as_file``. Raises ValueError when the trees ask for measures that have no name."""
    with np.load(io.BytesIO(data), allow_pickle=False) as arrays:
        feature = arrays["feature"].astype(np.int16)
        threshold, leaf = (arrays[name].astype(np.float32) for name in ("threshold", "leaf"))
        start = float(arrays["start"])
    if feature.max() >= len(names):
        raise ValueError(f"the trees ask for measure {feature.max()} of {len(names)}")
    return Trees(names, feature, threshold, leaf, start)
