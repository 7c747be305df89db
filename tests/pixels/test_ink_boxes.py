"""Text lands where it is said to: predicted ink boxes against what librsvg and we draw, at 4500 pixels.

Each side of the box is drawn as a strip two pixels deep at eight samples a pixel, so that the drawn edge is
known to an eighth of a pixel; the tolerance is half a pixel.
"""

from collections.abc import Iterator

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sheets import as_pixels

from hundredfold.designs.flatart.reading import flat_spans
from hundredfold.designs.typesetting.curves import arc, from_path_data
from hundredfold.designs.typesetting.fitting import fit_curve, fit_line
from hundredfold.designs.typesetting.fonts import Font
from hundredfold.designs.typesetting.outline import Bounds, Outline
from hundredfold.designs.typesetting.setting import curve_overrun, set_line, set_on_curve
from hundredfold.designs.typesetting.shaping import shape
from hundredfold.runner.svgrender import draw
from hundredfold.workshop.shop.typefaces import find_font

FONTS = (
    ("Alfa Slab One", 400),
    ("Anton", 400),
    ("Bebas Neue", 400),
    ("Caveat", 700),
    ("Lobster", 400),
    ("Oswald", 300),
    ("Oswald", 700),
    ("Pacifico", 400),
    ("Righteous", 400),
    ("Rowdies", 300),
    ("Yellowtail", 400),
    ("Josefin Sans", 600),
    ("Abril Fatface", 400),
    ("Lilita One", 400),
)
LATIN = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789&!?.,'-éüñçØå "
OTHER = (
    ("Amiri", 400, "السلام عليكم"),
    ("Amiri", 700, "صباح الخير يا نحلة"),
    ("Heebo", 700, "שלום לדבורה 12"),
    ("Noto Sans Devanagari", 600, "मधुमक्खी पालक"),
    ("Noto Sans Thai", 700, "คนเลี้ยงผึ้ง"),
)
SAMPLES, DEPTH = 8, 2.0
TOLERANCE = 0.5

Case = tuple[str, Font, str, float, float, float, float]


def drawn_edges(outline: Outline, stroke: float, box: Bounds, side: str) -> Iterator[float]:
    """Where the ink starts on one side, in units, as librsvg draws it and, without an outline, as we do."""
    across = side in ("left", "right")
    edge = getattr(box, side)
    if across:
        strip = Bounds(edge - 1, box.top - 3, edge + 1, box.bottom + 3)
    else:
        strip = Bounds(box.left - 3, edge - 1, box.right + 3, edge + 1)
    fine, coarse = int(DEPTH * SAMPLES), int(max(strip.width, strip.height)) + 1
    width, height = (fine, coarse) if across else (coarse, fine)
    pen = f' stroke="#000" stroke-width="{stroke}" stroke-linejoin="round"' if stroke else ""
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" '
        f'preserveAspectRatio="none" viewBox="{strip.left} {strip.top} {strip.width} {strip.height}">'
        f'<path d="{outline.path_data(3)}"{pen}/></svg>'
    )
    drawn = [np.frombuffer(draw(svg.encode(), width, height), dtype=np.uint8).reshape(height, width, 4)]
    spans = flat_spans(svg.encode(), width, height)  # none where the strip stretches a pen
    assert (spans is None) == bool(stroke)
    drawn += [as_pixels(spans)] if spans is not None else []
    for pixels in drawn:
        inked = np.flatnonzero((pixels[..., 3] > 3).any(axis=0 if across else 1))
        assert len(inked), f"nothing drawn within a pixel of the {side} edge"
        start = strip.left if across else strip.top
        yield float(start + (inked[0] if side in ("left", "top") else inked[-1] + 1) / SAMPLES)


def check_box(outline: Outline, stroke: float) -> None:
    bounds = outline.bounds()
    assert bounds is not None
    box = bounds.grown(stroke / 2)
    for side in ("left", "top", "right", "bottom"):
        for edge in drawn_edges(outline, stroke, box, side):
            assert edge == pytest.approx(getattr(box, side), abs=TOLERANCE), side


@st.composite
def cases(draw_from: st.DrawFn) -> Case:
    kind = draw_from(st.sampled_from(("line", "line", "arc over", "arc under", "path")))
    if draw_from(st.integers(0, 5)) == 0:
        name, weight, text = draw_from(st.sampled_from(OTHER))
    else:
        name, weight = draw_from(st.sampled_from(FONTS))
        text = draw_from(st.text(LATIN, min_size=1, max_size=24).filter(lambda t: t.strip() != ""))
    wide = draw_from(st.floats(200, 3200))
    tall = draw_from(st.floats(80, 1600))
    tracking = draw_from(st.sampled_from((0.0, 0.0, 0.05, 0.2, -0.02)))
    stroke = draw_from(st.sampled_from((0.0, 0.0, 9.0, 40.0)))
    return kind, find_font(name, weight), text, wide, tall, tracking, stroke


def check(case: Case) -> None:
    kind, font, text, wide, tall, tracking, stroke = case
    text = "".join(c for c in text if font.covers(c)).strip() or "A"
    line = shape(text, [font], tracking=tracking)
    if line.outline.empty:
        return
    if kind == "line":
        stroke = min(stroke, 0.4 * min(wide, tall))
        size = fit_line(line, wide, tall, stroke)
        outline = set_line(line, size, 1800, 2250)
        box = outline.bounds()
        assert box is not None
        assert box.width + stroke <= wide * (1 + 1e-9)
        assert box.height + stroke <= tall * (1 + 1e-9)
        assert max((box.width + stroke) / wide, (box.height + stroke) / tall) == pytest.approx(1)
    else:
        radius = 300 + wide / 3
        if kind == "path":
            curve = from_path_data("M300 2600C900 1500 1500 1700 1800 2300S2900 3000 3300 1800")
        else:
            curve = arc(1800, 2250, radius, *((-170, 160) if kind == "arc over" else (170, -160)))
        size = fit_curve(line, curve, min(tall, radius * 0.6), stroke)
        assert size <= 0 or curve_overrun(line, size, curve) <= -stroke / 2 + 1e-6
        outline = set_on_curve(line, size, curve)
    if size > 2:
        check_box(outline, stroke)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(cases())
def test_ink_boxes(case: Case) -> None:
    check(case)


@pytest.mark.big
@settings(max_examples=1000, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(cases())
def test_ink_boxes_of_a_thousand_cases(case: Case) -> None:
    check(case)
