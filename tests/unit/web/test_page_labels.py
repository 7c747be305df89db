"""The labels of every screen against the words of the house, as docs/page.md lists them."""

import re
from pathlib import Path

import pytest
from lxml import html
from pages import opened
from plannedshop import CHANNEL, FIRST, planned_shop
from starlette.testclient import TestClient
from walking import found

from hundredfold.web.rendering import ROOMS
from hundredfold.workshop.shop.newshop import new_shop

PAGE = Path(__file__).parents[3] / "docs" / "page.md"
ROW = re.compile(r"(?m)^\| ([a-z][a-z -]*) \| ([a-z][a-z, -]*) \|$")
OWN = "//td | //textarea | //option | //code | //*[contains(@class, 'theirs')] | //*[@class='name']"
LABELS = "//h1 | //h2 | //h3 | //button | //main//a | //nav//a | //label | //legend | //th | //dt | //summary"
ROOMS_SEEN = (
    "/",
    "/designs",
    "/layouts",
    "/review",
    "/calendar",
    "/packs",
    "/prices",
    "/blanks",
    "/channels",
)
STEPS = tuple(f"/begin/{number}" for number in range(1, 7))
OF_ONE = (
    f"/calendar/{FIRST}",
    f"/packs/{CHANNEL}/{FIRST}",
    "/prices/MUG-325",
    "/blanks/MUG-325",
    f"/channels/{CHANNEL}",
)
SCREENS = (*ROOMS_SEEN, *OF_ONE, *STEPS, "/mend?file=shop.toml", "/checks")


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> TestClient:
    folder = tmp_path_factory.mktemp("labels") / "shop"
    planned_shop(folder)
    return opened(folder)


def house() -> dict[str, tuple[str, ...]]:
    """A word of ours, and what is never said in its place."""
    text = PAGE.read_text("utf-8").partition("## The words of the house")[2].partition("\n## ")[0]
    rows = [pair for pair in ROW.findall(text) if pair[0] != "we say"]
    return {ours: tuple(one.strip() for one in others.split(",")) for ours, others in rows}


def labels(text: str) -> list[str]:
    """What a screen's headings, actions and fields are called; the seller's own names are no labels."""
    tree = html.fromstring(text)
    for own in found(tree, OWN):
        own.drop_tree()
    return [" ".join(one.text_content().split()) for one in found(tree, LABELS)]


def test_the_list_is_there() -> None:
    assert {"blank", "layout", "channel", "pack", "mock-up", "proof", "occasion", "hand over"} <= set(house())


@pytest.mark.parametrize("address", SCREENS)
def test_no_label_says_another_word_for_a_word_of_the_house(page: TestClient, address: str) -> None:
    answer = page.get(address)
    assert answer.status_code == 200, address
    said = labels(answer.text)
    assert said
    wrong = {
        (label, word): ours
        for ours, others in house().items()
        for word in others
        for label in said
        if re.search(rf"(?i)\b{re.escape(word)}s?\b", label)
    }
    assert wrong == {}


def test_the_rooms_are_named_in_the_docs_and_nowhere_else() -> None:
    rooms = [name for _, name in ROOMS]
    line = next(line for line in PAGE.read_text("utf-8").splitlines() if line.startswith("Its rooms:"))
    assert re.findall(r"\*\*([^*]+)\*\*", line) == rooms


def test_a_severity_is_said_in_three_words_alone(page: TestClient) -> None:
    for address in SCREENS:
        marks = found(html.fromstring(page.get(address).text), "//span[starts-with(@class, 'mark')]/text()")
        assert not {"Error", "Warning", "Failed"} & {one.strip() for one in marks}


def test_a_shop_without_a_name_says_the_same_words(tmp_path: Path) -> None:
    new_shop(tmp_path / "shop")
    said = labels(opened(tmp_path / "shop").get("/").text)
    assert not any(re.search(r"(?i)\bproducts?\b", one) for one in said)
