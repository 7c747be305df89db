"""Figures of the predictor against the OCR truth: ROC area, recall at a precision, calibration, confusion."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hundredfold.proofing.reading.predict import design_measures
from hundredfold.proofing.reading.trees import Trees, chance
from hundredfold.workshop.steps.readingtrees import reading_trees
from tools.reading.dataset import Pair

Doubles = NDArray[np.float64]
Flags = NDArray[np.bool_]


def design_row(pair: Pair, line_trees: Trees) -> Doubles:
    """DESIGN_NAMES of one pair."""
    read = chance(line_trees.log_odds(pair.measures))
    return design_measures(pair.measures, read, pair.text)


def design_table(pairs: list[Pair]) -> Doubles:
    """DESIGN_NAMES of every pair, through the shipped trees."""
    return np.array([design_row(pair, reading_trees().line) for pair in pairs])


def chances(table: Doubles) -> Doubles:
    """The shipped predictor's chance for each row of a design table."""
    return chance(reading_trees().design.log_odds(table))


def roc_area(score: Doubles, truth: Flags) -> float:
    """Chance that a random read pair scores above a random unread one, ties counting half (Mann-Whitney)."""
    order = np.argsort(score, kind="stable")
    ranks = np.empty(len(score))
    ranks[order] = np.arange(1, len(score) + 1)
    for value in np.unique(score):
        same = score == value
        ranks[same] = ranks[same].mean()
    read, unread = int(truth.sum()), int((~truth).sum())
    return (
        float((ranks[truth].sum() - read * (read + 1) / 2) / (read * unread))
        if read and unread
        else float("nan")
    )


def recall_at(score: Doubles, truth: Flags, precision: float) -> tuple[float, float]:
    """For "will not be read" (a low score): the best recall at a precision, and the score it is had under."""
    order = np.argsort(score, kind="stable")
    right = np.cumsum(~truth[order])
    flagged = np.arange(1, len(score) + 1)
    ends = np.flatnonzero(np.append(np.diff(score[order]) > 0, True))
    good = [end for end in ends if right[end] / flagged[end] >= precision]
    if not good:
        return 0.0, 0.0
    best = max(good, key=lambda end: (right[end], -end))
    return float(right[best] / right[-1]), float(score[order][best])


@dataclass(frozen=True)
class Bin:
    """Pairs whose chance fell in one tenth: the mean chance and the share that was read."""

    count: int
    chance: float
    read: float


def reliability(score: Doubles, truth: Doubles, bins: int = 10) -> list[Bin]:
    """Chance against share read; ``truth`` may be 0.5 for pairs in between."""
    place = np.minimum((score * bins).astype(int), bins - 1)
    return [
        Bin(int((place == n).sum()), float(score[place == n].mean()), float(truth[place == n].mean()))
        for n in range(bins)
        if (place == n).any()
    ]


def bootstrap(
    score: Doubles, truth: Flags, design: NDArray[np.int64], rounds: int = 400
) -> tuple[float, float]:
    """95 % interval of the ROC area, drawing designs again (seeded)."""
    rng = np.random.default_rng(1)
    names = np.unique(design)
    members = {name: np.flatnonzero(design == name) for name in names}
    areas = []
    for _ in range(rounds):
        chosen = np.concatenate([members[name] for name in rng.choice(names, len(names))])
        areas.append(roc_area(score[chosen], truth[chosen]))
    return float(np.nanquantile(areas, 0.025)), float(np.nanquantile(areas, 0.975))
