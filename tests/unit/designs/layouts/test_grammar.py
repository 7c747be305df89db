"""Articles and plurals: dictionary usage (from memory), with the numerals that libraries get wrong."""

import pytest

from hundredfold.designs.layouts.casing import apply_case
from hundredfold.designs.layouts.grammar import article, counted, join_list, plural

AN = (
    "8",
    "8 oz mug",
    "11 oz mug",
    "18",
    "18th birthday",
    "80",
    "85",
    "800",
    "8,000",
    "8.5 inch",
    "11,000",
    "18,500",
    "1812 overture",
    "1100",
    "11.5 litre jug",
    "hour",
    "honest man",
    "FBI agent",
    "MRI",
    "heirloom",
    "X-ray",
    "SOS",
    "alto",
    "onion",
    "“alto”",
)
A = (
    "1",
    "7",
    "9",
    "10",
    "12",
    "17",
    "19",
    "100",
    "110",
    "118",
    "180,000",
    "1,100",
    "1,800",
    "181",
    "1180000",
    "unicorn",
    "university",
    "European",
    "one-off",
    "UFO",
    "NATO mug",
    "ukulele",
    "herb",
    "beekeeper",
    "euphonium",
)


@pytest.mark.parametrize("text", AN)
def test_an(text: str) -> None:
    assert article(text) == "an"


@pytest.mark.parametrize("text", A)
def test_a(text: str) -> None:
    assert article(text) == "a"


def test_american_herbs_are_unspoken() -> None:
    assert (article("herb", "en-US"), article("herbal tea", "en-US")) == ("an", "an")


@pytest.mark.parametrize(
    ("one", "many"),
    [
        ("shot glass", "shot glasses"),
        ("mother-in-law", "mothers-in-law"),
        ("goose", "geese"),
        ("moose", "moose"),
        ("knife", "knives"),
        ("roof", "roofs"),
        ("child", "children"),
        ("potato", "potatoes"),
        ("photo", "photos"),
        ("bee", "bees"),
        ("attorney general", "attorneys general"),
        ("honey", "honey"),
        ("ALTO", "ALTOS"),
    ],
)
def test_plural(one: str, many: str) -> None:
    assert plural(one) == many


def test_counted() -> None:
    assert (counted("1", "hive"), counted("8", "hive"), counted("0", "hive")) == (
        "1 hive",
        "8 hives",
        "0 hives",
    )


def test_lists_join_as_the_language_does() -> None:
    """CLDR list patterns."""
    items = ["peas", "beans", "leeks"]
    assert join_list(items, "en") == "peas, beans and leeks"
    assert join_list(items, "en-US") == "peas, beans, and leeks"
    assert join_list(items, "de") == "peas, beans und leeks"
    assert join_list(items, "en", either=True) == "peas, beans or leeks"
    assert join_list(items[:1], "en") == "peas"


@pytest.mark.parametrize(
    ("text", "case", "language", "expected"),
    [
        ("istanbul", "upper", "tr", "İSTANBUL"),  # SpecialCasing.txt, tr
        ("ISPARTA", "lower", "tr", "ısparta"),
        ("straße", "upper", "de", "STRASSE"),  # SpecialCasing.txt, unconditional
        ("άλφα μαΐου", "upper", "el", "ΑΛΦΑ ΜΑΪΟΥ"),  # CLDR Greek upper
        ("ijsland", "title", "nl", "IJsland"),  # CLDR Dutch title
        ("ΣΊΣΥΦΟΣ", "lower", "el", "σίσυφος"),  # final sigma
        ("the lord of the bees", "title", "en", "The Lord of the Bees"),
        ("o'neill's BBC bees", "title", "en", "O'neill's BBC Bees"),
        ("what are you on about", "title", "en", "What Are You on About"),
        ("my BBC mug", "sentence", "en", "My BBC mug"),
        ("ﬁne", "sentence", "en", "Fine"),
    ],
)
def test_case_by_language(text: str, case: str, language: str, expected: str) -> None:
    assert apply_case(text, case, language) == expected
