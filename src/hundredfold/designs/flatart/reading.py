"""Flat SVG to painted shapes: fills and lines of one colour, groups, masks and clips.

What is not flat (gradients, pictures, filters, patterns, style sheets, live text, anything unknown) makes the
whole drawing "not flat", and another hand must draw it: nothing is left out or guessed.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np
from lxml import etree
from PIL import ImageColor

from hundredfold.designs.flatart.contours import contours_of
from hundredfold.designs.flatart.pathdata import ellipse, path_outline, polygon, rectangle
from hundredfold.designs.flatart.pen import CAPS, JOINS, LINE_NEAR, Pen, turning_of
from hundredfold.designs.flatart.spans import Group, Shape, Spans, spans_of
from hundredfold.designs.layouts.transforms import IDENTITY, Matrix, compose, parse_transform, scale_of
from hundredfold.designs.typesetting.outline import Bounds, Outline

SVG = "{http://www.w3.org/2000/svg}"
XML = "{http://www.w3.org/XML/1998/namespace}"
_FARTHEST = 1e7  # pixels
_WIDEST = 60_000  # pixels: places are counted in 16 bits
_MOST_SHAPES, _MOST_GROUPS = 20_000, 100  # a group that is faded or masked costs a sheet of its own

_INHERITED = {
    "fill": "black", "stroke": "none", "stroke-width": "1", "stroke-linejoin": "miter",
    "stroke-linecap": "butt", "stroke-miterlimit": "4", "fill-rule": "nonzero", "fill-opacity": "1",
    "stroke-opacity": "1", "paint-order": "normal", "clip-rule": "nonzero", "visibility": "visible",
    "stroke-dasharray": "none",
}  # fmt: skip
_OWN = {"opacity": "1", "mask": "none", "clip-path": "none", "display": "inline"}
_GEOMETRY = {
    "svg": ("x", "y", "width", "height", "viewBox", "preserveAspectRatio", "version", "baseProfile"),
    "g": (),
    "path": ("d",),
    "rect": ("x", "y", "width", "height", "rx", "ry"),
    "circle": ("cx", "cy", "r"),
    "ellipse": ("cx", "cy", "rx", "ry"),
    "line": ("x1", "y1", "x2", "y2"),
    "polyline": ("points",),
    "polygon": ("points",),
}
_SILENT = ("title", "desc", "metadata", "defs", "mask", "clipPath", "style")
_HARMLESS = re.compile(
    rf"id|class|lang|data-.*|{re.escape(XML)}(lang|space)|-inkscape-.*|font-.*|text-.*|line-height"
)
_NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?", re.IGNORECASE)


class NotFlatError(Exception):
    """The drawing has something that is not drawn here."""


@dataclass(frozen=True)
class _State:
    matrix: Matrix
    paint: Mapping[str, str]


def flat_spans(markup: bytes, width_px: int, height_px: int) -> Spans | None:
    """A sound, self-contained SVG as spans; None when it is not flat art, or more than is cheap here."""
    if max(width_px, height_px) > _WIDEST:
        return None
    root = etree.fromstring(markup)
    try:
        return spans_of(_Reader(root, width_px, height_px).whole(), width_px, height_px)
    except (NotFlatError, ValueError):
        return None


class _Reader:
    def __init__(self, root: etree._Element, width_px: int, height_px: int) -> None:
        self.root, self.width, self.height = root, width_px, height_px
        self.by_id = {e.get("id"): e for e in root.iter() if e.get("id")}
        self.reach: list[Bounds] = []  # boxes of the shapes made so far
        self.shapes = self.groups = 0
        self.open: set[str] = set()  # masks and clips being read: one inside itself is refused

    def whole(self) -> Group:
        if any((e.text or "").strip() for e in self.root.iter(f"{SVG}style")):
            raise NotFlatError("a style sheet")
        return Group(tuple(self._things(self.root, _State(IDENTITY, _INHERITED))))

    def _things(self, element: etree._Element, state: _State) -> Iterator[Shape | Group]:
        if not isinstance(element.tag, str) or element.tag.removeprefix(SVG) in _SILENT:
            return
        kind = element.tag.removeprefix(SVG)
        if kind not in _GEOMETRY:
            raise NotFlatError(kind)
        said = _declared(element, kind)
        if said.get("display") == "none":
            return
        paint = {**state.paint, **{k: v for k, v in said.items() if k in _INHERITED and v != "inherit"}}
        matrix = compose(state.matrix, parse_transform(element.get("transform", "")))
        here = _State(matrix, paint)
        parts = self._nested(element, here) if kind in ("svg", "g") else self._shapes(element, kind, here)
        yield from self._as_one(said, here, tuple(parts))

    def _as_one(
        self, said: Mapping[str, str], here: _State, parts: tuple["Shape | Group", ...]
    ) -> tuple["Shape | Group", ...]:
        """The parts with what fades or hides them as a whole."""
        opacity = _share(said.get("opacity", "1"))
        masks = [
            self._mask(said[name], name, here)
            for name in ("mask", "clip-path")
            if said.get(name, "none") != "none"
        ]
        if opacity >= 1 and not masks:
            return parts
        self.groups += 1
        if self.groups > _MOST_GROUPS:
            raise NotFlatError("too many groups")
        group = Group(parts, opacity, masks[0] if masks else None)
        return (group if len(masks) < 2 else Group((group,), 1.0, masks[1]),)

    def _nested(self, element: etree._Element, here: _State) -> Iterator[Shape | Group]:
        if element.tag == f"{SVG}g":
            for child in element:
                yield from self._things(child, here)
            return
        x, y, width, height = 0.0, 0.0, float(self.width), float(self.height)
        if element is not self.root:
            x, y, width, height = (_number(element.get(name)) for name in ("x", "y", "width", "height"))
        if width <= 0 or height <= 0:
            raise NotFlatError("a nested drawing without a size")
        outside, self.reach = self.reach, []
        inner = _State(compose(here.matrix, _view(element, x, y, width, height)), here.paint)
        parts = tuple(thing for child in element for thing in self._things(child, inner))
        frame = rectangle(x, y, width, height).affine(*here.matrix)
        box = frame.bounds()
        inside = box is not None and all(box.holds(reach, 0.01) for reach in self.reach)
        self.reach = [*outside, *self.reach]
        if inside or element is self.root:
            yield from parts
        else:
            yield Group(parts, 1.0, Group((self._shape(frame, "#ffffff"),)))

    def _mask(self, reference: str, name: str, here: _State) -> Group:
        found = re.fullmatch(r"\s*url\(\s*['\"]?#([^'\")]+)['\"]?\s*\)\s*", reference)
        target = self.by_id.get(found[1]) if found else None
        wanted = "mask" if name == "mask" else "clipPath"
        if target is None or target.tag != f"{SVG}{wanted}" or target.get("id") in self.open:
            raise NotFlatError(reference)
        known = ("id", "maskUnits", "x", "y", "width", "height", "clipPathUnits")
        units = (
            target.get("maskUnits", "objectBoundingBox")
            if wanted == "mask"
            else target.get("clipPathUnits", "userSpaceOnUse")
        )
        if units != "userSpaceOnUse" or any(key not in known for key in target.attrib):
            raise NotFlatError(wanted)
        self.open.add(str(target.get("id")))
        outside, self.reach = self.reach, []
        state = _State(here.matrix, _INHERITED)
        if wanted == "clipPath":
            parts = tuple(self._clipping(child, state) for child in target)
            group = Group(parts)
        else:
            things = tuple(thing for child in target for thing in self._things(child, state))
            x, y, width, height = (_number(target.get(key)) for key in ("x", "y", "width", "height"))
            frame = rectangle(x, y, width, height).affine(*here.matrix)
            group = Group(things, 1.0, Group((self._shape(frame, "#ffffff"),)), luminance=True)
        self.reach = outside
        self.open.discard(str(target.get("id")))
        return group

    def _clipping(self, element: etree._Element, state: _State) -> Shape:
        kind = str(element.tag).removeprefix(SVG)
        if kind not in _GEOMETRY or kind in ("svg", "g") or element.get("clip-path"):
            raise NotFlatError("a clip of something else than shapes")
        said = _declared(element, kind)
        matrix = compose(state.matrix, parse_transform(element.get("transform", "")))
        outline = _outline(element, kind).affine(*matrix)
        return self._shape(outline, "#ffffff", 1.0, said.get("clip-rule") == "evenodd")

    def _shapes(self, element: etree._Element, kind: str, here: _State) -> Iterator[Shape]:
        paint = here.paint
        if paint["visibility"] != "visible":
            return
        if paint["stroke-dasharray"] != "none":
            raise NotFlatError("dashes")
        outline = _outline(element, kind).affine(*here.matrix)
        even_odd = paint["fill-rule"] == "evenodd"
        inside, line = paint["fill"] if kind != "line" else "none", paint["stroke"]
        fill = self._shape(outline, inside, _share(paint["fill-opacity"]), even_odd)
        width = _number(paint["stroke-width"]) * scale_of(here.matrix)
        if line == "none" or width <= 0:
            yield from (fill,) * (inside != "none")
            return
        if not _even(here.matrix):
            raise NotFlatError("a line drawn with a stretched pen")
        stroke = self._shape(outline, line, _share(paint["stroke-opacity"]), pen=_pen(paint, width))
        if inside == "none":
            yield stroke
        elif not even_odd and fill.colour == stroke.colour and fill.colour[3] == 1:
            turning = turning_of(contours_of(outline, LINE_NEAR))
            yield from (replace(stroke, turning=turning),) if turning else (fill, stroke)
        else:
            yield from (stroke, fill) if paint["paint-order"].startswith("stroke") else (fill, stroke)

    def _shape(
        self,
        outline: Outline,
        colour: str,
        opacity: float = 1.0,
        even_odd: bool = False,
        pen: Pen | None = None,
    ) -> Shape:
        if len(outline.points):
            low, high = outline.points.min(axis=0), outline.points.max(axis=0)
            if not (np.abs(low).max() < _FARTHEST and np.abs(high).max() < _FARTHEST):
                raise NotFlatError("a place out of reach")
            by = 0.0 if pen is None else pen.width * max(pen.miter_limit, 1.0) / 2
            self.reach.append(Bounds(*low, *high).grown(by))
        self.shapes += 1
        if self.shapes > _MOST_SHAPES:
            raise NotFlatError("too many shapes")
        red, green, blue, cover = _colour(colour) if colour != "none" else (0.0, 0.0, 0.0, 0.0)
        return Shape(outline, (red, green, blue, cover * opacity), even_odd, pen)


def _declared(element: etree._Element, kind: str) -> dict[str, str]:
    """Properties from attributes and inline style. Anything unknown is not flat."""
    said: dict[str, str] = {}
    pairs = [(str(key), str(value)) for key, value in element.attrib.items() if key != "style"]
    pairs += [
        (name.strip().lower(), value.replace("!important", "").strip())
        for name, colon, value in (part.partition(":") for part in element.get("style", "").split(";"))
        if colon
    ]
    for name, value in pairs:
        if name in _INHERITED or name in _OWN:
            said[name] = value.strip()
        elif (
            name == "fill-rule" or name in _GEOMETRY[kind] or name == "transform" or _HARMLESS.fullmatch(name)
        ):
            continue
        elif (name, value) not in (("overflow", "visible"), ("enable-background", "new")):
            raise NotFlatError(name)
    return said


def _outline(element: etree._Element, kind: str) -> Outline:
    def of(name: str) -> float:
        return _number(element.get(name))

    if kind == "path":
        outline = path_outline(element.get("d", ""))
        if outline is None:
            raise NotFlatError("broken path data")
        return outline
    if kind == "rect":
        rx, ry = element.get("rx"), element.get("ry")
        return rectangle(of("x"), of("y"), of("width"), of("height"), _number(rx or ry), _number(ry or rx))
    if kind == "circle":
        return ellipse(of("cx"), of("cy"), of("r"), of("r"))
    if kind == "ellipse":
        return ellipse(of("cx"), of("cy"), of("rx"), of("ry"))
    if kind == "line":
        return polygon([of("x1"), of("y1"), of("x2"), of("y2")], closed=False)
    return polygon([float(n) for n in _NUMBER.findall(element.get("points", ""))], closed=kind == "polygon")


def _number(text: str | None) -> float:
    """A plain number, in user units."""
    if text is None or not text.strip():
        return 0.0
    found = re.fullmatch(rf"\s*({_NUMBER.pattern})\s*(?:px)?\s*", text, re.IGNORECASE)
    if not found:
        raise NotFlatError(text)
    return float(found[1])


def _share(text: str) -> float:
    value = _number(text[:-1]) / 100 if text.endswith("%") else _number(text)
    return min(max(value, 0.0), 1.0)


def _colour(text: str) -> tuple[float, float, float, float]:
    if text == "transparent":
        return 0.0, 0.0, 0.0, 0.0
    try:
        value = ImageColor.getrgb(text)
    except ValueError:
        raise NotFlatError(text) from None
    red, green, blue = (channel / 255 for channel in value[:3])
    return red, green, blue, value[3] / 255 if len(value) == 4 else 1.0


def _pen(paint: Mapping[str, str], width: float) -> Pen:
    join, cap = paint["stroke-linejoin"], paint["stroke-linecap"]
    if join not in JOINS or cap not in CAPS:
        raise NotFlatError(join)
    return Pen(width, join, cap, _number(paint["stroke-miterlimit"]))


def _even(m: Matrix) -> bool:
    """Whether lengths grow the same in every direction, so that round stays round."""
    size = m[0] ** 2 + m[1] ** 2
    return bool(
        abs(size - (m[2] ** 2 + m[3] ** 2)) <= 1e-6 * size and abs(m[0] * m[2] + m[1] * m[3]) <= 1e-6 * size
    )


def _view(element: etree._Element, x: float, y: float, width: float, height: float) -> Matrix:
    """From a nested drawing's own units to its place (SVG 2, 8.2)."""
    numbers = [float(n) for n in _NUMBER.findall(element.get("viewBox", ""))]
    if len(numbers) != 4:
        return (1, 0, 0, 1, x, y)
    left, top, wide, high = numbers
    if wide <= 0 or high <= 0:
        raise NotFlatError("a view box without a size")
    across, down = width / wide, height / high
    kept = element.get("preserveAspectRatio", "xMidYMid meet").split()
    if kept[0] != "none":
        across = down = max(across, down) if kept[-1] == "slice" else min(across, down)
    share = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}
    found = re.fullmatch(r"x(Min|Mid|Max)Y(Min|Mid|Max)", kept[0])
    at_x, at_y = (share[found[1]], share[found[2]]) if found else (0.0, 0.0)
    return (
        across,
        0,
        0,
        down,
        x - left * across + (width - wide * across) * at_x,
        y - top * down + (height - high * down) * at_y,
    )
