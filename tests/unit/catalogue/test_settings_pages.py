"""docs/settings.md and docs/blanks-file.md name every key and every column there is, and no other."""

import re
from pathlib import Path

from hundredfold.catalogue.parse_blanks import parse_blank
from hundredfold.catalogue.parse_channels import parse_channel
from hundredfold.catalogue.parse_settings import parse_settings
from hundredfold.catalogue.pricelist import COLUMNS
from hundredfold.catalogue.toml_table import Source

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


def test_every_column_of_a_price_list_is_documented() -> None:
    page = (DOCS / "blanks-file.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| ([^|]+) \| ([^|]*) \|", page, re.MULTILINE)[1:]
    assert {name: tuple(filter(None, words.split(", "))) for name, words in rows} == COLUMNS
