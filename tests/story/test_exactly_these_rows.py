"""One name, code or fee changed: over the whole sample exactly the rows that must change do, no other."""

import csv
import io
import json
import re
import shutil
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from monthshop import month, month_shop

# Ten days hold all listings of five designs on every blank of the sample.
DAYS = 14
Row = tuple[str, ...]
pytestmark = pytest.mark.xdist_group("exactly these rows")


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    shop = month_shop(tmp_path_factory.mktemp("rows") / "shop", 3)
    month(shop, DAYS)
    return shop


@pytest.fixture
def shop(made: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(made, tmp_path / "shop"))


def tables(shop: Path) -> dict[tuple[str, str], dict[str, str]]:
    """Every row of every table as other programs read it: its cells by heading, by channel and SKU."""
    found: dict[tuple[str, str], dict[str, str]] = {}
    for path in sorted(shop.glob("packs/*/*/listings*")):
        channel = path.parts[-3]
        if path.suffix == ".xlsx":
            page = openpyxl.load_workbook(path).worksheets[0]
            lines = [[str(cell if cell is not None else "") for cell in row] for row in page.values]
            head = next(at for at, line in enumerate(lines) if "Your reference" in line)
        else:
            lines, head = list(csv.reader(io.StringIO(path.read_text("utf-8-sig"), newline=""))), 0
        for line in lines[head + 1 :]:
            cells = dict(zip(lines[head], line, strict=True))
            found[channel, cells.get("Your reference") or cells["stall item"]] = cells
    return found


def facts(shop: Path) -> dict[str, dict[str, Any]]:
    """What the manifests say of every SKU."""
    held = [json.loads(path.read_bytes())["rows"] for path in sorted(shop.glob("packs/*/*/manifest.json"))]
    return {row["sku"]: row for pack in held for row in pack}


def edit(path: Path, old: str, new: str) -> None:
    text, count = re.subn(old, new, path.read_text("utf-8"))
    assert count == 1
    path.write_text(text, "utf-8")


def after(shop: Path) -> dict[tuple[str, str], set[str]]:
    """Make the month again: the headings whose cells differ, by channel and SKU. No row comes or goes."""
    before = tables(shop)
    month(shop, DAYS)
    now = tables(shop)
    assert now.keys() == before.keys()
    return {
        key: {name for name, cell in cells.items() if cell != before[key][name]}
        for key, cells in now.items()
        if cells != before[key]
    }


def test_the_whole_sample_is_there(made: Path) -> None:
    rows = facts(made).values()
    assert len({row["blank"] for row in rows}) == 11
    assert {channel for channel, _ in tables(made)} == {"northfold", "quayside"}
    assert len(rows) > 100


def test_a_blank_renamed_changes_its_own_rows_and_only_what_tells_its_name(shop: Path) -> None:
    known = facts(shop)
    edit(shop / "blanks" / "mug-325.toml", 'name = "Ceramic mug 325 ml"', 'name = "Stoneware mug 325 ml"')
    changed = after(shop)
    of_blank = {sku for sku, row in known.items() if row["blank"] == "MUG-325"}
    assert {sku for channel, sku in changed if channel == "northfold"} == {
        sku for sku in of_blank if ("northfold", sku) in tables(shop)
    }
    assert {sku for _, sku in changed} <= of_blank
    words = {
        "Item",
        "Shop heading",
        "About the item",
        "Words to find it",
        "heading",
        "story",
        "finding words",
    }
    points = {name for names in changed.values() for name in names if re.search(r"point|reason", name)}
    assert set().union(*changed.values()) <= words | points
    assert all("Item" in names for (channel, _), names in changed.items() if channel == "northfold")


def test_a_code_changed_changes_the_rows_of_that_colour_and_that_cell_alone(shop: Path) -> None:
    known, before = facts(shop), tables(shop)
    colour = next(row["colour"] for row in known.values() if row["blank"] == "MUG-325" and row["colour"])
    code = f"NF-M325-{colour[:3].upper()}"
    edit(shop / "blanks" / "mug-325.toml", re.escape(code), "NF-M325-NEW")
    changed = after(shop)
    wanted = {
        (channel, sku)
        for channel, sku in before
        if (known[sku]["blank"], known[sku]["colour"]) == ("MUG-325", colour)
    }
    assert wanted
    assert changed.keys() == wanted
    assert {name for names in changed.values() for name in names} <= {"Northfold item", "maker item"}


def test_a_fee_changed_changes_the_prices_of_its_channel_alone(shop: Path) -> None:
    known, before = facts(shop), tables(shop)
    edit(shop / "channels" / "northfold.toml", 'rate = "14%"', 'rate = "24%"')
    changed = after(shop)
    assert changed.keys() == {(channel, sku) for channel, sku in before if channel == "northfold"}
    assert all(names == {"Price GBP"} for names in changed.values())
    assert all(known[sku]["blank"] for _, sku in changed)
