"""Set text drawn: its outlines, shadow, fills and pens as an SVG group in the place of the layout's text."""

import math
from collections.abc import Callable

from lxml import etree

from hundredfold.designs.layouts.drawing import SVG, Drawing
from hundredfold.designs.layouts.settext import SetText
from hundredfold.designs.layouts.slots import TextSlot
from hundredfold.designs.layouts.transforms import scale_of

_KEPT_ON_TEXT = ("opacity", "clip-path", "mask", "filter", "display", "visibility")
_PEN_KEPT = ("stroke-linejoin", "paint-order", "stroke-opacity", "fill-opacity")
_FINEST = 400_000  # steps of a coordinate along the longer side: a hundredth of a pixel at 4000


def drawn_text(
    drawing: Drawing, slot: TextSlot, element: etree._Element, done: SetText, colour_of: Callable[[str], str]
) -> etree._Element:
    """The group that takes the place of a text ``element``; ``colour_of`` gives a role's colour."""
    decimals = _decimals(drawing, slot)
    group = etree.Element(f"{{{SVG}}}g")
    for name in ("id", "transform", "data-distress"):
        if element.get(name):
            group.set(name, str(element.get(name)))
    for name in _KEPT_ON_TEXT:
        # Asked of the untouched drawing by the mark: rules and inline styles count there.
        value = drawing.style(element, name)
        if value:
            group.set(name, value)
    data = done.outline.path_data(decimals)
    if slot.shadow is not None:
        right, down = slot.shadow.right_mm / slot.mm_per_unit, slot.shadow.down_mm / slot.mm_per_unit
        colour = colour_of(slot.shadow.colour)
        shade = _path(group, data, colour, colour if slot.stroke else "", slot.stroke)
        shade.set("transform", f"translate({right:.6g} {down:.6g})")
    for index in range(len(slot.edges) - 1, -1, -1):
        width = 2 * sum(edge.width_mm for edge in slot.edges[: index + 1]) / slot.mm_per_unit
        colour = colour_of(slot.edges[index].colour)
        _path(group, data, colour, colour, width)
    for style, part in done.parts or ((0, done.outline),):
        fill = slot.spans[style - 1].fill if style else slot.fill
        face = _path(group, part.path_data(decimals), colour_of(fill), "", 0)
        _inked(drawing, slot, element, face, colour_of(slot.pen[0]) if slot.pen else "")
    return group


def _inked(
    drawing: Drawing, slot: TextSlot, element: etree._Element, face: etree._Element, colour: str
) -> None:
    """The line an editor drew around the letters."""
    if slot.pen is not None:
        _stroke(face, colour, slot.pen[1])
        for name in _PEN_KEPT:
            value = drawing.style(element, name)
            if value:
                face.set(name, value)


def _decimals(drawing: Drawing, slot: TextSlot) -> int:
    """Places of a coordinate, so that a drawing in millimetres is as fine as one in pixels."""
    side = max(drawing.view[2:]) / (scale_of(slot.matrix) or 1.0)
    return max(0, math.ceil(math.log10(_FINEST / side)))


def _path(parent: etree._Element, data: str, fill: str, stroke: str, width: float) -> etree._Element:
    path = etree.SubElement(parent, f"{{{SVG}}}path", d=data, fill=fill)
    # The drawing's own inherited pen must not draw round the letters a second time.
    _stroke(path, stroke or "none", width)
    return path


def _stroke(path: etree._Element, colour: str, width: float) -> None:
    path.set("stroke", colour)
    if colour != "none":
        path.set("stroke-width", f"{width:.6g}")
        path.set("stroke-linejoin", "round")
