"""The month from end to end: 40 designs on 11 blanks in 2 channels, and what a second run does."""

import csv
import json
from itertools import product
from pathlib import Path
from typing import Any

import pytest
from monthshop import FEW_BLANKS, counts, digests, hundredfold, month, month_shop
from openmoji import design_png

from hundredfold.workshop.shop.folder import open_shop

# One worker makes the month for all of these.
pytestmark = pytest.mark.xdist_group("month of thirty days")
DAYS = 30


def packs(shop: Path) -> dict[str, str]:
    return digests(shop / "packs")


def changed(before: dict[str, str], after: dict[str, str]) -> set[str]:
    return {name for name in before.keys() | after.keys() if before.get(name) != after.get(name)}


def manifests(shop: Path) -> dict[str, dict[str, Any]]:
    found = sorted((shop / "packs").glob("*/*/manifest.json"))
    names = [path.parent.relative_to(shop / "packs").as_posix() for path in found]
    return {name: json.loads(path.read_bytes()) for name, path in zip(names, found, strict=True)}


def test_thirty_days_of_packs_all_sound_and_under_the_caps(made: Path) -> None:
    all_sound(made, most_rows=24, most_heads=4)


@pytest.mark.big
def test_a_month_of_a_hundred_designs_under_the_sample_s_caps(tmp_path: Path) -> None:
    shop = month_shop(tmp_path / "shop", 100)
    month(shop)
    all_sound(shop, most_rows=60, most_heads=9)


def all_sound(shop: Path, most_rows: int, most_heads: int) -> None:
    held = manifests(shop)
    assert len(held) == 2 * DAYS
    for pack in held.values():
        rows = pack["rows"]
        if pack["channel"] == "northfold":
            assert 0 < len(rows) <= most_rows
        else:
            assert 0 < sum(row["role"] == "head" for row in rows) <= most_heads
    code, told = hundredfold("verify", "--shop", str(shop))
    assert code == 0, told
    skus = [row["sku"] for pack in held.values() for row in pack["rows"]]
    assert len(skus) == len(set(skus))


def test_a_second_run_makes_nothing(made: Path) -> None:
    before = packs(made)
    first, second = month(made), month(made)
    assert counts(first)[0] == counts(second)[0] == 0
    assert counts(second)[1] > 500
    assert packs(made) == before


def test_the_caution_about_a_drinking_rim_comes_once_a_blank(made: Path) -> None:
    findings = month(made)["findings"]
    assert isinstance(findings, list)
    said = [found["item"] for found in findings if found["check"] == "blank/drinking-rim"]
    assert len(said) == len(set(said)) >= 5


def test_one_deleted_pack_file_is_noticed_and_only_it_is_made(made: Path) -> None:
    before = packs(made)
    (made / "packs" / "quayside" / "2027-01-03" / "artwork.zip").unlink()
    assert counts(month(made))[0] == 1
    assert packs(made) == before


def test_a_changed_pack_file_is_made_again(made: Path) -> None:
    before = packs(made)
    table = made / "packs" / "quayside" / "2027-01-02" / "listings.csv"
    table.write_bytes(table.read_bytes().replace(b"new", b"NEW", 1))
    assert counts(month(made))[0] == 1
    assert packs(made) == before


def test_another_base_cost_redoes_tables_and_no_image(made: Path) -> None:
    before = packs(made)
    blank = made / "blanks" / "mug-325.toml"
    blank.write_text(blank.read_text("utf-8").replace('base_cost = "', 'base_cost = "1'), "utf-8")
    told = month(made)
    after = packs(made)
    names = {name.rsplit("/", 1)[-1] for name in changed(before, after)}
    assert names == {"listings.csv", "listings.xlsx", "manifest.json"}
    assert counts(told)[0] == len(changed(before, after))


def test_a_touched_design_redoes_its_own_files_only(made: Path) -> None:
    before, held = packs(made), manifests(made)
    art = made / "designs" / "honeybee-club.png"
    assert art.is_file()
    art.write_bytes(design_png("honeybee", 366))
    month(made)
    after = manifests(made)
    for key, pack in after.items():
        old = {m["name"]: m["sha256"] for m in members(held[key])}
        new = {m["name"]: m["sha256"] for m in members(pack)}
        different = {name for name in old.keys() | new.keys() if old.get(name) != new.get(name)}
        assert all(str(name).startswith("honeybee-club-") for name in different), different
        if not different:
            assert not {name for name in changed(before, packs(made)) if name.startswith(f"{key}/")}


def members(pack: dict[str, Any]) -> list[dict[str, Any]]:
    return [member for part in pack["parts"] for archive in part["archives"] for member in archive["members"]]


def test_what_is_live_already_is_adopted_and_never_planned_as_new(tmp_path: Path) -> None:
    shop = month_shop(tmp_path / "shop", 8, blanks=FEW_BLANKS)
    blanks = [blank.code for blank in open_shop(shop).blanks]
    designs = sorted(path.name for path in (shop / "designs").iterdir())
    listings = list(product(designs, blanks))[:15]
    live = tmp_path / "live.csv"
    with live.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(["Item SKU", "Title", "Blank", "Design", "Listing id"])
        for number, (design, blank) in enumerate(listings):
            writer.writerow([f"OLD-{number:04}", f"{design} on {blank}", blank, design, f"Q{number}"])
    code, told = hundredfold("adopt", str(live), "--channel", "quayside", "--shop", str(shop))
    assert code == 0, told
    month(shop, days=4)
    planned = {(file_of(shop, row), row["blank"]) for row in rows_of(shop, "quayside") if row["artwork"]}
    assert planned
    assert planned.isdisjoint(listings)


def rows_of(shop: Path, channel: str) -> list[dict[str, Any]]:
    packs = (pack for pack in manifests(shop).values() if pack["channel"] == channel)
    return [row for pack in packs for row in pack["rows"]]


def file_of(shop: Path, row: dict[str, Any]) -> str:
    """The design's file name, from the name of its print file."""
    (member,) = row["artwork"].values()
    stem = str(member).split(f"-{row['design'].lower()}")[0]
    assert (shop / "designs" / f"{stem}.png").is_file()
    return f"{stem}.png"
