"""Quotes by language, emphasis, accents: what a cell says as it is printed."""

import pytest

from hundredfold.designs.layouts.letters import composed, curled, nothing_visible
from hundredfold.designs.layouts.pattern import parse_pattern, said
from hundredfold.designs.typesetting.spans import plain, read_marks


@pytest.mark.parametrize(
    ("typed", "language", "printed"),
    [
        ("It's the dog's", "en", "It’s the dog’s"),
        ("'Tis the season, rock 'n' roll", "en", "’Tis the season, rock ’n’ roll"),
        ("The '90s called", "en", "The ’90s called"),
        ('"It\'s 5 o\'clock" said the "cook"', "en", "“It’s 5 o’clock” said the “cook”"),
        ("5'10\" and proud", "en", "5′10″ and proud"),
        ("Say \"cheese!\" and 'hold it'", "en", "Say “cheese!” and ‘hold it’"),
        ("the dogs' bowls", "en", "the dogs’ bowls"),
        ('"Guten Tag"', "de", "„Guten Tag“"),
        ('"Bonjour"', "fr", "«\u202fBonjour\u202f»"),
    ],
)
def test_quotes_are_those_of_the_language(typed: str, language: str, printed: str) -> None:
    """The marks are CLDR's delimiters, from memory."""
    assert curled(typed, language) == printed


def test_accents_are_composed_and_what_is_invisible_is_empty() -> None:
    assert composed("Cafe\u0301") == "Café"
    assert composed("ＦＵＬＬ 𝐛𝐨𝐥𝐝 𝓯𝓪𝓷𝓬𝔂 ❤\ufe0f") == "FULL bold fancy ❤"
    assert nothing_visible("\u200b \u00ad")
    assert not nothing_visible("\u200ba")


@pytest.mark.parametrize(
    ("typed", "shown", "emphasis"),
    [
        ("Proud *beekeeper*", "Proud beekeeper", "beekeeper"),
        ("10*10*10", "10*10*10", ""),
        ("* star * and \\*", "* star * and *", ""),
        ("*two words* here", "two words here", "two words"),
    ],
)
def test_stars_emphasise(typed: str, shown: str, emphasis: str) -> None:
    text = said(parse_pattern("{title}"), {"title": typed}, "en")
    bare, styles = read_marks(text)
    assert (plain(text), bare) == (shown, shown)
    assert "".join(char for char, style in zip(bare, styles, strict=True) if style == 1) == emphasis
