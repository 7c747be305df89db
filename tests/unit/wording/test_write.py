"""Whole listings: inside every limit, never cut, nothing said twice, nothing claimed without proof."""

from collections.abc import Iterable
from dataclasses import replace
from itertools import accumulate, combinations

import pytest
from goods import channel, design, mug, sheet, shirt, words_of
from hypothesis import given, settings
from hypothesis import strategies as st
from uniseg.graphemecluster import grapheme_clusters

from hundredfold.catalogue.blanks import SizeMeasures
from hundredfold.catalogue.channels import Channel, Counting, TextLimits, WordRules
from hundredfold.catalogue.sheets import TableKind
from hundredfold.designs.design import Design
from hundredfold.wording.books import book_for
from hundredfold.wording.clean import one_line
from hundredfold.wording.houserules import claims_in
from hundredfold.wording.limits import size_of, whole_graphemes
from hundredfold.wording.measures import named_capacity_ml
from hundredfold.wording.sameness import SMALL_WORDS, kin, words_in
from hundredfold.wording.write import ShopVoice, Writer
from hundredfold.workshop.shop.phrases import starter_books

LANGUAGES = ("en-GB", "en-US", "de-DE", "fr-FR", "es-ES")
SAYS = ("Proud beekeeper", "stung & still smiling")


def saying(*lines: str, niche: str = "beekeeping") -> Design:
    return replace(design(), title=" ".join(lines), lines=lines, niche=niche)


def test_a_listing_in_words() -> None:
    words = words_of(saying(*SAYS), mug(), channel(limits=TextLimits(90, 5, 150, 600, search_chars=200)))
    assert "“Proud Beekeeper, Stung & Still Smiling”" in words.title
    assert "ug" in words.title
    assert "Holds 325 ml; 9.5 cm high; 8.2 cm across" in words.points
    assert "“Proud beekeeper, stung & still smiling”" in words.story
    assert "apiary" in words.search_words


@pytest.mark.parametrize(
    ("language", "told"), [("en-US", "11 fl oz"), ("en-GB", "325 ml"), ("fr-FR", "325 ml")]
)
def test_measures_are_told_as_the_country_tells_them(language: str, told: str) -> None:
    to = channel(language=language, limits=TextLimits(90, 5, 150, 600))
    assert any(told in point for point in words_of(saying(*SAYS), mug(), to).points)


def test_rows_tell_the_measures_of_their_own_size() -> None:
    blank = replace(shirt(), sizes=(SizeMeasures("S", width_mm=480, height_mm=700),))
    words = words_of(saying(*SAYS), blank, channel(limits=TextLimits(90, 5, 150, 600)))
    assert any("48 × 70 cm" in point for point in words.for_size("S").points)
    assert not any("cm" in point for point in words.for_size("L").points)


def test_a_capacity_that_the_name_contradicts_is_not_told() -> None:
    other = replace(mug(), name="Ceramic mug 15 oz")
    assert named_capacity_ml(other.name) == pytest.approx(443.6, abs=0.1)
    words = words_of(saying(*SAYS), other, channel(limits=TextLimits(90, 5, 150, 600)))
    assert not any("325" in text for text in (words.title, *words.points, words.story))


def test_a_claim_stands_only_with_its_proof() -> None:
    art = replace(saying(*SAYS), keywords=("dishwasher safe mug", "honey"))
    to = channel(limits=TextLimits(90, 9, 150, 600, search_chars=300))
    assert not any("dishwasher" in word for word in words_of(art, mug(), to).search_words)
    proved = replace(mug(), claims={"dishwasher safe": "Northfold sheet 7, page 2"})
    words = words_of(art, proved, to)
    assert "dishwasher" in words.search_words
    assert any("dishwasher safe" in point.casefold() for point in words.points)


def test_what_a_channel_forbids_never_stands_there() -> None:
    to = channel(limits=TextLimits(90, 5, 150, 600), words=WordRules(("gift",), "“”"))
    words = words_of(saying(*SAYS), mug(), to)
    for text in (words.title, *words.points, words.story):
        assert "gift" not in text.casefold()
        assert not set("“”") & set(text)


def test_no_two_titles_of_a_channel_are_alike() -> None:
    book = book_for("en-GB", starter_books())
    assert book is not None
    writer = Writer(channel(), book, ShopVoice())
    titles = [writer.write(replace(saying(*SAYS), id=f"D{n}"), mug()).wording.title for n in range(60)]
    assert len({title.casefold() for title in titles}) == 60


def test_tags_are_phrases_within_their_number_and_length() -> None:
    to = channel(limits=TextLimits(90, 5, 150, 600, tags=6, tag_chars=16))
    tags = words_of(saying(*SAYS), mug(), to).search_words
    assert len(tags) == 6
    assert all(len(tag) <= 16 for tag in tags)
    assert any(" " in tag for tag in tags)


scripts = st.one_of(
    st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")), max_size=50),
    st.text("абвгд жзик", max_size=40),
    st.text("日本語水泳 ", max_size=40),
    st.text("שלוםעברית ", max_size=40),
    st.text("abc défgh ñ", max_size=60),
    st.sampled_from(["👩‍🌾 🐝 honey", "organic dishwasher safe handmade", "ZZZ " * 12, "=1+2", "x" * 90]),
)
limits = st.builds(
    TextLimits,
    st.integers(10, 120),
    st.integers(0, 6),
    st.integers(10, 120),
    st.integers(10, 500),
    st.integers(0, 120),
    st.integers(0, 120),
    st.integers(0, 12),
    st.sampled_from((0, 0, 5)),
    st.integers(3, 20),
    st.sampled_from(Counting),
)


@settings(max_examples=120, deadline=None)  # 40 ms each: the five languages and both kinds of table
@given(
    lines=st.lists(scripts, min_size=1, max_size=3),
    keywords=st.lists(scripts, max_size=6),
    niche=st.one_of(st.just("beekeeping"), st.just(""), scripts),
    room=limits,
    language=st.sampled_from(LANGUAGES),
    shirts=st.booleans(),
    kind=st.sampled_from(TableKind),
)
def test_everything_is_inside_the_limits(
    lines: list[str],
    keywords: list[str],
    niche: str,
    room: TextLimits,
    language: str,
    shirts: bool,
    kind: TableKind,
) -> None:
    art = replace(saying(*lines, niche=niche), keywords=tuple(keywords))
    to = channel(limits=room, language=language, sheet=sheet(kind))
    words = words_of(art, shirt() if shirts else mug(), to)

    def size(text: str) -> int:
        return size_of(kind.as_read(text), room.counts)

    assert words.title
    assert size(words.title) <= room.title_chars
    assert len(words.points) <= room.points
    assert bool(words.points) == bool(room.points)
    assert all(point and size(point) <= room.point_chars for point in words.points)
    assert words.story
    assert size(words.story) <= room.story_chars
    check_search(words.search_words, to)
    # The art may say "organic honey" itself: quoting it claims nothing of the goods.
    own = " ".join(map(one_line, art.lines)).casefold()
    for text in (words.title, *words.points, words.story, *words.search_words):
        assert [said for _, said in claims_in(text) if said.casefold() not in own] == []
        assert text == text.strip()
        assert cut_graphemes(text, (*lines, *keywords, niche)) == set()


def cut_graphemes(text: str, inputs: Iterable[str]) -> set[str]:
    """Parts of the inputs' graphemes of several code points that stand alone in the text."""
    spelt = {form for one in inputs for form in (one, one_line(one), one.lower(), one.upper(), one.title())}
    whole = {cluster for one in spelt for cluster in grapheme_clusters(one)}
    parts = {part for cluster in whole if len(cluster) > 1 for part in cluster if not part.isascii()}
    return {cluster for cluster in grapheme_clusters(text) if cluster in parts and cluster not in whole}


def test_a_cut_grapheme_would_be_seen() -> None:
    farmer = "\N{WOMAN}\N{ZERO WIDTH JOINER}\N{EAR OF RICE}"
    assert cut_graphemes(f"hello {farmer}", [farmer]) == set()
    assert cut_graphemes("hello \N{WOMAN}", [farmer]) == {"\N{WOMAN}"}


@given(st.text(max_size=30), st.integers(0, 30))
def test_what_is_cut_ends_where_a_grapheme_ends(text: str, size: int) -> None:
    kept = whole_graphemes(text, lambda part: len(part) <= size)
    ends = [0, *accumulate(map(len, grapheme_clusters(text)))]
    longest = max(end for end in ends if end <= size)
    assert kept == text[:longest].rstrip()


def check_search(found: tuple[str, ...], to: Channel) -> None:
    room, joined = to.limits, " ".join(found)
    if room.tags:
        assert len(found) <= room.tags
        assert all(size_of(tag, room.counts) <= room.tag_chars for tag in found)
        return
    keys = [kin(word, to.language.partition("-")[0]) for word in found]
    assert len(set(keys)) == len(keys)
    if room.search_chars:
        assert size_of(to.sheet.kind.as_read(joined), room.counts) <= room.search_chars
    if room.search_bytes:
        assert len(to.sheet.kind.as_read(joined).encode("utf-8", "surrogatepass")) <= room.search_bytes
    if room.search_words:
        assert len(found) <= room.search_words


@settings(max_examples=200, deadline=None)
@given(
    room=st.integers(30, 140),
    language=st.sampled_from(LANGUAGES),
    number=st.integers(0, 400),
    niche=st.sampled_from(
        ["beekeeping", "choir", "allotment", "narrowboat", "sea swimming", "bell ringing", ""]
    ),
)
def test_titles_repeat_no_word_and_never_dangle(room: int, language: str, number: int, niche: str) -> None:
    art = replace(saying("Zwq xvy", niche=niche), id=f"D{number}")
    to = channel(limits=TextLimits(room), language=language)
    book = book_for(language, starter_books())
    assert book is not None
    worded = Writer(to, book, ShopVoice()).write(art, mug())
    title = worded.wording.title
    bare = language.partition("-")[0]
    words = [w.casefold() for w in words_in(title) if w.casefold() not in SMALL_WORDS[bare]]
    assert len(set(words)) == len(words), title
    # One phrase may name women and men ("Glöcknerinnen und Glöckner"); two phrases never share a word's kin.
    phrases = [{kin(w, bare) for w in words_in(t.text)} for t in worded.traces if t.field == "title"]
    shared = [a & b - {kin(w, bare) for w in SMALL_WORDS[bare]} for a, b in combinations(phrases, 2)]
    assert not any(shared), title
    assert words_in(title)[-1].casefold() not in SMALL_WORDS[bare], title
