"""Which known thing a text speaks of, how a SKU pattern is read, and how many rows a listing takes."""

import re
from dataclasses import replace

import pytest
from goods import channel, mug, sheet, shirt

from hundredfold.kernel.errors import ShopError
from hundredfold.planning.adoption import AdoptableDesign, Shelf
from hundredfold.planning.matching import Known, best_by_letters, best_by_words, words_of
from hundredfold.planning.sizing import resting_of, rows_needed, variants_of
from hundredfold.planning.skupattern import sku_pattern


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("The Bee's knees", ("bee", "knee")),
        ("Bees bees BEES", ("bee",)),
        ("glass bus ass gas", ("glass", "bus", "ass", "gas")),  # double s and words of three letters stay
        ("Café crème, naïve", ("cafe", "creme", "naive")),
        ("Straße", ("strasse",)),
        ("a_b-c 12", ("b", "c", "12")),
        ("for the of and", ()),
        ("ﬁne №5", ("fine", "no5")),
    ],
)
def test_the_telling_words_of_a_text(text: str, words: tuple[str, ...]) -> None:
    assert words_of(text) == words


THINGS = [Known("a", ("bee",)), Known("b", ("beekeeper",)), Known("c", ("keeper",)), Known("d", ("x", "!!")),
          Known("e", ("swim",))]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("MUG-BEEKEEPER-1", ["b"]),
        ("mug bee_1", ["a"]),  # three letters, but alone between signs
        ("mugbee", []),
        ("mugswim1", ["e"]),  # four letters are enough wherever they stand
        ("kee-per", ["c"]),  # signs inside do not count
        ("Bée", ["a"]),
        ("x", []),  # one letter says nothing
        ("", []),
    ],
)
def test_the_longest_name_in_the_letters(text: str, found: list[str]) -> None:
    assert best_by_letters(text, THINGS) == found


def test_names_of_one_length_are_all_told_in_order() -> None:
    assert best_by_letters("keeper-sailor", [Known("z", ("sailor",)), *THINGS]) == ["c", "z"]
    assert best_by_letters("bees", [Known("m", ("bees", "be"))]) == ["m"]
    several = [Known("one", ("ab", "beekeeper")), Known("two", ("keeper",))]
    assert best_by_letters("beekeeper ab", several) == ["one"]


PHRASES = [
    Known("ring", ("ring", "bells")), Known("bell", ("bells",)), Known("swim", ("sea", "swimmer", "cold")),
    Known("cats", ("cats",)), Known("none", ()),
]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Ring the bell!", ["ring"]),
        ("a bell", []),  # four letters alone are too little
        ("the sea swimmers go cold; ring the bells", ["swim"]),
        ("sea swimmer", []),  # one word is missing
        ("cat", []),
        ("", []),
    ],
)
def test_all_the_words_of_a_phrase(text: str, found: list[str]) -> None:
    assert best_by_words(text, PHRASES) == found


def test_one_long_word_is_enough_and_two_that_do_equally_well_are_both_told() -> None:
    assert best_by_words("swimmer", [Known("a", ("swimmer",)), Known("b", ("swimmers",))]) == ["a", "b"]
    assert best_by_words("dirty bell", [Known("a", ("bells",))]) == []  # its stem has four letters


CODES = ("MUG-325", "MUG", "TEE.2")


@pytest.mark.parametrize(
    ("pattern", "sku", "parts"),
    [
        ("{blank}-{design}", "mug-325-a-b", {"blank": "mug-325", "design": "a-b"}),
        ("{blank}-{design}", "MUG325-a", {"blank": "MUG325", "design": "a"}),
        ("{blank}.{size}", "TEE.2.L", {"blank": "TEE.2", "size": "L"}),
        ("{blank}-{design}", "other-a", {"blank": "other", "design": "a"}),
        ("{ANY}_{ Design }", "x_y_z", {"design": "y_z"}),
        ("{any}/{colour}", "a b/red", None),
        ("({size})", "(M)", {"size": "M"}),
        ("({size})", "M", None),
        ("(?P<design>[a-z]+)7", "BEE7", {"design": "BEE"}),
    ],
)
def test_a_sellers_pattern_read(pattern: str, sku: str, parts: dict[str, str] | None) -> None:
    found = sku_pattern(pattern, CODES).fullmatch(sku)
    assert (found and found.groupdict()) == parts


@pytest.mark.parametrize(
    ("pattern", "why"),
    [
        ("{blnk}", "there is no {blnk}"),
        ("{any}-x", "it has no {design}, {blank}, {colour} or {size}"),
        ("(?P<x>a)", "it has no {design}, {blank}, {colour} or {size}"),
        ("(?P<design>", "missing )"),
        ("{design}{design}", "redefinition"),
    ],
)
def test_a_pattern_that_is_none_says_why(pattern: str, why: str) -> None:
    with pytest.raises(ShopError) as caught:
        sku_pattern(pattern, CODES)
    assert caught.value.slug == "bad-sku-pattern"
    assert f"{pattern!r} is no pattern for SKUs: " in caught.value.what
    assert why in caught.value.what
    assert re.search(r"\{blank\}-\{design\}-\{colour\}", caught.value.fix)


def test_what_a_design_is_called() -> None:
    design = AdoptableDesign("K7", "designs/Sea.Swim v2.jpeg", "Sea Swimmer")
    assert design.stem == "Sea.Swim v2"
    assert replace(design, path="bee.toolong").stem == "bee.toolong"
    shelf = Shelf("north", (design, replace(design, id="Z", path="bee.png", title="")), ())
    assert shelf.names == {
        "sea swimmer": ["K7"], "sea swim v2": ["K7"], "sea swim v2 jpeg": ["K7"],
        "designs sea swim v2 jpeg": ["K7"], "k7": ["K7"], "bee": ["Z"], "bee png": ["Z"], "z": ["Z"],
    }  # fmt: skip
    assert [one.names for one in shelf.by_words] == [("sea", "swimmer"), ("bee",)]
    assert shelf.pattern is None


def test_the_rows_of_a_listing() -> None:
    families = channel(sheet=sheet(families=True))
    assert [v.size for v in variants_of(shirt(), ("black",))] == ["S", "L"]
    assert (rows_needed(shirt(), ("black",), channel()), rows_needed(shirt(), ("black",), families)) == (2, 3)
    assert (rows_needed(mug(), ("white",), channel()), rows_needed(mug(), (), families)) == (1, 1)
    small, large = shirt().variants
    for one, offered, resting in (
        (replace(small, in_stock=False), ["L"], ["S"]),
        (replace(small, discontinued=True), ["L"], []),
        (replace(small, in_stock=False, discontinued=True), ["L"], []),
        (small, ["S", "L"], []),
    ):
        blank = replace(shirt(), variants=(one, large))
        assert [v.size for v in variants_of(blank, ("black",))] == offered
        assert [v.size for v in resting_of(blank, ("black",))] == resting
        assert resting_of(blank, ("white",)) == ()
