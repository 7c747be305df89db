"""`typeset` from the command line: starters, preview, designs, and what it says."""

import json
from pathlib import Path

import pytest

from hundredfold.cli.main import main

Capture = pytest.CaptureFixture[str]


@pytest.fixture
def shop(tmp_path: Path, capsys: Capture) -> Path:
    folder = tmp_path / "shop"
    assert main(["new", str(folder)]) == 0
    capsys.readouterr()
    return folder


def words(shop: Path, *rows: str) -> None:
    text = "\n".join(("title,line", *rows))
    (shop / "words" / "clubs.csv").write_text(f"{text}\n", encoding="utf-8")


def test_from_nothing_to_designs(shop: Path, capsys: Capture) -> None:
    assert main(["typeset", "--shop", str(shop)]) == 2
    assert "hundredfold typeset --starters" in capsys.readouterr().err
    assert main(["typeset", "--shop", str(shop), "--starters"]) == 0
    assert "copied 21 layouts" in capsys.readouterr().out
    words(shop, "Proud beekeeper,stung and still smiling", "Bell ringer,")
    command = ["typeset", "--shop", str(shop), "--layout", "big-word", "--png", "90"]
    assert main(command) == 1
    out = capsys.readouterr().out
    assert "clubs.csv, row 3, with big-word.svg" in out
    assert "the cell “line” is empty" in out
    assert out.splitlines()[-1] == "made 1, reused 0, failed 1"
    words(shop, "Proud beekeeper,stung and still smiling")
    assert main([*command, "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["counts"] == {"made": 0, "reused": 1, "failed": 0}
    assert answer["designs"] == ["proud-beekeeper-stung-and-still-smiling-big-word.svg"]


def test_preview_writes_a_sheet_and_no_design(shop: Path, capsys: Capture) -> None:
    main(["typeset", "--shop", str(shop), "--starters"])
    words(shop, "Proud beekeeper,stung and still smiling", "Alto,low notes")
    assert main(["typeset", "--shop", str(shop), "--layout", "ticket", "--for", "both", "--preview"]) == 0
    out = capsys.readouterr().out
    assert "previewed 4 rows" in out
    assert sorted(path.name for path in (shop / "pictures").iterdir()) == [
        "sheet-clubs-csv-ticket-for-dark.pdf",
        "sheet-clubs-csv-ticket-for-dark.png",
        "sheet-clubs-csv-ticket-for-light.pdf",
        "sheet-clubs-csv-ticket-for-light.png",
    ]
    assert not list((shop / "designs").iterdir())
