"""`words` shows what listings say, takes texts by hand, gives them back, lists names, renews old names."""

import csv
import shutil
from pathlib import Path
from typing import Any

import pytest
from monthshop import hundredfold, month_shop

BEE = "queen-bee_final_v2 (3)"


@pytest.fixture(scope="module")
def one_mug(tmp_path_factory: pytest.TempPathFactory) -> Path:
    shop = month_shop(tmp_path_factory.mktemp("words") / "shop", 2, blanks=("mug-325",))
    art = sorted((shop / "designs").iterdir())
    art[0].rename(shop / "designs" / f"{BEE}.png")
    art[1].rename(shop / "designs" / "IMG_2041.png")
    return shop


@pytest.fixture
def shop(one_mug: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(one_mug, tmp_path / "shop"))


def words(shop: Path, *arguments: str) -> tuple[int, list[dict[str, Any]]]:
    code, told = hundredfold("words", *arguments, "--shop", str(shop))
    listings = told.get("listings", [])
    assert isinstance(listings, list)
    return code, listings


def titles(listings: list[dict[str, Any]]) -> dict[str, str]:
    return {one["channel"]: one["title"] for one in listings}


def test_a_text_by_hand_stands_over_the_text_below_until_it_is_given_back(shop: Path) -> None:
    code, before = words(shop, BEE)
    assert code == 0
    assert all("Queen Bee" in one["title"] for one in before)
    assert {source["field"] for one in before for source in one["from"]} >= {"title", "point 1", "story"}
    mine = "Her Majesty of the Hive Mug"
    assert words(shop, BEE, "--channel", "northfold", "--write", "title", mine)[0] == 0
    after = words(shop, BEE)[1]
    assert titles(after) == {**titles(before), "northfold": mine}
    assert [one["by_hand"] for one in after if one["channel"] == "northfold"] == [["title"]]
    assert words(shop, BEE, "--give-back", "title")[0] == 0
    assert titles(words(shop, BEE)[1]) == titles(before)


def test_a_text_that_the_channel_does_not_take_changes_nothing(shop: Path) -> None:
    before = words(shop, BEE)[1]
    (shop / "blocked.txt").write_text("stingy\n", "utf-8")
    for field, text in (("title", "x " * 90), ("title", "A stingy mug"), ("titel", "A mug"), ("story", " ")):
        assert words(shop, BEE, "--write", field, text)[0] == 2
    assert titles(words(shop, BEE)[1]) == titles(before)
    assert words(shop, BEE, "--blank", "mug-325", "--channel", "nowhere")[0] == 2


def test_a_text_below_that_changed_is_told(shop: Path) -> None:
    assert words(shop, BEE, "--channel", "northfold", "--write", "title", "Her Majesty Mug")[0] == 0
    hundredfold("words", "--names", "--shop", str(shop))
    rename(shop, f"{BEE}.png", says="Buzz off / I am busy")
    told = hundredfold("month", "--shop", str(shop), "--start", "2027-01-01", "--days", "2")[1]
    held = told["findings"]
    assert isinstance(held, list)
    assert [one["code"] for one in held if one["check"] == "wording/by-hand"] == ["below-changed"]
    north = ("--channel", "northfold")
    assert [one["changed_below"] for one in words(shop, BEE, *north)[1]] == [["title"]]
    assert words(shop, BEE, *north, "--write", "title", "Her Majesty Mug")[0] == 0  # seen, and kept
    assert [one["changed_below"] for one in words(shop, BEE, *north)[1]] == [[]]


def rename(shop: Path, file: str, **cells: str) -> None:
    path = shop / "names.csv"
    with path.open(encoding="utf-8-sig", newline="") as text:
        rows = list(csv.DictReader(text))
    for row in rows:
        if row["file"] == file:
            row.update(cells)
    with path.open("w", encoding="utf-8-sig", newline="") as text:
        writer = csv.DictWriter(text, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)


def test_a_name_that_says_nothing_is_asked_for_once_and_then_listed(shop: Path) -> None:
    told = hundredfold("month", "--shop", str(shop), "--start", "2027-01-01", "--days", "2")[1]
    held = told["findings"]
    assert isinstance(held, list)
    nameless = [one for one in held if one["check"] == "designs/name"]
    assert [(one["item"], one["code"]) for one in nameless] == [("designs/IMG_2041.png", "says-nothing")]
    assert words(shop, "IMG_2041")[0] == 2
    assert hundredfold("words", "--names", "--shop", str(shop))[0] == 0
    with (shop / "names.csv").open(encoding="utf-8-sig", newline="") as text:
        rows = {row["file"]: row for row in csv.DictReader(text)}
    assert rows[f"{BEE}.png"]["shows"] == "Queen Bee"
    assert rows["IMG_2041.png"]["shows"] == ""
    rename(shop, "IMG_2041.png", says="Low tide / high spirits", niche="sea swimming")
    found = words(shop, "IMG_2041")[1]
    assert found
    assert all("low tide" in one["title"].casefold() for one in found)


def test_a_names_list_without_its_file_column_is_refused(shop: Path) -> None:
    (shop / "names.csv").write_text("name,shows\nbee.png,Bee\n", "utf-8")
    assert words(shop, BEE)[0] == 2


def test_a_shop_with_the_former_names_is_told_and_renewed(shop: Path) -> None:
    path = shop / "channels" / "northfold.toml"
    now = path.read_text("utf-8")
    before = now
    for former, name in (("bullets = ", "points = "), ("bullet_chars", "point_chars"),
                         ("description_chars", "story_chars"), ("{bullet 1}", "{point 1}"),
                         ("{description}", "{story}"), ("{search terms}", "{search words}")):  # fmt: skip
        assert name in before
        before = before.replace(name, former)
    path.write_text(before, "utf-8")
    assert words(shop, BEE)[0] == 2
    code, told = hundredfold("words", "--new-names", "--shop", str(shop))
    assert (code, told) == (0, {"renewed": {"channels/northfold.toml": 6}})
    assert path.read_text("utf-8") == now
    assert hundredfold("words", "--new-names", "--shop", str(shop))[1] == {"renewed": {}}
