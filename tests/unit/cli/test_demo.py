"""`demo` makes the sample once, and prepares its month each time."""

from pathlib import Path

import pytest

from hundredfold.cli import month
from hundredfold.cli.main import main
from hundredfold.kernel.errors import ExitCode

Capture = pytest.CaptureFixture[str]


def test_twice(tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch) -> None:
    prepared: list[Path] = []

    def prepare(shop: Path, *_: object) -> ExitCode:
        prepared.append(shop)
        return ExitCode.DONE

    monkeypatch.setattr(month, "run", prepare)
    folder = tmp_path / "demo-shop"
    assert main(["demo", str(folder)]) == 0
    assert "look inside" in capsys.readouterr().out
    designs = sorted((folder / "designs").iterdir())
    assert len(designs) >= 24
    assert main(["demo", str(folder), "--json"]) == 0
    assert capsys.readouterr().out == ""
    assert sorted((folder / "designs").iterdir()) == designs
    assert prepared == [folder, folder]
