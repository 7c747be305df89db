"""Fit the three sets of trees on the labelled designs whose fonts are not held out.

``python -m tools.reading.fit`` measures the designs again, fits, and writes the package's files of trees.
"""

import argparse
import pickle
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from hundredfold.proofing.reading.names import (
    DESIGN_NAMES,
    DESIGN_RISING,
    LINE_NAMES,
    LINE_RISING,
    TEXT_NAMES,
)
from hundredfold.proofing.reading.trees import Trees
from tools.reading.boosting import fitted, written
from tools.reading.dataset import (
    FOUND,
    SEEDS,
    STRANGE,
    Label,
    Pair,
    Rows,
    held_out,
    in_pool,
    label_file,
    labels_in,
    pairs_of_labels,
    rows_of,
    verdict,
)
from tools.reading.judge import design_row
from tools.reading.pictures import pictures_without_text

TEXT_DESIGNS = {20261: 620, 20262: 200}  # first designs of a seed that the text trees are fitted on
FOLDS = 5
Doubles = NDArray[np.float64]


def fit_text(designs: list[Rows], pictures: list[Doubles]) -> Trees:
    """Is a row letters? Rows that are lines of text, against strange rows and rows in pictures."""
    measures, truth = [], []
    for one in designs:
        clear = (one.shared > FOUND) | (one.shared < STRANGE)
        measures.append(one.text[clear])
        truth.append(one.shared[clear] > FOUND)
    measures += pictures
    truth += [np.zeros(len(rows), bool) for rows in pictures]
    return fitted(TEXT_NAMES, np.concatenate(measures), np.concatenate(truth), (), 4, 90, 0.12)


def with_between(measures: list[Doubles], shares: list[float]) -> tuple[Doubles, NDArray[np.bool_], Doubles]:
    """Measures, truth and weights; what is read in part counts half as read and half as not."""
    said = np.array([verdict(share) for share in shares])
    table, between = np.array(measures), said < 0
    whole = np.concatenate([table[~between], table[between], table[between]])
    half = np.full(int(between.sum()), 0.5)
    truth = np.concatenate([said[~between] == 1, half > 0, half < 0])
    return whole, truth, np.concatenate([np.ones(int((~between).sum())), half, half])


def fit_lines(pairs: list[Pair]) -> Trees:
    """Is a line of text read?"""
    measures, shares = [], []
    for pair in pairs:
        scores = [float(value) for value in pair.label["lines"].split()]
        for place, line in enumerate(pair.line):
            if line >= 0:
                measures.append(pair.measures[place])
                shares.append(scores[line])
    table, truth, weight = with_between(measures, shares)
    return fitted(LINE_NAMES, table, truth, LINE_RISING, 4, 200, 0.06, weight)


def fit_designs(pairs: list[Pair]) -> Trees:
    """Is the design read? The lines' chances come from trees that have not seen the design."""
    measures, shares = [], []
    for fold in range(FOLDS):
        line_trees = fit_lines([pair for pair in pairs if int(pair.label["design"]) % FOLDS != fold])
        for pair in pairs:
            if int(pair.label["design"]) % FOLDS == fold:
                measures.append(design_row(pair, line_trees))
                shares.append(pair.share)
    table, truth, weight = with_between(measures, shares)
    return fitted(DESIGN_NAMES, table, truth, DESIGN_RISING, 3, 120, 0.06, weight)


def text_stage(labels: dict[int, list[Label]]) -> None:
    """Fit and write the text trees: the lines of text that the rest is fitted on depend on them."""
    jobs: list[tuple[object, ...]] = [
        (seed, number)
        for seed, rows in labels.items()
        for number in dict.fromkeys(int(row["design"]) for row in rows if not held_out(row))
        if number < TEXT_DESIGNS[seed]
    ]
    designs = [rows for rows in in_pool(rows_of, jobs) if rows is not None]
    trees = fit_text(designs, pictures_without_text(fitting=True))
    written(trees, "text")


def measured(labels: dict[int, list[Label]], cache: Path | None) -> list[Pair]:
    """Pairs of all seeds, from a cache file when there is one (only this tool's own: it is a pickle)."""
    if cache is not None and cache.exists():
        return list(pickle.loads(cache.read_bytes()))
    pairs = [pair for seed, rows in labels.items() for pair in pairs_of_labels(seed, rows)]
    if cache is not None:
        cache.parent.mkdir(parents=True, exist_ok=True)
        cache.write_bytes(pickle.dumps(pairs))
    return pairs


def main() -> None:
    """Fit and write."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--cache", type=Path)
    ask.add_argument("--keep-text", action="store_true", help="do not fit the text trees again")
    args = ask.parse_args()
    labels = {seed: labels_in(label_file(seed)) for seed in SEEDS if label_file(seed).exists()}
    if not args.keep_text:
        text_stage(labels)
    pairs = [pair for pair in measured(labels, args.cache) if not held_out(pair.label)]
    written(fit_lines(pairs), "line")
    written(fit_designs(pairs), "design")
    print(f"fitted on {len(pairs)} pairs of {len({pair.label['design'] for pair in pairs})} designs")


if __name__ == "__main__":
    main()
