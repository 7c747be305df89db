"""Flat art drawn from its edges, beside librsvg drawing it eight times as large, averaged down.

Averaging 64 samples of a renderer that antialiases itself is nearer to the truth than either at full size.
"""

import numpy as np
import pytest
from numpy.typing import NDArray
from sheets import as_pixels

from hundredfold.designs.flatart.reading import flat_spans
from hundredfold.designs.layouts.fill import fill_layout
from hundredfold.designs.layouts.layout import parse_layout
from hundredfold.designs.layouts.pattern import column_key
from hundredfold.designs.layouts.rows import Row
from hundredfold.runner.svgrender import draw
from hundredfold.workshop.shop.starterlayouts import starter_layouts
from hundredfold.workshop.shop.typefaces import find_font

SIZE, FINE = 160, 8
MEAN, WORST = 0.15, 14  # of 255
# Where edges cross within a pixel their shares are added up, or mixed, as if they lay beside each
# other; every renderer that works by shares does that.
CROSSINGS, AT_CROSSINGS = 16, 64

SHAPES = {
    "curves": '<path d="M10 80C10 20 150 20 150 80S80 150 80 90Q60 60 20 120Z" fill="#c2412d"/>',
    "arcs and relative": '<path d="m20,80 a50 30 20 1 1 60 20 l10,30 h20 v-40 z" fill="#1f2a3c"/>',
    "shorthand numbers": '<path d="M10-.5L150.5.5.5 150Z" fill="#1f2a3c"/>',
    "even-odd": '<path d="M80 5L125 150 10 55H150L35 150Z" fill="#d99a2b" fill-rule="evenodd"/>',
    "nonzero": '<path d="M80 5L125 150 10 55H150L35 150Z" fill="#d99a2b"/>',
    "round corners": '<rect x="12.3" y="20.7" width="120" height="90" rx="30" fill="#345"/>',
    "odd corners": '<rect x="12.3" y="20.7" width="120" height="90" rx="50" ry="10" fill="teal"/>',
    "ellipse": '<ellipse cx="80" cy="70.4" rx="66" ry="31" fill="rgb(10,200,30)" opacity=".4"/>',
    "thick line": '<path d="M20 140L80 20 140 140" fill="none" stroke="#c2412d" stroke-width="17"/>',
    "round line": '<path d="M20 130C60-60 100 300 140 30" fill="none" stroke="#c2412d" stroke-width="21" '
    'stroke-linejoin="round" stroke-linecap="round"/>',
    "bevels": '<polyline points="20,130 60,30 90,120 140,20" fill="none" stroke="navy" stroke-width="14" '
    'stroke-linejoin="bevel" stroke-linecap="square"/>',
    "sharp miter": '<path d="M20 130L80 60 140 130 30 40" fill="none" stroke="#000" stroke-width="9"/>',
    "fill and line": '<circle cx="80" cy="80" r="50" fill="#fbf4e4" stroke="#1f2a3c" stroke-width="9"/>',
    "line below": '<circle cx="80" cy="80" r="50" fill="#fbf4e4" stroke="#1f2a3c" stroke-width="30" '
    'paint-order="stroke"/>',
    "grown letter": '<path d="M30 30V130H60V60H100V130H130V30Z" fill="#123" stroke="#123" stroke-width="22" '
    'stroke-linejoin="round"/>',
    "grown ring": '<path d="M80 20A60 60 0 1 0 80 140 60 60 0 1 0 80 20ZM80 50A30 30 0 1 1 '
    '80 110 30 30 0 1 1 80 50Z" fill="#123" stroke="#123" stroke-width="24" stroke-linejoin="round"/>',
    "closed room": '<path d="M20 20H140V140H20ZM60 60V72H100V60Z" fill="#123" stroke="#123" '
    'stroke-width="14" stroke-linejoin="round"/>',
    "inherited": '<g fill="#c2412d" stroke="#123" stroke-width="4"><g transform="rotate(20 80 80)">'
    '<rect x="40" y="40" width="80" height="60" style="fill:#eee"/></g><circle cx="60" cy="60" r="20"/></g>',
    "mirrored": '<g transform="translate(160 0) scale(-1 1)"><path d="M10 20L150 60 30 150Z" fill="#123" '
    'stroke="#c2412d" stroke-width="7" stroke-linejoin="round"/></g>',
    "faded group": '<g opacity=".5"><circle cx="60" cy="80" r="40" fill="red"/>'
    '<circle cx="100" cy="80" r="40" fill="blue"/></g>',
    "mask": '<defs><mask id="m" maskUnits="userSpaceOnUse" x="0" y="0" width="160" height="160">'
    '<rect width="160" height="160" fill="#fff"/><circle cx="70" cy="70" r="33" fill="#000"/>'
    '<circle cx="110" cy="90" r="20" fill="#888"/></mask></defs>'
    '<rect x="20" y="20" width="120" height="120" fill="#123" mask="url(#m)"/>',
    "clip": '<clipPath id="c"><circle cx="80" cy="80" r="44"/><rect x="8" y="8" width="50" height="50"/>'
    '</clipPath><g clip-path="url(#c)"><rect width="160" height="80" fill="red"/>'
    '<rect y="80" width="160" height="80"/></g>',
    "nested, cut": '<svg x="20.5" y="10" width="100" height="60" viewBox="0 0 50 50" '
    'preserveAspectRatio="xMidYMid slice"><circle cx="25" cy="25" r="24" fill="#c2412d"/></svg>',
    "nested, whole": '<svg x="20.5" y="10" width="100" height="60" viewBox="-10 -10 50 50">'
    '<circle r="9"/></svg>',
    "off the sheet": '<circle cx="0" cy="150" r="70" fill="#c2412d" stroke="#123" stroke-width="12"/>',
    "hidden": '<g display="none"><rect width="90" height="90"/></g><circle cx="80" cy="80" r="9" '
    'visibility="hidden"/><rect x="99" y="99" width="9" height="9"/>',
    "see-through": '<circle cx="60" cy="80" r="50" fill="#f00" fill-opacity=".5" stroke="#00f" '
    'stroke-opacity="30%" stroke-width="16"/>',
}  # fmt: skip


def drawing(body: str, size: int) -> bytes:
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{size}" height="{size}" viewBox="0 0 {SIZE} {SIZE}">'
    )
    return f"{head}{body}</svg>".encode()


def premultiplied(pixels: NDArray[np.uint8]) -> NDArray[np.float64]:
    ink = pixels.astype(np.float64)
    ink[..., :3] *= ink[..., 3:] / 255
    return ink


@pytest.mark.parametrize("name", SHAPES)
def test_as_librsvg_draws_it(name: str) -> None:
    large = SIZE * FINE
    raw = draw(drawing(SHAPES[name], large), large, large)
    fine = premultiplied(np.frombuffer(raw, np.uint8).reshape(large, large, 4))
    wanted = fine.reshape(SIZE, FINE, SIZE, FINE, 4).mean(axis=(1, 3))
    spans = flat_spans(drawing(SHAPES[name], SIZE), SIZE, SIZE)
    assert spans is not None
    found = premultiplied(as_pixels(spans))
    off = np.abs(found - wanted).max(axis=2)
    y, x = np.unravel_index(int(off.argmax()), off.shape)
    said = f"{off.max():.0f} at ({x}, {y}): {found[y, x].round()} for {wanted[y, x].round()}"
    assert np.count_nonzero(off > WORST) <= CROSSINGS, said
    assert off.max() <= AT_CROSSINGS, said
    assert off.mean() <= MEAN


NOT_FLAT = {
    "gradient": '<linearGradient id="g"><stop stop-color="red"/></linearGradient><rect width="9" height="9" '
    'fill="url(#g)"/>',
    "picture": '<image width="9" height="9" href="data:image/png;base64,AA=="/>',
    "filter": '<rect width="9" height="9" filter="url(#f)"/>',
    "style sheet": "<style>rect{fill:red}</style><rect width='9' height='9'/>",
    "repeat": '<rect id="r" width="9" height="9"/><use href="#r" x="20"/>',
    "dashes": '<path d="M0 0L90 90" stroke="#000" stroke-dasharray="4 2"/>',
    "blend": '<rect width="9" height="9" style="mix-blend-mode:multiply"/>',
    "stretched pen": '<path d="M0 0L90 90" stroke="#000" transform="scale(2 1)"/>',
    "percent": '<rect width="50%" height="9"/>',
    "unknown attribute": '<rect width="9" height="9" shape-rendering="crispEdges"/>',
    "no such mask": '<rect width="9" height="9" mask="url(#none)"/>',
    "a mask in itself": '<mask id="m" maskUnits="userSpaceOnUse" x="0" y="0" width="9" height="9"><rect '
    'width="9" height="9" mask="url(#m)"/></mask><rect width="9" height="9" mask="url(#m)"/>',
    "broken path": '<path d="M0 0 L no"/>',
    "endless": '<path d="M0 0L1e9 1e9"/>',
    "too much": "<path d='" + "M0 0L160 160L0 159Z" * 5000 + "'/>",
}  # fmt: skip


@pytest.mark.parametrize("name", NOT_FLAT)
def test_what_is_not_flat_is_left_to_another_hand(name: str) -> None:
    assert flat_spans(drawing(NOT_FLAT[name], SIZE), SIZE, SIZE) is None


def test_titles_and_private_marks_do_not_matter() -> None:
    body = '<title>Hive</title><g id="a" class="b" data-made-from="c"><rect width="9" height="9"/></g>'
    assert flat_spans(drawing(body, SIZE), SIZE, SIZE) is not None


@pytest.mark.parametrize("worn", ["", 'data-distress="0.3 4" '])
@pytest.mark.parametrize("name", [name for name, _ in starter_layouts()])
def test_what_layouts_make_is_flat(name: str, worn: str) -> None:
    """A picture is an art slot's own affair; all else of a design has to take the cheap way."""
    data = dict(starter_layouts())[name].replace(b"<svg ", f"<svg {worn}".encode(), 1)
    layout = parse_layout(data, name)
    words = dict.fromkeys(map(column_key, layout.columns()), "sea swimmer")
    row = Row("list.csv", 2, words | {"picture": "dot.svg"})
    fonts = {key: find_font(*key) for key in layout.fonts()}
    dot = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><circle cx="5" cy="5" r="5"/></svg>'
    done = fill_layout(layout, row, fonts, {"dot.svg": dot}, "dark")
    assert (b"<mask" in done.svg) == (b"data-distress" in data)
    assert flat_spans(done.svg, 360, 450) is not None
