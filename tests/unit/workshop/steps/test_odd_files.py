"""One odd file never ends a run, and none is lost without a word."""

import os
import sys
from pathlib import Path

import pytest

from hundredfold.cli.printing import shown
from hundredfold.workshop.shop.files import ShopFiles
from hundredfold.workshop.steps.artfiles import art_files


def found(root: Path) -> tuple[list[str], list[tuple[str, str]]]:
    files, findings = art_files(ShopFiles(root))
    return sorted(files), [(each.item, each.what) for each in findings]


@pytest.fixture
def designs(tmp_path: Path) -> Path:
    (tmp_path / "designs").mkdir()
    (tmp_path / "designs" / "bee.png").write_bytes(b"x")
    return tmp_path / "designs"


@pytest.mark.skipif(sys.platform != "linux", reason="only here a name may be any bytes")
def test_a_name_that_is_no_utf8_is_told(designs: Path) -> None:
    with open(os.fsencode(designs) + b"/caf\xe9.png", "wb") as file:
        file.write(b"x")
    names, told = found(designs.parent)
    assert names == ["designs/bee.png"]
    assert [item for item, _ in told] == ["designs/caf\\udce9.png"]


@pytest.mark.skipif(not hasattr(os, "symlink") or os.name == "nt", reason="links need rights there")
def test_a_link_out_of_the_shop_is_told_and_not_followed(designs: Path, tmp_path: Path) -> None:
    outside = tmp_path.parent / f"{tmp_path.name}-secret.png"
    outside.write_bytes(b"x")
    (designs / "link.png").symlink_to(outside)
    (designs / "inside.png").symlink_to(designs / "bee.png")
    names, told = found(designs.parent)
    assert names == ["designs/bee.png", "designs/inside.png"]
    assert told == [("designs/link.png", "it is a link to a file outside the shop's folder")]


@pytest.mark.skipif(sys.platform == "darwin", reason="one name there")
def test_twins_that_differ_by_their_accents_only_are_told(designs: Path) -> None:
    (designs / "caf\u00e9.png").write_bytes(b"one")
    (designs / "cafe\u0301.png").write_bytes(b"two")
    names, told = found(designs.parent)
    assert names == ["designs/bee.png", "designs/caf\u00e9.png"]
    assert [item for item, _ in told] == ["designs/caf\u00e9.png"]


def test_a_name_does_not_steer_the_terminal() -> None:
    assert shown("a\x1b[2Jb\x07\x9b31m\r.png\n") == "a\\x1b[2Jb\\x07\\x9b31m\\x0d.png\n"
