"""History: every decision with its way back, found by word."""

from datetime import date
from pathlib import Path

import pytest
from pages import opened
from plannedshop import CHANNEL, FAR, FIRST, append, planned_shop, state_of

from hundredfold.ledger.events import Event, Happened
from hundredfold.workshop.month.moving import move_listings


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    keys = planned_shop(tmp_path / "shop")
    move_listings(tmp_path / "shop", keys[:2], FAR, date(2099, 1, 1))
    return tmp_path / "shop"


def test_the_newest_decision_comes_first_and_takes_the_key(shop: Path) -> None:
    page = opened(shop).get("/history").text
    newest = page.index("Moved 2 listings")
    assert newest < page.index("Pack made")
    assert page.count('data-key="U"') == 1
    assert page.index('data-key="U"') > newest


def test_it_is_found_by_word(shop: Path) -> None:
    client = opened(shop)
    assert "Nothing about “no such thing”" in client.get("/history?q=no such thing").text
    assert "Pack made" in client.get("/history?q=2099-01-05").text


def test_undo_takes_a_decision_back_and_bringing_it_back_is_undo_again(shop: Path) -> None:
    client = opened(shop)
    moved = {str(FAR)}
    before = dict(state_of(shop).planned)
    decision = max(int(part.split('"')[0]) for part in client.get("/history").text.split('id="d')[1:])
    client.post("/history/undo", data={"decision": str(decision)})
    assert not moved & {entry.day for entry in state_of(shop).planned.values()}
    again = max(int(part.split('"')[0]) for part in client.get("/history").text.split('id="d')[1:])
    client.post("/history/undo", data={"decision": str(again)})
    assert dict(state_of(shop).planned) == before


def test_what_has_left_cannot_be_undone_and_says_so(shop: Path) -> None:
    pack = f"{CHANNEL}/{FIRST}"
    append(
        shop, [Event(Happened.HANDING_OVER, pack, {"destination": "x"}), Event(Happened.HANDED_OVER, pack)]
    )
    assert "Stays: it has left the shop" in opened(shop).get("/history").text


def test_the_key_takes_back_what_the_seller_decided_and_no_plan_of_a_run(tmp_path: Path) -> None:
    planned_shop(tmp_path / "shop")
    page = opened(tmp_path / "shop").get("/history").text
    assert "4 listings planned" in page
    assert 'data-key="U"' not in page


@pytest.mark.parametrize("number", ["", "0", "99999", "-1", "x"])
def test_a_decision_that_is_none_is_a_sentence(shop: Path, number: str) -> None:
    answer = opened(shop).post("/history/undo", data={"decision": number})
    assert 400 <= answer.status_code < 500
    assert "What to do:" in answer.text


def test_a_broken_setting_stands_in_no_way(shop: Path) -> None:
    (shop / "shop.toml").write_text("name = ")
    assert opened(shop).get("/history").status_code == 200


def test_nothing_holds_the_shop(shop: Path) -> None:
    client = opened(shop)
    client.post("/history/unlock")
    assert "Nothing held the shop." in client.get("/history").text


def test_the_whole_shop_is_saved_beside_its_folder(shop: Path) -> None:
    client = opened(shop)
    client.post("/history/backup")
    found = list(shop.parent.glob("shop-backup-*.zip"))
    assert len(found) == 1
    assert str(found[0]) in client.get("/history").text


def test_every_check_is_explained(shop: Path) -> None:
    from hundredfold.workshop.proof.everycheck import EVERY_CHECK

    client = opened(shop)
    assert all(f"/checks/{one.id}" in client.get("/checks").text for one in EVERY_CHECK[:3])
    assert client.get(f"/checks/{EVERY_CHECK[0].id}").status_code == 200
    assert client.get("/checks/no/such").status_code == 404


def test_a_backup_is_brought_back_by_the_page(shop: Path) -> None:
    client = opened(shop)
    client.post("/history/backup")
    saved = next(iter(shop.parent.glob("shop-backup-*.zip")))
    before = dict(state_of(shop).planned)
    move_listings(shop, list(before)[2:3], FAR, date(2099, 1, 1))
    assert dict(state_of(shop).planned) != before
    files = {"files": ("saved.zip", saved.read_bytes(), "application/zip")}
    assert client.post("/history/restore", files=files).status_code == 303
    assert dict(state_of(shop).planned) == before
    assert "The record of the backup is back." in client.get("/history").text


def test_a_backup_makes_a_shop_of_an_empty_folder(shop: Path, tmp_path: Path) -> None:
    opened(shop).post("/history/backup")
    saved = next(iter(shop.parent.glob("shop-backup-*.zip")))
    files = {"files": ("saved.zip", saved.read_bytes(), "application/zip")}
    fresh = opened(tmp_path / "fresh")
    assert "Or bring a backup back" in fresh.get("/").text
    assert fresh.post("/history/restore", files=files).status_code == 303
    assert dict(state_of(tmp_path / "fresh").planned) == dict(state_of(shop).planned)


def test_what_is_no_backup_is_a_sentence(shop: Path) -> None:
    answer = opened(shop).post("/history/restore", files={"files": ("x.zip", b"PK", "application/zip")})
    assert 400 <= answer.status_code < 500
    assert "What to do:" in answer.text


def test_a_broken_settings_file_opens_as_a_page_that_mends_it(shop: Path) -> None:
    client = opened(shop)
    good = (shop / "shop.toml").read_text("utf-8")
    (shop / "shop.toml").write_text(good + "\ntarget_proft = 3\n", "utf-8")
    page = client.get("/")
    assert page.status_code == 409
    assert "target_proft" in page.text
    assert "This line" in page.text
    stamp = page.text.partition('name="digest" value="')[2].partition('"')[0]
    answer = client.post("/mend/keep", data={"file": "shop.toml", "digest": stamp, "text": good})
    assert answer.headers["location"] == "/"
    assert client.get("/").status_code == 200
