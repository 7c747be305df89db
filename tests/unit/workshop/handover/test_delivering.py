import os
import shutil
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from goods import DAY
from shops import KEY, make_pack, stocked

from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Severity
from hundredfold.ledger.events import Happened
from hundredfold.ledger.keys import PackKey
from hundredfold.ledger.state import Progress
from hundredfold.runner.atomic import replace_patiently
from hundredfold.workshop.handover import delivering
from hundredfold.workshop.handover.delivering import deliver, settle
from hundredfold.workshop.handover.manypacks import deliver_many, settle_pack
from hundredfold.workshop.handover.verifying import verify_packs
from hundredfold.workshop.shop.desk import Desk


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    opened = stocked(tmp_path / "shop")
    yield opened
    opened.store.close()


@pytest.fixture
def out(tmp_path: Path) -> Path:
    (tmp_path / "out").mkdir()
    return tmp_path / "out"


def files(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def source(desk: Desk) -> Path:
    return desk.shop.paths.packs / KEY.channel / KEY.day


def test_a_pack_arrives_whole_and_is_remembered(desk: Desk, out: Path) -> None:
    (source(desk) / "Thumbs.db").write_bytes(b"left by a file browser")
    done = deliver(desk.shop, desk.store, KEY, out)
    assert (done.done, done.files) == (True, 4)
    there = files(out / KEY.channel / KEY.day)
    assert sorted(there) == ["artwork.zip", "listings.csv", "manifest.json", "pictures.zip"]
    assert all(data == (source(desk) / name).read_bytes() for name, data in there.items())
    assert os.listdir(out / KEY.channel) == [KEY.day]
    state = desk.ledger()
    assert state.packs[KEY].progress is Progress.HANDED_OVER
    assert len(state.sent) == 4
    assert state.planned == {}


def test_a_pack_is_handed_over_once(desk: Desk, out: Path, tmp_path: Path) -> None:
    deliver(desk.shop, desk.store, KEY, out)
    with pytest.raises(ShopError) as caught:
        deliver(desk.shop, desk.store, KEY, tmp_path / "elsewhere")
    assert caught.value.slug == "already-handed-over"
    assert not (tmp_path / "elsewhere").exists()


def test_a_pack_that_is_not_sound_stays(desk: Desk, out: Path) -> None:
    table = source(desk) / "listings.csv"
    table.write_bytes(table.read_bytes().replace(b"12.95", b"11.95", 1))
    done = deliver(desk.shop, desk.store, KEY, out)
    assert not done.done
    assert any(f.item.startswith("listings.csv, line 2") for f in done.findings)
    assert not any(out.iterdir())
    assert desk.ledger().packs[KEY].progress is Progress.PACKED


def test_a_pack_the_ledger_does_not_know_stays(desk: Desk, out: Path) -> None:
    with pytest.raises(ShopError) as caught:
        deliver(desk.shop, desk.store, PackKey("north-print", "2031-01-01"), out)
    assert caught.value.slug == "no-such-pack"


def cut(desk: Desk, out: Path) -> None:
    """A hand-over of which only the beginning is known, as after kill -9."""
    desk.store.append([delivering._begun(KEY, out / KEY.channel / KEY.day, desk.ledger().packs[KEY])])


def test_a_cut_hand_over_waits_for_a_person(desk: Desk, out: Path) -> None:
    cut(desk, out)
    for _ in range(2):
        with pytest.raises(ShopError) as caught:
            deliver(desk.shop, desk.store, KEY, out)
        assert caught.value.slug == "hand-over-unsure"
        assert "--settle north-print/2026-12-01" in caught.value.fix
    assert [e.happened for e in desk.store.events(kinds={Happened.UNSURE})] == [Happened.UNSURE]
    assert not any(out.iterdir())
    settle(desk.shop.paths, desk.store, KEY, happened=False)
    assert deliver(desk.shop, desk.store, KEY, out).done


def test_a_person_may_say_that_it_arrived(desk: Desk, out: Path) -> None:
    cut(desk, out)
    settle(desk.shop.paths, desk.store, KEY, happened=True)
    assert desk.ledger().packs[KEY].progress is Progress.HANDED_OVER
    with pytest.raises(ShopError) as caught:
        settle(desk.shop.paths, desk.store, KEY, happened=True)
    assert caught.value.slug == "nothing-to-settle"


def test_a_pack_that_lies_there_whole_did_arrive(desk: Desk, out: Path) -> None:
    cut(desk, out)
    shutil.copytree(source(desk), out / KEY.channel / KEY.day)
    with pytest.raises(ShopError) as caught:
        settle(desk.shop.paths, desk.store, KEY, happened=False)
    assert caught.value.slug == "arrived-after-all"
    before = files(out / KEY.channel / KEY.day)
    done = deliver(desk.shop, desk.store, KEY, out)
    assert (done.done, done.note) == (True, "it had arrived whole in an earlier run")
    assert files(out / KEY.channel / KEY.day) == before


def test_half_a_pack_at_its_destination_is_unsure(desk: Desk, out: Path) -> None:
    cut(desk, out)
    shutil.copytree(source(desk), out / KEY.channel / KEY.day)
    (out / KEY.channel / KEY.day / "artwork.zip").unlink()
    with pytest.raises(ShopError) as caught:
        deliver(desk.shop, desk.store, KEY, out)
    assert caught.value.slug == "hand-over-unsure"


def test_a_copy_that_fails_leaves_nothing_and_may_be_tried_again(
    desk: Desk, out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(source: Path, target: Path) -> int:
        target.write_bytes(b"half")
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(delivering, "_copy_file", full)
        with pytest.raises(ShopError) as caught:
            deliver(desk.shop, desk.store, KEY, out)
    assert caught.value.slug == "disk-full"
    assert list((out / KEY.channel).iterdir()) == []
    assert desk.ledger().packs[KEY].progress is Progress.PACKED
    assert deliver(desk.shop, desk.store, KEY, out).done


def test_a_damaged_copy_is_not_given_its_name(desk: Desk, out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def flip(source: Path, target: Path) -> int:
        target.write_bytes(source.read_bytes()[:-1] + b"?")
        return 1

    monkeypatch.setattr(delivering, "_copy_file", flip)
    with pytest.raises(ShopError) as caught:
        deliver(desk.shop, desk.store, KEY, out)
    assert caught.value.slug == "copy-differs"
    assert not (out / KEY.channel / KEY.day).exists()


def test_what_a_killed_copy_left_is_cleared(desk: Desk, out: Path) -> None:
    left = out / KEY.channel / f".part-{KEY.day}"
    left.mkdir(parents=True)
    (left / "artwork.zip").write_bytes(b"half")
    assert deliver(desk.shop, desk.store, KEY, out).done
    assert os.listdir(out / KEY.channel) == [KEY.day]


def test_something_else_in_its_place_is_left_alone(desk: Desk, out: Path) -> None:
    (out / KEY.channel / KEY.day).mkdir(parents=True)
    (out / KEY.channel / KEY.day / "mine.txt").write_bytes(b"mine")
    with pytest.raises(ShopError) as caught:
        deliver(desk.shop, desk.store, KEY, out)
    assert caught.value.slug == "destination-taken"
    assert desk.ledger().packs[KEY].progress is Progress.PACKED
    assert files(out / KEY.channel / KEY.day) == {"mine.txt": b"mine"}


def test_packs_are_not_handed_over_into_themselves(desk: Desk) -> None:
    with pytest.raises(ShopError) as caught:
        deliver(desk.shop, desk.store, KEY, desk.shop.paths.packs)
    assert caught.value.slug == "destination-taken"
    assert desk.ledger().packs[KEY].progress is Progress.PACKED


def test_a_ledger_set_back_does_not_send_twice(desk: Desk, out: Path) -> None:
    """The shop's record restored from yesterday's backup: the pack lies at its destination already."""
    shutil.copytree(source(desk), out / KEY.channel / KEY.day)
    done = deliver(desk.shop, desk.store, KEY, out)
    assert "not copied again" in done.note
    assert desk.ledger().packs[KEY].progress is Progress.HANDED_OVER


def test_today_all_or_named(desk: Desk, out: Path) -> None:
    make_pack(desk.shop.paths.root, desk.store, DAY + timedelta(days=1), "sea-swimmer")
    make_pack(desk.shop.paths.root, desk.store, DAY + timedelta(days=2), "bell-ringer")
    late = DAY + timedelta(days=1)
    done = deliver_many(desk, (), late, out)
    assert [(str(each.key), each.done) for each in done.done] == [("north-print/2026-12-02", True)]
    assert done.waiting == (KEY,)
    assert "days gone by and not handed over: north-print/2026-12-01" in done.lines()[-1]
    again = deliver_many(desk, (), late, out)
    assert again.lines()[0] == "nothing to hand over today"
    rest = deliver_many(desk, (), late, out, everything=True)
    assert [each.key.day for each in rest.done] == ["2026-12-01", "2026-12-03"]
    named = deliver_many(desk, ["north-print/2026-12-03/", "nonsense/x"], late, out)
    assert [error.slug for error in named.errors] == ["already-handed-over", "no-such-pack"]
    assert named.problems
    assert "errors" in named.as_json()


def test_one_unsure_pack_does_not_stop_the_others(desk: Desk, out: Path) -> None:
    make_pack(desk.shop.paths.root, desk.store, DAY + timedelta(days=1), "sea-swimmer")
    cut(desk, out)
    done = deliver_many(desk, (), DAY + timedelta(days=1), out)
    assert [error.slug for error in done.errors] == ["hand-over-unsure"]
    assert [each.done for each in done.done] == [True]
    settle_pack(desk, str(KEY), happened=True)
    with pytest.raises(ShopError):
        settle_pack(desk, "no-slash", happened=True)


def far_side(monkeypatch: pytest.MonkeyPatch, taken: list[str], names: set[str]) -> None:
    """A partner's program that takes these files the moment a pack has its name ("" the whole pack)."""
    really = replace_patiently

    def quick(source: Path, target: Path) -> None:
        really(source, target)
        taken.append(str(target))
        if "" in names:
            shutil.rmtree(target)
        for name in names - {""}:
            (target / name).unlink()

    monkeypatch.setattr(delivering, "replace_patiently", quick)


@pytest.mark.parametrize("names", [{""}, {"listings.csv"}, {"artwork.zip", "manifest.json"}])
def test_what_is_fetched_before_it_was_read_back_is_unsure_and_goes_out_once(
    desk: Desk, out: Path, monkeypatch: pytest.MonkeyPatch, names: set[str]
) -> None:
    taken: list[str] = []
    far_side(monkeypatch, taken, names)
    for _ in range(3):
        with pytest.raises(ShopError) as caught:
            deliver(desk.shop, desk.store, KEY, out)
        assert caught.value.slug == "hand-over-unsure"
    assert len(taken) == 1
    assert desk.ledger().packs[KEY].progress is Progress.UNSURE
    settle(desk.shop.paths, desk.store, KEY, happened=True)
    assert desk.ledger().packs[KEY].progress is Progress.HANDED_OVER


def test_a_channel_folder_taken_away_with_the_pack_in_it_is_unsure(
    desk: Desk, out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    really = replace_patiently

    def all_of_it(source: Path, target: Path) -> None:
        really(source, target)
        shutil.rmtree(target.parent)

    monkeypatch.setattr(delivering, "replace_patiently", all_of_it)
    with pytest.raises(ShopError) as caught:
        deliver(desk.shop, desk.store, KEY, out)
    assert caught.value.slug == "hand-over-unsure"
    assert desk.ledger().packs[KEY].progress is Progress.UNSURE


def test_a_move_that_says_it_failed_though_the_name_was_taken_is_unsure(
    desk: Desk, out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As network folders do whose answer gets lost."""
    really = replace_patiently

    def lost(source: Path, target: Path) -> None:
        really(source, target)
        shutil.rmtree(target)
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(delivering, "replace_patiently", lost)
    with pytest.raises(ShopError):
        deliver(desk.shop, desk.store, KEY, out)
    with pytest.raises(ShopError) as caught:
        deliver(desk.shop, desk.store, KEY, out)
    assert caught.value.slug == "hand-over-unsure"


def test_a_renamed_day_stays_and_two_days_exchanged_stay(desk: Desk, out: Path) -> None:
    other = make_pack(desk.shop.paths.root, desk.store, DAY + timedelta(days=1), "sea-swimmer")
    here, there = source(desk), source(desk).with_name(other.day)
    shutil.copytree(here, here.with_name("2026-11-30"))
    with pytest.raises(ShopError):
        deliver(desk.shop, desk.store, PackKey(KEY.channel, "2026-11-30"), out)
    shutil.rmtree(here.with_name("2026-11-30"))
    here.rename(here.with_name("aside"))
    there.rename(here)
    here.with_name("aside").rename(there)
    verified = verify_packs(desk.shop, desk.ledger())
    for key in (KEY, other):
        found = {f.code for f in verified.packs[str(key)] if f.severity is Severity.STOP}
        assert "other-place" in found
        assert not deliver(desk.shop, desk.store, key, out).done
    assert not any(out.iterdir())


def test_a_day_made_for_both_names_goes_out_under_its_own_only(desk: Desk, out: Path) -> None:
    """The ledger knows both days; the folder of the first was put in the place of the second."""
    other = make_pack(desk.shop.paths.root, desk.store, DAY + timedelta(days=1), "sea-swimmer")
    shutil.rmtree(source(desk).with_name(other.day))
    source(desk).rename(source(desk).with_name(other.day))
    done = deliver(desk.shop, desk.store, other, out)
    assert not done.done
    assert any(f.code == "other-place" and "2026-12-01" in f.what for f in done.findings)


@pytest.mark.parametrize("name", ["extra.csv", "more.zip", ".hidden", "sub/"])
def test_anything_too_many_in_a_pack_keeps_it_back(desk: Desk, out: Path, name: str) -> None:
    if name.endswith("/"):
        (source(desk) / name).mkdir()
    else:
        (source(desk) / name).write_bytes(b"x")
    done = deliver(desk.shop, desk.store, KEY, out)
    assert not done.done
    assert [(f.code, f.item) for f in done.findings] == [("unlisted", name)]


def test_a_destination_that_is_not_there_is_not_made(desk: Desk, tmp_path: Path) -> None:
    with pytest.raises(ShopError) as caught:
        deliver_many(desk, [str(KEY)], DAY, tmp_path / "disk" / "inbox")
    assert caught.value.slug == "destination-missing"
    assert not (tmp_path / "disk").exists()
    assert deliver_many(desk, [str(KEY)], DAY).done[0].done  # the shop's own folder is made
