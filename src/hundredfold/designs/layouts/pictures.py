"""Art slots: a picture of the row, fitted into its place, recoloured on request."""

import base64
import math
from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO

import cv2
import numpy as np
from lxml import etree
from PIL import Image, UnidentifiedImageError

from hundredfold.designs.layouts.drawing import SVG, Drawing, local, matches, read_drawing
from hundredfold.designs.layouts.elements import attributes, drop, elements
from hundredfold.designs.layouts.fixed import MASK_SIDE, SHAPES, Mask, drawn_mask, drawn_shapes
from hundredfold.designs.layouts.roles import PAINTED
from hundredfold.designs.layouts.slots import ArtSlot
from hundredfold.designs.typesetting.outline import Bounds, Outline, union
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.errors import ShopError, Where

_PIXEL_LIMIT = 64_000_000
_MOUNTED = 0.86  # of a photograph's place that a drawing takes there; common practice, no source
_WEIGHT = 0.5  # of the way from the middle of a picture's box to the middle of its weight
_NO_SHAPES = frozenset({"image", "use", "text", "clipPath", "mask", "filter"})
_GEOMETRY = frozenset({"x", "y", "width", "height", "rx", "ry", "cx", "cy", "r", "d", "points"})
_PAINT = ("fill", "stroke", "stop-color", "color")


@dataclass(frozen=True)
class _Ink:
    """Where a picture's ink lies in its own units: its box, the middle of its weight, the circle around
    it."""

    box: Bounds
    middle: tuple[float, float]
    round: tuple[float, float, float]


def picture_element(
    slot: ArtSlot, data: bytes, name: str, colour: str, shape: etree._Element | None = None
) -> etree._Element:
    """The picture as an SVG element inside the slot's box. ``colour`` "" keeps its own colours.

    Its ink, not its page, is fitted: what is drawn fills the place, and stands where its weight looks
    centred.
    A picture that covers a place with a ``shape`` of its own is clipped to it. Raises ShopError ``bad-art``
    for anything but a sound PNG, JPEG or SVG.
    """
    inner, ink = (
        _vector(data, name, colour, f"art{slot.number}-")
        if _looks_like_svg(data)
        else _raster(data, name, colour)
    )
    box = slot.box
    cover = _covers(slot, data)
    left, top, width, height = _window(slot, ink, cover)
    frame = etree.Element(f"{{{SVG}}}svg")
    frame.set("x", f"{box.left:g}")
    frame.set("y", f"{box.top:g}")
    frame.set("width", f"{box.width:g}")
    frame.set("height", f"{box.height:g}")
    frame.set("viewBox", f"{left:.6g} {top:.6g} {width:.6g} {height:.6g}")
    frame.set("preserveAspectRatio", "none")
    for child in list(inner):
        frame.append(child)
    if not cover or shape is None or local(shape) not in SHAPES:
        return frame
    return _clipped(frame, shape, f"art{slot.number}-place")


def art_ink(slot: ArtSlot, data: bytes, name: str) -> Bounds:
    """The box of the picture's ink where ``picture_element`` puts it, in the slot's units."""
    ink = _vector_ink(data, name) if _looks_like_svg(data) else _raster(data, name, "")[1]
    left, top, width, _ = _window(slot, ink, _covers(slot, data))
    scale = slot.box.width / width
    box = Bounds(
        slot.box.left + (ink.box.left - left) * scale,
        slot.box.top + (ink.box.top - top) * scale,
        slot.box.left + (ink.box.right - left) * scale,
        slot.box.top + (ink.box.bottom - top) * scale,
    )
    return Bounds(
        max(box.left, slot.box.left),
        max(box.top, slot.box.top),
        min(box.right, slot.box.right),
        min(box.bottom, slot.box.bottom),
    )


def _covers(slot: ArtSlot, data: bytes) -> bool:
    """Whether the picture fills its place to the edges: a photograph has no clear ground of its own."""
    if slot.fit != "photo":
        return slot.fit == "cover"
    if _looks_like_svg(data):
        return False
    try:
        with Image.open(BytesIO(data)) as picture:
            return picture.mode not in ("RGBA", "LA", "PA") and "transparency" not in picture.info
    except (UnidentifiedImageError, OSError):
        return False


def _window(slot: ArtSlot, ink: _Ink, cover: bool) -> tuple[float, float, float, float]:
    """The part of the picture's plane that the slot's box shows: left, top, width, height."""
    box = slot.box
    within = _MOUNTED if slot.fit == "photo" and not cover else 1.0
    if slot.round and not cover:
        x, y, radius = ink.round
        scale = within * min(box.width, box.height) / (2 * radius)
        return x - box.width / scale / 2, y - box.height / scale / 2, box.width / scale, box.height / scale
    across, down = box.width / ink.box.width, box.height / ink.box.height
    scale = max(across, down) if cover else within * min(across, down)
    width, height = box.width / scale, box.height / scale
    cx, cy = ink.box.centre
    if not cover:
        # Halfway to the middle of its weight, as far as there is room: common practice, no source.
        cx = _between(cx, ink.middle[0], (width - ink.box.width) / 2)
        cy = _between(cy, ink.middle[1], (height - ink.box.height) / 2)
    return cx - width / 2, cy - height / 2, width, height


def _between(centre: float, weight: float, room: float) -> float:
    step = _WEIGHT * (weight - centre)
    return centre + max(-room, min(room, step))


def _clipped(frame: etree._Element, shape: etree._Element, name: str) -> etree._Element:
    """The picture inside a shape: the place itself is the clip path."""
    group = etree.Element(f"{{{SVG}}}g")
    clip = etree.SubElement(group, f"{{{SVG}}}clipPath", id=name)
    kept = {key: value for key, value in attributes(shape).items() if key in _GEOMETRY}
    etree.SubElement(clip, f"{{{SVG}}}{local(shape)}", kept)
    inner = etree.SubElement(group, f"{{{SVG}}}g")
    inner.set("clip-path", f"url(#{name})")
    inner.append(frame)
    return group


def _ink_of(outlines: list[tuple[Outline, float]], view: tuple[float, float, float, float]) -> _Ink:
    boxes = [box.grown(line / 2) for outline, line in outlines if (box := outline.bounds()) is not None]
    whole = Bounds(view[0], view[1], view[0] + view[2], view[1] + view[3])
    box = union(boxes) or whole
    # What lies outside the picture's page is not shown.
    box = Bounds(
        max(box.left, whole.left),
        max(box.top, whole.top),
        min(box.right, whole.right),
        min(box.bottom, whole.bottom),
    )
    if box.width <= 0 or box.height <= 0:
        box = whole
    frame = (box.left, box.top, box.width, box.height)
    masks = [drawn_mask(outline, frame, True, line) for outline, line in outlines]
    if not masks:
        return _Ink(box, box.centre, (*box.centre, max(box.width, box.height) / 2))
    return _weighed(np.logical_or.reduce(masks), box)


def _weighed(mask: Mask, box: Bounds) -> _Ink:
    """The middle of the ink's weight and the circle around it, from its mask over ``box``."""
    ys, xs = np.nonzero(mask)
    if not len(xs):
        return _Ink(box, box.centre, (*box.centre, math.hypot(box.width, box.height) / 2))
    step = max(box.width, box.height) / max(mask.shape)
    hull = cv2.convexHull(np.stack([xs, ys], axis=1).astype(np.float32))
    (cx, cy), radius = cv2.minEnclosingCircle(hull)
    return _Ink(
        box,
        (box.left + float(xs.mean()) * step, box.top + float(ys.mean()) * step),
        (box.left + cx * step, box.top + cy * step, (radius + 0.5) * step),
    )


def _looks_like_svg(data: bytes) -> bool:
    head = data[:1024].lstrip(b"\xef\xbb\xbf \t\r\n")
    return head.startswith(b"<") and b"<svg" in data[:65536]


def _vector(data: bytes, name: str, colour: str, prefix: str) -> tuple[etree._Element, _Ink]:
    drawing = _read(data, name)
    root = drawing.root
    if any(True for _ in root.iter(f"{{{SVG}}}text")):
        what = "the picture has live text, which needs its fonts"
        raise ShopError("bad-art", what, "turn its text into paths in your editor", Where(name))
    for image in root.iter(f"{{{SVG}}}image"):
        link = image.get("href") or image.get("{http://www.w3.org/1999/xlink}href") or ""
        if not link.startswith("data:image/"):
            fix = "embed that picture into the drawing"
            raise ShopError("bad-art", f"the picture links to another file, {link[:60]!r}", fix, Where(name))
    ink = _vector_ink(data, name)
    _alone(drawing, prefix)
    if colour:
        _recolour(root, colour)
    group = etree.Element(f"{{{SVG}}}g")
    for key in ("fill", "stroke", "style", "stroke-width", "stroke-linecap", "stroke-linejoin"):
        if root.get(key):
            group.set(key, str(root.get(key)))
    group.extend(list(root))
    holder = etree.Element(f"{{{SVG}}}svg", viewBox=" ".join(f"{v:g}" for v in drawing.view))
    holder.append(group)
    return holder, ink


def _read(data: bytes, name: str) -> Drawing:
    try:
        return read_drawing(data, name)
    except ShopError as error:
        raise ShopError("bad-art", error.what, error.fix, error.where) from error


@lru_cache(maxsize=64)
def _vector_ink(data: bytes, name: str) -> _Ink:
    """From its shapes; a picture with anything else in it is taken as its page."""
    drawing = _read(data, name)
    left, top, width, height = drawing.view
    page = Bounds(left, top, left + width, top + height)
    if any(local(element) in _NO_SHAPES for element in elements(drawing.root)):
        return _Ink(page, page.centre, (*page.centre, math.hypot(width, height) / 2))
    return _ink_of(
        [(shape.outline, shape.line) for _, shape in drawn_shapes(drawing, drawing.root)], drawing.view
    )


def _recolour(root: etree._Element, colour: str) -> None:
    """Every paint becomes one colour; what is not painted stays so."""
    for element in elements(root):
        for name in (*_PAINT, *PAINTED):
            value = element.get(name)
            if value and _is_paint(value):
                element.set(name, colour)
        if element.get("style"):
            parts = [part.partition(":") for part in str(element.get("style")).split(";")]
            element.set(
                "style",
                ";".join(
                    f"{name}:{colour if name.strip() in _PAINT and _is_paint(value) else value}"
                    for name, colon, value in parts
                    if colon
                ),
            )
    if root.get("fill") is None:
        root.set("fill", colour)  # shapes that state no fill are black by default


def _is_paint(value: str) -> bool:
    value = value.strip()
    return value not in ("none", "transparent", "inherit") and "url(" not in value


def _alone(drawing: Drawing, prefix: str) -> None:
    """Style rules go into the elements and ids get a prefix: both are shared by a whole SVG file."""
    root = drawing.root
    for element in elements(root):
        rules = [values for selector, values in drawing.rules if matches(selector, element)]
        if rules:
            merged = {name: value for values in rules for name, value in values.items()}
            own = element.get("style", "")
            element.set("style", ";".join(f"{n}:{v}" for n, v in merged.items()) + (f";{own}" if own else ""))
        for key, value in attributes(element).items():
            if key == "id":
                element.set(key, prefix + value)
            elif key.endswith("href") and value.startswith("#"):
                element.set(key, "#" + prefix + value[1:])
            elif "url(#" in value:
                element.set(key, value.replace("url(#", f"url(#{prefix}"))
    for sheet in list(root.iter(f"{{{SVG}}}style")):
        drop(sheet)


def _raster(data: bytes, name: str, colour: str) -> tuple[etree._Element, _Ink]:
    try:
        with Image.open(BytesIO(data)) as picture:
            width, height = picture.size
            if picture.format not in ("PNG", "JPEG") or width * height > _PIXEL_LIMIT:
                raise ValueError(picture.format)
            kind = "image/png" if picture.format == "PNG" else "image/jpeg"
            ink = _raster_ink(picture)
            if colour:
                data, kind = _tinted(picture, colour), "image/png"
            else:
                picture.load()
    except (UnidentifiedImageError, OSError, ValueError, SyntaxError, Image.DecompressionBombError) as error:
        fix = "use a PNG, JPEG or SVG file of at most 64 megapixels"
        raise ShopError("bad-art", "the picture cannot be read", fix, Where(name)) from error
    holder = etree.Element(f"{{{SVG}}}svg", viewBox=f"0 0 {width} {height}")
    image = etree.SubElement(holder, f"{{{SVG}}}image", width=str(width), height=str(height))
    image.set("href", f"data:{kind};base64,{base64.b64encode(data).decode()}")
    return holder, ink


def _raster_ink(picture: Image.Image) -> _Ink:
    """What of it is not clear; a photograph is all ink."""
    whole = Bounds(0.0, 0.0, float(picture.width), float(picture.height))
    if picture.mode not in ("RGBA", "LA", "PA") and "transparency" not in picture.info:
        return _Ink(whole, whole.centre, (*whole.centre, math.hypot(whole.width, whole.height) / 2))
    cover = picture.convert("RGBA").getchannel("A").point(lambda value: 255 if value > 16 else 0)
    found = cover.getbbox()
    if found is None:
        return _Ink(whole, whole.centre, (*whole.centre, math.hypot(whole.width, whole.height) / 2))
    box = Bounds(*map(float, found))
    small = cover.crop(found)
    small.thumbnail((MASK_SIDE, MASK_SIDE))
    return _weighed(np.asarray(small) > 127, box)


def _tinted(picture: Image.Image, colour: str) -> bytes:
    """The picture's opacity in one colour; a picture without any is read as dark ink on white."""
    if picture.mode in ("RGBA", "LA", "PA") or "transparency" in picture.info:
        cover = picture.convert("RGBA").getchannel("A")
    else:
        cover = picture.convert("L").point(lambda value: 255 - value)
    red, green, blue = Srgb.parse(colour)
    flat = Image.new("RGBA", picture.size, (red, green, blue, 0))
    flat.putalpha(cover)
    out = BytesIO()
    flat.save(out, "PNG", compress_level=6)
    return out.getvalue()
