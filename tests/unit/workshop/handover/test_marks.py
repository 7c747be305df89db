"""A record that was lost, set back, exchanged or copied is noticed before anything leaves."""

import contextlib
import shutil
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest
from goods import DAY
from shops import KEY, make_pack, small_shop

from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.fold import fold
from hundredfold.ledger.state import LedgerState, Progress
from hundredfold.store.shopstore import Store, open_store
from hundredfold.workshop.handover.delivering import deliver
from hundredfold.workshop.shop.backup import back_up, carry_over_marks, restore
from hundredfold.workshop.shop.identity import ensure_identity, ensure_place, go_on_here
from hundredfold.workshop.shop.marks import check_record
from hundredfold.workshop.shop.paths import ShopPaths

SECOND = DAY + timedelta(days=1)


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """A shop with two packs; there is a backup from before the first of them left."""
    root = tmp_path / "shop"
    root.mkdir()
    (root / "shop.toml").write_text("name = 'Puddlewick Goods'\n")
    with record(root) as store:
        make_pack(root, store)
        make_pack(root, store, SECOND, "sea-swimmer")
        opened(root, store)
    back_up(root, tmp_path / "before.zip")
    (tmp_path / "out").mkdir()
    with record(root) as store:
        deliver(small_shop(root), store, KEY, tmp_path / "out")
    return root


def record(root: Path) -> "contextlib.closing[Store]":
    return contextlib.closing(open_store(root / ".hundredfold" / "shop.db"))


def opened(root: Path, store: Store) -> None:
    """What is looked at before anything leaves."""
    ensure_place(ShopPaths(root), store)
    check_record(ShopPaths(root), store)


def slug_of(root: Path) -> str:
    try:
        with record(root) as store:
            opened(root, store)
    except ShopError as error:
        return error.slug
    return ""


def state_of(root: Path) -> LedgerState:
    with record(root) as store:
        return fold(store.events())


def deleted(root: Path) -> None:
    (root / ".hundredfold" / "shop.db").unlink()


def emptied(root: Path) -> None:
    (root / ".hundredfold" / "shop.db").write_bytes(b"")


def all_hidden_deleted(root: Path) -> None:
    shutil.rmtree(root / ".hundredfold")


def older_file(root: Path) -> None:
    kept = root.parent / "older.db"
    with contextlib.closing(open_store(kept)) as store:
        make_pack(root.parent / "elsewhere", store)
    shutil.copyfile(kept, root / ".hundredfold" / "shop.db")


@pytest.mark.parametrize("lose", [deleted, emptied, all_hidden_deleted, older_file])
def test_a_lost_record_is_asked_about_and_caught_up(
    root: Path, tmp_path: Path, lose: Callable[[Path], None]
) -> None:
    before = state_of(root)
    lose(root)
    assert slug_of(root) == "record-behind"
    assert carry_over_marks(root) == (KEY,)
    assert slug_of(root) == ""
    after = state_of(root)
    assert after.packs[KEY] == before.packs[KEY]
    assert after.sent == before.sent
    assert {key: after.listed[key] for key in before.listed} == before.listed
    with record(root) as store, pytest.raises(ShopError) as caught:
        deliver(small_shop(root), store, KEY, tmp_path / "out2")
    assert caught.value.slug == "already-handed-over"


def test_a_backup_put_back_carries_the_hand_overs_over(root: Path, tmp_path: Path) -> None:
    done = restore(tmp_path / "before.zip", root)
    assert done.carried_over == (KEY,)
    assert done.forgotten == {"handed over": 1, "handing over": 1}
    assert slug_of(root) == ""
    assert state_of(root).packs[KEY].progress is Progress.HANDED_OVER
    assert len(state_of(root).sent) == 4


def test_a_hand_over_that_was_not_seen_to_arrive_is_asked_about_after_the_loss(
    root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = state_of(root)
    key = next(key for key in other.packs if key != KEY)
    monkeypatch.setattr("hundredfold.workshop.handover.delivering._read_back", lambda *_: False)
    with record(root) as store, pytest.raises(ShopError):
        deliver(small_shop(root), store, key, tmp_path / "out")
    shutil.rmtree(tmp_path / "out" / key.channel / key.day)
    deleted(root)
    assert carry_over_marks(root) == (KEY, key)
    assert state_of(root).packs[key].progress is Progress.UNSURE


def test_another_shops_record_is_noticed(root: Path, tmp_path: Path) -> None:
    with record(tmp_path / "other") as store:
        (tmp_path / "other").mkdir(exist_ok=True)
        ensure_identity(ShopPaths(tmp_path / "other"), store)
    shutil.copyfile(tmp_path / "other/.hundredfold/shop.db", root / ".hundredfold" / "shop.db")
    assert slug_of(root) == "other-record"


def test_a_copied_shop_is_asked_which_of_the_two_goes_on(root: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy"
    shutil.copytree(root, copy)
    assert slug_of(copy) == "shop-copied"
    assert slug_of(root) == ""
    assert go_on_here(ShopPaths(copy)) == (str(root.resolve()),)
    assert (slug_of(copy), slug_of(root)) == ("", "shop-copied")
    go_on_here(ShopPaths(root))
    assert (slug_of(copy), slug_of(root)) == ("shop-copied", "")


def test_a_renamed_shop_folder_is_the_same_shop(root: Path, tmp_path: Path) -> None:
    root.rename(tmp_path / "moved")
    assert slug_of(tmp_path / "moved") == ""
    (tmp_path / "moved").rename(root)
    assert slug_of(root) == ""


def test_a_shop_from_another_computer_is_asked_about(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("socket.gethostname", lambda: "the-laptop")
    moved = root.with_name("moved")
    shutil.copytree(root, moved)
    assert slug_of(moved) == "shop-copied"
    go_on_here(ShopPaths(moved))
    assert slug_of(moved) == ""


def test_the_destination_knows_what_the_whole_shop_forgot(root: Path, tmp_path: Path) -> None:
    """Shop and marks come from an old backup; the folder that the packs went to remembers."""
    restore(tmp_path / "before.zip", tmp_path / "again")
    shutil.rmtree(tmp_path / "out" / KEY.channel)  # fetched long ago
    again = tmp_path / "again"
    shutil.copytree(root / "packs", again / "packs")
    go_on_here(ShopPaths(again))
    assert slug_of(again) == ""
    with record(again) as store, pytest.raises(ShopError) as caught:
        deliver(small_shop(again), store, KEY, tmp_path / "out")
    assert caught.value.slug == "record-behind"
    assert [path.name for path in (tmp_path / "out").iterdir()] == [".handed-over"]


def test_marks_follow_a_settled_no_and_a_second_try(
    root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    key = next(key for key in state_of(root).packs if key != KEY)
    mark = root / "handed-over" / key.channel / f"{key.day}.json"

    def refuse(source: Path, target: Path) -> None:
        assert mark.is_file()
        raise PermissionError(13, "Permission denied", str(target))

    with monkeypatch.context() as patch, record(root) as store:
        patch.setattr("hundredfold.workshop.handover.delivering.replace_patiently", refuse)
        with pytest.raises(ShopError):
            deliver(small_shop(root), store, key, tmp_path / "out")
    assert not mark.exists()
    assert slug_of(root) == ""
    with record(root) as store:
        assert deliver(small_shop(root), store, key, tmp_path / "out").done
    assert mark.is_file()
    deleted(root)
    assert slug_of(root) == "record-behind"


def test_two_copies_of_a_shop_that_never_delivered_do_not_both_fill_one_destination(tmp_path: Path) -> None:
    one, out = tmp_path / "one", tmp_path / "out"
    out.mkdir()
    with record(one) as store:
        make_pack(one, store)
        ensure_identity(ShopPaths(one), store)
    two = Path(shutil.copytree(one, tmp_path / "two"))
    with record(one) as store:
        assert deliver(small_shop(one), store, KEY, out).done
    shutil.rmtree(out / KEY.channel)
    with record(two) as store, pytest.raises(ShopError) as caught:
        deliver(small_shop(two), store, KEY, out)
    assert caught.value.slug == "record-behind"
    assert not (out / KEY.channel).exists()


def test_a_mark_cut_short_is_told(root: Path) -> None:
    mark = root / "handed-over" / KEY.channel / f"{KEY.day}.json"
    mark.write_bytes(mark.read_bytes()[:50])
    assert slug_of(root) == "mark-damaged"
