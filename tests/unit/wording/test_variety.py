"""A shop of 500 designs on four blanks does not read like a form letter."""

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[3]))

from tools.words.variety import Variety, titles, variety_of


@pytest.mark.parametrize(("language", "share"), [("en-GB", 0.08), ("de-DE", 0.08)])
def test_titles_are_unlike(language: str, share: float) -> None:
    found = variety_of(titles(language))
    assert found.titles >= 2000
    assert found.alike == 0
    assert found.begin_alike <= share * found.titles


def test_what_is_counted() -> None:
    texts = ["A bee mug for you, red", "A Bee Mug For me", "T-shirt: bees", "t-shirt: bees"]
    assert variety_of(texts) == Variety(4, 2, 4, 8)
