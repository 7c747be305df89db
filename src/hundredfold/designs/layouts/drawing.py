"""A layout's drawing: SVG parsed from bytes, made safe, with its units, styles and transforms."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from lxml import etree

from hundredfold.designs.layouts.elements import drop, elements, text_of
from hundredfold.designs.layouts.transforms import Matrix, compose, parse_transform
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.units import MM_PER_INCH

SVG = "http://www.w3.org/2000/svg"
XLINK = "http://www.w3.org/1999/xlink"
INKSCAPE = "http://www.inkscape.org/namespaces/inkscape"
LABEL = "data-name"  # what an editor calls an element, besides its id
XML = "http://www.w3.org/XML/1998/namespace"

_KEPT_NAMESPACES = (SVG, XLINK, XML, None)
_DROPPED = frozenset(
    {"script", "foreignObject", "metadata", "title", "desc", "animate", "animateTransform", "set"}
)
_UNIT_MM = {
    "mm": 1.0,
    "cm": 10.0,
    "in": MM_PER_INCH,
    "pt": MM_PER_INCH / 72,
    "pc": MM_PER_INCH / 6,
    "q": 0.25,
}
_ABSURD = 1e9  # no drawing is as large
_DEFAULT_DPI = 300.0  # a drawing without real units is taken as pixels of a print file
_INHERITED = frozenset(
    (
        "fill",
        "font-family",
        "font-style",
        "font-size",
        "font-weight",
        "text-anchor",
        "letter-spacing",
        "stroke",
        "stroke-width",
    )
)


@dataclass(frozen=True, eq=False)
class Drawing:
    """A parsed drawing. ``view`` is (left, top, width, height) in its units."""

    root: etree._Element
    name: str
    view: tuple[float, float, float, float]
    mm_per_unit: float
    rules: tuple[tuple[str, dict[str, str]], ...]

    def by_id(self, reference: str) -> etree._Element | None:
        """The element that ``#name`` or ``url(#name)`` points at."""
        wanted = reference.strip().removeprefix("url(").removesuffix(")").strip("'\"").removeprefix("#")
        by_id = next((e for e in elements(self.root) if e.get("id") == wanted), None)
        return (
            by_id
            if by_id is not None
            else next((e for e in elements(self.root) if e.get(LABEL) == wanted), None)
        )

    def hidden(self, element: etree._Element) -> bool:
        """Whether the element, or a layer it is in, is switched off."""
        return any(self._own(e, "display") == "none" for e in (element, *element.iterancestors()))

    def style(self, element: etree._Element, name: str) -> str:
        """A property from the element's style, its rules or attributes, or inherited; "" when none says."""
        at: etree._Element | None = element
        while at is not None:
            value = self._own(at, name)
            if value and value != "inherit":
                return value
            if name not in _INHERITED:
                return ""
            at = at.getparent()
        return ""

    def _own(self, element: etree._Element, name: str) -> str:
        inline = _declarations(element.get("style", ""))
        if name in inline:
            return inline[name]
        for selector, values in reversed(self.rules):
            if name in values and matches(selector, element):
                return values[name]
        return str(element.get(name, "")).strip()

    def matrix(self, element: etree._Element) -> Matrix:
        """From the element's own coordinates to the drawing's."""
        chain: list[Matrix] = []
        at: etree._Element | None = element
        while at is not None and at.getparent() is not None:
            chain.append(parse_transform(at.get("transform", "")))
            at = at.getparent()
        return compose(*reversed(chain))


def read_drawing(data: bytes, name: str) -> Drawing:
    """Parse an SVG. Raises ShopError ``bad-layout`` when it is none, is broken, or has no size."""
    # Entities are expanded from the file itself only (editors write them); nothing is fetched.
    parser = etree.XMLParser(
        no_network=True, load_dtd=False, huge_tree=False, remove_comments=True, remove_pis=True
    )
    try:
        root = etree.fromstring(data, parser)
    except etree.XMLSyntaxError as error:
        line, _ = error.position
        fix = "save the drawing again from your editor, as plain SVG"
        raise ShopError("bad-layout", f"it is not sound SVG: {error.msg}", fix, Where(name, line)) from error
    if root.tag != f"{{{SVG}}}svg":
        raise ShopError("bad-layout", "it is not an SVG drawing", "export it as SVG", Where(name))
    _clean(root)
    view = _view(root, name)
    return Drawing(root, name, view, _mm_per_unit(root, view), tuple(_rules(root)))


def local(element: etree._Element) -> str:
    """An element's name without its namespace; "" for comments and the like."""
    return etree.QName(element).localname if isinstance(element.tag, str) else ""


def number(text: str, default: float = 0.0) -> float:
    """The number at the start of an attribute such as ``12.5px``; the default for none or an absurd one."""
    found = re.match(r"\s*([+-]?[0-9]*\.?[0-9]+(?:e[+-]?[0-9]+)?)", text or "", re.IGNORECASE)
    value = float(found.group(1)) if found else default
    return value if abs(value) < _ABSURD else default


def millimetres(text: str) -> float | None:
    """A length such as ``2mm``, ``6pt`` or ``0.1in`` in millimetres; None when it has no such unit."""
    found = re.fullmatch(r"\s*(-?[0-9]*\.?[0-9]+)\s*([a-z]+)\s*", text or "", re.IGNORECASE)
    unit = found.group(2).lower() if found else ""
    return float(found.group(1)) * _UNIT_MM[unit] if found and unit in _UNIT_MM else None


def _clean(root: etree._Element) -> None:
    for element in list(elements(root)):
        space = etree.QName(element).namespace
        if element is not root and (space not in _KEPT_NAMESPACES or local(element) in _DROPPED):
            drop(element)
            continue
        label = element.get(f"{{{INKSCAPE}}}label")
        if label and not element.get(LABEL):
            element.set(LABEL, label)
        for key in list(element.attrib):
            qualified = etree.QName(str(key))
            if qualified.namespace not in _KEPT_NAMESPACES or qualified.localname.startswith("on"):
                del element.attrib[key]
    etree.cleanup_namespaces(root, top_nsmap={"xlink": XLINK})


def _view(root: etree._Element, name: str) -> tuple[float, float, float, float]:
    parts = re.split(r"[\s,]+", root.get("viewBox", "").strip())
    if len(parts) == 4:
        left, top, width, height = (number(part) for part in parts)
    else:
        left, top, width, height = 0.0, 0.0, number(root.get("width", "")), number(root.get("height", ""))
    if width <= 0 or height <= 0:
        fix = 'give it a viewBox, like viewBox="0 0 3600 4500"'
        raise ShopError("bad-layout", "the drawing has no size", fix, Where(name))
    return left, top, width, height


def _mm_per_unit(root: etree._Element, view: tuple[float, float, float, float]) -> float:
    width = millimetres(root.get("width", ""))
    return width / view[2] if width else MM_PER_INCH / _DEFAULT_DPI


def _declarations(text: str) -> dict[str, str]:
    pairs = (part.partition(":") for part in text.split(";") if ":" in part)
    return {name.strip().lower(): value.replace("!important", "").strip() for name, _, value in pairs}


def _rules(root: etree._Element) -> Iterator[tuple[str, dict[str, str]]]:
    """Style rules whose selector is one name, class or id: what drawing programs write."""
    for sheet in root.iter(f"{{{SVG}}}style"):
        text = re.sub(r"/\*.*?\*/", "", text_of(sheet), flags=re.DOTALL)
        for selectors, body in re.findall(r"([^{}]+)\{([^{}]*)\}", text):
            for selector in selectors.split(","):
                yield selector.strip(), _declarations(body)


def matches(selector: str, element: etree._Element) -> bool:
    """Whether a selector of one name, class or id means the element."""
    if selector.startswith("."):
        return selector[1:] in element.get("class", "").split()
    if selector.startswith("#"):
        return element.get("id") == selector[1:]
    return local(element) == selector or selector == "*"
