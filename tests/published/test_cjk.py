"""Chinese, Japanese and Korean, with fonts of Debian: no font package of the program has these scripts.

Glyph runs are compared with HarfBuzz's ``hb-shape``, ink with what librsvg draws, breaks with the rules of
UAX 14 that matter most to a reader of these scripts.
"""

import json
import shutil
import subprocess
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from hundredfold.designs.layouts.fill import Filled, fill_layout
from hundredfold.designs.layouts.layout import parse_layout
from hundredfold.designs.layouts.rows import Row
from hundredfold.designs.typesetting.breaking import break_places, widths_of
from hundredfold.designs.typesetting.fonts import Font, load_font
from hundredfold.designs.typesetting.shaping import shape
from hundredfold.runner.svgrender import draw

JAPANESE = Path("/usr/share/fonts/opentype/ipaexfont-gothic/ipaexg.ttf")
CHINESE = Path("/usr/share/fonts/truetype/wqy/wqy-microhei.ttc")  # a collection; Korean is in it too
TOOL = shutil.which("hb-shape")
FONTS = pytest.mark.skipif(
    not (JAPANESE.exists() and CHINESE.exists()),
    reason="needs Debian's fonts-ipaexfont-gothic and fonts-wqy-microhei",
)
TEA = "畑で飲む一杯のお茶は、世界でいちばんおいしい。「また明日」と言いながら、日が暮れるまで土をいじる。"
SAMPLES = (
    (JAPANESE, TEA, "ja"),
    (JAPANESE, "養蜂家ちゃん・コーヒー100％", "ja"),
    (JAPANESE, "が か\u3099", "ja"),  # a voiced mark of its own
    (CHINESE, "养蜂人的早晨：一杯茶，一箱蜂。", "zh"),
    (CHINESE, "벌을 치는 사람", "ko"),
    (CHINESE, "蜂蜜 honey 2026", "zh"),
)


@cache
def font(path: Path) -> Font:
    return load_font(path.read_bytes(), path.name)


@FONTS
@pytest.mark.skipif(TOOL is None, reason="needs Debian's libharfbuzz-bin")
@pytest.mark.parametrize(("path", "text", "language"), SAMPLES)
def test_glyph_runs_equal_hb_shape(path: Path, text: str, language: str) -> None:
    face = font(path)
    line = shape(text, [face], language=language)
    em = face.units_per_em
    ours = [(g.id, round(g.advance * em), round((g.x - g.pen_x) * em), round(g.y * em)) for g in line.glyphs]
    command = [str(TOOL), "--output-format=json", "--no-glyph-names", "--cluster-level=0"]
    out = subprocess.run(
        [*command, f"--language={language}", str(path), text], capture_output=True, check=True, timeout=30
    ).stdout
    assert ours == [(g["g"], g["ax"], g["dx"], g["dy"]) for g in json.loads(out)]


def test_lines_neither_begin_nor_end_with_what_must_not() -> None:
    """UAX 14: no break before CL and NS (full stops, closing brackets, iteration marks) or after OP."""
    pieces = break_places(TEA)
    assert "".join(pieces) == TEA
    assert len(pieces) > 35  # ideographs and kana break between each other
    assert not any(piece[0] in "、。」ー々" for piece in pieces)
    assert not any(piece[-1] == "「" for piece in pieces)
    assert break_places("人々\u2060の　庭") == [
        "人々\u2060の　",
        "庭",
    ]  # a word joiner holds, a wide space breaks


def filled(text: str, more: str) -> Filled:
    drawing = (
        '<svg xmlns="http://www.w3.org/2000/svg" xml:lang="ja" viewBox="0 0 3000 2400">'
        f'<text font-family="ipaexg.ttf" font-size="300" data-box="100 100 2800 2200" {more}>'
        "{line}</text></svg>"
    )
    layout = parse_layout(drawing.encode(), "tea.svg")
    return fill_layout(layout, Row("list.csv", 2, {"line": text}), {("ipaexg.ttf", 400): font(JAPANESE)})


@FONTS
@pytest.mark.parametrize("more", ['data-fit="box"', 'data-fit="box" data-align="level"', 'data-fit="width"'])
@pytest.mark.parametrize("count", [3, 10, 49])
def test_the_ink_lies_where_it_is_said_to_and_fills_the_box(more: str, count: int) -> None:
    done = filled(TEA[:count], more)
    assert done.facts is not None
    assert "".join(line.text for line in done.facts.lines) == TEA[:count]
    (_, ink), *_ = done.inks
    size = done.svg.replace(b'width="254mm" height="203.2mm"', b'width="3000" height="2400"')
    alpha = np.frombuffer(draw(size, 3000, 2400), np.uint8).reshape(2400, 3000, 4)[..., 3] > 127
    down, across = np.flatnonzero(alpha.any(axis=1)), np.flatnonzero(alpha.any(axis=0))
    assert (across[0], down[0], across[-1] + 1, down[-1] + 1) == pytest.approx(tuple(ink), abs=1.0)
    assert max(ink.width / 2800, ink.height / 2200) == pytest.approx(1, abs=2e-3 if "width" in more else 0.12)
    assert ink.width <= 2800 + 0.01
    assert ink.height <= 2200 + 0.01


@FONTS
def test_a_long_text_is_broken_as_if_every_run_had_been_shaped() -> None:
    """Without spaces every letter is a place to break; the widths then come from one line."""
    text = TEA[:30]
    widths = widths_of(
        break_places(text), lambda part: shape(part, [font(JAPANESE)], language="ja").ink.width
    )
    done = filled(text, 'data-fit="box" data-lines="2"')
    assert done.facts is not None
    ends = np.cumsum([len(piece) for piece in break_places(text)]).tolist()
    cut = ends.index(len(done.facts.lines[0].text)) + 1
    every = [max(widths[0, k], widths[k, -1]) for k in range(1, len(ends))]
    assert max(widths[0, cut], widths[cut, -1]) == pytest.approx(min(every))
