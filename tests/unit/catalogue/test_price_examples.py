"""Every line of docs/prices.md is read as it stands and leads to the price beside it; every key is shown."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from hundredfold.catalogue.parse_blanks import parse_blank
from hundredfold.catalogue.parse_channels import parse_channel
from hundredfold.catalogue.parse_settings import parse_settings
from hundredfold.catalogue.parsing import read_catalogue
from hundredfold.catalogue.toml_table import Source
from hundredfold.pricing.price import Price
from hundredfold.pricing.sizes import prices_of, targets_for

PAGE = (Path(__file__).parents[3] / "docs" / "prices.md").read_text(encoding="utf-8")
ROW = re.compile(r"^\| (shop.toml|channel|blank) \| `([^`]+)` \| ([0-9.]+|none|\?) \| .+ \|$", re.MULTILINE)

SHOP = {"name": '"Puddlewick Goods"', "currency": '"GBP"', "target_profit": '"3.00"'}
BLANK = {
    "code": '"MUG"', "name": '"Mug"', "form": '"mug"',
    "material": '"coated ceramic"', "process": '"sublimation"',
    "postage": '"3.45"', "areas": "{ front = { width_px = 100, height_px = 100, dpi = 300 } }",
    "colours": '{ white = { name = "White", srgb = "#ffffff" } }',
    "variants": '{ M1 = { colour = "white", size = "M", base_cost = "3.95" }, '
    'M2 = { colour = "white", size = "XL", base_cost = "3.95" } }',
}  # fmt: skip
CHANNEL = {
    "code": '"market"', "name": '"Market"', "currency": '"GBP"', "language": '"en-GB"',
    "cap": '{ counts = "rows", daily = 9 }', "fees": '{ rate = "14%", minimum = "0.50", fixed = "0.20" }',
    "limits": "{ title_chars = 80 }", "pictures": "{ width_px = 100, height_px = 100 }",
    "sheet": '{ kind = "csv", columns = [ { header = "Price", fill = "{price}" } ] }',
}  # fmt: skip
# What is already said, by heading.
STARTS: dict[str, dict[str, dict[str, str]]] = {
    "Tax on the sale": {
        "shop.toml": {"tax_registered": "true"},
        "channel": {"destinations": '{ home = { tax = "20%" } }'},
        "blank": {"tax": '"20%"'},
    },
    "Another currency": {
        "shop.toml": {"rates": '{ GBP-USD = "1.25" }'},
        "blank": {"currency": '"USD"'},
    },
}


def sections() -> list[tuple[str, str]]:
    parts = re.split(r"^### (.+)$", PAGE, flags=re.MULTILINE)
    return list(zip(parts[1::2], parts[2::2], strict=True))


def priced(heading: str, file: str = "", line: str = "") -> str:
    """The mug's price where the line stands in its file."""
    texts = {}
    for name, base in (("shop.toml", SHOP), ("blank", BLANK), ("channel", CHANNEL)):
        keys = base | STARTS.get(heading, {}).get(name, {})
        if name == file:
            key, _, value = line.partition(" = ")
            keys |= {key: value}
        texts[name] = "\n".join(f"{key} = {value}" for key, value in keys.items())
    shop = read_catalogue(
        texts["shop.toml"], {"blanks/mug.toml": texts["blank"]}, {"channels/market.toml": texts["channel"]}
    )
    blank, channel = shop.blanks[0], shop.channels[0]
    targets = targets_for(shop.settings, channel, blank, "allotment", "carrot.svg")
    answer = prices_of(blank, "white", shop.settings, channel, targets)["M"]
    return answer.price.plain() if isinstance(answer, Price) else "none"


EXAMPLES = [(heading, *match) for heading, text in sections() for match in ROW.findall(text)]


@pytest.mark.parametrize(("heading", "file", "line", "price"), EXAMPLES)
def test_a_line_leads_to_its_price(heading: str, file: str, line: str, price: str) -> None:
    assert priced(heading, file, line) == price


def test_the_prices_without_a_line() -> None:
    said = re.findall(r"\*\*([0-9.]+)\*\* without the line", PAGE)
    assert said == [priced(""), priced("Tax on the sale"), priced("Another currency")]


def test_every_row_of_the_tables_is_run() -> None:
    rows = [row for _, text in sections() for row in text.splitlines() if row.startswith("| ")]
    heads = sum(row.startswith("| file |") for row in rows)
    assert len(EXAMPLES) == len(rows) - heads > 30


def test_every_key_of_money_has_an_example() -> None:
    texts = {
        "shop.toml": "targets = [{}]",
        "blank": "",
        "channel": "[sheet]\ncolumns = [{}]\n[fees]\ntiers = [{}]\n[returns.a]\n[destinations.a]\n",
    }
    readers: dict[str, Callable[[Source], object]] = {
        "shop.toml": parse_settings,
        "blank": lambda source: parse_blank(source, "GBP"),
        "channel": parse_channel,
    }
    money = {
        "shop.toml": r"target|price|tax|rates",
        "blank": r"(side|sides|side_cost|packaging|postage_to|tax|tax_included)$",
        "channel": r"(fees|payment|listing|adverts|returns|destinations|postage|price|min_price|max_price)",
    }
    for name, text in texts.items():
        source = Source(text, name)
        readers[name](source)
        shown = " ".join(line for _, file, line, _ in EXAMPLES if file == name)
        for key in sorted(key for key in source.asked if re.match(money[name], key)):
            last = key.rpartition(".")[2]
            assert re.search(rf"\b{last} =", shown), f"{name}: {key} has no example"
