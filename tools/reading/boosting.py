"""Fit boosted trees with scikit-learn and turn them into plain arrays and the package's files."""

from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from sklearn.ensemble import HistGradientBoostingClassifier

from hundredfold.proofing.reading.trees import Trees, as_file

FILES = Path(__file__).parents[2] / "src" / "hundredfold" / "readingtrees"
Doubles = NDArray[np.float64]
Flags = NDArray[np.bool_]


def fitted(
    names: tuple[str, ...],
    measures: Doubles,
    truth: Flags,
    rising: tuple[str, ...],
    depth: int,
    count: int,
    rate: float,
    weight: Doubles | None = None,
) -> Trees:
    """Trees whose chance never falls when a ``rising`` measure grows."""
    model = HistGradientBoostingClassifier(
        max_depth=depth, max_leaf_nodes=2**depth, max_iter=count, learning_rate=rate, min_samples_leaf=30,
        l2_regularization=1.0, early_stopping=False, random_state=0,
        monotonic_cst=[int(name in rising) for name in names],
    )  # fmt: skip
    # The model is asked in single precision at run time, so it is fitted on what that keeps.
    model.fit(measures.astype(np.float32), truth, sample_weight=weight)
    feature = np.zeros((count, 2**depth - 1), np.int16)
    threshold = np.full((count, 2**depth - 1), np.inf, np.float32)
    leaf = np.zeros((count, 2**depth), np.float32)
    for tree, (predictor,) in enumerate(model._predictors):
        fill(predictor.nodes, 0, 0, depth, feature[tree], threshold[tree], leaf[tree])
    start = float(np.ravel(model._baseline_prediction)[0])
    return Trees(names, feature, threshold, leaf, start)


def fill(
    nodes: NDArray[np.void],
    node: int,
    place: int,
    left: int,
    feature: NDArray[np.int16],
    threshold: NDArray[np.float32],
    leaf: NDArray[np.float32],
) -> None:
    """Copy a grown tree into a full one; an early leaf fills all leaves below it."""
    here = nodes[node]
    if here["is_leaf"]:
        first = place
        for _ in range(left):
            first = 2 * first + 1
        first -= len(feature)
        leaf[first : first + 2**left] = here["value"]
        return
    feature[place] = here["feature_idx"]
    # Rounded down to single precision a threshold could swap sides with a measure equal to it.
    threshold[place] = here["num_threshold"]
    fill(nodes, here["left"], 2 * place + 1, left - 1, feature, threshold, leaf)
    fill(nodes, here["right"], 2 * place + 2, left - 1, feature, threshold, leaf)


def written(trees: Trees, name: str) -> None:
    """Write one set of the package's trees."""
    (FILES / f"{name}.npz").write_bytes(as_file(trees))
