"""An open shop warns of a folder where its record is at risk, and keeps others out while it works."""

from pathlib import Path

import pytest

from hundredfold.kernel.errors import ShopError
from hundredfold.workshop.shop.desk import desk
from hundredfold.workshop.shop.newshop import new_shop


def test_a_shop_in_a_folder_kept_in_step_is_warned_of(tmp_path: Path) -> None:
    new_shop(tmp_path / "mine", sample=False)
    with desk(tmp_path / "mine", "") as opened:
        before = opened.shop.findings
    (tmp_path / ".stfolder").mkdir()
    with desk(tmp_path / "mine", "") as opened:
        [warning] = [finding for finding in opened.shop.findings if finding not in before]
    assert (warning.check, warning.code) == ("shop/risky-place", "kept-in-step")


def test_two_commands_do_not_work_on_one_shop(tmp_path: Path) -> None:
    new_shop(tmp_path / "mine", sample=False)
    with desk(tmp_path / "mine", "month"):
        with pytest.raises(ShopError) as caught, desk(tmp_path / "mine", "deliver"):
            pytest.fail("both work on it")
        assert caught.value.slug == "shop-in-use"
        with desk(tmp_path / "mine", "") as looked:
            assert looked.store.events() == ()
