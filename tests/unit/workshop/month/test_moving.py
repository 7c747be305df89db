"""A seller's own days: all of the listings or none, under the cap, and taken back by undo."""

from datetime import date
from pathlib import Path

import pytest
from plannedshop import CHANNEL, FAR, FIRST, SECOND, append, planned_shop, state_of

from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.keys import ListingKey, PackKey
from hundredfold.ledger.state import LedgerState
from hundredfold.planning.listings import Candidate
from hundredfold.planning.month import plan_month, planned_events
from hundredfold.workshop.handover.manypacks import deliver_many
from hundredfold.workshop.month.moving import move_listings
from hundredfold.workshop.shop.desk import desk
from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.shop.history import undo

TODAY = date(2099, 1, 1)


def days(root: Path) -> dict[ListingKey, str]:
    return {key: entry.day for key, entry in state_of(root).planned.items()}


def test_a_moved_listing_has_the_new_day_and_undo_gives_it_the_old_one_again(tmp_path: Path) -> None:
    root = tmp_path / "shop"
    keys = planned_shop(root)
    before = days(root)
    done = move_listings(root, keys[:2], FAR, TODAY)
    assert done.listings == 2
    assert {days(root)[key] for key in keys[:2]} == {FAR.isoformat()}
    undo(root, [done.decision])
    assert days(root) == before


def test_a_move_to_the_day_it_has_decides_nothing(tmp_path: Path) -> None:
    root = tmp_path / "shop"
    keys = planned_shop(root)
    last = state_of(root).last_number
    assert move_listings(root, keys[:1], FIRST, TODAY).decision == 0
    assert state_of(root).last_number == last


def test_more_than_the_cap_of_a_day_is_refused_whole(tmp_path: Path) -> None:
    root = tmp_path / "shop"
    cap = open_shop(planned(root)).channel(CHANNEL).daily_cap
    keys = planned_keys(root)
    with pytest.raises(ShopError) as caught:
        move_listings(root, keys, FAR, TODAY)
    assert caught.value.slug == "day-full"
    assert str(cap) in caught.value.what
    assert FAR.isoformat() not in days(root).values()


def planned(root: Path) -> Path:
    planned_shop(root, 3, rows=25)
    return root


def planned_keys(root: Path) -> list[ListingKey]:
    return sorted(state_of(root).planned)


@pytest.mark.parametrize("progress", [Happened.HANDING_OVER, Happened.HANDED_OVER])
def test_what_has_left_the_shop_keeps_its_day(tmp_path: Path, progress: Happened) -> None:
    root = tmp_path / "shop"
    keys = planned_shop(root)
    pack = PackKey(CHANNEL, FIRST.isoformat())

    append(root, [Event(Happened.HANDING_OVER, str(pack), {"destination": "/nowhere"})])
    if progress is Happened.HANDED_OVER:
        append(root, [Event(Happened.HANDED_OVER, str(pack), {})])
    with pytest.raises(ShopError) as caught:
        move_listings(root, keys[-1:], FIRST, TODAY)
    assert caught.value.slug == "day-closed"


def test_a_day_that_is_over_takes_nothing(tmp_path: Path) -> None:
    root = tmp_path / "shop"
    keys = planned_shop(root)
    with pytest.raises(ShopError) as caught:
        move_listings(root, keys[:1], SECOND, date(2099, 1, 7))
    assert caught.value.slug == "day-closed"


def test_what_is_not_planned_cannot_move(tmp_path: Path) -> None:
    root = tmp_path / "shop"
    planned_shop(root)
    with pytest.raises(ShopError) as caught:
        move_listings(root, [ListingKey(CHANNEL, "nobody", "MUG-325")], FAR, TODAY)
    assert caught.value.slug == "not-planned"


def test_a_pack_made_before_the_move_stays_until_it_is_made_anew(tmp_path: Path) -> None:
    root = tmp_path / "shop"
    keys = planned_shop(root)
    move_listings(root, keys[:1], FAR, TODAY)
    with desk(root, "deliver") as opened:
        done = deliver_many(opened, [f"{CHANNEL}/{FIRST}"], TODAY)
    assert [error.slug for error in done.errors] == ["pack-out-of-date"]
    assert done.errors[0].exit_code == 1
    assert not list((root / opened.shop.settings.delivery_folder).rglob("manifest.json"))


def test_the_next_plan_keeps_a_moved_listing_where_it_was_put(tmp_path: Path) -> None:
    """The planner's own rule: a day that a listing has is kept while it is open and has room."""
    root = tmp_path / "shop"
    keys = planned_shop(root)
    move_listings(root, keys[:1], FAR, TODAY)
    state, shop = state_of(root), open_shop(root)
    again = plan_month(candidates(state), shop.channels, state, FIRST, 30)
    assert {one.key: one.day for one in again.listings}[keys[0]] == FAR
    assert planned_events(again, state) == ()


def candidates(state: LedgerState) -> list[Candidate]:

    return [Candidate(key, entry.colours, entry.rows) for key, entry in state.planned.items()]
