"""Words are broken with hyphens where their language's patterns allow, and show one only at a line's end."""

import pytest

from hundredfold.designs.typesetting.breaking import Room, break_places, break_ragged, run_text
from hundredfold.designs.typesetting.hyphens import SOFT, has_patterns, hyphenated
from hundredfold.designs.typesetting.spans import marked, plain, read_marks


@pytest.mark.parametrize(
    ("word", "language", "expected"),
    [
        ("Donaudampfschifffahrt", "de", "Do-nau-dampf-schiff-fahrt"),  # Duden's own places
        ("STRASSENBAHN", "de-DE", "STRAS-SEN-BAHN"),  # the same of capitals, and of a variety
        ("supercalifragilistic", "en-US", "su-per-cal-ifrag-ilis-tic"),  # Knuth, The TeXbook, appendix H
        ("queen", "en", "queen"),  # too short
        ("a1b2c3d4", "en", "a1b2c3d4"),
    ],
)
def test_words_break_where_the_patterns_say(word: str, language: str, expected: str) -> None:
    assert hyphenated(word, language).replace(SOFT, "-") == expected


def test_a_word_with_soft_hyphens_of_its_own_keeps_them() -> None:
    own = f"Donaudampf{SOFT}schiff"
    assert hyphenated(own, "de") == own


def test_a_language_without_patterns_is_left_alone() -> None:
    assert not has_patterns("xx")
    assert hyphenated("hyphenation", "xx") == "hyphenation"


def test_a_hyphen_shows_only_at_the_end_of_a_line() -> None:
    pieces = break_places(f"Bee{SOFT}keep{SOFT}er club")
    assert pieces == [f"Bee{SOFT}", f"keep{SOFT}", "er ", "club"]
    assert [run_text(pieces, 0, n) for n in (1, 2, 3, 4)] == [
        "Bee-",
        "Beekeep-",
        "Beekeeper",
        "Beekeeper club",
    ]
    assert run_text(pieces, 1, 4) == "keeper club"


def test_a_hyphen_inside_a_span_keeps_its_style() -> None:
    pieces = break_places(marked(f"Bee{SOFT}keeper", 1))
    first = run_text(pieces, 0, 1)
    assert plain(first) == "Bee-"
    assert read_marks(first)[1] == [1, 1, 1, 1]


def test_a_hyphen_is_taken_only_where_the_letters_grow_enough() -> None:
    def width(text: str) -> float:
        return 0.55 * len(text)

    word = hyphenated("Donaudampfschifffahrt", "de")
    narrow = break_ragged(word, width, Room(300, 900, 0.7, 0.2, 1.1), language="de")
    wide = break_ragged(word, width, Room(3000, 300, 0.7, 0.2, 1.1), language="de")
    assert len(narrow[1]) > 1
    assert all(line.endswith("-") for line in narrow[1][:-1])
    assert "".join(narrow[1]).replace("-", "") == "Donaudampfschifffahrt"
    assert wide[1] == ["Donaudampfschifffahrt"]
