"""`backup` and `restore` from the command line."""

import json
from pathlib import Path

import pytest

from hundredfold.cli.main import main
from hundredfold.workshop.shop.newshop import new_shop

Capture = pytest.CaptureFixture[str]


def test_there_and_back(tmp_path: Path, capsys: Capture) -> None:
    new_shop(tmp_path / "shop", sample=True)
    assert main(["backup", "--shop", str(tmp_path / "shop"), "--json"]) == 0
    saved = json.loads(capsys.readouterr().out)
    assert Path(saved["backup"]).parent == tmp_path
    assert main(["restore", saved["backup"], "--shop", str(tmp_path / "again")]) == 0
    assert "restored" in capsys.readouterr().out
    assert (tmp_path / "again" / "shop.toml").is_file()


def test_a_missing_backup_is_a_plain_sentence(tmp_path: Path, capsys: Capture) -> None:
    new_shop(tmp_path / "shop", sample=True)
    assert main(["restore", str(tmp_path / "none.zip"), "--shop", str(tmp_path / "shop")]) == 2
    assert "none.zip" in capsys.readouterr().err
