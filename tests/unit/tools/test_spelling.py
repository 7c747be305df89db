"""The measure behind docs/accuracy.md: how much of a line was read, whatever else was read beside it."""

import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[3]))

from tools.reading.spelling import edits_inside, share_found


@given(st.text("abc", max_size=5), st.text("abc", max_size=6))
def test_edits_inside_is_the_best_stretch(line: str, text: str) -> None:
    def levenshtein(one: str, other: str) -> int:
        if not one or not other:
            return len(one) + len(other)
        return min(
            levenshtein(one[1:], other) + 1,
            levenshtein(one, other[1:]) + 1,
            levenshtein(one[1:], other[1:]) + (one[0] != other[0]),
        )

    stretches = {text[i:j] for i in range(len(text) + 1) for j in range(i, len(text) + 1)}
    assert edits_inside(line, text) == min(levenshtein(line, stretch) for stretch in stretches)


def test_extra_marks_do_not_count_against_a_line() -> None:
    assert share_found("Bell Ringer", "o O bell-ringer * 1970") == 1.0
    assert share_found("Bell Ringer", "bellrimger") == pytest.approx(0.9)
    assert share_found("Bell Ringer", "") == 0.0
