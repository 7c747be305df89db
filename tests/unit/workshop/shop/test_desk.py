"""An open shop warns of a folder where its record is at risk, and keeps others out while it works."""

import threading
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.events import Event, Happened
from hundredfold.workshop.shop.backup import back_up, restore
from hundredfold.workshop.shop.beginning import set_settings
from hundredfold.workshop.shop.desk import Turn, beside, desk
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


def test_a_short_work_comes_in_beside_a_run_and_not_beside_a_hand_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("hundredfold.workshop.shop.desk.SHORT_S", 0.1)
    new_shop(tmp_path / "mine", sample=False)
    with desk(tmp_path / "mine", "month", turn=Turn.RUN), beside(tmp_path / "mine", "choose") as opened:
        opened.store.append([Event(Happened.RETIRED, "a")])
    with (
        desk(tmp_path / "mine", "deliver"),
        pytest.raises(ShopError) as caught,
        beside(tmp_path / "mine", "choose"),
    ):
        pytest.fail("a pack is being handed over")
    assert caught.value.slug == "shop-in-use"
    assert "'deliver'" in caught.value.what


def test_a_hand_over_waits_for_a_short_work(tmp_path: Path) -> None:
    new_shop(tmp_path / "mine", sample=False)
    begun, order = threading.Event(), []

    def choosing() -> None:
        with beside(tmp_path / "mine", "choose"):
            begun.set()
            time.sleep(0.2)
            order.append("choose")

    thread = threading.Thread(target=choosing)
    thread.start()
    begun.wait()
    with desk(tmp_path / "mine", "deliver"):
        order.append("deliver")
    thread.join()
    assert order == ["choose", "deliver"]


def test_a_record_is_not_put_back_under_a_short_work(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    new_shop(tmp_path / "mine", sample=False)
    with desk(tmp_path / "mine", "month"):
        pass
    back_up(tmp_path / "mine", tmp_path / "b.zip")
    monkeypatch.setattr("hundredfold.store.shopstore.SHORT_S", 0.1)
    with beside(tmp_path / "mine", "choose"), pytest.raises(ShopError) as caught:
        restore(tmp_path / "b.zip", tmp_path / "mine")
    assert caught.value.slug == "shop-in-use"


def test_settings_changed_at_the_same_moment_are_all_kept(tmp_path: Path) -> None:
    new_shop(tmp_path / "mine", sample=True)
    changes = {"target_profit": "4.10", "name": "Puddlewick", "sku_prefix": "PX", "price_ending": "99"}

    def change(key: str) -> None:
        set_settings(tmp_path / "mine", {key: changes[key]})

    with ThreadPoolExecutor(len(changes)) as pool:
        list(pool.map(change, changes))
    text = (tmp_path / "mine" / "shop.toml").read_text("utf-8")
    assert [key for key, value in changes.items() if f'{key} = "{value}"' not in text] == []
