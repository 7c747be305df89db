"""Fit the three sets of trees on the labelled designs of the fonts that are not held out.

``python -m tools.reading.fit`` measures the designs again, fits, and writes the coefficient modules.
"""

import argparse
import pickle
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from tools.reading.boosting import fitted, written
from tools.reading.dataset import (
    FOUND,
    STRANGE,
    Label,
    Measured,
    best,
    held_out,
    labels_in,
    measure_all,
    usable,
    verdict,
)
from tools.reading.pictures import pictures_without_text

from hundredfold.proofing.reading import predict
from hundredfold.proofing.reading.names import DESIGN_NAMES, DESIGN_RISING, ROW_NAMES, ROW_RISING, TEXT_NAMES
from hundredfold.proofing.reading.trees import Trees, chance

HERE = Path(__file__).parent
SEED = 20261
FOLDS = 5
Doubles = NDArray[np.float64]
Pairs = list[tuple[Label, Measured, Doubles]]


def fit_text(sets: list[Measured], pictures: list[Doubles]) -> Trees:
    """Is a row letters? Rows that are lines of text, against strange rows and rows in pictures."""
    measures, truth = [], []
    for one in sets:
        clear = (one.shared > FOUND) | (one.shared < STRANGE)
        measures.append(one.text[clear])
        truth.append(one.shared[clear] > FOUND)
    measures += pictures
    truth += [np.zeros(len(rows), bool) for rows in pictures]
    return fitted(TEXT_NAMES, np.concatenate(measures), np.concatenate(truth), (), 4, 90, 0.12)


def row_table(pairs: Pairs) -> tuple[Doubles, NDArray[np.bool_]]:
    """Measures and truth of the rows that are a line of text with a clear verdict."""
    measures, truth = [], []
    for label, one, rows in pairs:
        scores = [float(value) for value in label["lines"].split()]
        for place, (line, shared) in enumerate(zip(one.lines, one.shared, strict=True)):
            said = verdict(scores[line]) if shared > FOUND else -1
            if said >= 0:
                measures.append(rows[place])
                truth.append(said == 1)
    return np.array(measures), np.array(truth)


def fit_rows(pairs: Pairs) -> Trees:
    """Is a row of letters read?"""
    measures, truth = row_table(pairs)
    return fitted(ROW_NAMES, measures, truth, ROW_RISING, 4, 160, 0.07)


def design_row(one: Measured, rows: Doubles, text: Doubles, row_trees: Trees) -> Doubles:
    """DESIGN_NAMES of one pair."""
    read = chance(row_trees.log_odds(rows))
    return predict.design_measures(rows, read, text, predict.regions(one.boxes, read, text))


def fit_designs(pairs: Pairs, text_trees: Trees) -> Trees:
    """Is the design read? The rows' chances come from trees that have not seen the design."""
    measures, truth = [], []
    for fold in range(FOLDS):
        rest = [pair for pair in pairs if pair[1].number % FOLDS != fold]
        row_trees = fit_rows(rest)
        for label, one, rows in pairs:
            said = verdict(best(label))
            if one.number % FOLDS == fold and said >= 0:
                measures.append(design_row(one, rows, chance(text_trees.log_odds(one.text)), row_trees))
                truth.append(said == 1)
    return fitted(DESIGN_NAMES, np.array(measures), np.array(truth), DESIGN_RISING, 3, 120, 0.07)


def paired(labels: list[Label], sets: dict[int, Measured | None]) -> Pairs:
    """Each usable label with its design's measures."""
    places: dict[int, int] = {}
    found = []
    for label in labels:
        number = int(label["design"])
        place = places.get(number, 0)
        places[number] = place + 1
        one = sets[number]
        if one is not None and usable(label):
            found.append((label, one, one.pairs[place]))
    return found


def load(cache: Path | None, seed: int, labels: list[Label]) -> dict[int, Measured | None]:
    """Measures, from a cache file when there is one (only this tool's own: it is a pickle)."""
    if cache is not None and cache.exists():
        return dict(pickle.loads(cache.read_bytes()))
    sets = measure_all(seed, labels)
    if cache is not None:
        cache.parent.mkdir(parents=True, exist_ok=True)
        cache.write_bytes(pickle.dumps(sets))
    return sets


def main() -> None:
    """Fit and write."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--labels", type=Path, default=HERE / f"labels-{SEED}.csv.gz")
    ask.add_argument("--seed", type=int, default=SEED)
    ask.add_argument("--cache", type=Path)
    args = ask.parse_args()
    labels = labels_in(args.labels)
    pairs = paired(labels, load(args.cache, args.seed, labels))
    ours = [pair for pair in pairs if not held_out(pair[0])]
    sets = list({one.number: one for _, one, _ in ours}.values())
    text_trees = fit_text(sets, pictures_without_text(fitting=True))
    row_trees = fit_rows(ours)
    design_trees = fit_designs(ours, text_trees)
    written(text_trees, "TEXT_TREES", "is a row of shapes letters?", "TEXT_NAMES")
    written(row_trees, "ROW_TREES", "is a row of letters read?", "ROW_NAMES")
    written(design_trees, "DESIGN_TREES", "is a design read, given its rows?", "DESIGN_NAMES")
    print(f"fitted on {len(ours)} pairs of {len(sets)} designs")


if __name__ == "__main__":
    main()
