"""The ``data-`` attributes of a layout: their list, and reading them into slots."""

import math
import re

from lxml import etree

from hundredfold.designs.layouts.casing import CASES
from hundredfold.designs.layouts.drawing import XLINK, Drawing, local, millimetres, number
from hundredfold.designs.layouts.elements import elements, line_of
from hundredfold.designs.layouts.pattern import parse_pattern
from hundredfold.designs.layouts.shapes import box_of, curve_of, mapped
from hundredfold.designs.layouts.slots import (
    ALIGNS,
    FITS,
    SMALLS,
    VALIGNS,
    ArtSlot,
    Edge,
    Shadow,
    SpanStyle,
    TextSlot,
)
from hundredfold.designs.layouts.textspans import LEAN, font_weight, read_spans
from hundredfold.designs.layouts.transforms import Matrix, compose, inverse, map_box, scale_of
from hundredfold.designs.typesetting.curves import Curve
from hundredfold.designs.typesetting.outline import Bounds
from hundredfold.designs.typesetting.spans import plain
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.nearest import did_you_mean

ATTRIBUTES = {
    "data-fit": "width: one line as wide as its box; box: best lines at the largest size; path: along a "
    "path; none: at its own size. On a picture: inside, cover, or photo (a photograph covers, a drawing "
    "lies inside)",
    "data-box": "the box: #name of a rectangle, or left top width height",
    "data-path": "the path to run along: #name of a path, circle, ellipse or line",
    "data-side": "on a circle: over (the top) or under (the bottom, letters upright)",
    "data-hang": "which part of the letters lies on the path: base, middle or top",
    "data-align": "start, middle, end; level: every line as wide as the block",
    "data-valign": "top, middle or bottom of the box",
    "data-case": "upper, lower, title or sentence, by the layout's language",
    "data-tracking": "space between letters in em: one number, or the least and the most",
    "data-min-x-height": "the smallest x-height that is still good, in mm or pt",
    "data-max-size": "the largest size, in the drawing's units",
    "data-lines": "the most lines",
    "data-leading": "from line to line, in em",
    "data-band": "on a path: how far ink may reach above and below it, in the drawing's units, accents "
    "included",
    "data-same": "a name: slots that share it take one size, as the items of a list",
    "data-stack": "#name of a rectangle: what carries it is stacked there without holes, in drawing order",
    "data-behind": "yes: words may lie over its edge",
    "data-hyphens": "yes: in a box, words may be broken with hyphens, by the layout's language",
    "data-gap": "between level lines, in the drawing's units",
    "data-small": "small words between level lines (of, the, and): rules beside them, plain, or no such "
    "lines",
    "data-outline": "outlines behind the letters: width in mm and colour, innermost first",
    "data-shadow": "a hard shadow: right and down in mm, and its colour",
    "data-distress": "worn print: how strong, 0 to 0.6, and a seed; or #name of a mask",
    "data-art": "a picture's place: the slot with its file name, {picture}",
    "data-recolour": "one colour or role for the whole picture",
    "data-when": "shown only when this column is not empty; helper words may stand before it",
    "data-unless": "shown only when this column is empty: the other way round from data-when",
    "data-grow": "on a picture in a stack, or a group of a picture and shapes: the least and the most times "
    "its drawn size, as the words leave room; left out where even the least has none",
    "data-guide": "yes: seen in the editor only",
    "data-fill": "the role that fills it",
    "data-emphasis": "what *stars* in a cell ask for: a colour or role, bold, italic, a size such as 1.2",
    "data-stroke": "the role that draws its line",
    "data-stop": "the role of a gradient's stop",
    "data-light": "colours by role for light goods; more palettes after a bar, with a name",
    "data-dark": "the same for dark goods",
    "data-slot-number": "set by the program while it works",
}
_RISE = {"base": 0.0, "middle": -0.5, "top": -1.0}  # of the letters' height, by what lies on the path
_FARTHEST = 1e7  # units; past this a number is a slip of the pen
_DEFAULT_X_HEIGHT_MM = 1.0  # common practice for text on printed goods, no source


class Reader:
    """Reads the slots of one drawing."""

    def __init__(self, drawing: Drawing, roles: frozenset[str] = frozenset()) -> None:
        self.drawing, self.roles = drawing, roles

    def text(self, element: etree._Element, slot_number: int) -> TextSlot:
        """The text slot an element describes. Raises ShopError naming file, line and attribute."""
        written, spans = read_spans(self.drawing, element, self._fonts(element))
        content = " ".join(written.split())
        pattern = parse_pattern(content, self._where(element))
        matrix = self.drawing.matrix(element)
        size = self._size(element)
        span = next((child for child in element if local(child) == "tspan"), element)
        curve, box = self._curve(element), self._box(element)
        shape = self._shape(element) if box is None and curve is None else None
        box = box or shape
        fit = "box" if shape is not None else self._fit(element, curve, box)
        placed = box is not None or curve is not None
        align = (
            "middle" if placed and shape is None else self.drawing.style(element, "text-anchor") or "start"
        )
        largest = self._number(
            element, "data-max-size", math.inf if fit in ("width", "box") and shape is None else size, "480"
        )
        return TextSlot(
            number=slot_number,
            label=plain(content),
            pattern=pattern,
            fonts=self._fonts(element),
            weight=font_weight(self.drawing.style(element, "font-weight")),
            size=size,
            x=number(element.get("x") or span.get("x") or "0"),
            y=number(element.get("y") or span.get("y") or "0"),
            fit=fit,
            box=box,
            curve=curve,
            rise=_RISE[self._choice(element, "data-hang", tuple(_RISE), "base")],
            align=self._choice(element, "data-align", ALIGNS, align),
            valign=self._choice(element, "data-valign", VALIGNS, "middle" if shape is None else "top"),
            case=self._choice(element, "data-case", ("none", *CASES), "none"),
            tracking=self._tracking(element, size),
            least_x_height_mm=self._length(element, "data-min-x-height", _DEFAULT_X_HEIGHT_MM),
            largest=largest,
            most_lines=int(self._number(element, "data-lines", 8, "3")),
            leading=self._number(element, "data-leading", 0.0, "1.1") or None,
            gap=self._number(element, "data-gap", size * 0.1, "80"),
            small=self._choice(element, "data-small", SMALLS, "rules"),
            fill=element.get("data-fill") or self.drawing.style(element, "fill") or "#000000",
            spans=(self._emphasis(element), *spans),
            pen=self._pen(element),
            edges=self._edges(element),
            shadow=self._shadow(element),
            band=self._band(element),
            same=element.get("data-same", ""),
            stack=self.frame(element),
            behind=self._yes(element, "data-behind"),
            hyphens=self._yes(element, "data-hyphens"),
            page=self._page(matrix),
            matrix=matrix,
            mm_per_unit=self.drawing.mm_per_unit * scale_of(matrix),
        )

    def _emphasis(self, element: etree._Element) -> SpanStyle:
        """What *stars* in a cell ask for: a colour or a role, bold, italic, and a size as a share."""
        fonts, weight = self._fonts(element), font_weight(self.drawing.style(element, "font-weight"))
        fill = element.get("data-fill") or self.drawing.style(element, "fill") or "#000000"
        text = element.get("data-emphasis")
        if text is None:
            known = next(
                (role for role in ("accent", "second", "spot") if role in self.roles and role != fill), ""
            )
            return SpanStyle(known or fill, fonts, weight, 1.0, 0.0 if known else LEAN)
        scale, lean = 1.0, 0.0
        for word in text.split():
            if word == "bold":
                weight = max(weight, 700)
            elif word == "italic":
                lean = LEAN
            elif re.fullmatch(r"[0-9.]+", word):
                scale = number(word, 1.0)
            else:
                fill = word
        return SpanStyle(fill, fonts, weight, scale, lean)

    def _yes(self, element: etree._Element, name: str) -> bool:
        return self._choice(element, name, ("yes", "no"), "no") == "yes"

    def _band(self, element: etree._Element) -> tuple[float, float] | None:
        text = element.get("data-band")
        if text is None:
            return None
        parts = [number(part, math.nan) for part in re.split(r"[\s,]+", text.strip())]
        if len(parts) != 2 or any(math.isnan(part) for part in parts) or sum(parts) <= 0:
            raise self._error(
                element, "data-band", f"{text!r} is not a band", "write above and below: 180 180"
            )
        return parts[0], parts[1]

    def frame(self, element: etree._Element) -> str:
        """The rectangle an element is stacked in, "" for none."""
        text = element.get("data-stack", "")
        if text:
            self._sound(element, text, box_of(self._named(element, "data-stack", text)))
        return text

    def _page(self, matrix: Matrix) -> Bounds:
        left, top, width, height = self.drawing.view
        return map_box(inverse(matrix), Bounds(left, top, left + width, top + height))

    def _size(self, element: etree._Element) -> float:
        size = number(self.drawing.style(element, "font-size"), 16.0)
        if not 0 < size < _FARTHEST:
            raise self._error(element, "font-size", f"{size:g} is no size for text", "give it one like 300")
        return size

    def _fit(self, element: etree._Element, curve: Curve | None, box: Bounds | None) -> str:
        fit = self._choice(element, "data-fit", FITS, "path" if curve else "none")
        if fit in ("width", "box") and box is None:
            raise self._error(
                element, "data-fit", f'"{fit}" needs a box', 'add data-box="#name of a rectangle"'
            )
        if fit == "path" and curve is None:
            raise self._error(element, "data-fit", '"path" needs a path', 'add data-path="#name of a path"')
        return fit

    def art(self, element: etree._Element, slot_number: int) -> ArtSlot:
        """The art slot an element describes."""
        link = element.get("data-art") or element.get("href") or element.get(f"{{{XLINK}}}href") or ""
        pattern = parse_pattern(link, self._where(element))
        if len(pattern.slots) != 1:
            raise self._error(
                element, "data-art", f"{link!r} is not one slot", 'write it as data-art="{picture}"'
            )
        return ArtSlot(
            number=slot_number,
            label=link,
            pattern=pattern,
            box=box_of(element),
            fit=self._choice(element, "data-fit", ("inside", "cover", "photo"), "inside"),
            round=local(element) in ("circle", "ellipse"),
            stack=self.frame(element),
            recolour=element.get("data-recolour", ""),
            grows=element.get("data-grow") is not None,
            matrix=self.drawing.matrix(element),
        )

    def _where(self, element: etree._Element, attribute: str = "") -> Where:
        return Where(self.drawing.name, line_of(element), field=attribute)

    def _error(self, element: etree._Element, attribute: str, what: str, fix: str) -> ShopError:
        return ShopError("bad-layout", what, fix, self._where(element, attribute))

    def _choice(self, element: etree._Element, name: str, allowed: tuple[str, ...], default: str) -> str:
        value = element.get(name, default)
        if value not in allowed:
            fix = did_you_mean(value, list(allowed))
            raise self._error(element, name, f'"{value}" is not one of {", ".join(allowed)}', fix)
        return value

    def _number(self, element: etree._Element, name: str, default: float, example: str) -> float:
        text = element.get(name)
        if text is None:
            return default
        value = number(text, math.nan)
        if math.isnan(value) or value < 0:
            raise self._error(element, name, f"{text!r} is not a number", f"write it like {example}")
        return value

    def _length(self, element: etree._Element, name: str, default: float) -> float:
        text = element.get(name)
        if text is None:
            return default
        value = millimetres(text)
        if value is None or value < 0:
            raise self._error(element, name, f"{text!r} is not a length", "write it in mm or pt, like 1.2mm")
        return value

    def _fonts(self, element: etree._Element) -> tuple[str, ...]:
        named = self.drawing.style(element, "font-family")
        fonts = tuple(part.strip().strip("'\"") for part in named.split(",") if part.strip())
        if not fonts:
            raise self._error(element, "font-family", "the text names no font", "choose a font for it")
        return fonts

    def _tracking(self, element: etree._Element, size: float) -> tuple[float, float]:
        text = element.get("data-tracking")
        if text is None:
            spacing = self.drawing.style(element, "letter-spacing")
            unit = 1.0 if re.search(r"em\s*$", spacing) else 1 / size
            value = number(spacing) * unit
            return value, value
        parts = [number(part, math.nan) for part in re.split(r"[\s,]+", text.strip())]
        if len(parts) not in (1, 2) or any(math.isnan(part) for part in parts) or parts[0] > parts[-1]:
            raise self._error(
                element, "data-tracking", f"{text!r} is not a range", "write least and most: 0 0.12"
            )
        return parts[0], parts[-1]

    def _pen(self, element: etree._Element) -> tuple[str, float] | None:
        colour = element.get("data-stroke") or self.drawing.style(element, "stroke")
        width = number(self.drawing.style(element, "stroke-width"), 1.0)
        return (colour, width) if colour and colour != "none" and width > 0 else None

    def _edges(self, element: etree._Element) -> tuple[Edge, ...]:
        edges = []
        for part in element.get("data-outline", "").split(","):
            if not part.strip():
                continue
            found = re.fullmatch(r"\s*([0-9.]+)\s*mm\s+(\S+)\s*", part)
            if not found:
                raise self._error(
                    element, "data-outline", f"{part!r} is no outline", "write it as 1.2mm #ffffff"
                )
            edges.append(Edge(float(found.group(1)), found.group(2)))
        return tuple(edges)

    def _shadow(self, element: etree._Element) -> Shadow | None:
        text = element.get("data-shadow")
        if text is None:
            return None
        found = re.fullmatch(r"\s*(-?[0-9.]+)\s*mm\s+(-?[0-9.]+)\s*mm\s+(\S+)\s*", text)
        if not found:
            raise self._error(element, "data-shadow", f"{text!r} is no shadow", "write it as 1mm 1mm #000000")
        return Shadow(float(found.group(1)), float(found.group(2)), found.group(3))

    def _box(self, element: etree._Element) -> Bounds | None:
        text = element.get("data-box")
        if text is None:
            return None
        parts = re.split(r"[\s,]+", text.strip())
        if len(parts) == 4:
            left, top, width, height = (number(part) for part in parts)
            return self._sound(element, text, Bounds(left, top, left + width, top + height))
        other = self._named(element, "data-box", text)
        way = compose(inverse(self.drawing.matrix(element)), self.drawing.matrix(other))
        box = map_box(way, box_of(other))
        return self._sound(element, text, box)

    def _shape(self, element: etree._Element) -> Bounds | None:
        """The box of the shape an editor flows the text in."""
        inside = re.match(r"url\(\s*['\"]?(#[^)'\"]+)", self.drawing.style(element, "shape-inside"))
        if inside is None:
            return None
        other = self._named(element, "shape-inside", inside.group(1))
        way = compose(inverse(self.drawing.matrix(element)), self.drawing.matrix(other))
        return self._sound(element, inside.group(1), map_box(way, box_of(other)))

    def _sound(self, element: etree._Element, text: str, box: Bounds) -> Bounds:
        if not (box.width > 0 and box.height > 0 and max(map(abs, box)) < _FARTHEST):
            raise self._error(
                element, "data-box", f"{text} is not a rectangle with a size", "draw a rectangle"
            )
        return box

    def _curve(self, element: etree._Element) -> Curve | None:
        text = element.get("data-path")
        if text is None:
            run = next((child for child in element if local(child) == "textPath"), None)
            text = (run.get("href") or run.get(f"{{{XLINK}}}href")) if run is not None else None
        if text is None:
            return None
        other = self._named(element, "data-path", text)
        side = self._choice(element, "data-side", ("over", "under"), "over")
        curve = curve_of(other, side, self._where(element, "data-path"))
        return mapped(curve, compose(inverse(self.drawing.matrix(element)), self.drawing.matrix(other)))

    def _named(self, element: etree._Element, attribute: str, text: str) -> etree._Element:
        other = self.drawing.by_id(text)
        if other is None:
            known = [f"#{e.get('id')}" for e in elements(self.drawing.root) if e.get("id")]
            fix = did_you_mean(text, known)
            raise self._error(element, attribute, f"nothing in the drawing is called {text}", fix)
        return other
