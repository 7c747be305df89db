"""`price` shows every price and the sums behind it."""

import json
from pathlib import Path

import pytest

from hundredfold.cli.main import main
from hundredfold.workshop.shop.newshop import new_shop

Capture = pytest.CaptureFixture[str]


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    return new_shop(tmp_path / "shop", sample=True).paths.root


def price(shop: Path, *words: str) -> int:
    return main(["price", "--shop", str(shop), *words])


def test_all_blanks_fit_80_columns(shop: Path, capsys: Capture) -> None:
    assert price(shop) == 0
    lines = capsys.readouterr().out.splitlines()
    assert all(len(line) <= 80 for line in lines)
    assert ["MUG-325", "northfold", "3.95", "12.95", "GBP", "3.54"] in [line.split() for line in lines]
    assert sum("quayside" in line for line in lines) == 11


def test_the_sums_of_one(shop: Path, capsys: Capture) -> None:
    # By hand: (3.00 + 3.95 + 3.45 + 0.20) / (1 - 0.14) = 12.33, so 12.95; the fee is 14 % of it, 1.81.
    assert price(shop, "MUG-325", "--channel", "northfold") == 0
    assert [line.strip() for line in capsys.readouterr().out.splitlines()] == [
        "",
        "MUG-325 in northfold, base cost 3.95 GBP",
        "colours: white, cream, sky, sage, blush, lemon, stone",
        "price 12.95 GBP",
        "- base cost 3.95",
        "- postage 3.45",
        "- fee 1.81 (14 % of 12.95)",
        "- fixed fee 0.20",
        "= profit 3.54, wanted 3.00",
        "least price before the ending 12.33",
    ]


def test_sizes_are_told_with_their_colours_and_the_rate(shop: Path, capsys: Capture) -> None:
    assert price(shop, "T-SHIRT", "--channel", "quayside") == 0
    shown = capsys.readouterr().out
    assert (
        "T-SHIRT in quayside, base cost 8.10 GBP (at a rate of 1.27)\n  XXL: white, natural\n  XL: " in shown
    )


def test_json(shop: Path, capsys: Capture) -> None:
    assert price(shop, "TEA-TOWEL", "--json") == 0
    prices = json.loads(capsys.readouterr().out)["prices"]
    assert [(each["channel"], each["colour"], each["price"]) for each in prices] == [
        ("northfold", "white", "12.95 GBP"),
        ("northfold", "natural", "12.95 GBP"),
        ("quayside", "white", "15.99 USD"),
        ("quayside", "natural", "15.99 USD"),
    ]


def test_a_price_that_cannot_be_is_a_problem(shop: Path, capsys: Capture) -> None:
    settings = shop / "shop.toml"
    text = settings.read_text(encoding="utf-8").replace('target_profit = "3.00"', 'target_profit = "75"')
    settings.write_text(text, encoding="utf-8")
    assert price(shop, "TEA-TOWEL") == 1
    assert "stop: TEA-TOWEL white in northfold" in capsys.readouterr().out


def test_a_share_of_the_price_counts_as_well(shop: Path, capsys: Capture) -> None:
    settings = shop / "shop.toml"
    text = settings.read_text(encoding="utf-8")
    settings.write_text('target_share = "20%"\n' + text, encoding="utf-8")
    assert price(shop, "MUG-325", "--channel", "northfold") == 0
    # (3.00 + 7.40 + 0.20) / (1 - 0.14 - 0.20) = 16.06; wanted 3.00 + 20 % of 16.95 = 6.39.
    assert "wanted 6.39" in capsys.readouterr().out


def test_an_unknown_blank_is_answered_with_the_nearest(shop: Path, capsys: Capture) -> None:
    assert price(shop, "MUG-352") == 2
    assert 'did you mean "MUG-325"?' in capsys.readouterr().err


def test_a_shop_that_sells_nothing_says_so(tmp_path: Path, capsys: Capture) -> None:
    assert price(new_shop(tmp_path / "empty").paths.root) == 0
    assert "nothing to price" in capsys.readouterr().out
