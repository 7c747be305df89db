"""A settings file mended where its mistakes are told."""

from pathlib import Path

import pytest

from hundredfold.kernel.errors import ShopError
from hundredfold.workshop.shop.mending import mend, mendable
from hundredfold.workshop.shop.newshop import new_shop


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    new_shop(tmp_path / "shop")
    return tmp_path / "shop"


def test_a_mistake_is_shown_with_its_line_and_mended(shop: Path) -> None:
    good = (shop / "shop.toml").read_text()
    (shop / "shop.toml").write_text("target_proft = 3\n" + good)
    found = mendable(shop, "shop.toml")
    assert [one.where.line for one in found.mistakes] == [1]
    assert mend(shop, "shop.toml", good, found.digest) == ()
    assert (shop / "shop.toml").read_text() == good


def test_text_that_is_no_toml_is_kept_and_its_mistake_told(shop: Path) -> None:
    left = mend(shop, "shop.toml", "name = ", mendable(shop, "shop.toml").digest)
    assert left
    assert (shop / "shop.toml").read_text() == "name = "


def test_a_file_that_another_window_changed_is_not_written_over(shop: Path) -> None:
    digest = mendable(shop, "shop.toml").digest
    (shop / "shop.toml").write_text("changed")
    with pytest.raises(ShopError) as caught:
        mend(shop, "shop.toml", "mine", digest)
    assert caught.value.slug == "changed-meanwhile"
    assert (shop / "shop.toml").read_text() == "changed"


@pytest.mark.parametrize(
    "name",
    [
        "",
        "../shop.toml",
        "blanks/../../x.toml",
        "rights.csv",
        ".hundredfold/shop.db",
        "/etc/hosts",
        "a\0.toml",
    ],
)
def test_no_other_file_can_be_named(shop: Path, name: str) -> None:
    with pytest.raises(ShopError) as caught:
        mendable(shop, name)
    assert caught.value.slug == "no-such-file"
