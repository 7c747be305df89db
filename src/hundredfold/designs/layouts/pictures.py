"""Art slots: a picture of the row, fitted into its place, recoloured on request."""

import base64
from io import BytesIO

from lxml import etree
from PIL import Image, UnidentifiedImageError

from hundredfold.designs.layouts.drawing import SVG, Drawing, matches, read_drawing
from hundredfold.designs.layouts.elements import attributes, drop, elements
from hundredfold.designs.layouts.roles import PAINTED
from hundredfold.designs.layouts.slots import ArtSlot
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.errors import ShopError, Where

_PIXEL_LIMIT = 64_000_000
_PAINT = ("fill", "stroke", "stop-color", "color")


def picture_element(slot: ArtSlot, data: bytes, name: str, colour: str) -> etree._Element:
    """The picture as an SVG element inside the slot's box. ``colour`` "" keeps its own colours.

    Raises ShopError ``bad-art`` for anything but a sound PNG, JPEG or SVG.
    """
    inner = (
        _vector(data, name, colour, f"art{slot.number}-")
        if _looks_like_svg(data)
        else _raster(data, name, colour)
    )
    box = slot.box
    frame = etree.Element(f"{{{SVG}}}svg")
    frame.set("x", f"{box.left:g}")
    frame.set("y", f"{box.top:g}")
    frame.set("width", f"{box.width:g}")
    frame.set("height", f"{box.height:g}")
    frame.set("preserveAspectRatio", "xMidYMid slice" if slot.cover else "xMidYMid meet")
    frame.set("viewBox", inner.get("viewBox", ""))
    for child in list(inner):
        frame.append(child)
    return frame


def _looks_like_svg(data: bytes) -> bool:
    head = data[:1024].lstrip(b"\xef\xbb\xbf \t\r\n")
    return head.startswith(b"<") and b"<svg" in data[:65536]


def _vector(data: bytes, name: str, colour: str, prefix: str) -> etree._Element:
    try:
        drawing = read_drawing(data, name)
    except ShopError as error:
        raise ShopError("bad-art", error.what, error.fix, error.where) from error
    root = drawing.root
    if any(True for _ in root.iter(f"{{{SVG}}}text")):
        what = "the picture has live text, which needs its fonts"
        raise ShopError("bad-art", what, "turn its text into paths in your editor", Where(name))
    for image in root.iter(f"{{{SVG}}}image"):
        link = image.get("href") or image.get("{http://www.w3.org/1999/xlink}href") or ""
        if not link.startswith("data:image/"):
            fix = "embed that picture into the drawing"
            raise ShopError("bad-art", f"the picture links to another file, {link[:60]!r}", fix, Where(name))
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
    return holder


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


def _raster(data: bytes, name: str, colour: str) -> etree._Element:
    try:
        with Image.open(BytesIO(data)) as picture:
            width, height = picture.size
            if picture.format not in ("PNG", "JPEG") or width * height > _PIXEL_LIMIT:
                raise ValueError(picture.format)
            kind = "image/png" if picture.format == "PNG" else "image/jpeg"
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
    return holder


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
