"""The drawing table of the sample art: SVG pieces as text, and words set as outlines."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hundredfold.designs.typesetting.curves import arc, from_path_data
from hundredfold.designs.typesetting.fitting import fit_curve, fit_width
from hundredfold.designs.typesetting.outline import Bounds, Outline
from hundredfold.designs.typesetting.setting import set_line, set_on_curve
from hundredfold.designs.typesetting.shaping import ShapedLine, shape
from hundredfold.workshop.shop.typefaces import find_font

WIDTH, HEIGHT = 3600, 4500
MIDDLE = WIDTH / 2

SLAB, TALL, BLACK, BOLD = "Alfa Slab One", "Anton", "Bebas Neue", "Oswald:700"
ROUND, HAND, BRUSH, SCRIPT = "Lilita One", "Caveat:700", "Yellowtail", "Pacifico"
LOBSTER, SIGN, FAT, DECO, PLAIN = "Lobster", "Rowdies:700", "Abril Fatface", "Righteous", "Josefin Sans:700"


@dataclass(frozen=True)
class Piece:
    """Drawn SVG and the box it fills, in the design's units."""

    svg: str
    box: Bounds


def number(value: float) -> str:
    """A coordinate with at most one decimal: a tenth of a pixel at full size."""
    text = f"{value:.1f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def path(data: str, fill: str = "none", stroke: str = "", width: float = 0.0) -> str:
    """A path with round joins."""
    pen = ""
    if stroke:
        pen = f' stroke="{stroke}" stroke-width="{number(width)}" stroke-linejoin="round" stroke-linecap="round"'
    return f'<path d="{data}" fill="{fill}"{pen}/>'


def disc(cx: float, cy: float, r: float, fill: str) -> str:
    """A filled circle."""
    return f'<circle cx="{number(cx)}" cy="{number(cy)}" r="{number(r)}" fill="{fill}"/>'


def ring(cx: float, cy: float, r: float, stroke: str, width: float) -> str:
    """A circle's line."""
    return (
        f'<circle cx="{number(cx)}" cy="{number(cy)}" r="{number(r)}" fill="none" '
        f'stroke="{stroke}" stroke-width="{number(width)}"/>'
    )


def bar(x: float, y: float, width: float, height: float, fill: str, radius: float = 0.0) -> str:
    """A filled rectangle."""
    return (
        f'<rect x="{number(x)}" y="{number(y)}" width="{number(width)}" height="{number(height)}" '
        f'rx="{number(radius)}" fill="{fill}"/>'
    )


def polygon(points: Sequence[tuple[float, float]], fill: str, stroke: str = "", width: float = 0.0) -> str:
    """A closed shape."""
    data = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points) + "Z"
    return path(data, fill, stroke, width)


def place(svg: str, x: float, y: float, scale: float = 1.0, turn: float = 0.0, flip: bool = False) -> str:
    """A motif drawn around (0, 0), moved to (x, y), turned clockwise, mirrored if asked."""
    across = f"{-scale if flip else scale:.4f} {scale:.4f}"
    spin = f" rotate({number(turn)})" if turn else ""
    return f'<g transform="translate({number(x)} {number(y)}){spin} scale({across})">{svg}</g>'


def canvas(*parts: str, down: float = 0.0) -> bytes:
    """A finished design: 3600 x 4500 units on nothing, 12 by 15 inches at 300 dpi; moved ``down`` if asked."""
    body = "".join(parts)
    if down:
        body = f'<g transform="translate(0 {number(down)})">{body}</g>'
    head = f'<svg xmlns="http://www.w3.org/2000/svg" width="304.8mm" height="381mm" viewBox="0 0 {WIDTH} {HEIGHT}">'
    return f"{head}{body}</svg>\n".encode()


def _line(text: str, face: str, tracking: float) -> ShapedLine:
    name, _, weight = face.partition(":")
    return shape(text, [find_font(name, int(weight or 400))], tracking=tracking)


def _inked(outline: Outline, fill: str, edge: str, edge_width: float) -> Piece:
    data = outline.path_data(1)
    behind = path(data, edge, edge, edge_width) if edge else ""
    box = outline.bounds() or Bounds(0, 0, 0, 0)
    return Piece(behind + path(data, fill), box.grown(edge_width / 2 if edge else 0))


def words(
    text: str,
    face: str,
    fill: str,
    *,
    top: float,
    x: float = MIDDLE,
    width: float = 0.0,
    size: float = 0.0,
    tallest: float = 0.0,
    anchor: str = "middle",
    tracking: float = 0.0,
    edge: str = "",
    edge_width: float = 0.0,
) -> Piece:
    """A line whose ink starts at ``top``: ``width`` wide, no taller than ``tallest``, or of a given size."""
    line = _line(text, face, tracking)
    size = size or fit_width(line, width)
    if tallest:
        size = min(size, tallest / line.ink.height)
    baseline = top + line.ink.bottom * size
    return _inked(set_line(line, size, x, baseline, anchor), fill, edge, edge_width)


def stack(
    lines: Sequence[tuple[str, str, str]],
    *,
    top: float,
    width: float,
    gap: float,
    x: float = MIDDLE,
    edge: str = "",
    edge_width: float = 0.0,
) -> Piece:
    """Lines of (text, face, colour), each as wide as the block, ``gap`` apart."""
    pieces: list[Piece] = []
    for text, face, fill in lines:
        pieces.append(words(text, face, fill, top=top, x=x, width=width, edge=edge, edge_width=edge_width))
        top = pieces[-1].box.bottom + gap
    boxes = [piece.box for piece in pieces]
    box = Bounds(x - width / 2, boxes[0].top, x + width / 2, boxes[-1].bottom)
    return Piece("".join(piece.svg for piece in pieces), box)


def arched(
    text: str,
    face: str,
    fill: str,
    *,
    cy: float,
    radius: float,
    span: float,
    size: float,
    cx: float = MIDDLE,
    below: bool = False,
    tracking: float = 0.0,
    edge: str = "",
    edge_width: float = 0.0,
) -> Piece:
    """Words on a circle, over its top or along its bottom; the letters' feet or heads touch ``radius``.

    ``size`` is the largest; long words shrink until they span ``span`` degrees.
    """
    line = _line(text, face, tracking)
    if not below:
        curve = arc(cx, cy, radius, -90 - span / 2, span)
        size = fit_curve(line, curve, size, edge_width)
        return _inked(set_on_curve(line, size, curve), fill, edge, edge_width)
    for _ in range(3):  # the baseline hangs below by the letters' height, which depends on the size
        curve = arc(cx, cy, radius + line.ink.bottom * size, 90 + span / 2, -span)
        size = fit_curve(line, curve, size, edge_width)
    return _inked(set_on_curve(line, size, curve), fill, edge, edge_width)


def bannered(
    text: str, face: str, fill: str, *, y: float, width: float, dip: float, tallest: float, x: float = MIDDLE
) -> Piece:
    """Words along a ribbon that is centred on ``y`` and whose middle hangs ``dip`` lower."""
    line = _line(text, face, 0.0)
    curve = from_path_data(f"M{x - width / 2} {y}Q{x} {y + 2 * dip} {x + width / 2} {y}")
    size = min(fit_width(line, width * 0.94), tallest / line.ink.height)
    return _inked(set_on_curve(line, size, curve, rise=-size * line.ink.bottom / 2), fill, "", 0)


def around(count: int, radius: float, start: float = -90.0) -> list[tuple[float, float, float]]:
    """Evenly spaced (x, y, degrees) on a circle about (0, 0)."""
    angles = [start + 360 * k / count for k in range(count)]
    return [(radius * math.cos(math.radians(a)), radius * math.sin(math.radians(a)), a) for a in angles]
