"""docs/settings.md and docs/blanks-file.md name every key and every column there is, and no other."""

import re
from pathlib import Path

import pytest

from hundredfold.catalogue.parse_blanks import parse_blank
from hundredfold.catalogue.parse_channels import parse_channel
from hundredfold.catalogue.parse_settings import parse_settings
from hundredfold.catalogue.pricecolumns import FIELDS, find_columns
from hundredfold.catalogue.toml_table import Source
from hundredfold.kernel.grid import Grid

DOCS = Path(__file__).parents[3] / "docs"
# Each makes its reader reach every table there is, so that every key is asked for.
EVERY_TABLE = {
    "shop.toml": "targets = [{}]",
    "A blank: blanks/NAME.toml": "[plate]\n[areas.a]\ncone = {}\n[sizes.a]\n[colours.a]\n[variants.a]\n",
    "A channel: channels/NAME.toml": "[sheet]\ncolumns = [{}]\n[fees]\ntiers = [{}]\n"
    "[returns.a]\n[destinations.a]\n",
}


def documented(heading: str) -> set[str]:
    page = (DOCS / "settings.md").read_text(encoding="utf-8")
    section = page.split(f"## {heading}\n")[1].split("\n## ")[0]
    return set(re.findall(r"^\| `([^`]+)` \|", section, re.MULTILINE))


def asked(source: Source) -> set[str]:
    if source.file == "shop.toml":
        parse_settings(source)
    elif source.file.startswith("A blank"):
        parse_blank(source, "GBP")
    else:
        parse_channel(source)
    return source.asked


def test_every_key_is_documented_and_no_other() -> None:
    for heading, text in EVERY_TABLE.items():
        assert documented(heading) == asked(Source(text, heading)), heading


def documented_headings() -> list[tuple[str, str]]:
    page = (DOCS / "blanks-file.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| ([^|]+) \| ([^|]*) \|", page, re.MULTILINE)[1:]
    return [(name, heading) for name, headings in rows for heading in headings.split(", ")]


def test_every_field_of_a_price_list_is_documented_and_no_other() -> None:
    assert tuple(dict.fromkeys(name for name, _ in documented_headings())) == FIELDS


@pytest.mark.parametrize(("name", "heading"), documented_headings())
def test_every_documented_heading_is_understood(name: str, heading: str) -> None:
    others = {"blank": "Blank", "colour": "Colour", "base cost": "Base cost"}
    heads = (*(head for field, head in others.items() if field != name), heading)
    found = find_columns(Grid("list.csv", "", (heads,)), {}, 1)
    assert found is not None
    assert found.names.get(name) == heading
