"""What a seller sees after the usual mistakes in the files: where it is, what is wrong, what to do."""

import json
from pathlib import Path

import pytest

from hundredfold.cli.main import main
from hundredfold.workshop.shop.newshop import new_shop

Capture = pytest.CaptureFixture[str]


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    return new_shop(tmp_path / "shop", sample=True).paths.root


def edit(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def seen(shop: Path, capsys: Capture) -> str:
    assert main(["price", "--shop", str(shop)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    return err


def test_a_typing_mistake(shop: Path, capsys: Capture) -> None:
    edit(shop / "blanks" / "mug-325.toml", "drinkware", "drinkwear")
    assert seen(shop, capsys) == (
        'blanks/mug-325.toml, line 11, drinkwear: there is no setting "drinkwear" here\n'
        '  try: did you mean "drinkware"?\n'
    )


def test_a_forgotten_quote(shop: Path, capsys: Capture) -> None:
    edit(shop / "shop.toml", '"GBP"', '"GBP')
    assert seen(shop, capsys).startswith("shop.toml, line 5: cannot be read as TOML: ")


def test_a_negative_cost(shop: Path, capsys: Capture) -> None:
    edit(shop / "blanks" / "shot-glass.toml", 'base_cost = "2.35"', 'base_cost = "-2.35"')
    assert seen(shop, capsys) == (
        "blanks/shot-glass.toml, line 34, variants.NF-SG90-WHI.base_cost: base_cost is -2.35, "
        "less than nothing\n  try: remove the minus sign\n"
    )


def test_two_blanks_with_one_code(shop: Path, capsys: Capture) -> None:
    copy = shop / "blanks" / "mug-325 copy.toml"
    copy.write_bytes((shop / "blanks" / "mug-325.toml").read_bytes())
    assert seen(shop, capsys) == (
        'blanks/mug-325.toml, code: the blank code "MUG-325" is already used in blanks/mug-325 copy.toml\n'
        "  try: give one of the two another code, or delete blanks/mug-325.toml or blanks/mug-325 copy.toml\n"
    )


def test_several_mistakes_in_several_files_at_once(shop: Path, capsys: Capture) -> None:
    edit(shop / "blanks" / "cushion.toml", '"polyester"', '"polyestre"')
    edit(shop / "channels" / "northfold.toml", "daily = 60", "daily = 0")
    assert main(["price", "--shop", str(shop), "--json"]) == 2
    answer = json.loads(capsys.readouterr().out)
    assert answer["error"]["where"] == {
        "file": "blanks/cushion.toml",
        "line": 7,
        "row": None,
        "field": "material",
    }
    assert answer["error"]["try"].startswith('did you mean "polyester"?')
    assert [other["where"]["file"] for other in answer["others"]] == ["channels/northfold.toml"]


def test_an_area_that_nobody_can_print(shop: Path, capsys: Capture) -> None:
    edit(shop / "blanks" / "cushion.toml", "safe_margin_mm = 55.0", "safe_margin_mm = 250.0")
    assert "leave nothing of 470.1 x 470.1 mm" in seen(shop, capsys)


def test_outside_any_shop(tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["price"]) == 2
    err = capsys.readouterr().err
    assert "this folder is not a shop" in err
    assert "hundredfold new" in err


def test_the_shop_can_be_named_by_a_variable(
    shop: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HUNDREDFOLD_SHOP", str(shop))
    assert main(["price", "SHOT-GLASS"]) == 0
    assert "SHOT-GLASS in northfold" in capsys.readouterr().out
