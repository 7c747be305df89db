"""`price` shows every price and the sums behind it."""

import json
from pathlib import Path
from xml.etree import ElementTree

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
    assert sum("quayside" in line for line in lines) == 22  # a row and a bar each
    assert "B blank  p postage  f fees  # profit" in lines[-1]


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
        "least price before the ending 12.32",
        "margin 27.3 %, mark-up 37.6 %",
        "adverts may cost up to 3.54 a sale before nothing is left",
        "",
        "northfold BBBBBBBBBBBBBBppppppppppppfffffff#############   12.95",
        "B blank  p postage  f fees  # profit",
    ]


def test_channels_are_compared(shop: Path, capsys: Capture) -> None:
    assert price(shop, "MUG-325") == 0
    lines = [line.split() for line in capsys.readouterr().out.splitlines()]
    assert ["northfold", "12.95", "GBP", "3.95", "3.45", "2.01", "3.54", "27.3", "%"] in lines
    assert ["quayside", "15.99", "USD", "5.02", "4.38", "2.30", "4.29", "26.8", "%"] in lines


def test_a_price_below_cost_is_a_stop_and_one_below_the_target_is_not(shop: Path, capsys: Capture) -> None:
    assert price(shop, "MUG-325", "--channel", "northfold", "--at", "8.00") == 1
    assert (
        "stop: MUG-325 in northfold: 8.00 GBP is below cost: each sale loses 0.72" in capsys.readouterr().out
    )
    assert price(shop, "MUG-325", "--channel", "northfold", "--at", "11.95") == 0
    assert "warn: MUG-325 in northfold: 11.95 GBP leaves 2.68 where 3.00" in capsys.readouterr().out


def test_a_grid_of_what_if(shop: Path, capsys: Capture) -> None:
    words = ("MUG-325", "--channel", "northfold", "--if", "target=2.50,4.00", "--if", "fee=10%,+5%")
    assert price(shop, *words) == 0
    lines = [line.split() for line in capsys.readouterr().out.splitlines()]
    # By hand: (2.50 + 7.60) / 0.90 = 11.22; / 0.81 = 12.47; (4.00 + 7.60) / 0.90 = 12.89; / 0.81 = 14.32.
    assert ["2.50", "11.95", "12.95"] in lines
    assert ["4.00", "12.95", "14.95"] in lines
    assert price(shop, *words, "--json") == 0
    grid = json.loads(capsys.readouterr().out)["grid"]
    assert [(cell["target"], cell["fee"]) for cell in grid] == [
        ("2.50", "10%"), ("2.50", "+5%"), ("4.00", "10%"), ("4.00", "+5%"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    "words",
    [
        ("--if", "target=3"), ("MUG-325", "--if", "targt=3"), ("MUG-325", "--if", "target"),
        ("MUG-325", "--if", "fee=120%"), ("MUG-325", "--if", "cost=dear"), ("--at", "9.95"),
    ],
)  # fmt: skip
def test_what_cannot_be_tried_is_told(shop: Path, capsys: Capture, words: tuple[str, ...]) -> None:
    assert price(shop, *words) == 2
    assert "try:" in capsys.readouterr().err


def test_prices_are_drawn_into_a_file(shop: Path, tmp_path: Path, capsys: Capture) -> None:
    assert price(shop, "--svg", str(tmp_path / "prices.svg")) == 0
    drawn = (tmp_path / "prices.svg").read_text(encoding="utf-8")
    tree = ElementTree.fromstring(drawn)
    told = [title.text for title in tree.iter("{http://www.w3.org/2000/svg}title")]
    assert "fee 1.81 (14 % of 12.95)" in told
    assert "drawn into" in capsys.readouterr().out


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
