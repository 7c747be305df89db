"""File names as an English shop reads them: the table in docs/words.md, row by row."""

import re
from pathlib import Path

import pytest
from shops import small_shop

from hundredfold.workshop.shop.naming import DesignNames, shop_names

DOCS = Path(__file__).parents[4] / "docs" / "words.md"
_REASON = re.compile(r" \((?:a|an|about|selling)[^()]*\)$")


def rows() -> list[tuple[str, str, str]]:
    found = re.findall(r"^\| `(.+)` \| (.+?) \| (.+?) \|$", DOCS.read_text("utf-8"), re.MULTILINE)
    return [(file, "" if title.startswith("(nothing") else title, left) for file, title, left in found]


@pytest.fixture(scope="module")
def names(tmp_path_factory: pytest.TempPathFactory) -> DesignNames:
    return shop_names(small_shop(tmp_path_factory.mktemp("names")))


def test_there_are_twenty_hard_names() -> None:
    assert len(rows()) == 20


@pytest.mark.parametrize(("file", "title", "left_out"), rows())
def test_a_hard_name_is_read_as_the_docs_say(
    names: DesignNames, file: str, title: str, left_out: str
) -> None:
    reading = names.read(file)
    assert reading.title == title
    told = [] if left_out == "nothing" else [_REASON.sub("", part) for part in left_out.split("; ")]
    assert [one.words for one in reading.left_out] == told


@pytest.mark.parametrize(
    ("file", "title"),
    [
        ("its a swim thing.png", "It's a Swim Thing"),
        ("the hive and its queen.png", "The Hive and Its Queen"),  # no apostrophe belongs there
        ("IM BUSY.png", "I'm Busy"),
        ("gift-for-the-gardener.png", "For the Gardener"),
        ("highspiritslowtide_swimmer.png", "High Spirits Low Tide"),
    ],
)
def test_apostrophes_and_words_run_together(names: DesignNames, file: str, title: str) -> None:
    assert names.read(file).title == title
