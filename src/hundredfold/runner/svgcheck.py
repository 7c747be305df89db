"""What a foreign SVG may not hold, found before anything draws it; and its size."""

import base64
import binascii
import re
from collections.abc import Iterator
from dataclasses import dataclass

from lxml import etree

from hundredfold.designs.decode import DEFAULT_LIMITS as DEFAULT_DECODE
from hundredfold.designs.decode import DecodeLimits, inspect
from hundredfold.kernel.errors import ShopError, Where

SVG = "http://www.w3.org/2000/svg"
_XINCLUDE = "http://www.w3.org/2001/XInclude"
_SCRIPTED = frozenset({"script", "handler", "listener"})
_FOREIGN = frozenset({"foreignObject", "iframe", "video", "audio", "canvas", "object", "embed"})
_LIVE_TEXT = frozenset({"text", "tref", "flowRoot"})
_PICTURE_DATA = re.compile(r"data:image/(png|jpe?g|webp);base64,", re.IGNORECASE)
_URL = re.compile(r"url\(\s*['\"]?\s*([^'\")]*)", re.IGNORECASE)
_ESCAPE = re.compile(r"\\([0-9a-fA-F]{1,6})\s?|\\(.)")
_LENGTH = re.compile(r"\s*([0-9.]+(?:e[+-]?\d+)?)\s*(px|pt|pc|mm|cm|in|q)?\s*", re.IGNORECASE)
# CSS Values and Units: an inch is 96 px.
_UNIT_PX = {
    "": 1,
    "px": 1,
    "in": 96,
    "pt": 96 / 72,
    "pc": 16,
    "cm": 96 / 2.54,
    "mm": 96 / 25.4,
    "q": 96 / 101.6,
}


@dataclass(frozen=True)
class SvgLimits:
    """Ceilings of a drawing. Set from what real designs need, with room; no source."""

    max_bytes: int = 50_000_000
    max_elements: int = 200_000
    max_depth: int = 200
    max_drawn: int = 1_000_000  # elements after every ``use`` is written out
    max_filter_steps: int = 60
    max_filter_reach: float = 250.0  # radius or deviation, in user units
    pictures: DecodeLimits = DEFAULT_DECODE


DEFAULT_LIMITS = SvgLimits()


@dataclass(frozen=True)
class CheckedSvg:
    """A drawing that passed: its markup written anew without document type, and its size in CSS pixels."""

    markup: bytes
    width: float
    height: float


def check_svg(data: bytes, name: str, limits: SvgLimits = DEFAULT_LIMITS) -> CheckedSvg:
    """The drawing, safe to give to the drawing child.

    Raises ShopError ``svg-damaged``, ``svg-entities``, ``svg-script``, ``svg-outside-link``,
    ``svg-foreign-content``, ``svg-live-text``, ``svg-too-complex``, ``svg-without-size``, or what
    ``designs.decode.inspect`` raises about a picture inside it.
    """
    root = _parsed(data, name, limits)
    for count, (element, depth) in enumerate(_walk(root), 1):
        if depth > limits.max_depth:
            raise _too_complex(name, f"it is nested more than {limits.max_depth} levels deep")
        if count > limits.max_elements:
            raise _too_complex(name, f"it has more than {limits.max_elements:,} elements")
        _check_element(element, name, limits)
    _check_uses(root, name, limits)
    width, height = _size(root, name)
    root.set("width", repr(width))
    root.set("height", repr(height))
    return CheckedSvg(etree.tostring(root, encoding="utf-8"), width, height)


def svg_size(data: bytes, name: str = "") -> tuple[float, float]:
    """Width and height in CSS pixels (96 to the inch); from the view box where the size is relative.

    Raises ShopError as ``check_svg`` does for what cannot be read.
    """
    return _size(_parsed(data, name, DEFAULT_LIMITS), name)


def _parsed(data: bytes, name: str, limits: SvgLimits) -> etree._Element:
    if len(data) > limits.max_bytes:
        raise _too_complex(name, f"it has {len(data):,} bytes, more than {limits.max_bytes:,}")
    plain = data.replace(b"\0", b"")  # UTF-16 markup shows its ASCII this way
    if b"<!ENTITY" in plain or re.search(rb"<!DOCTYPE[^>\[]*\[", plain):
        raise ShopError(
            "svg-entities",
            "it declares entities or a document type of its own, which can hide other files or blow up",
            "save it again as plain SVG",
            Where(name),
        )
    parser = etree.XMLParser(
        resolve_entities=False, no_network=True, load_dtd=False, huge_tree=False, remove_comments=True
    )
    try:
        root = etree.fromstring(data, parser)
    except etree.XMLSyntaxError as error:
        raise ShopError(
            "svg-damaged",
            f"the drawing cannot be read ({error.msg})",
            "open it in your drawing program and save it again as plain SVG",
            Where(name, line=error.lineno),
        ) from None
    if root.tag != f"{{{SVG}}}svg":
        raise ShopError(
            "svg-damaged",
            "its outermost element is not an SVG drawing",
            "save it again as plain SVG",
            Where(name),
        )
    if any(isinstance(node, etree._ProcessingInstruction) for node in _before(root)):
        raise _outside(name, "a style sheet")
    return root


def _before(root: etree._Element) -> Iterator[etree._Element]:
    node = root.getprevious()
    while node is not None:
        yield node
        node = node.getprevious()


def _walk(root: etree._Element) -> Iterator[tuple[etree._Element, int]]:
    """Every SVG element with its depth. Drops editors' private elements and instructions on the way."""
    stack = [(root, 1)]
    while stack:
        element, depth = stack.pop()
        yield element, depth
        for child in list(element):
            if isinstance(child.tag, str) and etree.QName(child).namespace in (SVG, _XINCLUDE):
                stack.append((child, depth + 1))
            else:
                _drop(child)


def _drop(child: etree._Element) -> None:
    parent, tail, previous = child.getparent(), child.tail, child.getprevious()
    if parent is None:
        return
    if tail and previous is not None:
        previous.tail = (previous.tail or "") + tail
    elif tail:
        parent.text = (parent.text or "") + tail
    parent.remove(child)


def _check_element(element: etree._Element, name: str, limits: SvgLimits) -> None:
    tag = etree.QName(element)
    if tag.namespace == _XINCLUDE:
        raise _outside(name, "an XInclude")
    kind = tag.localname
    if kind in _SCRIPTED:
        raise _script(name, f"a {kind} element", element)
    if kind in _FOREIGN:
        raise ShopError(
            "svg-foreign-content",
            f"it holds a {kind} element, which is not drawing",
            "replace that part by shapes, or export the design as PNG",
            Where(name, line=_line(element)),
        )
    if kind in _LIVE_TEXT and "".join(str(part) for part in element.itertext()).strip():
        raise ShopError(
            "svg-live-text",
            "it holds live text, which looks different on every machine because fonts differ",
            "convert the text to outlines (paths) and save it again",
            Where(name, line=_line(element)),
        )
    if kind == "style":
        _check_css("".join(str(part) for part in element.itertext()), name, limits)
    if kind.startswith("fe") or kind == "filter":
        _check_filter(element, kind, name, limits)
    for key, value in element.attrib.items():
        _check_attribute(etree.QName(key).localname, str(value), name, limits, element)


def _check_attribute(key: str, value: str, name: str, limits: SvgLimits, element: etree._Element) -> None:
    if re.fullmatch(r"on[a-z]+", key, re.IGNORECASE):
        raise _script(name, f"an {key} handler", element)
    if key in ("href", "src", "base"):
        _check_link(value.strip(), name, limits)
    elif "url" in value.lower() or "\\" in value or key == "style":
        _check_css(value, name, limits)


def _check_css(css: str, name: str, limits: SvgLimits) -> None:
    plain = _ESCAPE.sub(lambda m: chr(min(int(m[1], 16), 0x10FFFF)) if m[1] else m[2], css)
    if "@import" in plain.lower():
        raise _outside(name, "an imported style sheet")
    for link in _URL.findall(plain):
        _check_link(link.strip(), name, limits)


def _check_link(link: str, name: str, limits: SvgLimits) -> None:
    if not link or link.startswith("#"):
        return
    match = _PICTURE_DATA.match(link)
    if match is None:
        raise _outside(name, repr(link if len(link) <= 60 else link[:57] + "..."))
    try:
        picture = base64.b64decode("".join(link[match.end() :].split()), validate=True)
    except (binascii.Error, ValueError):
        raise ShopError(
            "svg-damaged",
            "a picture inside the drawing is damaged",
            "embed the picture again, or export the design as PNG",
            Where(name),
        ) from None
    inspect(picture, f"{name}, picture inside" if name else "picture inside", limits.pictures)


def _check_filter(element: etree._Element, kind: str, name: str, limits: SvgLimits) -> None:
    if kind == "filter" and len(element) > limits.max_filter_steps:
        raise _too_complex(name, f"a filter has {len(element)} steps, more than {limits.max_filter_steps}")
    for key in ("radius", "stdDeviation", "order", "numOctaves"):
        for number in re.findall(r"[0-9.]+(?:e[+-]?\d+)?", element.get(key, ""), re.IGNORECASE):
            if _number(number) > limits.max_filter_reach:
                raise _too_complex(
                    name, f"a filter's {key} is {number}, more than {limits.max_filter_reach:g}"
                )


def _check_uses(root: etree._Element, name: str, limits: SvgLimits) -> None:
    """Count what is drawn once every ``use`` is written out; a ``use`` inside itself is refused.

    Worked bottom up without recursion, so that neither depth nor doubling can run away.
    """
    by_id = {e.get("id"): e for e in root.iter() if e.get("id")}
    drawn: dict[etree._Element, int] = {}
    open_now: set[etree._Element] = set()
    stack: list[tuple[etree._Element, bool]] = [(root, False)]
    while stack:
        element, finished = stack.pop()
        needed = [*element, *_used(element, by_id)]
        if finished:
            open_now.discard(element)
            drawn[element] = 1 + sum(drawn.get(part, 0) for part in needed)
            if drawn[element] > limits.max_drawn:
                raise _too_complex(name, f"its repeated parts draw more than {limits.max_drawn:,} elements")
        elif element not in drawn:
            if element in open_now:
                continue
            open_now.add(element)
            stack.append((element, True))
            for part in needed:
                if part in open_now:
                    raise _too_complex(name, "a part of it repeats itself without end")
                stack.append((part, False))


def _used(element: etree._Element, by_id: dict[str | None, etree._Element]) -> list[etree._Element]:
    if etree.QName(element).localname != "use":
        return []
    link = element.get("href") or element.get("{http://www.w3.org/1999/xlink}href") or ""
    target = by_id.get(link.strip().removeprefix("#"))
    return [] if target is None else [target]


def _size(root: etree._Element, name: str) -> tuple[float, float]:
    box = [_number(part) for part in re.split(r"[\s,]+", (root.get("viewBox") or "").strip()) if part]
    has_box = len(box) == 4 and box[2] > 0 and box[3] > 0
    width, height = (_pixels(root.get(key)) for key in ("width", "height"))
    if has_box:
        if width and not height:
            height = width * box[3] / box[2]
        elif height and not width:
            width = height * box[2] / box[3]
        width, height = width or box[2], height or box[3]
    if not width or not height or width > 1e6 or height > 1e6:
        raise ShopError(
            "svg-without-size",
            "it states neither a usable width and height nor a view box",
            'give its first element a viewBox, like viewBox="0 0 3600 4500"',
            Where(name),
        )
    return width, height


def _pixels(length: str | None) -> float | None:
    match = _LENGTH.fullmatch(length or "")
    return _number(match[1]) * _UNIT_PX[(match[2] or "").lower()] if match else None


def _line(element: etree._Element) -> int | None:
    line: object = element.sourceline
    return line if isinstance(line, int) else None


def _number(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        return 0.0


def _outside(name: str, what: str) -> ShopError:
    return ShopError(
        "svg-outside-link",
        f"it links to something outside itself ({what}), and that is never opened",
        "embed the linked part in the drawing, or export the design as PNG",
        Where(name),
    )


def _script(name: str, what: str, element: etree._Element) -> ShopError:
    return ShopError(
        "svg-script",
        f"it holds a script ({what})",
        "save it again as plain SVG, or export the design as PNG",
        Where(name, line=_line(element)),
    )


def _too_complex(name: str, what: str) -> ShopError:
    return ShopError(
        "svg-too-complex", what, "simplify the drawing, or export the design as PNG", Where(name)
    )
