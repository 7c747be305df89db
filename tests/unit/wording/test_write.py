import unicodedata
from dataclasses import replace

import pytest
from goods import channel, design, mug, sheet, shirt
from hypothesis import given, settings
from hypothesis import strategies as st

from hundredfold.catalogue.channels import TextLimits
from hundredfold.catalogue.sheets import TableKind
from hundredfold.handoff.cells import Cell
from hundredfold.wording.clean import fit_words, one_line
from hundredfold.wording.titles import said, title_case, title_of
from hundredfold.wording.write import Wording, search_terms, write


def test_a_listing_in_words() -> None:
    assert write(design(), mug(), channel()) == Wording(
        title="Proud Beekeeper Ceramic Mug 325 ml, Honey, Gift, Tea Cup",
        bullets=(
            "Proud beekeeper on a ceramic mug 325 ml",
            "Made to order with dye sublimation on coated ceramic",
            "Holds 325 ml, 95 mm high, 82 mm across",
        ),
        description=(
            "Proud beekeeper on a ceramic mug 325 ml. Made to order with dye sublimation on coated ceramic. "
            "Holds 325 ml, 95 mm high, 82 mm across. Colours: White, Navy. For beekeeping."
        ),
        search_terms="coffee beekeeping beekeeper honey gift mug tea cup",
    )


@pytest.mark.parametrize("kind", list(TableKind))
@given(
    start=st.sampled_from("=+-@＝"),
    words=st.lists(st.text("ab9", min_size=1, max_size=6), min_size=1, max_size=8).map(" ".join),
    room=st.integers(1, 60),
)
def test_text_like_a_formula_leaves_room_for_its_apostrophe(
    kind: TableKind, start: str, words: str, room: int
) -> None:
    to = channel(sheet=sheet(kind), limits=TextLimits(room, 3, room, room, room))
    made = write(replace(design("d", start + words), keywords=(start + words,)), mug(), to)
    for text in (made.title, *made.bullets, made.description):
        assert len(Cell(text).as_read(kind)) <= room
    assert len(Cell(made.search_terms).as_read(kind).encode()) <= room


def test_the_apostrophe_costs_a_character_in_a_csv_only() -> None:
    def searched(kind: TableKind) -> str:
        to = channel(sheet=sheet(kind), limits=TextLimits(60, 3, 60, 60, 8))
        return write(
            replace(design(), keywords=("=1234567", "-123456")), replace(mug(), words=()), to
        ).search_terms

    assert searched(TableKind.XLSX) == "=1234567"
    assert searched(TableKind.CSV) == "-123456"


@pytest.mark.parametrize(
    ("text", "cased"),
    [
        ("queen of the allotment", "Queen of the Allotment"),
        ("the tide is in", "The Tide Is In"),
        ("RNLI mug for McTavish", "RNLI Mug for McTavish"),
        ("dip-a-day swimmer", "Dip-A-Day Swimmer"),
        ("325 ml mug", "325 ml Mug"),
    ],
)
def test_title_case(text: str, cased: str) -> None:
    assert title_case(text) == cased


def test_other_languages_keep_their_words() -> None:
    assert title_case("stolze imkerin aus Hamburg", "de-DE") == "Stolze imkerin aus Hamburg"


def test_the_blank_stays_whole_where_the_design_is_long() -> None:
    long = "the bees are fine and so am I thank you for asking every single morning"
    title = title_of(long, "ceramic mug", [], 40)
    assert title == "The Bees Are Fine and so Am Ceramic Mug"


def test_the_blank_is_not_said_twice() -> None:
    assert title_of("bee mug", "mug", ["mugs", "honey"], 60) == "Bee Mug, Honey"


def test_search_words_not_in_the_title_come_first() -> None:
    assert search_terms(["bee mug", "bees", "honey gift"], 12, already="Bee Mug") == "honey gift"
    assert search_terms(["bee mug", "bees", "honey gift"], 99, already="Bee Mug") == "honey gift bee mug"


def test_search_room_is_bytes() -> None:
    assert search_terms(["käse", "brot"], 9) == "käse"  # 5 + 1 + 4 bytes are one too many
    assert search_terms(["käse", "brot"], 10) == "käse brot"


def test_control_characters_and_line_breaks_become_spaces() -> None:
    assert one_line("a\r\n\tb\x00c\u2028d\x1b[31m  e") == "a b c d [31m e"
    assert one_line("\u202edrow\ufeff") == "drow"  # no hidden reversing
    assert one_line("cafe\u0301") == "caf\u00e9"
    assert one_line("👩\u200d🌾") == "👩\u200d🌾"


def test_words_are_never_cut() -> None:
    assert fit_words("sea swimmers, at dawn", 14) == "sea swimmers"
    assert fit_words("incomprehensible", 5) == ""


texts = st.text(max_size=60)
limits = st.builds(
    TextLimits,
    st.integers(10, 120),
    st.integers(0, 6),
    st.integers(10, 100),
    st.integers(10, 500),
    st.integers(5, 120),
)


@settings(max_examples=200, deadline=None)
@given(title=texts, keywords=st.lists(texts, max_size=6), niche=texts, room=limits, shirts=st.booleans())
def test_everything_is_inside_the_limits(
    title: str, keywords: list[str], niche: str, room: TextLimits, shirts: bool
) -> None:
    what = replace(design(), title=title, keywords=tuple(keywords), niche=niche)
    blank = shirt() if shirts else mug()
    words = write(what, blank, channel(limits=room))
    assert len(words.title) <= room.title_chars
    assert len(words.bullets) <= room.bullets
    assert all(0 < len(bullet) <= room.bullet_chars for bullet in words.bullets)
    assert len(words.description) <= room.description_chars
    assert len(words.search_terms.encode()) <= room.search_bytes
    terms = words.search_terms.split()
    assert len({term.casefold() for term in terms}) == len(terms)
    for text in (words.title, *words.bullets, words.description, words.search_terms):
        assert not any(unicodedata.category(letter) in ("Cc", "Zl", "Zp") for letter in text)
    whole = said(f"{title} {blank.name} {' '.join([*keywords, *blank.words, niche])}")
    assert said(words.title) <= whole


def test_only_the_colours_of_the_listing_are_told() -> None:
    words = write(design(), mug(), channel(language="en-US"), ("white", "navy"))
    assert "Colors: White, Navy." in words.description
    assert "olo" not in write(design(), mug(), channel(), ("navy",)).description


def test_a_blank_s_name_inside_a_sentence() -> None:
    big = replace(mug(), name="Big mug")
    assert write(design(), big, channel()).bullets[0] == "Proud beekeeper on a big mug"
    assert write(design(), shirt(), channel()).bullets[0] == "Proud beekeeper on a T-shirt"
