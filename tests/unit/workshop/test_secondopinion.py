"""A second opinion: what is read in the thumbnail against what is read in the large picture."""

import sys

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hundredfold.kernel.errors import ExitCode, ShopError
from hundredfold.proofing.reading.spelling import edits_inside, share_found
from hundredfold.workshop import secondopinion
from hundredfold.workshop.secondopinion import Picture, enlarged, second_opinion

LARGE, SMALL = np.zeros((300, 700, 3), np.uint8), np.zeros((60, 140, 3), np.uint8)


def reader(large: list[str], small: list[str]) -> secondopinion.Reader:
    return lambda picture: large if picture.shape[1] >= 600 else small


def test_the_share_of_letters_that_survive() -> None:
    assert second_opinion(LARGE, SMALL, reader(["Muddy", "Beekeeper"], ["muddy beekeeper"])) == 1.0
    assert second_opinion(LARGE, SMALL, reader(["Muddy", "Beekeeper"], ["muddy"])) == pytest.approx(
        (5 + 9 * share_found("beekeeper", "muddy")) / 14
    )
    assert second_opinion(LARGE, SMALL, reader(["Muddy"], [])) == 0.0
    assert second_opinion(LARGE, SMALL, reader(["O"], ["O"])) is None


def test_the_thumbnail_is_enlarged_before_it_is_read() -> None:
    sizes: list[tuple[int, ...]] = []

    def watching(picture: Picture) -> list[str]:
        sizes.append(picture.shape)
        return ["honey"]

    second_opinion(LARGE, SMALL, watching)
    assert sizes == [(300, 700, 3), (120, 280, 3)]
    assert enlarged(np.zeros((300, 400, 3), np.uint8)).shape == (360, 480, 3)


def test_without_the_engine_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "rapidocr", None)
    secondopinion.engine.cache_clear()
    with pytest.raises(ShopError) as error:
        second_opinion(LARGE, SMALL)
    assert error.value.slug == "ocr-missing"
    assert error.value.exit_code == ExitCode.TOOL_MISSING
    assert "hundredfold[ocr]" in error.value.fix


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
