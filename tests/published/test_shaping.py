"""Glyph runs equal those of HarfBuzz's own ``hb-shape`` (Debian's libharfbuzz-bin) on several scripts.

The tool is an independent build of the engine; what is judged is how runs, directions, scripts, languages
and axes are given to it.
"""

import json
import shutil
import subprocess

import fontpkg
import pytest

from hundredfold.designs.typesetting.fonts import load_font
from hundredfold.designs.typesetting.shaping import shape
from hundredfold.workshop.shop.typefaces import find_font

TOOL = shutil.which("hb-shape")
SAMPLES = (
    ("Alfa Slab One", 400, "AVATAR Toy fluffig", "en"),
    ("Lobster", 400, "office fjord Tea", "en"),
    ("Pacifico", 400, "Beekeeper ñandú", "es"),
    ("Oswald", 700, "ĄĘŁŹ Škoda", "pl"),
    ("Josefin Sans", 500, "e\u0301 o\u0308 combining", "en"),
    ("Amiri", 400, "السلام", "ar"),
    ("Amiri", 700, "مُحَلِّل", "ar"),
    ("Heebo", 600, "שָׁלוֹם", "he"),
    ("Noto Sans Devanagari", 500, "क्षत्रिय", "hi"),
    ("Noto Sans Devanagari", 700, "र्कि", "mr"),
    ("Noto Sans Thai", 400, "ผู้เลี้ยงน้ำผึ้ง", "th"),
)  # fmt: skip


def asked(name: str, weight: int, text: str, language: str) -> list[tuple[int, int, int, int]]:
    assert TOOL is not None
    family = fontpkg.family(name)
    file = fontpkg.select_file(family, weight, "normal", True)
    command = [
        TOOL,
        "--output-format=json",
        "--no-glyph-names",
        "--cluster-level=0",
        f"--language={language}",
    ]
    if file.variable:
        command.append(f"--variations=wght={weight}")
    out = subprocess.run([*command, str(file.path), text], capture_output=True, check=True, timeout=30).stdout
    return [(g["g"], g["ax"], g["dx"], g["dy"]) for g in json.loads(out)]


@pytest.mark.skipif(TOOL is None, reason="needs Debian's libharfbuzz-bin")
@pytest.mark.parametrize(("name", "weight", "text", "language"), SAMPLES)
def test_glyph_runs_equal_hb_shape(name: str, weight: int, text: str, language: str) -> None:
    font = find_font(name, weight)
    line = shape(text, [font], language=language)
    em = font.units_per_em
    ours = [(g.id, round(g.advance * em), round((g.x - g.pen_x) * em), round(g.y * em)) for g in line.glyphs]
    assert ours == asked(name, weight, text, language)


def test_a_line_of_two_directions_and_two_fonts() -> None:
    """Hebrew from the second font stands left of the digits that follow it in reading order."""
    latin, hebrew = find_font("Oswald", 700), find_font("Heebo", 700)
    line = shape("Tea שלום 12", [latin, hebrew])
    faces = ["h" if glyph.font is hebrew else "l" for glyph in line.glyphs]
    assert not line.right_to_left
    assert "".join(faces) == "llll" + "lll" + "hhhh"
    assert [g.cluster for g in line.glyphs][-4:] == [7, 6, 5, 4]


def test_advance_and_ink_scale_with_the_font_file_alone() -> None:
    path = fontpkg.path("Anton")
    one, two = load_font(path.read_bytes(), "a"), load_font(path.read_bytes(), "b")
    assert shape("BEES", [one]).ink == shape("BEES", [two]).ink
