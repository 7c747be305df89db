"""A shop of 500 designs on four blanks does not read like a form letter."""

import sys
from pathlib import Path

import pytest

from hundredfold.wording.casing import every_word
from hundredfold.wording.sameness import said
from hundredfold.workshop.shop.phrases import starter_books

sys.path.insert(0, str(Path(__file__).parents[3]))

from tools.words.variety import Variety, titles, variety_of


@pytest.mark.parametrize(("language", "share"), [("en-GB", 0.08), ("de-DE", 0.08)])
def test_titles_are_unlike(language: str, share: float) -> None:
    found = variety_of(titles(language))
    assert found.titles >= 2000
    assert found.alike == 0
    assert found.begin_alike <= share * found.titles


def test_short_forms_keep_their_small_letters() -> None:
    assert every_word("the five a.m. float") == "The Five a.m. Float"


def test_a_line_tells_no_joke_that_the_art_tells() -> None:
    """In one language words of one kin are enough; across languages the book's [apart] says which."""
    german = starter_books()["de"]
    told = german.jokes_of("Dawn dipper, cake at the other end")
    cake = "Für alle, die zuerst den Kuchen einpacken und dann den Badeanzug"
    assert cake in german.niches["sea swimming"].lines
    assert not said(cake, "de").isdisjoint(told)
    assert said("Für Menschen, die neun Grad ganz angenehm finden", "de").isdisjoint(told)


def test_what_is_counted() -> None:
    texts = ["A bee mug for you, red", "A Bee Mug For me", "T-shirt: bees", "t-shirt: bees"]
    assert variety_of(texts) == Variety(4, 2, 4, 8)
