"""Barcodes of a bought list go into the tables: one a thing, the same on every channel, each once."""

import csv
import io
import json
import re
import shutil
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from monthshop import counts, digests, hundredfold, month, month_shop

# GS1's test numbers begin with 952 (GS1 General Specifications, 1.4.2); the check digit: 7.9 there.
BODIES = [f"95201230{number:04}" for number in range(300)]


def gtin(body: str) -> str:
    total = sum(int(digit) * (3 if place % 2 else 1) for place, digit in enumerate(body))
    return body + str(-total % 10)


BOUGHT = [gtin(body) for body in BODIES]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    shop = month_shop(tmp_path_factory.mktemp("codes") / "shop", 2, blanks=("mug-325",))
    for name, before in (("northfold", '  { header = "Price GBP"'), ("quayside", '  { header = "usd"')):
        path = shop / "channels" / f"{name}.toml"
        column = '  { header = "EAN", fill = "{barcode}", required_for = ["member", "single"] },\n'
        path.write_text(path.read_text("utf-8").replace(before, column + before), "utf-8")
    (shop / "barcodes.csv").write_text("GTIN,note\n" + "\n".join(f"{one},bought 2026" for one in BOUGHT))
    month(shop, 3)
    return shop


@pytest.fixture
def shop(made: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(made, tmp_path / "shop"))


def told(shop: Path) -> dict[str, str]:
    """The barcode of every row in every table, by SKU, as other programs read the files."""
    found: dict[str, str] = {}
    for path in sorted(shop.glob("packs/*/*/listings*")):
        if path.suffix == ".xlsx":
            page = openpyxl.load_workbook(path).worksheets[0]
            lines = [[str(cell or "") for cell in row] for row in page.values]
            head = next(at for at, line in enumerate(lines) if "EAN" in line)
        else:
            lines, head = list(csv.reader(io.StringIO(path.read_text("utf-8-sig"), newline=""))), 0
        names = lines[head]
        sku = names.index("Your reference" if "Your reference" in names else "stall item")
        found |= {line[sku]: line[names.index("EAN")] for line in lines[head + 1 :]}
    return found


def rows(shop: Path) -> list[dict[str, Any]]:
    held = [json.loads(path.read_bytes())["rows"] for path in sorted(shop.glob("packs/*/*/manifest.json"))]
    return [row for pack in held for row in pack]


def test_each_thing_has_its_own_and_the_same_on_both_channels(made: Path) -> None:
    barcodes = told(made)
    by_goods: dict[tuple[str, ...], set[str]] = {}
    for row in rows(made):
        barcode = barcodes[row["sku"]]
        if row.get("role") == "head":
            assert not barcode
            continue
        assert barcode in BOUGHT
        by_goods.setdefault((row["design"], row["blank"], row["colour"], row["size"]), set()).add(barcode)
    assert {len(found) for found in by_goods.values()} == {1}
    every = [barcode for found in by_goods.values() for barcode in found]
    assert len(every) == len(set(every)) > 3
    assert set(every) == set(BOUGHT[: len(every)])
    assert len([one for one in barcodes.values() if one]) > len(every)  # the second channel shares them
    code, verified = hundredfold("verify", "--shop", str(made))
    assert code == 0, verified


def test_a_second_run_draws_none(shop: Path) -> None:
    before = digests(shop / "packs")
    assert counts(month(shop, 3))[0] == 0
    assert digests(shop / "packs") == before


def test_goods_that_went_keep_theirs_and_new_ones_get_others(shop: Path) -> None:
    before = told(shop)
    code, delivered = hundredfold("deliver", "--shop", str(shop), "--all")
    assert code == 0, delivered
    art = sorted((shop / "designs").iterdir())[0]
    assert hundredfold("retire", art.name, "--shop", str(shop))[0] == 0
    shutil.copy(sorted(Path(art.parent).iterdir())[1], art.parent / "another.png")
    _repaint(art.parent / "another.png")
    month(shop, 9)
    after = told(shop)
    fresh = {sku: barcode for sku, barcode in after.items() if sku not in before and barcode}
    assert fresh
    assert not set(fresh.values()) & set(before.values())
    assert all(after[sku] == barcode for sku, barcode in before.items() if after.get(sku))


def _repaint(path: Path) -> None:
    from PIL import Image

    with Image.open(path) as art:
        art.transpose(Image.Transpose.FLIP_LEFT_RIGHT).save(path)


def test_a_list_used_up_is_told_and_what_lacks_one_stays_out(shop: Path) -> None:
    (shop / "barcodes.csv").write_text("\n".join([*BOUGHT[:1], "9520123000001", "  "]))
    shutil.copy(sorted((shop / "designs").iterdir())[1], shop / "designs" / "another.png")
    _repaint(shop / "designs" / "another.png")
    code, answer = hundredfold("month", "--shop", str(shop), "--start", "2027-01-01", "--days", "3")
    assert code in (0, 1)
    findings = answer["findings"]
    assert isinstance(findings, list)
    found = {one["code"]: one for one in findings if one["check"] == "shop/barcodes"}
    assert found["not-a-barcode"]["item"] == "barcodes.csv, row 2"
    lacking = found["used-up"]["numbers"]["lacking"]
    assert lacking > 0
    assert f"at least {lacking} more" in found["used-up"]["try"]
    assert {one for one in told(shop).values() if one} <= set(BOUGHT)
    lone = [sku for sku, barcode in told(shop).items() if not barcode]
    assert all(row["role"] == "head" for row in rows(shop) if row["sku"] in lone)


def test_a_blanks_own_barcode_comes_first(shop: Path) -> None:
    path = shop / "blanks" / "mug-325.toml"
    text, count = re.subn(
        r'(NF-M325-WHI = \{ colour = "white", base_cost = "3.95")',
        r'\1, values = { barcode = "5012345678900" }',
        path.read_text("utf-8"),
    )
    assert count == 1
    path.write_text(text, "utf-8")
    month(shop, 3)
    barcodes = told(shop)
    white = {barcodes[row["sku"]] for row in rows(shop) if row["colour"] == "white"}
    assert white <= {"5012345678900"}


def test_the_history_tells_them_and_no_undo_takes_them_back(shop: Path) -> None:
    code, history = hundredfold("history", "--shop", str(shop))
    assert code == 0
    assert "barcode given" in json.dumps(history)
