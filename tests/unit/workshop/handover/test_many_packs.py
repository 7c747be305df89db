"""Which packs go out when several are asked for, and what a person is told of each."""

import shutil
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from goods import DAY
from shops import KEY, make_pack, stocked

from hundredfold.kernel.errors import ExitCode, ShopError
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.keys import PackKey
from hundredfold.ledger.state import Progress
from hundredfold.runner.diskerrors import say_bytes
from hundredfold.workshop.handover.manypacks import Deliveries, deliver_many, settle_pack
from hundredfold.workshop.shop.desk import Desk

NEXT, AFTER = DAY + timedelta(days=1), DAY + timedelta(days=2)
SECOND = PackKey(KEY.channel, NEXT.isoformat())


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    """Two days are packed."""
    opened = stocked(tmp_path / "shop")
    make_pack(opened.shop.paths.root, opened.store, NEXT, "sea-swimmer")
    (tmp_path / "out").mkdir()
    yield opened
    opened.store.close()


@pytest.fixture
def out(tmp_path: Path) -> Path:
    return tmp_path / "out"


def went(told: Deliveries) -> list[PackKey]:
    return [each.key for each in told.done if each.done]


def unplan(desk: Desk, key: PackKey) -> None:
    planned = [one for one, entry in desk.ledger().planned.items() if entry.day == key.day]
    desk.store.append([Event(Happened.UNPLANNED, str(one), one.as_data()) for one in planned])


def test_todays_packs_go_and_later_days_are_held_back(desk: Desk, out: Path) -> None:
    told = deliver_many(desk, [], DAY, out)
    assert (went(told), told.waiting, told.errors, told.problems, told.everything) == (
        [KEY],
        (),
        (),
        False,
        False,
    )
    assert desk.ledger().packs[SECOND].progress is Progress.PACKED
    size = sum(path.stat().st_size for path in (out / KEY.channel / KEY.day).iterdir())
    assert told.done[0].bytes == size
    assert told.lines() == [
        f"handed over {KEY}: 4 files, {say_bytes(size)}, in {out / KEY.channel / KEY.day}"
    ]
    again = deliver_many(desk, [], DAY, out)
    assert (again.done, again.problems, again.lines()) == ((), False, ["nothing to hand over today"])


def test_days_gone_by_wait_and_are_named(desk: Desk, out: Path) -> None:
    told = deliver_many(desk, [], NEXT, out)
    assert (went(told), told.waiting) == ([SECOND], (KEY,))
    assert told.lines()[1:] == [
        f"days gone by and not handed over: {KEY}; `hundredfold month` plans them anew"
    ]
    make_pack(desk.shop.paths.root, desk.store, AFTER, "bell-ringer")
    late = deliver_many(desk, [], AFTER + timedelta(days=1), out)
    third = PackKey(KEY.channel, AFTER.isoformat())
    assert late.waiting == (KEY, third)
    assert late.lines() == [
        "nothing to hand over today",
        f"days gone by and not handed over: {KEY}, {third}; `hundredfold month` plans them anew",
    ]
    unplan(desk, KEY)
    assert deliver_many(desk, [], AFTER + timedelta(days=1), out).waiting == (third,)


def test_all_means_what_is_planned_or_may_have_gone(desk: Desk, out: Path) -> None:
    unplan(desk, KEY)
    told = deliver_many(desk, [], DAY, out, everything=True)
    assert (went(told), told.everything) == ([SECOND], True)
    empty = deliver_many(desk, [], DAY, out, everything=True)
    assert empty.lines() == ["nothing to hand over: every pack of the plan has gone out, or none is made yet"]
    desk.store.append([Event(Happened.HANDING_OVER, str(KEY), {"destination": str(out / "nowhere")})])
    (error,) = deliver_many(desk, [], DAY, out, everything=True).errors
    assert error.slug == "hand-over-unsure"


def test_a_pack_that_may_have_gone_is_asked_about_on_later_days_too(desk: Desk, out: Path) -> None:
    desk.store.append([Event(Happened.HANDING_OVER, str(KEY), {"destination": str(out / "nowhere")})])
    told = deliver_many(desk, [], NEXT, out)
    assert ([e.slug for e in told.errors], told.waiting, went(told)) == (["hand-over-unsure"], (), [SECOND])
    assert told.problems
    settle_pack(desk, f" {KEY}/ ", happened=True)
    assert desk.ledger().packs[KEY].progress is Progress.HANDED_OVER


def test_a_failure_does_not_stop_the_rest(desk: Desk, out: Path) -> None:
    table = desk.shop.paths.packs / KEY.channel / KEY.day / "listings.csv"
    table.write_bytes(table.read_bytes().replace(b"12.95", b"11.95", 1))
    told = deliver_many(desk, [f"{KEY.channel}/1999-01-01", str(KEY), f"{SECOND}/"], DAY, out)
    assert [(each.key, each.done) for each in told.done] == [(KEY, False), (SECOND, True)]
    assert [error.slug for error in told.errors] == ["no-such-pack"]
    assert told.problems
    assert told.lines()[0] == f"kept back {KEY}: it is not sound"
    assert [finding.item.partition(": ")[0] for finding in told.findings()] == [str(KEY)] * len(
        told.findings()
    )
    assert len(told.findings()) == len(told.done[0].findings) > 0
    unsound = replace(told, errors=())
    assert unsound.problems
    assert not replace(unsound, done=told.done[1:]).problems
    assert replace(told, done=(), errors=told.errors).lines() == []  # the error says it


def test_what_a_program_is_told(desk: Desk, out: Path) -> None:
    told = deliver_many(desk, [str(KEY), f"{KEY.channel}/1999-01-01"], DAY, out)
    there = out / KEY.channel / KEY.day
    assert replace(told, waiting=(SECOND,)).as_json() == {
        "packs": [
            {
                "pack": str(KEY),
                "to": str(there),
                "handed_over": True,
                "files": 4,
                "bytes": sum(path.stat().st_size for path in there.iterdir()),
                "note": "",
                "findings": [],
            }
        ],
        "errors": [told.errors[0].as_json()["error"]],
        "waiting": [str(SECOND)],
        "problems": True,
    }
    table = desk.shop.paths.packs / SECOND.channel / SECOND.day / "listings.csv"
    table.write_bytes(b"x")
    packs: Any = deliver_many(desk, [str(SECOND)], DAY, out).as_json()["packs"]
    assert packs[0]["findings"][0]["item"].startswith("listings.csv")


def test_a_pack_made_before_its_listings_were_moved_stays(desk: Desk, out: Path) -> None:
    """It would send them on the wrong day."""
    unplan(desk, KEY)
    told = deliver_many(desk, [str(KEY), str(SECOND)], DAY, out)
    assert [(e.slug, e.exit_code) for e in told.errors] == [("pack-out-of-date", ExitCode.PROBLEMS)]
    assert str(KEY) in told.errors[0].what
    assert went(told) == [SECOND]
    assert not (out / KEY.channel / KEY.day).exists()


@pytest.mark.parametrize("name", ["north-print", "", "/2026-12-01", "north-print/"])
def test_what_names_no_pack(desk: Desk, out: Path, name: str) -> None:
    with pytest.raises(ShopError) as caught:
        deliver_many(desk, [name], DAY, out)
    assert (caught.value.slug, caught.value.exit_code) == ("no-such-pack", ExitCode.WRONG_USE)
    assert repr(name) in caught.value.what


def test_what_lay_there_whole_says_so_in_its_line(desk: Desk, out: Path) -> None:
    there = out / KEY.channel / KEY.day
    shutil.copytree(desk.shop.paths.packs / KEY.channel / KEY.day, there)
    told = deliver_many(desk, [str(KEY)], DAY, out)
    assert told.lines() == [
        f"handed over {KEY}: it lay there whole already, so it was not copied again, in {there}"
    ]
    assert (told.done[0].files, told.done[0].bytes) == (0, 0)


def test_a_folder_of_the_shop_is_made_and_another_is_not(desk: Desk, tmp_path: Path) -> None:
    inside = desk.shop.paths.root / "to-partner"
    assert went(deliver_many(desk, [str(KEY)], DAY, inside)) == [KEY]
    assert (inside / KEY.channel / KEY.day / "manifest.json").is_file()
    with pytest.raises(ShopError) as caught:
        deliver_many(desk, [str(SECOND)], DAY, tmp_path / "disk")
    assert (caught.value.slug, caught.value.exit_code) == ("destination-missing", ExitCode.PROBLEMS)
    assert went(deliver_many(desk, [str(SECOND)], DAY)) == [SECOND]
    assert (desk.shop.paths.root / desk.shop.settings.delivery_folder / KEY.channel / SECOND.day).is_dir()
