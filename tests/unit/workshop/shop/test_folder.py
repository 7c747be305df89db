"""A shop folder is opened whole, or refused with advice."""

from pathlib import Path

import pytest

from hundredfold.kernel.errors import ShopError
from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.shop.newshop import new_shop

SETTINGS = 'name = "Puddlewick Goods"\ncurrency = "GBP"\ntarget_profit = "3.00"\n'


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "shop.toml").write_text(SETTINGS, encoding="utf-8")
    return tmp_path


def refusal(folder: Path) -> ShopError:
    with pytest.raises(ShopError) as caught:
        open_shop(folder)
    return caught.value


def test_a_new_shop_may_be_empty(folder: Path) -> None:
    shop = open_shop(folder)
    assert (shop.blanks, shop.channels, shop.findings) == ((), (), ())


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    error = refusal(tmp_path / "nowhere")
    assert (error.slug, error.what) == ("no-shop", "there is no such folder")


def test_a_folder_that_is_no_shop(tmp_path: Path) -> None:
    error = refusal(tmp_path)
    assert error.slug == "no-shop"
    assert "hundredfold new" in error.fix


def test_the_folder_above_a_shop_points_at_it(folder: Path) -> None:
    (folder / "inner").mkdir()
    (folder / "shop.toml").rename(folder / "inner" / "shop.toml")
    assert f'--shop "{folder / "inner"}"' in refusal(folder).fix


def test_a_byte_order_mark_and_windows_line_ends_are_taken(folder: Path) -> None:
    (folder / "shop.toml").write_bytes(b"\xef\xbb\xbf" + SETTINGS.replace("\n", "\r\n").encode())
    assert open_shop(folder).settings.name == "Puddlewick Goods"


def test_text_in_another_encoding_names_file_and_line(folder: Path) -> None:
    (folder / "shop.toml").write_bytes(SETTINGS.encode() + 'delivery_folder = "möbel"\n'.encode("latin-1"))
    error = refusal(folder)
    assert (error.slug, error.where.file, error.where.line) == ("not-utf8", "shop.toml", 4)


def test_leftovers_of_editors_and_synced_folders_are_passed_over(folder: Path) -> None:
    (folder / "blanks").mkdir()
    (folder / "blanks" / "._mug.toml").write_bytes(b"\x00\x05\x16\x07")
    assert open_shop(folder).blanks == ()


def test_an_unknown_code_is_answered_with_the_nearest(folder: Path) -> None:
    with pytest.raises(ShopError, match="no blank has the code") as caught:
        open_shop(folder).blank("MUG")
    assert caught.value.slug == "unknown-blank"


def test_a_column_that_names_no_field_is_an_error_of_its_file(tmp_path: Path) -> None:
    shop = new_shop(tmp_path / "demo", sample=True)
    market = shop.paths.channels / "quayside.toml"
    market.write_text(market.read_text(encoding="utf-8").replace("{price}", "{prize}"), encoding="utf-8")
    error = refusal(shop.paths.root)
    assert (error.slug, error.where.file, error.where.field) == (
        "unknown-field",
        "channels/quayside.toml",
        "usd",
    )
    assert "price" in error.fix
