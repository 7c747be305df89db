"""What a month says and decides, on a small shop: a few designs, two blanks, a few days."""

import shutil
from pathlib import Path
from typing import Any

import pytest
from monthshop import month, month_shop

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
