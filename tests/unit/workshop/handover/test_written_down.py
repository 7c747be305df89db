"""What the record and the marks say after each way a hand-over may go, and what is on the disk by then."""

import contextlib
import os
import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from goods import channel
from shops import KEY, stocked

from hundredfold.kernel.errors import ExitCode, ShopError
from hundredfold.kernel.findings import Severity
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.keys import PackKey
from hundredfold.ledger.marks import Mark
from hundredfold.runner.atomic import replace_patiently
from hundredfold.runner.rows import FileStamp
from hundredfold.workshop.handover import delivering
from hundredfold.workshop.handover.delivering import deliver, settle
from hundredfold.workshop.handover.verifying import verify_desk, verify_folder, verify_packs
from hundredfold.workshop.shop.desk import Desk
from hundredfold.workshop.shop.identity import ensure_place
from hundredfold.workshop.shop.marks import MARKS_THERE, marks_in, write_mark

KINDS = {Happened.HANDING_OVER, Happened.HANDED_OVER, Happened.UNSURE, Happened.SETTLED}


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    opened = stocked(tmp_path / "shop")
    (tmp_path / "out").mkdir()
    yield opened
    opened.store.close()


@pytest.fixture
def out(tmp_path: Path) -> Path:
    return tmp_path / "out"


def source(desk: Desk) -> Path:
    return desk.shop.paths.packs / KEY.channel / KEY.day


def rows(desk: Desk) -> list[tuple[Happened, str, dict[str, object]]]:
    return [(e.happened, e.subject, dict(e.data)) for e in desk.store.events(kinds=KINDS)]


def begun(desk: Desk, out: Path) -> tuple[Happened, str, dict[str, object]]:
    where = str(out / KEY.channel / KEY.day)
    manifest = desk.ledger().packs[KEY].manifest
    return Happened.HANDING_OVER, str(KEY), {"destination": where, "manifest": manifest}


def handed(seen: str) -> tuple[Happened, str, dict[str, object]]:
    return Happened.HANDED_OVER, str(KEY), {"seen": seen}


def marks(desk: Desk, out: Path) -> tuple[list[Mark], list[Mark]]:
    """The shop's and the destination's."""
    shop_id = ensure_place(desk.shop.paths, desk.store)
    return list(marks_in(desk.shop.paths.handed_over)), list(marks_in(out / MARKS_THERE / shop_id))


def test_a_hand_over_that_went_well(desk: Desk, out: Path) -> None:
    deliver(desk.shop, desk.store, KEY, out)
    assert rows(desk) == [begun(desk, out), handed("read back")]
    assert len({e.decision for e in desk.store.events(kinds=KINDS)}) == 1
    (here,), (there,) = marks(desk, out)
    assert (here.key, here.done, there) == (KEY, True, replace(here, rows=()))


def test_one_that_failed_before_it_took_its_name(
    desk: Desk, out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: Path) -> None:
        assert [path.name for path in (out / KEY.channel).iterdir()] == [f".part-{KEY.day}"]
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(delivering, "replace_patiently", refuse)
    with pytest.raises(ShopError):
        deliver(desk.shop, desk.store, KEY, out)
    no = (Happened.SETTLED, str(KEY), {"happened": False, "by": "the copy failed"})
    assert rows(desk) == [begun(desk, out), no]
    assert list((out / KEY.channel).iterdir()) == []
    assert marks(desk, out) == ([], [])


def test_one_whose_copy_did_not_fit(desk: Desk, out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(delivering, "_copy_file", lambda *_: 0)
    with pytest.raises(ShopError):
        deliver(desk.shop, desk.store, KEY, out)
    assert rows(desk)[-1] == (Happened.SETTLED, str(KEY), {"happened": False, "by": "the copy failed"})
    assert marks(desk, out) == ([], [])


def test_one_that_could_not_be_read_back(desk: Desk, out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def quick(part: Path, target: Path) -> None:
        replace_patiently(part, target)
        shutil.rmtree(target)

    monkeypatch.setattr(delivering, "replace_patiently", quick)
    with pytest.raises(ShopError) as caught:
        deliver(desk.shop, desk.store, KEY, out)
    assert (caught.value.slug, caught.value.exit_code) == ("hand-over-unsure", ExitCode.PROBLEMS)
    assert rows(desk) == [
        begun(desk, out),
        (Happened.UNSURE, str(KEY), {"destination": str(out / KEY.channel / KEY.day)}),
    ]
    here, there = marks(desk, out)
    assert [mark.done for mark in here + there] == [False, False]


@pytest.mark.parametrize("happened", [True, False])
def test_a_persons_answer_is_written_down_and_the_marks_follow(desk: Desk, out: Path, happened: bool) -> None:
    deliver(desk.shop, desk.store, KEY, out)
    shutil.rmtree(out / KEY.channel)
    other = PackKey(KEY.channel, "2026-12-05")
    desk.store.append(
        [
            Event(Happened.PACKED, str(other), {"manifest": "m"}),
            Event(Happened.HANDING_OVER, str(other), {"destination": str(out / str(other)), "manifest": "m"}),
        ]
    )
    shop_id = ensure_place(desk.shop.paths, desk.store)
    write_mark(desk.shop.paths, desk.store, shop_id, other, out)
    settle(desk.shop.paths, desk.store, other, happened)
    assert rows(desk)[-1] == (Happened.SETTLED, str(other), {"happened": happened, "by": "a person"})
    here, there = marks(desk, out)
    assert [(mark.key, mark.done) for mark in here] == [(KEY, True), *([(other, True)] if happened else [])]
    assert [mark.key for mark in there] == [KEY, *([other] if happened else [])]


def test_one_that_was_cut_and_lies_there_whole(desk: Desk, out: Path) -> None:
    desk.store.append([delivering._begun(KEY, out / KEY.channel / KEY.day, desk.ledger().packs[KEY])])
    shutil.copytree(source(desk), out / KEY.channel / KEY.day)
    deliver(desk.shop, desk.store, KEY, out)
    assert rows(desk) == [begun(desk, out), handed("found whole at its destination")]


def test_one_that_was_cut_and_is_not_there(desk: Desk, out: Path) -> None:
    desk.store.append([delivering._begun(KEY, out / KEY.channel / KEY.day, desk.ledger().packs[KEY])])
    for _ in range(2):
        with pytest.raises(ShopError):
            deliver(desk.shop, desk.store, KEY, out)
    target = str(out / KEY.channel / KEY.day)
    assert rows(desk) == [begun(desk, out), (Happened.UNSURE, str(KEY), {"destination": target})]


def test_one_that_the_record_forgot_and_that_lies_there(desk: Desk, out: Path) -> None:
    shutil.copytree(source(desk), out / KEY.channel / KEY.day)
    deliver(desk.shop, desk.store, KEY, out)
    assert rows(desk) == [begun(desk, out), handed("found whole at its destination")]
    here, there = marks(desk, out)
    assert [mark.done for mark in here + there] == [True, True]


@pytest.mark.skipif(os.name == "nt", reason="a folder cannot be synced there")
def test_all_of_it_is_on_the_disk_before_it_takes_its_name(
    desk: Desk, out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A power cut after the move must not leave a name over half a pack."""
    synced: set[int] = set()
    really = os.fsync

    def noted(handle: int) -> None:
        really(handle)
        synced.add(os.fstat(handle).st_ino)

    def move(part: Path, target: Path) -> None:
        assert {path.stat().st_ino for path in (part, *part.iterdir())} <= synced
        assert len(list(part.iterdir())) == 4
        synced.clear()
        replace_patiently(part, target)

    monkeypatch.setattr(os, "fsync", noted)
    monkeypatch.setattr(delivering, "replace_patiently", move)
    deliver(desk.shop, desk.store, KEY, out)
    assert {path.stat().st_ino for path in (out, out / KEY.channel, out.parent)} <= synced


def test_a_pack_whose_folder_is_gone_stays(desk: Desk, out: Path) -> None:
    shutil.rmtree(source(desk))
    done = deliver(desk.shop, desk.store, KEY, out)
    assert (done.done, done.to, [(f.code, f.item, f.what) for f in done.findings]) == (
        False,
        out / KEY.channel / KEY.day,
        [("missing", str(KEY), "the pack's folder is gone")],
    )
    assert rows(desk) == []


def test_a_day_that_left_is_judged_by_its_own_terms_and_an_open_one_by_todays(desk: Desk, out: Path) -> None:
    fewer = replace(desk.shop.channels[0], daily_cap=5)
    now = replace(desk, shop=replace(desk.shop, channels=(channel(code="south"), fewer)))
    (told,) = verify_folder(now.shop, now.ledger(), source(desk))
    assert (told.code, told.severity) == ("out-of-date", Severity.STOP)
    assert not deliver(now.shop, now.store, KEY, out).done
    no_channel = replace(now.shop, channels=())
    assert verify_folder(no_channel, now.ledger(), source(desk)) == ()  # there is nothing to hold it to
    deliver(desk.shop, desk.store, KEY, out)
    assert verify_folder(now.shop, now.ledger(), source(desk)) == ()


def test_a_doubt_is_told_with_what_to_ask(desk: Desk, out: Path) -> None:
    for happened in (Happened.HANDING_OVER, Happened.UNSURE):
        desk.store.append([Event(happened, str(KEY), {"destination": "/far"})])
        (told,) = verify_folder(desk.shop, desk.ledger(), source(desk))
        assert (told.code, told.item) == ("unsure", str(KEY))
        assert told.what == "whether it was handed over to /far is not known"
        assert told.fix == f"ask, then: hundredfold deliver --settle {KEY} --happened yes (or no)"


def test_only_a_lost_pack_that_is_planned_and_has_not_left_is_missed(desk: Desk, out: Path) -> None:
    kept = source(desk).rename(desk.shop.paths.packs / "aside")
    (told,) = verify_packs(desk.shop, desk.ledger()).packs[str(KEY)]
    assert (told.code, told.item) == ("missing", str(KEY))
    for one in list(desk.ledger().planned):
        desk.store.append([Event(Happened.UNPLANNED, str(one), one.as_data())])
    assert verify_packs(desk.shop, desk.ledger()).packs == {}
    kept.rename(source(desk))
    hidden = source(desk).with_name(".part-2026-12-02")
    shutil.copytree(source(desk), hidden)
    assert list(verify_packs(desk.shop, desk.ledger()).packs) == [str(KEY)]


def test_the_files_of_a_pack_that_is_not_sound_are_read_again(desk: Desk) -> None:
    """A byte that rotted under an unchanged time stamp would be taken for what was written."""
    listed = FileStamp(f"packs/{KEY}/listings.csv", 1, 2, 3, "0" * 64, 4)
    other = replace(listed, path="packs/north-print/2026-12-02/listings.csv")
    desk.store.builds.save_stamps([listed, other])
    assert verify_desk(desk).sound
    assert set(desk.store.builds.stamps()) == {listed, other}
    with contextlib.closing((source(desk) / "listings.csv").open("ab")) as file:
        file.write(b"x")
    assert not verify_desk(desk).sound
    assert list(desk.store.builds.stamps()) == [other]
