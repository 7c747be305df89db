"""What is told of a channel's words: no book, no words of its language, refused phrases, texts by hand."""

from dataclasses import replace
from pathlib import Path

import pytest
from goods import channel, design, mug
from shops import small_shop

from hundredfold.catalogue.channels import TextLimits, WordRules
from hundredfold.ledger.keys import ListingKey
from hundredfold.ledger.state import HandText, LedgerState
from hundredfold.workshop.listing.texts import Texts, WordsWanted

TO = channel(limits=TextLimits(90, 5, 150, 600, search_chars=200))
ART = design("bees", "proud beekeeper")
NOTHING_YET = LedgerState()
KEY = ListingKey(TO.code, ART.id, mug().code)


def told(
    tmp_path: Path, state: LedgerState = NOTHING_YET, **changes: object
) -> tuple[dict[ListingKey, str], dict[str, str]]:
    """The title of each listing, and what is told by "CHECK:CODE"."""
    shop = small_shop(tmp_path)
    to = replace(TO, **changes)  # type: ignore[arg-type]
    shop = replace(shop, channel_files={**shop.channel_files, to.code: "channels/north.toml"})
    words, found = Texts(shop, state).of_channel(to, [WordsWanted(KEY, ART, mug())])
    titles = {key: one.wording.title for key, one in words.items()}
    return titles, {f"{one.check}:{one.code}": one.what for one in found}


def test_a_language_without_a_book_is_told_and_never_given_another(tmp_path: Path) -> None:
    titles, found = told(tmp_path, language="it-IT")
    assert not titles
    assert list(found) == ["wording/language:no-book"]


def test_a_design_without_words_of_the_channel_s_language_is_told(tmp_path: Path) -> None:
    titles, found = told(tmp_path, language="de-DE")
    assert "Beekeeper" in titles[KEY] or "beekeeper" in titles[KEY]
    assert "German" in found["wording/language:no-own-words"]


@pytest.mark.parametrize(
    ("phrase", "code", "listed"),
    [("honey", "wording/refused:left-out", True), ("beekeeper", "wording/refused:own-words", False)],
)
def test_what_the_channel_forbids_is_told(tmp_path: Path, phrase: str, code: str, listed: bool) -> None:
    titles, found = told(tmp_path, words=WordRules((phrase,)))
    assert bool(titles) is listed
    assert phrase in found[code]
    assert not any(phrase in title.casefold() for title in titles.values())


def test_a_text_by_hand_that_fits_no_more_gives_way_and_is_told(tmp_path: Path) -> None:
    long = HandText("A mug for the queen of all beekeepers " * 3, "", 7)
    titles, found = told(tmp_path, LedgerState(by_hand={KEY: {"title": long}}))
    assert titles[KEY] != long.text
    assert "113 characters" in found["wording/by-hand:fits-no-more"]
    short = replace(long, text="A mug for the queen bee")
    assert told(tmp_path, LedgerState(by_hand={KEY: {"title": short}}))[0] == {KEY: short.text}
