"""File names as sellers really leave them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hundredfold.designs.names import keywords_from, title_from

NAMES = [
    ("proud-beekeeper-gift-for-dad.png", "Proud Beekeeper", "proud beekeeper"),
    ("Proud_Beekeeper_Gift_For_Dad_v2.png", "Proud Beekeeper", "proud beekeeper"),
    ("proudBeekeeperGift3.PNG", "Proud Beekeeper", "proud beekeeper"),
    ("bell ringer copy 2.png", "Bell Ringer", "bell ringer"),
    ("bell ringer (1).png", "Bell Ringer", "bell ringer"),
    ("beekeeper.final.png", "Beekeeper", "beekeeper"),
    ("HAPPY 40TH BIRTHDAY final FINAL2.png", "Happy 40th Birthday", "happy 40th birthday"),
    ("40thBirthdayGardener.svg", "40th Birthday Gardener", "40th birthday gardener"),
    ("café-crème_lover.webp", "Café Crème Lover", "café crème lover"),
    ("cafe\u0301.png", "Café", "café"),
    ("ALLOTMENT QUEEN.png", "Allotment Queen", "allotment queen"),
    ("NHSHeroMum.png", "NHS Hero Mum", "nhs hero mum"),
    ("over-60.png", "Over 60", "over 60"),
    ("class-of-2027.png", "Class of 2027", "class 2027"),
    ("born in 1986 (2).png", "Born in 1986", "born 1986"),
    ("sea-swimmer-3600x4500-300dpi-transparent.png", "Sea Swimmer", "sea swimmer"),
    ("Narrowboat 57.png", "Narrowboat", "narrowboat"),
    ("mum's the word.png", "Mum's the Word", "mum's word"),
    ("new dawn swimmer.png", "New Dawn Swimmer", "new dawn swimmer"),
    ("final whistle.png", "Final Whistle", "final whistle"),
    ("art/choir/alto-life.png", "Alto Life", "alto life"),
]


@pytest.mark.parametrize(("file_name", "title", "keywords"), NAMES)
def test_title_and_keywords(file_name: str, title: str, keywords: str) -> None:
    assert title_from(file_name) == title
    assert keywords_from(file_name) == tuple(keywords.split())


@pytest.mark.parametrize(
    "file_name", ["IMG_2041.jpg", "DSC_0012.JPG", "Untitled-1.png", "v2.png", "Artboard 1@2x.png", ".png"]
)
def test_a_name_that_says_nothing_gives_nothing(file_name: str) -> None:
    assert title_from(file_name) == ""
    assert keywords_from(file_name) == ()


def test_no_keyword_twice() -> None:
    assert keywords_from("Bee bee BEE hive.png") == ("bee", "hive")


@given(st.text(max_size=80))
def test_any_name_at_all_gives_clean_words(file_name: str) -> None:
    keywords, title = keywords_from(file_name), title_from(file_name)
    assert len(set(keywords)) == len(keywords)
    assert all(word and word == word.casefold() and not word.isspace() for word in keywords)
    assert title == " ".join(title.split())
