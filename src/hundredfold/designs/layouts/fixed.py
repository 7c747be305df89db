"""What a layout draws besides its words: each shape as an outline in the drawing's units, and as a mask."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property

import cv2
import numpy as np
from fontTools.pens.recordingPen import RecordingPen
from fontTools.svgLib.path import parse_path
from fontTools.svgLib.path.shapes import PathBuilder
from lxml import etree
from numpy.typing import NDArray

from hundredfold.designs.layouts.drawing import Drawing, local, number
from hundredfold.designs.layouts.elements import attributes, elements
from hundredfold.designs.layouts.transforms import Matrix, scale_of
from hundredfold.designs.typesetting.outline import Bounds, Outline

Mask = NDArray[np.bool_]

SHAPES = frozenset({"path", "rect", "circle", "ellipse", "line", "polygon", "polyline"})
_UNSEEN = frozenset(
    {"defs", "clipPath", "mask", "symbol", "marker", "pattern", "linearGradient", "radialGradient"}
)
MASK_SIDE = 640  # pixels along the longer side


@dataclass(frozen=True, eq=False)
class DrawnShape:
    """A drawn shape. ``line`` is the width of its stroke in the drawing's units, 0 for none."""

    outline: Outline
    filled: bool
    line: float
    _masks: dict[tuple[float, float, float, float], Mask] = field(default_factory=dict, repr=False)

    @cached_property
    def box(self) -> Bounds | None:
        """The box of its ink."""
        box = self.outline.bounds()
        return box.grown(self.line / 2) if box is not None else None

    def mask(self, view: tuple[float, float, float, float]) -> Mask:
        """Its ink on a coarse picture of the drawing."""
        if view not in self._masks:
            self._masks[view] = drawn_mask(self.outline, view, self.filled, self.line)
        return self._masks[view]

    def moved(self, matrix: Matrix) -> "DrawnShape":
        """The same where a matrix takes it."""
        return DrawnShape(self.outline.affine(*matrix), self.filled, self.line * scale_of(matrix))

    def near(self, ink: Bounds) -> bool:
        """Whether its box meets another."""
        box = self.box
        return box is not None and not (
            box.left > ink.right or ink.left > box.right or box.top > ink.bottom or ink.top > box.bottom
        )


def drawn_mask(
    outline: Outline, view: tuple[float, float, float, float], filled: bool = True, line: float = 0.0
) -> Mask:
    """An outline's ink on a picture ``MASK_SIDE`` pixels along the drawing's longer side."""
    scale = MASK_SIDE / max(view[2], view[3])
    mask = np.zeros((int(view[3] * scale) + 1, int(view[2] * scale) + 1), dtype=np.uint8)
    contours = [np.round((c - np.array(view[:2])) * scale).astype(np.int32) for c in outline.flat]
    if contours and filled:
        cv2.fillPoly(mask, contours, 1)
    if contours and line:
        cv2.polylines(mask, contours, True, 1, max(1, round(line * scale)))
    return mask.astype(bool)


def shape_outline(element: etree._Element) -> Outline | None:
    """A basic shape or path in its own coordinates; None for anything else or what cannot be read."""
    builder = PathBuilder()
    # The builder knows matrices only: how the shape is turned is asked apart.
    bare = etree.Element(element.tag, {k: v for k, v in attributes(element).items() if k != "transform"})
    try:
        builder.add_path_from_element(bare)
        pen = RecordingPen()
        for data in builder.paths:
            parse_path(data, pen)
    except Exception:  # the readers raise several kinds on broken data; what they cannot read is not judged
        return None
    return _outline(pen) if pen.value else None


def _outline(pen: RecordingPen) -> Outline:
    verbs, points = bytearray(), []
    names = {"moveTo": "M", "lineTo": "L", "qCurveTo": "Q", "curveTo": "C", "closePath": "Z"}
    for verb, spots in pen.value:
        if verb == "endPath":
            continue
        verbs += names[verb].encode()
        points.extend(spots)
    return Outline(bytes(verbs), np.array(points, dtype=np.float64).reshape(-1, 2))


def drawn_shapes(drawing: Drawing, root: etree._Element) -> Iterator[tuple[etree._Element, DrawnShape]]:
    """Every shape that shows ink under ``root``, with its element, in drawing order."""
    for element in elements(root):
        if (
            local(element) not in SHAPES
            or drawing.hidden(element)
            or any(local(a) in _UNSEEN for a in element.iterancestors())
        ):
            continue
        shape = read_shape(drawing, element, drawing.matrix(element))
        if shape is not None:
            yield element, shape


def read_shape(drawing: Drawing, element: etree._Element, matrix: Matrix) -> DrawnShape | None:
    """One shape's ink; None when it shows none."""
    fill = drawing.style(element, "fill") or "#000000"
    filled = fill not in ("none", "transparent") and local(element) != "line"
    pen = drawing.style(element, "stroke")
    width = number(drawing.style(element, "stroke-width"), 1.0) if pen and pen != "none" else 0.0
    if not filled and not width:
        return None
    if _clear(drawing.style(element, "opacity")) or drawing.style(element, "display") == "none":
        return None
    outline = shape_outline(element)
    if outline is None or outline.empty:
        return None
    return DrawnShape(outline.affine(*matrix), filled, width * scale_of(matrix))


def _clear(opacity: str) -> bool:
    return bool(re.fullmatch(r"0*\.?0+", opacity.strip()))
