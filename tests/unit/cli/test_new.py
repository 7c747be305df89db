"""`new` makes a shop and says what comes next."""

import json
from pathlib import Path

import pytest

from hundredfold.cli.main import main

Capture = pytest.CaptureFixture[str]


def test_the_sample(capsys: Capture, tmp_path: Path) -> None:
    folder = tmp_path / "try-it"
    assert main(["new", str(folder), "--sample"]) == 0
    assert capsys.readouterr().out.splitlines() == [
        f"made the shop Puddlewick Goods in {folder}",
        f"next: hundredfold month --shop {folder}",
    ]


def test_json(capsys: Capture, tmp_path: Path) -> None:
    assert main(["new", str(tmp_path / "try-it"), "--sample", "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["channels"] == ["northfold", "quayside"]
    assert len(answer["blanks"]) == 11


def test_twice_is_refused(capsys: Capture, tmp_path: Path) -> None:
    assert main(["new", str(tmp_path / "mine")]) == 0
    assert main(["new", str(tmp_path / "mine")]) == 2
    assert "already holds a shop" in capsys.readouterr().err
