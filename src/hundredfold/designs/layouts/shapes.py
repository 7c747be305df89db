"""SVG shapes as boxes and as paths to set text on."""

import math

import numpy as np
from lxml import etree

from hundredfold.designs.layouts.drawing import local, number
from hundredfold.designs.layouts.fixed import shape_outline
from hundredfold.designs.layouts.transforms import Matrix
from hundredfold.designs.typesetting.curves import Curve, arc, from_path_data
from hundredfold.designs.typesetting.outline import Bounds
from hundredfold.kernel.errors import ShopError, Where


def box_of(element: etree._Element) -> Bounds:
    """The box of a rectangle, picture or any shape; empty for anything else."""
    kind = local(element)
    if kind in ("rect", "image", "use", "svg"):
        left, top = number(element.get("x", "")), number(element.get("y", ""))
        return Bounds(
            left, top, left + number(element.get("width", "")), top + number(element.get("height", ""))
        )
    if kind in ("circle", "ellipse"):
        cx, cy, rx, ry = _round(element)
        return Bounds(cx - rx, cy - ry, cx + rx, cy + ry)
    outline = shape_outline(element)
    return (outline.bounds() if outline is not None else None) or Bounds(0, 0, 0, 0)


def curve_of(element: etree._Element, side: str, where: Where) -> Curve:
    """The path an element draws. On a circle the middle of the path is its top (``side`` over) or bottom.

    Raises ShopError ``bad-path`` for a shape text cannot run along.
    """
    kind = local(element)
    if kind == "path":
        curve = from_path_data(element.get("d", ""))
        return curve if side == "over" else Curve(curve.pieces[::-1, ::-1])
    if kind in ("circle", "ellipse"):
        cx, cy, rx, ry = _round(element)
        if rx > 0 and ry > 0:
            # Over: clockwise from the bottom, so that the middle is the top. Under: against it from the top.
            ring = arc(0, 0, 1, 90, 360) if side == "over" else arc(0, 0, 1, -90, -360)
            return Curve(ring.pieces * np.array([rx, ry]) + np.array([cx, cy]))
    if kind == "line":
        x1, y1, x2, y2 = (number(element.get(name, "")) for name in ("x1", "y1", "x2", "y2"))
        if math.hypot(x2 - x1, y2 - y1) > 0:
            return from_path_data(f"M{x1} {y1}L{x2} {y2}")
    fix = "draw a path, a circle, an ellipse or a line"
    raise ShopError("bad-path", f"text cannot run along a <{kind}> without a length", fix, where)


def mapped(curve: Curve, m: Matrix) -> Curve:
    """The curve in other coordinates."""
    linear = np.array([[m[0], m[1]], [m[2], m[3]]])
    return Curve(curve.pieces @ linear + np.array([m[4], m[5]]))


def _round(element: etree._Element) -> tuple[float, float, float, float]:
    r = number(element.get("r", ""))
    return (
        number(element.get("cx", "")),
        number(element.get("cy", "")),
        number(element.get("rx", ""), r),
        number(element.get("ry", ""), r),
    )
