"""`blanks add` shows the difference and writes it, or shows it only."""

import json
from pathlib import Path

import pytest

from hundredfold.cli.main import main
from hundredfold.workshop.shop.newshop import new_shop

Capture = pytest.CaptureFixture[str]

LIST = """\
Blank,Colour,SKU,Cost,Stock,Carton
SHOT-GLASS,White,NF-SG90-WHI,2.45,9,x
SHOT-GLASS,Mist,NF-SG90-MIS,2.35,0,x
"""


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    (tmp_path / "list.csv").write_text(LIST, encoding="utf-8")
    return new_shop(tmp_path / "shop", sample=True).paths.root


def add(shop: Path, *more: str) -> int:
    return main(["blanks", "add", str(shop.parent / "list.csv"), "--shop", str(shop), *more])


def test_the_difference_is_shown_within_80_columns_and_written(shop: Path, capsys: Capture) -> None:
    assert add(shop) == 0
    shown = capsys.readouterr().out
    assert all(len(line) <= 80 for line in shown.splitlines())
    lines = [line.split() for line in shown.splitlines()]
    assert ["changed", "SHOT-GLASS", "NF-SG90-WHI", "base", "cost:", "2.35", "->", "2.45"] in lines
    assert ["out", "of", "stock", "SHOT-GLASS", "NF-SG90-MIS", "mist", "2.35"] in lines
    assert ["discontinued", "SHOT-GLASS", "NF-SG90-ICE", "ice", "2.35"] in lines
    assert "1 changed, 1 out of stock, 1 discontinued, 0 unchanged" in shown
    assert "columns not used: Carton" in shown
    assert "wrote blanks/shot-glass.toml" in shown
    assert 'base_cost = "2.45"' in (shop / "blanks" / "shot-glass.toml").read_text(encoding="utf-8")


def test_a_dry_run_writes_nothing(shop: Path, capsys: Capture) -> None:
    before = (shop / "blanks" / "shot-glass.toml").read_bytes()
    assert add(shop, "--dry-run") == 0
    assert "nothing was written" in capsys.readouterr().out
    assert (shop / "blanks" / "shot-glass.toml").read_bytes() == before


def test_json(shop: Path, capsys: Capture) -> None:
    assert add(shop, "--json") == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["written"] == ["blanks/shot-glass.toml"]
    assert answer["changes"][0] == {
        "kind": "changed",
        "blank": "SHOT-GLASS",
        "item": "NF-SG90-WHI",
        "what": "base cost",
        "was": "2.35",
        "now": "2.45",
    }
    assert answer["unused_columns"] == ["Carton"]


def test_mistakes_are_told_together_with_exit_code_2(shop: Path, capsys: Capture) -> None:
    (shop.parent / "list.csv").write_text(LIST.replace("2.45", "dear").replace("2.35", "cheap"))
    assert add(shop) == 2
    err = capsys.readouterr().err
    assert err.count("try:") == 2
    assert "list.csv, row 3, Cost:" in err


def test_a_blank_that_cannot_be_made_is_a_problem(shop: Path, capsys: Capture) -> None:
    head = "Blank,Colour,Hex,Cost,Postage,Form,Material,Process,Width px,Height px,DPI"
    row = "TEA,White,#ffffff,3,3,tea towel,cotton,sublimation,900,900,150"
    (shop.parent / "list.csv").write_text(f"{head}\n{row}\n")
    assert add(shop) == 1
    assert "stop: TEA: sublimation does not mark cotton" in capsys.readouterr().out
