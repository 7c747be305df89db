"""The trees: plain arrays that say what was fitted, and never less for more contrast or larger letters."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reading_art import BLACK, DEEP, NAVY, WHITE, lettered

from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.reading.facts import facts_for_reading
from hundredfold.proofing.reading.names import DESIGN_NAMES, DESIGN_RISING, LINE_NAMES, LINE_RISING
from hundredfold.proofing.reading.predict import chance_read
from hundredfold.proofing.reading.trees import Trees, as_file, chance, from_file
from hundredfold.workshop.steps.allsteps import PROOF_FACTS, READINGS, REPAIR
from hundredfold.workshop.steps.readingtrees import reading_trees

TREES = reading_trees()
KEPT = np.load(Path(__file__).with_name("reading_judged.npz"))["fresh_seed_measures"].astype(np.float64)
FIRST_LINE_COLUMN = DESIGN_NAMES.index(LINE_NAMES[0])
LINES = KEPT[:, FIRST_LINE_COLUMN : FIRST_LINE_COLUMN + len(LINE_NAMES)]


def stump() -> Trees:
    """Two trees of depth 1 over two measures."""
    return Trees(
        ("a", "b"),
        np.array([[0], [1]], np.int16),
        np.array([[1.0], [5.0]], np.float32),
        np.array([[-1.0, 2.0], [0.5, -0.25]], np.float32),
        0.125,
    )


def test_trees_answer_as_they_are_drawn() -> None:
    asked = np.array([[1.0, 5.0], [1.5, 5.0], [1.5, 6.0]])
    assert stump().log_odds(asked).tolist() == [-0.375, 2.625, 1.875]
    assert chance(np.array([0.0])).tolist() == [0.5]


def test_trees_survive_their_file() -> None:
    again = from_file(("a", "b"), as_file(stump()))
    asked = np.array([[0.0, 9.0], [2.0, 1.0]])
    assert again.log_odds(asked).tolist() == stump().log_odds(asked).tolist()
    with pytest.raises(ValueError, match="measure 1 of 1"):
        from_file(("a",), as_file(stump()))


def test_the_shipped_trees_fit_their_measures() -> None:
    for trees, names in ((TREES.line, LINE_NAMES), (TREES.design, DESIGN_NAMES)):
        assert trees.names == names
        assert 0 <= trees.feature.min() <= trees.feature.max() < len(names)


@settings(max_examples=150, deadline=None)
@given(st.integers(0, len(KEPT) - 1), st.sampled_from(LINE_RISING), st.floats(0, 3))
def test_more_contrast_or_size_never_lowers_a_line(place: int, name: str, more: float) -> None:
    line = LINES[place : place + 1]
    raised = line.copy()
    raised[0, LINE_NAMES.index(name)] += more
    assert TREES.line.log_odds(raised)[0] >= TREES.line.log_odds(line)[0] - 1e-9


@settings(max_examples=150, deadline=None)
@given(st.integers(0, len(KEPT) - 1), st.sampled_from(DESIGN_RISING), st.floats(0, 3))
def test_better_lines_never_lower_a_design(place: int, name: str, more: float) -> None:
    design = KEPT[place : place + 1]
    raised = design.copy()
    raised[0, DESIGN_NAMES.index(name)] += more
    assert TREES.design.log_odds(raised)[0] >= TREES.design.log_odds(design)[0] - 1e-9


def test_chances_change_only_with_the_version() -> None:
    """Golden chances: another value needs another version of READINGS, or stored chances would lie."""
    plain = facts_for_reading(lettered(("MUDDY", "boots and bees"), NAVY, 60), TREES)
    ringed = facts_for_reading(lettered(("MUDDY", "boots and bees"), NAVY, 60, ring=WHITE), TREES)
    asked = [
        (plain, BLACK, False, 90), (plain, (58, 59, 61), False, 60), (plain, DEEP, False, 120),
        (ringed, DEEP, True, 90), (ringed, WHITE, False, 60), (ringed, BLACK, True, 90),
    ]  # fmt: skip
    chances = [
        chance_read(facts, Srgb(*blank), transparent_ink=dye, art_width_px=width).chance
        for facts, blank, dye, width in asked
    ]
    assert {READINGS.version[1], PROOF_FACTS.version[1], REPAIR.version[1]} == {2}
    assert chances == pytest.approx(GOLDEN, abs=0.02)


GOLDEN = (0.7015, 0.3161, 0.0399, 0.7416, 0.8585, 0.2328)
