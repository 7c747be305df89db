"""Partners' files and fees that are wrong or odd: one sentence with sheet and cell, nothing half-written."""

import io
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
from openpyxl.worksheet.worksheet import Worksheet

from hundredfold.kernel.errors import ShopError
from hundredfold.workshop.shop.folder import Shop, open_shop
from hundredfold.workshop.shop.learnsheet import LearnedSheet, learn_sheet, write_learned
from hundredfold.workshop.shop.newshop import new_shop

HEAD = ["SKU", "Title", "Price", "Colour"]


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    return new_shop(tmp_path / "shop", sample=True)


def book(shop: Shop, change: Callable[[Worksheet], None], ending: str = "xlsx") -> Path:
    made = openpyxl.Workbook()
    page = made.worksheets[0]
    page.title = "Items"
    page.append(HEAD)
    change(page)
    path = shop.paths.root.parent / f"form.{ending}"
    made.save(path)
    return path


def text(shop: Shop, data: bytes) -> Path:
    path = shop.paths.root.parent / "form.csv"
    path.write_bytes(data)
    return path


def refused(shop: Shop, path: Path) -> ShopError:
    before = sorted(shop.paths.root.rglob("*"))
    with pytest.raises(ShopError) as caught:
        write_learned(shop, learn_sheet(shop, path, "kite"))
    assert sorted(shop.paths.root.rglob("*")) == before
    assert caught.value.fix
    return caught.value


def learned(shop: Shop, path: Path) -> LearnedSheet:
    done = learn_sheet(shop, path, "kite")
    write_learned(shop, done)
    open_shop(shop.paths.root)
    return done


def fills(done: LearnedSheet) -> list[str]:
    return [one.column.fill for one in done.columns]


def test_merged_cells_where_rows_go(shop: Shop) -> None:
    error = refused(shop, book(shop, lambda page: page.merge_cells("B2:C2")))
    assert error.slug == "merged-cells"
    assert "Items" in str(error) and "B2" in str(error)  # noqa: PT018


def test_a_protected_worksheet_is_told_and_filled(shop: Shop) -> None:
    def protect(page: Worksheet) -> None:
        page.protection.sheet = True

    done = learned(shop, book(shop, protect))
    assert "protected" in " ".join(done.notes)
    assert fills(done) == ["{sku}", "{title}", "{price}", "{colour name}"]


def test_macros_are_told_and_kept(shop: Shop) -> None:
    path = book(shop, lambda page: None, "xlsm")
    data = io.BytesIO(path.read_bytes())
    with zipfile.ZipFile(data, "a") as archive:
        archive.writestr("xl/vbaProject.bin", b"macro")
    path.write_bytes(data.getvalue())
    done = learned(shop, path)
    assert "macros" in " ".join(done.notes)
    kept = (shop.paths.root / "channels" / "forms" / "kite.xlsm").read_bytes()
    with zipfile.ZipFile(io.BytesIO(kept)) as archive:
        assert archive.read("xl/vbaProject.bin") == b"macro"


def test_sixty_thousand_columns(shop: Shop) -> None:
    error = refused(shop, text(shop, b"SKU,Title,Price" + b",x" * 60_000))
    assert error.slug == "too-wide"
    assert "60003" in error.what.replace(",", "") or "60,003" in error.what


def test_a_header_twice_is_told_with_its_columns_and_filled_once(shop: Shop) -> None:
    done = learned(shop, text(shop, b"SKU,Title,Price,Title\n"))
    assert '"Title" heads columns B, D' in done.notes
    assert fills(done) == ["{sku}", "{title}", "{price}", ""]
    assert "another column holds already" in " ".join(done.columns[3].proposal.why)


def test_two_columns_one_letter_apart_are_not_mistaken_for_each_other(shop: Shop) -> None:
    done = learned(shop, text(shop, b"SKU,Tag 1,Tag l,Title,Titel,Price\n"))
    assert fills(done)[:2] == ["{sku}", "{search word 1}"]
    assert fills(done).count("{title}") == 1
    twin = done.columns[4].proposal
    assert (twin.surety, "already" in " ".join(twin.why)) == ("gap", True)


def test_an_encoding_that_lies(shop: Shop) -> None:
    error = refused(shop, text(shop, b"\xef\xbb\xbfSKU;Titel;Gr\xf6\xdfe\n"))
    assert error.slug == "wrong-encoding"
    assert "--encoding" in error.fix


def test_a_drop_down_without_our_colour_is_told_by_name(shop: Shop) -> None:
    from openpyxl.worksheet.datavalidation import DataValidation

    def choices(page: Worksheet) -> None:
        rule = DataValidation("list", formula1='"White,Navy"')
        rule.add("D2:D90")
        page.add_data_validation(rule)

    done = learned(shop, book(shop, choices))
    lacking = done.columns[3].wordless
    assert "White" not in lacking
    assert {"Cream", "Sage"} <= set(lacking)


@pytest.mark.parametrize(
    ("file", "old", "new", "where", "what"),
    [
        ("northfold.toml", 'rate = "14%"', 'rate = "114%"', "northfold.toml, line 16, fees.rate", "1.14"),
        ("northfold.toml", 'rate = "14%"', 'rate = "-1%"', "northfold.toml, line 16, fees.rate", "-0.01"),
        ("northfold.toml", 'minimum = "0.50"', 'minimum = "-0.50"', "fees.minimum", "less than nothing"),
    ],
)
def test_a_fee_that_cannot_be(shop: Shop, file: str, old: str, new: str, where: str, what: str) -> None:
    path = shop.paths.channels / file
    sound = path.read_text("utf-8")
    assert old in sound
    path.write_text(sound.replace(old, new, 1), "utf-8")
    with pytest.raises(ShopError) as caught:
        open_shop(shop.paths.root)
    assert where in str(caught.value.where)
    assert what in caught.value.what


def test_a_rate_of_nothing(shop: Shop) -> None:
    path = shop.paths.settings
    sound = path.read_text("utf-8")
    rate = next(line for line in sound.splitlines() if line.replace(" ", "").startswith("GBP-USD="))
    path.write_text(sound.replace(rate, 'GBP-USD = "0"'), "utf-8")
    with pytest.raises(ShopError) as caught:
        open_shop(shop.paths.root)
    assert "rates" in str(caught.value.where)
    assert caught.value.fix
