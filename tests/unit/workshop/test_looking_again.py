"""A look is the same moment until something is written, and then goes on to what is there."""

import os
import time
from datetime import date
from pathlib import Path

import pytest
from plannedshop import FAR, planned_shop

from hundredfold.ledger.fold import fold
from hundredfold.workshop.listing.choices import choose
from hundredfold.workshop.month.moving import move_listings
from hundredfold.workshop.shop.history import undo
from hundredfold.workshop.views.looking import Glance, look_at


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    planned_shop(tmp_path / "shop")
    time.sleep(0.06)  # what was written just now is not believed yet
    return tmp_path / "shop"


def settled(shop: Path) -> Glance:
    time.sleep(0.06)
    return look_at(shop)


def test_nothing_written_is_the_same_moment(shop: Path) -> None:
    assert settled(shop) is look_at(shop)


def test_what_was_decided_is_seen_at_once_and_folds_as_if_read_anew(shop: Path) -> None:
    first = settled(shop)
    key = next(iter(first.state.planned))
    moved = move_listings(shop, [key], FAR, date(2099, 1, 1))
    again = look_at(shop)
    assert again is not first
    assert again.state.planned[key].day == str(FAR)
    assert again.state == fold(again.moment.events)
    undo(shop, [moved.decision])
    back = look_at(shop)
    assert back.state.planned == first.state.planned
    assert back.state == fold(back.moment.events)
    assert first.state.planned[key].day != str(FAR)


def test_a_look_just_after_a_decision_goes_on_from_the_one_before(shop: Path) -> None:
    first = settled(shop)
    moved = first.state.planned
    move_listings(shop, [next(iter(moved))], FAR, date(2099, 1, 1))
    hasty = look_at(shop)  # within the tick: not believed
    later = settled(shop)
    assert later.moment.outputs is hasty.moment.outputs is first.moment.outputs
    assert later.state.choices == first.state.choices
    assert later.folded is not None


def test_a_change_of_the_settings_is_seen(shop: Path) -> None:
    first = settled(shop)
    text = (shop / "shop.toml").read_text("utf-8")
    (shop / "shop.toml").write_text(text.replace(first.shop.settings.name, "Another Name"), "utf-8")
    assert look_at(shop).shop.settings.name == "Another Name"


def test_a_write_in_the_same_tick_of_the_clock_is_not_missed(shop: Path) -> None:
    """A file system that notes whole seconds: the time of the file stays, its content does not."""
    settings = shop / "shop.toml"
    now = int(time.time())
    text = settings.read_text("utf-8")
    name = look_at(shop).shop.settings.name
    os.utime(settings, ns=(now * 10**9, now * 10**9))
    look_at(shop)
    settings.write_text(text.replace(name, name[::-1]), "utf-8")
    os.utime(settings, ns=(now * 10**9, now * 10**9))
    assert look_at(shop).shop.settings.name == name[::-1]


def test_another_record_in_its_place_is_read_whole(shop: Path, tmp_path: Path) -> None:
    first = settled(shop)
    planned_shop(tmp_path / "other", on_first=1)
    (shop / ".hundredfold" / "shop.db").write_bytes(
        (tmp_path / "other" / ".hundredfold" / "shop.db").read_bytes()
    )
    again = look_at(shop)
    assert again.moment.events != first.moment.events
    assert again.state == fold(again.moment.events)


def test_choices_of_a_design_that_is_none_change_nothing(shop: Path) -> None:
    first = settled(shop)
    assert choose(shop, []) == 0
    assert settled(shop).state == first.state
