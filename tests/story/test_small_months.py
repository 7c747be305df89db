"""What a month says and decides, on a small shop: a few designs, two blanks, a few days."""

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from monthshop import counts, digests, hundredfold, month, month_shop

from hundredfold.mockups import rules


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Path:
    shop = month_shop(tmp_path_factory.mktemp("small") / "shop", 4, blanks=("mug-325", "t-shirt"))
    month(shop, 3)
    return shop


@pytest.fixture
def shop(small: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(small, tmp_path / "shop"))


def findings(told: dict[str, object], check: str) -> list[dict[str, Any]]:
    held = told["findings"]
    assert isinstance(held, list)
    return [found for found in held if found["check"] == check]


def test_a_main_picture_that_breaks_a_rule_is_a_finding(shop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert not findings(month(shop, 3), "picture/breaks-channel-rule")
    monkeypatch.setattr(rules, "LEAST_SHARE", 0.95)
    broken = findings(month(shop, 2), "picture/breaks-channel-rule")
    assert {found["code"] for found in broken} == {"share"}
    assert {found["item"].split(", ")[0] for found in broken} == {
        "main picture of MUG-325",
        "main picture of T-SHIRT",
    }


def delivered(shop: Path) -> None:
    code, told = hundredfold("deliver", "--shop", str(shop), "--all")
    assert code == 0, told


def rows(shop: Path, action: str) -> list[dict[str, Any]]:
    held = [json.loads(path.read_bytes())["rows"] for path in sorted(shop.glob("packs/*/*/manifest.json"))]
    return [row for pack in held for row in pack if row["action"] == action]


def test_a_missing_file_ends_nothing_until_a_person_says_so(shop: Path) -> None:
    delivered(shop)
    art = next(iter(sorted((shop / "designs").iterdir())))
    kept = art.read_bytes()
    art.unlink()
    (gone,) = findings(month(shop, 6), "designs/gone")
    assert (gone["item"], gone["severity"]) == (f"designs/{art.name}", "warn")
    assert gone["code"] == "file-missing"
    assert gone["numbers"] == {"live": 4}  # two blanks, two channels
    assert not rows(shop, "end")
    code, told = hundredfold("retire", art.name, "--shop", str(shop))
    assert code == 0
    ((number, live),) = [(one["decision"], one["live"]) for one in told["retired"]]  # type: ignore[attr-defined]
    assert live == 4
    later = month(shop, 6)
    assert not findings(later, "designs/gone")
    ends = rows(shop, "end")
    assert ends
    assert len({(row["blank"], row["sku"]) for row in ends}) == len(ends)
    assert hundredfold("verify", "--shop", str(shop))[0] == 0
    assert hundredfold("undo", str(number), "--shop", str(shop))[0] == 0
    art.write_bytes(kept)
    assert not findings(month(shop, 6), "designs/gone")
    assert not rows(shop, "end")


def test_a_moved_folder_is_one_finding_and_all_of_it_can_be_retired(shop: Path) -> None:
    delivered(shop)
    (shop / "designs").rename(shop / "designs elsewhere")
    (gone,) = findings(month(shop, 6), "designs/gone")
    assert (gone["item"], gone["numbers"]) == ("designs", {"designs": 4, "live": 16})
    assert gone["code"] == "files-missing"
    assert not rows(shop, "end")
    code, told = hundredfold("retire", "--gone", "--shop", str(shop))
    assert code == 0
    assert [one["live"] for one in told["retired"]] == [4] * 4  # type: ignore[attr-defined]
    month(shop, 6)
    assert {row["action"] for row in rows(shop, "end")} == {"end"}
    delivered(shop)
    assert hundredfold("retire", "--gone", "--shop", str(shop))[1] == {"retired": []}


def test_a_retired_design_whose_file_is_there_is_not_listed_and_that_is_said(shop: Path) -> None:
    name = next(iter(sorted((shop / "designs").iterdir()))).name
    assert hundredfold("retire", name, "--shop", str(shop))[0] == 0
    told = month(shop, 3)
    (said,) = findings(told, "designs/retired")
    assert (said["item"], said["code"]) == (f"designs/{name}", "still-there")
    stem = name.rsplit(".", 1)[0]
    assert not [row for row in rows(shop, "new") if any(stem in art for art in row["artwork"].values())]
    code, told = hundredfold("retire", "nothing-like-it", "--shop", str(shop))
    assert code == 2


def test_a_blank_whose_file_is_missing_is_told(shop: Path) -> None:
    delivered(shop)
    (shop / "blanks" / "t-shirt.toml").unlink()
    (gone,) = findings(month(shop, 6), "catalogue/blank-gone")
    assert (gone["item"], gone["code"], gone["numbers"]) == ("T-SHIRT", "file-missing", {"live": 8})


def test_a_shorter_month_leaves_later_days_alone_and_says_so(shop: Path) -> None:
    before = digests(shop / "packs")
    told = month(shop, 1)
    assert isinstance(told["summary"], list)
    (said,) = [line for line in told["summary"] if "stand" in line]
    assert "planned for later days (2027-01-02" in said
    assert digests(shop / "packs") == before
    assert counts(month(shop, 3))[0] == 0
    assert digests(shop / "packs") == before


def test_why_answers_for_the_last_month_too(shop: Path) -> None:
    blank = shop / "blanks" / "mug-325.toml"
    blank.write_text(blank.read_text("utf-8").replace("#f7f6f2", "#f6f5f1"), "utf-8")
    month(shop, 3)
    art = next(iter(sorted((shop / "designs").iterdir()))).name
    made = hundredfold("why", art, "--shop", str(shop))[1]["made from"]
    assert isinstance(made, list)
    assert "  made again then: blank colour: #f7f6f2 -> #f6f5f1" in made


def test_a_shop_only_begun_is_told_what_it_lacks(tmp_path: Path) -> None:
    assert hundredfold("new", str(tmp_path / "own"))[0] == 0
    code, told = hundredfold("month", "--shop", str(tmp_path / "own"))
    assert code == 1
    lacking = findings(told, "shop/nothing-to-list")
    assert {found["item"] for found in lacking} == {"blanks", "channels", "designs"}
    assert {found["code"] for found in lacking} == {"no-blanks", "no-channels", "no-designs"}
