"""``why`` answers for a design, a SKU, a pack and its files, and says what the next month makes again."""

import json
import re
from pathlib import Path
from typing import Any

import pytest
from monthshop import FEW_BLANKS, START, hundredfold, month, month_shop

PACK = f"northfold/{START}"


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = month_shop(tmp_path_factory.mktemp("why") / "shop", 2, blanks=FEW_BLANKS)
    month(made, 1)
    return made


def ran(shop: Path, *arguments: str) -> dict[str, Any]:
    code, told = hundredfold(*arguments, "--shop", str(shop))
    assert code == 0, told
    return told


def why(shop: Path, item: str) -> dict[str, Any]:
    return ran(shop, "why", item)


def manifest(shop: Path) -> dict[str, Any]:
    held: dict[str, Any] = json.loads((shop / "packs" / PACK / "manifest.json").read_bytes())
    return held


def test_a_sku_tells_its_pack_its_day_and_its_files(shop: Path) -> None:
    row = manifest(shop)["rows"][0]
    told = why(shop, row["sku"])
    assert any("first day with room" in line for line in told["history"])
    assert f"{row['sku']} is in the pack {PACK}" in told["made from"]
    assert any("design art: designs/" in line for line in told["made from"])
    assert told["made again"] == ["the next month makes none of these again"]


@pytest.mark.parametrize("name", [PACK, f"packs/{PACK}/", f"anywhere/packs/{PACK}/artwork.zip"])
def test_a_pack_and_its_files_are_told_as_they_lie(shop: Path, name: str) -> None:
    rows = len(manifest(shop)["rows"])
    told = why(shop, name)
    assert f"{rows} rows, packed" in told["made from"][0]
    assert "  artwork.zip: as it was written" in told["made from"]
    assert told["made again"] == []


def test_a_file_inside_an_archive_tells_what_it_was_made_from(shop: Path) -> None:
    for archive in manifest(shop)["parts"][0]["archives"]:
        told = why(shop, archive["members"][0]["name"])
        assert any("layout area width px" in line for line in told["made from"])


def test_another_blank_colour_is_named_with_both_values(shop: Path) -> None:
    row = next(row for row in manifest(shop)["rows"] if row["pictures"])
    path = next(p for p in (shop / "blanks").glob("*.toml") if f'code = "{row["blank"]}"' in p.read_text())
    text = path.read_text("utf-8")
    found = re.search(rf'(?m)^{row["colour"]} = .*srgb = "(#[0-9a-f]+)"', text)
    assert found
    path.write_text(text.replace(found[0], found[0].replace(found[1], "#fe00fd")), "utf-8")
    told = why(shop, row["sku"])
    assert any(f"blank colour: {found[1]} -> #fe00fd" in line for line in told["made again"]), told
    path.write_text(text, "utf-8")


def test_new_art_is_named(shop: Path) -> None:
    art = sorted((shop / "designs").iterdir())
    old = art[0].read_bytes()
    art[0].write_bytes(old + b"x")
    told = why(shop, art[0].name)
    assert any("design art changed" in line for line in told["made again"]), told
    art[0].write_bytes(old)


def test_a_plan_only_looks(shop: Path) -> None:
    before = why(shop, PACK)
    told = ran(shop, "plan", "--start", "2031-05-01", "--days", "2")
    assert {row["day"] for row in told["plan"]} == {"2031-05-01", "2031-05-02"}
    assert why(shop, PACK) == before
    (shop.parent / "out").mkdir()
    told = ran(shop, "deliver", "--all", "--to", str(shop.parent / "out"))
    assert PACK in {pack["pack"] for pack in told["packs"]}
    assert why(shop, PACK)["made again"] == ["it has been handed over, so no month writes it again"]
