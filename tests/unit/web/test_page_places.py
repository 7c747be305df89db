"""Every verb of the command line is told of in docs/page.md, and the addresses given there answer."""

import re
from pathlib import Path

from pages import opened

from hundredfold.cli.main import VERBS
from hundredfold.workshop.shop.newshop import new_shop

PAGE = Path(__file__).parents[3] / "docs" / "page.md"
ROW = re.compile(r"(?m)^\| `([a-z ]+)` \| .+ \| `(/[^`]*)` \|$")


def test_every_verb_has_its_place_or_is_said_to_have_none() -> None:
    text = PAGE.read_text("utf-8")
    placed = {verb for verb, _ in ROW.findall(text)}
    line = re.search(r"(?m)^Not on the page yet.*$", text)
    missing = set(re.findall(r"`([a-z ]+)`", line[0])) if line else set()
    assert placed | missing == {verb.words for verb in VERBS}
    assert not placed & missing


def test_every_address_of_the_table_answers(tmp_path: Path) -> None:
    new_shop(tmp_path / "shop", sample=True)
    client = opened(tmp_path / "shop")
    addresses = {address for _, address in ROW.findall(PAGE.read_text("utf-8"))}
    assert {address for address in addresses if client.get(address).status_code != 200} == set()
