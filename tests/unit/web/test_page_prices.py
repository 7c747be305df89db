"""Prices: the sums, what would change, and that nothing is kept by trying."""

from pathlib import Path

import pytest
from pages import opened

from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.shop.newshop import new_shop


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    new_shop(tmp_path / "shop", sample=True)
    return tmp_path / "shop"


def test_every_price_is_drawn_with_its_parts(shop: Path) -> None:
    page = opened(shop).get("/prices").text
    assert "12.95 GBP" in page  # the sample's own mug, as docs/prices.md works it out
    assert 'class="b-goods"' in page
    assert "was " not in page.partition("<tbody>")[2]


def test_trying_shows_what_would_change_and_keeps_nothing(shop: Path) -> None:
    before = (shop / "shop.toml").read_bytes()
    page = opened(shop).get("/prices?cost=20&postage=0.50&fee=2&adverts=0.25").text
    assert "would change" in page
    assert "was 12.95 GBP" in page
    assert (shop / "shop.toml").read_bytes() == before


def test_a_lower_target_is_cheaper_and_is_kept_only_when_asked(shop: Path) -> None:
    client = opened(shop)
    assert "Cheaper" in client.get("/prices?target=1.00").text
    assert open_shop(shop).settings.target_profit.plain() == "3.00"
    client.post("/prices/target", data={"target": "1,50"})
    assert open_shop(shop).settings.target_profit.plain() == "1.50"
    assert "Before it was 3.00 GBP." in client.get("/prices").text


@pytest.mark.parametrize("text", ["", "x", "nan", "-1", "1e9999"])
def test_a_target_that_is_none_is_refused(shop: Path, text: str) -> None:
    answer = opened(shop).post("/prices/target", data={"target": text})
    assert 400 <= answer.status_code < 500
    assert open_shop(shop).settings.target_profit.plain() == "3.00"


@pytest.mark.parametrize("query", ["cost=x", "fee=1000", "target=nan", "channel=nobody", "postage=%00"])
def test_a_value_that_cannot_be_tried_is_a_sentence(shop: Path, query: str) -> None:
    answer = opened(shop).get(f"/prices?{query}")
    assert 400 <= answer.status_code < 500
    assert "What to do:" in answer.text


def test_one_blank_shows_its_working_and_a_price_of_ones_own(shop: Path) -> None:
    client = opened(shop)
    assert "working" in client.get("/prices/MUG-325").text
    assert "left" in client.get("/prices/MUG-325?at=9.95").text
    assert client.get("/prices/NOBODY").status_code == 404
    assert client.get("/prices/MUG-325?at=x").status_code < 500
