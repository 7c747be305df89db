"""Blanks and channels: drawn to scale, changed in their files, a price list looked at before it is taken."""

import re
from pathlib import Path

import pytest
from pages import opened
from plannedshop import state_of

from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.shop.newshop import new_shop


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    new_shop(tmp_path / "shop", sample=True)
    return tmp_path / "shop"


def stamp(page: str) -> str:
    return page.partition('name="stamp" value="')[2].partition('"')[0]


def price_list(shop: Path) -> bytes:
    """All of the mug but the first colour, one piece dearer, one new colour."""
    rows = ["blank,partner code,colour,cost"]
    mug = open_shop(shop).blank("MUG-325")
    for number, one in enumerate(mug.variants[1:]):
        cost = "4.45" if number == 0 else one.base_cost.plain()
        rows.append(f"MUG-325,{one.partner_code},{mug.colour(one.colour).name},{cost}")
    return "\r\n".join(rows).encode()


def bring(shop: Path) -> tuple[object, str]:
    client = opened(shop)
    files = {"files": ("prices.csv", price_list(shop))}
    answer = client.post("/blanks/list", files=files, headers={"accept": "text/html"})
    return client, answer.headers["location"]


def test_a_print_area_is_drawn_to_scale_in_millimetres(shop: Path) -> None:
    page = opened(shop).get("/blanks/MUG-325").text
    area = open_shop(shop).blank("MUG-325").areas[0]
    assert (
        f'width="{area.width_mm}" height="{area.height_mm}"' in page
    )  # the drawing's unit is the millimetre
    assert "210 mm by 80 mm" in page  # 2480 x 945 pixels at 300 dpi, as the blank's file says beside them


def test_a_change_touches_its_own_line_only(shop: Path) -> None:
    client, file = opened(shop), shop / "blanks" / "mug-325.toml"
    before = file.read_text("utf-8").splitlines()
    seen = stamp(client.get("/blanks/MUG-325").text)
    form = {
        "blank": "MUG-325",
        "stamp": seen,
        "cost NF-M325-SKY": "4.10",
        "safe wrap": "5.5",
        "stock NF-M325-LIL": "yes",
    }
    assert client.post("/blanks/save", data=form).status_code == 303
    after = file.read_text("utf-8").splitlines()
    changed = [now for was, now in zip(before, after, strict=True) if was != now]
    assert len(changed) == 3
    mug = open_shop(shop).blank("MUG-325")
    assert mug.areas[0].safe_margin_mm == 5.5
    assert {v.partner_code: v.base_cost.plain() for v in mug.variants}["NF-M325-SKY"] == "4.10"


def test_a_file_that_was_changed_elsewhere_is_not_overwritten(shop: Path) -> None:
    client, file = opened(shop), shop / "blanks" / "mug-325.toml"
    seen = stamp(client.get("/blanks/MUG-325").text)
    file.write_text(file.read_text("utf-8") + "\n# a note of mine\n", "utf-8")
    answer = client.post("/blanks/save", data={"blank": "MUG-325", "stamp": seen, "postage": "9.00"})
    assert answer.status_code == 409
    assert "changed by another tab" in answer.text
    assert "9.00" not in file.read_text("utf-8")


@pytest.mark.parametrize(
    "field", [{"postage": "x"}, {"safe wrap": "nan"}, {"safe wrap": "-3"}, {"cost NF-M325-SKY": "-1"}]
)
def test_a_value_that_is_none_changes_nothing(shop: Path, field: dict[str, str]) -> None:
    client, file = opened(shop), shop / "blanks" / "mug-325.toml"
    before = file.read_bytes()
    form = {"blank": "MUG-325", "stamp": stamp(client.get("/blanks/MUG-325").text), **field}
    assert 400 <= client.post("/blanks/save", data=form).status_code < 500
    assert file.read_bytes() == before


def test_a_price_list_shows_what_is_dearer_and_gone_before_anything_changes(shop: Path) -> None:
    before = (shop / "blanks" / "mug-325.toml").read_bytes()
    client, place = bring(shop)
    page = client.get(place).text  # type: ignore[attr-defined]
    assert page.index("Dearer") < page.index("Gone")
    assert "3.95 → <b>4.45</b>" in page
    assert (shop / "blanks" / "mug-325.toml").read_bytes() == before


def test_a_price_list_is_taken_when_asked(shop: Path) -> None:
    client, place = bring(shop)
    key = place.rpartition("/")[2]
    client.post("/blanks/list/take", data={"key": key})  # type: ignore[attr-defined]
    mug = open_shop(shop).blank("MUG-325")
    assert mug.variants[0].discontinued
    assert mug.variants[1].base_cost.plain() == "4.45"


@pytest.mark.parametrize("key", ["x", "../../shop.toml", "0" * 24, "%2e%2e"])
def test_a_list_that_is_not_kept_is_a_sentence(shop: Path, key: str) -> None:
    answer = opened(shop).get(f"/blanks/list/{key}")
    assert 400 <= answer.status_code < 500
    assert "currency" not in answer.text


def test_a_channel_shows_its_columns_and_changes_its_cap(shop: Path) -> None:
    client = opened(shop)
    page = client.get("/channels/northfold").text
    assert "Your reference" in page
    assert "An example row stands here once a pack is made." in page
    form = {"channel": "northfold", "stamp": stamp(page), "daily": "45", "rate": "12%", "was rate": "14%"}
    assert client.post("/channels/save", data=form).status_code == 303
    channel = open_shop(shop).channel("northfold")
    assert channel.daily_cap == 45
    assert str(channel.fees.rate) == "0.12"
    assert client.get("/channels").status_code == 200
    assert client.get("/channels/nobody").status_code == 404


def test_no_cap_is_refused(shop: Path) -> None:
    client = opened(shop)
    page = client.get("/channels/northfold").text
    form = {"channel": "northfold", "stamp": stamp(page), "daily": "0"}
    assert 400 <= client.post("/channels/save", data=form).status_code < 500
    assert open_shop(shop).channel("northfold").daily_cap == 60


def test_a_partners_sheet_is_shown_before_it_is_learned(shop: Path) -> None:
    client = opened(shop)
    table = b"Seller SKU,Title,Price,Colour,Strange word\r\n"
    files = {"files": ("form.csv", table)}
    place = client.post("/channels/learn", data={"channel": "stall"}, files=files).headers["location"]
    page = client.get(place).text
    assert "Seller SKU" in page
    assert "Nothing fits" in page
    assert "stall" not in {one.code for one in open_shop(shop).channels}
    assert not list((shop / "channels").glob("stall*"))
    client.post("/channels/learn/take", data={"channel": "stall", "key": place.rpartition("/")[2]})
    assert (shop / "channels" / "stall.toml").is_file()


@pytest.mark.parametrize("code", ["", "../x", "a b", "x" * 60])
def test_a_code_that_is_none_is_refused(shop: Path, code: str) -> None:
    files = {"files": ("form.csv", b"SKU,Title\r\n")}
    answer = opened(shop).post("/channels/learn", data={"channel": code}, files=files)
    assert answer.status_code == 400


def test_a_list_of_what_is_live_is_taken_in_and_undone(shop: Path) -> None:
    client = opened(shop)
    name = sorted(path.stem for path in (shop / "designs").glob("*.svg"))[0]
    table = f"SKU,Title,Blank,File\r\nOLD-1,{name},MUG-325,{name}.svg\r\n".encode()
    sent = client.post("/channels/adopt", data={"channel": "northfold"}, files={"files": ("live.csv", table)})
    assert sent.status_code == 303
    assert "OLD-1" in state_of(shop).existing
    decision = re.search(r'name="decision" value="(\d+)"', client.get("/channels/northfold").text)
    assert decision is not None
    client.post("/undo", data={"decision": decision[1], "back": "/channels"})
    assert "OLD-1" not in state_of(shop).existing
