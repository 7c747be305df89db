"""The calendar: each day with its reasons; moved by form, and undone."""

import re
from pathlib import Path

import pytest
from pages import opened
from plannedshop import CHANNEL, FAR, FIRST, SECOND, planned_shop, state_of


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    planned_shop(tmp_path / "shop")
    return tmp_path / "shop"


def test_the_month_shows_each_day_under_its_cap(shop: Path) -> None:
    page = opened(shop).get("/calendar").text
    assert "Northfold Print 12 of 60" in page
    assert f'data-day="{FIRST}"' in page
    assert "Mothering Sunday" not in page  # another year


def test_a_day_says_why_each_listing_stands_on_it(shop: Path) -> None:
    page = opened(shop).get(f"/calendar/{SECOND}").text
    assert "First day with room." in page
    assert page.count('name="listing"') == 1


def test_a_whole_day_moves_by_form_and_is_undone_by_the_bar(shop: Path) -> None:
    client = opened(shop)
    answer = client.post("/calendar/move", data={"from": str(FIRST), "to": str(FAR)})
    assert answer.status_code == 303
    assert {entry.day for entry in state_of(shop).planned.values()} == {str(SECOND), str(FAR)}
    page = client.get("/calendar").text
    assert "3 listings moved" in page
    assert "Some packs were made before listings moved." in page
    decision = client.post("/calendar/move", data={"from": str(SECOND), "to": str(FAR)})
    assert decision.status_code == 303
    bar = re.search(r'name="decision" value="(\d+)"', client.get("/calendar").text)
    assert bar is not None
    number = bar[1]
    client.post("/undo", data={"decision": number, "back": "/calendar"})
    assert str(SECOND) in {entry.day for entry in state_of(shop).planned.values()}


def test_one_listing_moves_by_its_name(shop: Path) -> None:
    key = next(key for key, entry in state_of(shop).planned.items() if entry.day == str(SECOND))
    opened(shop).post("/calendar/move", data={"listing": str(key), "to": str(FAR)})
    assert state_of(shop).planned[key].day == str(FAR)


@pytest.mark.parametrize("fields", [{}, {"to": "never"}, {"to": str(FAR), "listing": "x"}, {"to": str(FAR)}])
def test_a_move_that_says_too_little_is_a_sentence(shop: Path, fields: dict[str, str]) -> None:
    answer = opened(shop).post("/calendar/move", data=fields)
    assert answer.status_code == 400
    assert "What to do:" in answer.text


@pytest.mark.parametrize("address", ["/calendar/never", "/calendar/2099-13-40", "/calendar?month=x"])
def test_a_day_that_is_none_is_a_sentence(shop: Path, address: str) -> None:
    assert opened(shop).get(address).status_code == 400


def test_a_shop_without_a_plan_says_what_comes_first(tmp_path: Path) -> None:
    from hundredfold.workshop.shop.newshop import new_shop

    new_shop(tmp_path / "shop")
    assert "Prepare the month first." in opened(tmp_path / "shop").get("/calendar").text


def test_occasions_are_drawn_and_a_row_that_cannot_be_told_is_said(shop: Path) -> None:
    rows = f"occasion,date,live weeks before\nHarvest supper,{FIRST},0\nBroken,soon,2\n"
    (shop / "occasions.csv").write_text(rows)
    page = opened(shop).get("/calendar").text
    assert "Harvest supper" in page
    assert "1 row of occasions.csv cannot be told" in page


def test_the_channel_of_the_day_is_named(shop: Path) -> None:
    assert f"/packs/{CHANNEL}/{FIRST}" in opened(shop).get(f"/calendar/{FIRST}").text


def test_a_pin_holds_a_listing_and_undo_takes_it_out(shop: Path) -> None:
    key = next(key for key, entry in state_of(shop).planned.items() if entry.day == str(SECOND))
    client = opened(shop)
    form = {"listing": str(key), "pin": "yes", "back": f"/calendar/{SECOND}"}
    client.post("/calendar/pin", data=form)
    assert state_of(shop).planned[key].pinned
    page = client.get(f"/calendar/{SECOND}").text
    assert "Pinned here." in page
    bar = re.search(r'name="decision" value="(\d+)"', page)
    assert bar is not None
    client.post("/undo", data={"decision": bar[1]})
    assert not state_of(shop).planned[key].pinned
    client.post("/calendar/pin", data=form)
    client.post("/calendar/pin", data={**form, "pin": "no"})
    assert not state_of(shop).planned[key].pinned


def test_a_ban_refuses_the_listing_on_its_channel_and_no_other(shop: Path) -> None:
    key = next(key for key, entry in state_of(shop).planned.items() if entry.day == str(SECOND))
    opened(shop).post("/calendar/ban", data={"listing": str(key), "back": "/calendar"})
    choices = state_of(shop).choices
    assert [(one.design, one.blank, one.channel) for one in choices] == [(key.design, key.blank, key.channel)]
    assert {one.answer.value for one in choices.values()} == {"refuse"}


@pytest.mark.parametrize("address", ["/calendar/pin", "/calendar/ban"])
def test_nothing_ticked_is_a_sentence(shop: Path, address: str) -> None:
    assert opened(shop).post(address, data={"pin": "yes"}).status_code == 400
