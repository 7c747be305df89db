"""What is said of the files in the designs folder: each code from a real folder."""

from pathlib import Path
from types import SimpleNamespace
from typing import cast

import fontpkg
import numpy as np
import pytest
from PIL import Image

from hundredfold.designs.layouts.layout import parse_layout
from hundredfold.designs.typesetting.fonts import load_font
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Severity
from hundredfold.ledger.state import LedgerState
from hundredfold.runner.svgchild import SvgChild
from hundredfold.runner.tasks import Failed, Unmade
from hundredfold.workshop.month import leftoverpacks, preparing
from hundredfold.workshop.shop.bench import Bench, bench
from hundredfold.workshop.shop.newshop import new_shop
from hundredfold.workshop.shop.paths import ShopPaths
from hundredfold.workshop.shop.typefaces import find_font
from hundredfold.workshop.steps.gathering import gather
from hundredfold.workshop.steps.packfiles import Contents
from hundredfold.workshop.typeset.typework import font_findings
from hundredfold.workshop.typeset.wordlists import WordList, pair_findings


def picture(path: Path, mark: int = 0, level: int = 6) -> None:
    """An uneven blot on transparent ground; ``mark`` changes a corner of it."""
    pixels = np.zeros((240, 240, 4), np.uint8)
    y, x = np.mgrid[:240, :240]
    blot = (x - 120) ** 2 + (y - 110) ** 2 < 6400 + 40 * ((x // 24 + y // 24) % 3) * 40
    pixels[blot] = (140, 40, 20, 255)
    pixels[110:130, 100 : 100 + mark] = (20, 40, 140, 255)
    Image.fromarray(pixels).save(path, compress_level=level)


def test_files_that_are_copies_alike_damaged_or_no_art(tmp_path: Path) -> None:
    new_shop(tmp_path / "shop")
    folder = tmp_path / "shop" / "designs"
    picture(folder / "a.png")
    (folder / "b.png").write_bytes((folder / "a.png").read_bytes())
    picture(folder / "c.png", level=1)
    picture(folder / "d.png", mark=6)
    (folder / "e.png").write_bytes((folder / "a.png").read_bytes()[:200])
    (folder / "layers.psd").write_bytes(b"8BPS")
    with bench(tmp_path / "shop", "proof") as opened:
        found = gather(opened, opened.runner()).findings
    told = {(one.check, one.code, one.item) for one in found}
    assert {
        ("designs/copy", "same-art", "designs/b.png"),
        ("designs/copy", "same-pixels", "designs/c.png"),
        ("designs/unusable-file", "unusable", "designs/e.png"),
        ("designs/not-art", "other-kind", "designs/layers.psd"),
    } <= told
    assert ("designs/look-alike", "near-twin", "designs/d.png") in told


def test_a_folder_of_no_pack_with_a_file_of_ours_and_one_of_a_person(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "packs" / "north" / "2027-01-02"
    folder.mkdir(parents=True)
    (folder / "note.txt").write_text("ask Ann")
    held = {"north/2027-01-02": Contents({"listings.csv": "0" * 64}, ())}
    monkeypatch.setattr(leftoverpacks, "known_contents", lambda store, vault: held)
    shop = SimpleNamespace(paths=ShopPaths(tmp_path))
    opened = cast(Bench, SimpleNamespace(shop=shop, store=None, vault=None, memo=None))
    (found,) = leftoverpacks.remove_strays(opened, set(), LedgerState())
    assert (found.check, found.code, found.item) == ("build/stray-pack", "kept", "packs/north/2027-01-02")
    assert (folder / "note.txt").is_file()


def test_what_could_not_be_made_is_a_stop_with_its_sentence() -> None:
    why = Unmade(sentence="the disk is full")
    found = preparing.not_made(Failed("bees.png on MUG-325", "picture", why))
    assert (found.check, found.code, found.severity) == ("build/not-made", "failed", Severity.STOP)
    assert found.what == "the disk is full"


LAYOUT = b"""<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="50mm" viewBox="0 0 100 50">
<text x="50" y="30" font-family="No Such Face" font-size="10" text-anchor="middle">{title}</text></svg>"""


def test_a_layout_whose_column_or_font_is_missing(tmp_path: Path) -> None:
    layout = parse_layout(LAYOUT, "odd.svg")
    found = pair_findings(layout, WordList("club.csv", ("tilte",), ()))
    assert {(one.check, one.code) for one in found} == {
        ("words/columns", "slot-without-column"), ("words/columns", "column-without-slot"),
    }  # fmt: skip
    (font,) = font_findings(layout, "club.csv", str(tmp_path))
    assert (font.check, font.code) == ("words/fonts", "unknown-font")


def test_a_font_without_that_axis_is_refused() -> None:
    chosen = fontpkg.select_file(fontpkg.family("Oswald"), 400, "normal", True)
    assert find_font("Oswald").name
    with pytest.raises(ShopError) as caught:
        load_font(chosen.path.read_bytes(), "Oswald", {"XXXX": 1.0})
    assert caught.value.slug == "font-axis"


def test_a_drawing_process_that_cannot_start(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*args: object, **kwargs: object) -> None:
        raise OSError("no more processes")

    monkeypatch.setattr("hundredfold.runner.svgchild.subprocess.Popen", refuse)
    svg = b'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><rect width="9" height="9"/></svg>'
    with pytest.raises(ShopError) as caught:
        SvgChild().draw(svg, 9, 9, "one.svg")
    assert caught.value.slug == "svg-child"
