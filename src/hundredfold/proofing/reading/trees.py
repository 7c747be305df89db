"""Boosted decision trees as plain arrays: full binary trees of one depth, summed and squashed."""

import base64
import zlib
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Doubles = NDArray[np.float64]


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

    def log_odds(self, measures: Doubles) -> Doubles:
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


def packed(trees: Trees) -> str:
    """The arrays as text: little-endian, deflated, base 85."""
    parts = (
        trees.feature.astype("<i2").tobytes(),
        trees.threshold.astype("<f4").tobytes(),
        trees.leaf.astype("<f4").tobytes(),
    )
    return base64.b85encode(zlib.compress(b"".join(parts), 9)).decode("ascii")


def unpacked(names: tuple[str, ...], count: int, depth: int, start: float, text: str) -> Trees:
    """The inverse of ``packed``. Raises ValueError when the text holds another number."""
    data = zlib.decompress(base64.b85decode(text))
    inner, outer = count * (2**depth - 1), count * 2**depth
    if len(data) != inner * 6 + outer * 4:
        raise ValueError(f"{len(data)} bytes do not hold {count} trees of depth {depth}")
    feature = np.frombuffer(data, "<i2", inner).reshape(count, -1)
    threshold = np.frombuffer(data, "<f4", inner, inner * 2).reshape(count, -1)
    leaf = np.frombuffer(data, "<f4", outer, inner * 6).reshape(count, -1)
    return Trees(
        names, feature.astype(np.int16), threshold.astype(np.float32), leaf.astype(np.float32), start
    )
