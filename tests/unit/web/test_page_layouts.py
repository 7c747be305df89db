"""Layouts and words: a list as a sheet, set as it stands, kept as the plain file it is."""

import csv
import re
from pathlib import Path

import pytest
from pages import opened

from hundredfold.workshop.shop.newshop import new_shop
from hundredfold.workshop.typeset.liveset import keep_list, open_list, set_words

LIST = "clubs.csv"


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    new_shop(tmp_path / "shop", sample=True)
    words = tmp_path / "shop" / "words" / LIST
    words.write_text("".join(words.read_text("utf-8").splitlines(keepends=True)[:4]), "utf-8")
    return tmp_path / "shop"


def cells(shop: Path) -> list[list[str]]:
    with (shop / "words" / LIST).open(newline="", encoding="utf-8") as file:
        return list(csv.reader(file))


def digest(page: str) -> str:
    found = re.search(r'name="digest" value="([0-9a-f]+)"', page)
    assert found is not None
    return found[1]


def test_the_sheet_shows_every_row_with_its_picture(shop: Path) -> None:
    client = opened(shop)
    page = client.get(f"/layouts/{LIST}").text
    assert page.count('alt="Row ') == 3
    address = re.findall(rf'src="(/layouts/{LIST}/2\.webp[^"]+)"', page)[0].replace("&amp;", "&")
    picture = client.get(address)
    assert picture.headers["content-type"] == "image/webp"
    assert client.get(address, headers={"if-none-match": picture.headers["etag"]}).status_code == 304


def test_a_row_that_cannot_be_set_comes_first_once_that_is_known(shop: Path) -> None:
    client = opened(shop)
    sheet = open_list(shop, LIST)
    rows = {3: ["badge", "honey", *[""] * (len(sheet.headers) - 2)]}
    keep_list(shop, LIST, sheet.digest, rows)
    page = client.get(f"/layouts/{LIST}?all=1").text
    order = re.findall(r'<tr data-row="(\d+)" data-bad', page)
    assert order[0] == "3"
    assert "Stop" in page


def test_words_typed_are_set_and_judged_before_they_are_kept(shop: Path) -> None:
    client = opened(shop)
    before = (shop / "words" / LIST).read_bytes()
    asked = {"c0": "badge", "c1": "honey", "c2": "Queen of hearts", "c3": "and hives", "c4": "bee.svg"}
    good = client.get(f"/layouts/{LIST}/9.json", params=asked).json()
    assert good["set"] is True
    empty = client.get(f"/layouts/{LIST}/9.json", params={"c0": "badge"}).json()
    assert (empty["set"], empty["found"][0]["severity"]) == (False, "stop")
    nowhere = client.get(f"/layouts/{LIST}/9.json", params={"c0": "bagde"}).json()
    assert "badge" in nowhere["found"][0]["fix"]
    assert (shop / "words" / LIST).read_bytes() == before


def test_what_was_typed_is_kept_in_the_plain_file_and_nothing_else(shop: Path) -> None:
    client = opened(shop)
    before = cells(shop)
    page = client.get(f"/layouts/{LIST}").text
    width = len(before[0])
    form = {"list": LIST, "digest": digest(page), "r3.3": "a line, with a comma"}
    form |= {f"r3.{n}": text for n, text in enumerate(before[2]) if n != 3}
    form |= {f"r6.{n}": text for n, text in enumerate(["badge", "honey", "Fresh", "row", "bee.svg"])}
    assert client.post("/layouts/keep", data=form).status_code == 303
    after = cells(shop)
    assert after[2][3] == "a line, with a comma"
    assert after[4][:5] == ["badge", "honey", "Fresh", "row", "bee.svg"]
    assert (after[0], after[1], after[3], len(after[4])) == (before[0], before[1], before[3], width)
    assert "2 rows of clubs.csv kept." in client.get(f"/layouts/{LIST}").text


def test_a_row_emptied_goes_and_nothing_changed_writes_nothing(shop: Path) -> None:
    client = opened(shop)
    before = cells(shop)
    stamp = digest(client.get(f"/layouts/{LIST}").text)
    same = {f"r2.{n}": text for n, text in enumerate(before[1])}
    client.post("/layouts/keep", data={"list": LIST, "digest": stamp, **same})
    assert cells(shop) == before
    gone = {f"r2.{n}": "" for n in range(len(before[1]))}
    client.post("/layouts/keep", data={"list": LIST, "digest": stamp, **gone})
    assert cells(shop) == [before[0], *before[2:]]


def test_a_list_changed_meanwhile_is_not_written_over(shop: Path) -> None:
    client = opened(shop)
    page = client.get(f"/layouts/{LIST}").text
    other = (shop / "words" / LIST).read_text("utf-8") + "badge,honey,Elsewhere,typed,bee.svg\n"
    (shop / "words" / LIST).write_text(other, "utf-8")
    answer = client.post("/layouts/keep", data={"list": LIST, "digest": digest(page), "r2.2": "Mine"})
    assert answer.status_code == 409
    assert "changed since this page showed it" in answer.text
    assert (shop / "words" / LIST).read_text("utf-8") == other


def test_a_list_is_begun_with_the_columns_of_its_layout(shop: Path) -> None:
    client = opened(shop)
    answer = client.post("/layouts/begin", data={"name": "Sea Swimming!", "layout": "badge"})
    assert answer.headers["location"] == "/layouts/sea-swimming.csv"
    assert {"title", "line"} <= set(open_list(shop, "sea-swimming.csv").headers)
    assert client.post("/layouts/begin", data={"name": "Sea swimming", "layout": "badge"}).status_code == 409
    assert client.post("/layouts/begin", data={"name": "x", "layout": "../shop"}).status_code == 409
    assert client.post("/layouts/begin", data={"name": "..", "layout": "badge"}).status_code == 400


@pytest.mark.parametrize("name", ["nobody.csv", "..%2Fshop.toml", "%2e%2e", "clubs"])
def test_no_list_is_a_sentence(shop: Path, name: str) -> None:
    answer = opened(shop).get(f"/layouts/{name}")
    assert answer.status_code in (404, 409)
    assert "currency" not in answer.text


def test_the_layouts_that_come_along_are_taken(tmp_path: Path) -> None:
    new_shop(tmp_path / "shop")
    client = opened(tmp_path / "shop")
    client.post("/layouts/starters")
    assert (tmp_path / "shop" / "layouts" / "badge.svg").is_file()
    assert "Begin a word list" in client.get("/layouts").text


def test_a_row_without_a_layout_is_told_what_to_write(shop: Path) -> None:
    done = set_words(shop, "other.csv", 2, {"title": "Alone"})
    assert done.filled is None
    assert done.findings[0][1] == "it does not say which layout to fill"
