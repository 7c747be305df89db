"""The figures of docs/accuracy.md, computed again from the measures and the OCR truth kept beside this file.

Neither set was fitted on: fonts held out of the seed that was, and a seed drawn after the model was frozen.
"""

from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.stats import rankdata

from hundredfold.proofing.reading.names import DESIGN_NAMES
from hundredfold.proofing.reading.trees import chance
from hundredfold.workshop.steps.readingtrees import reading_trees

KEPT = np.load(Path(__file__).with_name("reading_judged.npz"))
SETS = {"held_out_fonts": "held-out fonts", "fresh_seed": "fresh seed"}
READ, UNREAD = 0.8, 0.5  # share of the letters the better engine got right
Flags = NDArray[np.bool_]


def judged(name: str) -> tuple[NDArray[np.float64], NDArray[np.float64], Flags]:
    measures = KEPT[f"{name}_measures"].astype(np.float64)
    return (
        chance(reading_trees().design.log_odds(measures)),
        KEPT[f"{name}_share"].astype(float),
        KEPT[f"{name}_outlined"],
    )


def roc_area(score: NDArray[np.float64], truth: Flags) -> float:
    """Mann-Whitney: the chance that a read pair scores above an unread one."""
    read = int(truth.sum())
    ranks = rankdata(score)[truth].sum()
    return float((ranks - read * (read + 1) / 2) / (read * (len(truth) - read)))


@pytest.mark.parametrize("name", SETS)
def test_area_under_the_curve_against_the_ocr_truth(name: str) -> None:
    score, share, outlined = judged(name)
    clear = (share >= READ) | (share < UNREAD)
    assert clear.sum() > 2000
    assert roc_area(score[clear], share[clear] >= READ) > 0.97
    ringed = clear & outlined
    assert ringed.sum() > 500
    assert roc_area(score[ringed], share[ringed] >= READ) > 0.94


@pytest.mark.parametrize("name", SETS)
def test_unreadable_art_is_caught_nine_flags_in_ten_right(name: str) -> None:
    score, share, _ = judged(name)
    clear = (share >= READ) | (share < UNREAD)
    unread = share[clear] < UNREAD
    order = np.argsort(score[clear])
    right = np.cumsum(unread[order])
    precision = right / np.arange(1, len(order) + 1)
    assert right[np.flatnonzero(precision >= 0.9)].max() / unread.sum() > 0.88


@pytest.mark.parametrize("name", SETS)
def test_chances_mean_what_they_say(name: str) -> None:
    """In-between pairs count half; no tenth of the scale is off by over 5 points and its pairs' noise."""
    score, share, _ = judged(name)
    truth = np.where(share >= READ, 1.0, np.where(share < UNREAD, 0.0, 0.5))
    for tenth in range(10):
        here = np.minimum((score * 10).astype(int), 9) == tenth
        noise = 2 * np.sqrt(0.25 / here.sum())
        assert abs(score[here].mean() - truth[here].mean()) < 0.05 + noise, tenth


def test_one_measure_alone_is_much_worse() -> None:
    measures, share = KEPT["fresh_seed_measures"].astype(float), KEPT["fresh_seed_share"]
    clear = (share >= READ) | (share < UNREAD)
    for alone in ("height", "ratio", "lightness"):
        column = measures[:, DESIGN_NAMES.index(alone)]
        assert roc_area(column[clear], share[clear] >= READ) < 0.9


@pytest.mark.parametrize("name", SETS)
def test_the_page_states_these_figures(name: str) -> None:
    page = (Path(__file__).parents[3] / "docs" / "accuracy.md").read_text(encoding="utf-8")
    score, share, outlined = judged(name)
    clear = (share >= READ) | (share < UNREAD)
    for art, which in (("all", clear), ("with outlines", clear & outlined)):
        start = f"| {SETS[name]} | {art} | "
        line = next(line for line in page.splitlines() if line.startswith(start))
        pairs, area = line.removeprefix(start).split(" | ")[:2]
        assert int(pairs) == which.sum()
        assert float(area.split()[0]) == pytest.approx(
            roc_area(score[which], share[which] >= READ), abs=0.002
        )
