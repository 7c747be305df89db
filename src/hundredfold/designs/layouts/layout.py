"""A layout read from its drawing: slots found, attributes checked, roles collected."""

import hashlib
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from lxml import etree

from hundredfold.designs.layouts.attributes import ATTRIBUTES, Reader
from hundredfold.designs.layouts.drawing import SVG, XLINK, XML, Drawing, local, number, read_drawing
from hundredfold.designs.layouts.editors import lost_styling, unflow
from hundredfold.designs.layouts.elements import attributes, elements, line_of, set_line_of, take, text_of
from hundredfold.designs.layouts.fixed import DrawnShape, drawn_shapes
from hundredfold.designs.layouts.pattern import Pattern, column_key, english_only, shown_when
from hundredfold.designs.layouts.roles import Palettes, parse_roles
from hundredfold.designs.layouts.slots import ArtSlot, TextSlot
from hundredfold.designs.layouts.stacks import drawn_tops, grow_of
from hundredfold.designs.typesetting.hyphens import has_patterns
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.nearest import did_you_mean

MARK = "data-slot-number"
SHAPE = "data-shape-number"  # on what the drawing shows besides its slots, while the program works


@dataclass(frozen=True, eq=False)
class Layout:
    """A drawing with its slots. ``roles`` maps a version ("light" or "dark"; none where there is only one)
    to its palettes.
    """

    name: str
    digest: str
    drawing: Drawing
    language: str
    texts: tuple[TextSlot, ...]
    arts: tuple[ArtSlot, ...]
    roles: Mapping[str, Palettes] = field(default_factory=dict)
    lost: tuple[tuple[int | None, str], ...] = ()  # line and name of styling that is not kept
    stacks: Mapping[str, Sequence[float]] = field(default_factory=dict)  # by frame, as ``drawn_tops`` gives
    shapes: tuple[tuple[str, str, DrawnShape], ...] = ()  # number, what it is in words, and its ink

    @property
    def versions(self) -> tuple[str, ...]:
        """The versions it can make, in order."""
        return tuple(self.roles) or ("",)

    def colours(self, version: str, palette: str) -> Mapping[str, str]:
        """The colours by role of a version in a palette; "" is the first of either.

        Raises ShopError ``no-palette``.
        """
        palettes = self.roles.get(version or self.versions[0])
        if palettes is None:
            return {}
        if not palette:
            return next(iter(palettes.values()))
        for name, colours in palettes.items():
            if column_key(name) == column_key(palette):
                return colours
        fix = did_you_mean(palette, [name for name in palettes if name])
        raise ShopError("no-palette", f"{self.name} has no palette called “{palette}”", fix)

    def columns(self) -> tuple[str, ...]:
        """Every column it asks for, as first written, in drawing order."""
        seen: dict[str, str] = {}
        for pattern in self._patterns():
            for name in pattern.columns():
                seen.setdefault(column_key(name), name)
        for element in elements(self.drawing.root):
            for name in _asked_by(element):
                seen.setdefault(column_key(name), name)
        return tuple(seen.values())

    def optional(self) -> frozenset[str]:
        """Keys of columns that may be empty: every mention is marked so, or only shows a part."""
        must, may = set[str](), set[str]()
        for pattern in self._patterns():
            for part in pattern.slots:
                words = {column_key(name) for name in part.words} | {column_key(" ".join(part.words))}
                (may if part.optional else must).update(words)
        when = {column_key(name) for e in elements(self.drawing.root) for name in _asked_by(e)}
        return frozenset((may | when) - must)

    def _patterns(self) -> tuple[Pattern, ...]:
        return (*(text.pattern for text in self.texts), *(art.pattern for art in self.arts))

    def fonts(self) -> tuple[tuple[str, int], ...]:
        """Every (font name, weight) it uses, in order of use."""
        return tuple(
            dict.fromkeys(
                (name, style.weight)
                for text in self.texts
                for style in (text.own_style, *text.spans)
                for name in style.fonts
            )
        )


def _asked_by(element: etree._Element) -> list[str]:
    """The columns that decide whether it is shown."""
    said = [text for key in ("data-when", "data-unless") if (text := element.get(key))]
    return [name for text in said for name in shown_when(text).columns()]


def parse_layout(data: bytes, name: str) -> Layout:
    """Read a layout.

    Raises ShopError ``bad-layout`` (broken drawing, unknown or unreadable attribute), ``bad-slot``,
    ``bad-path`` or ``bad-colour``; each names the file and what to change.
    """
    drawing = read_drawing(data, name)
    root = drawing.root
    language = root.get(f"{{{XML}}}lang") or root.get("lang") or "en"
    _check_attributes(drawing)
    unflow(drawing)
    _split_lines(drawing)
    roles = parse_roles(drawing)
    reader = Reader(drawing, frozenset(_role_names(roles)))
    lost = lost_styling(drawing)
    texts: list[TextSlot] = []
    arts: list[ArtSlot] = []
    for element in list(elements(root)):
        if drawing.hidden(element):
            continue
        if local(element) == "text" and text_of(element).strip():
            element.set(MARK, str(len(texts) + len(arts)))
            texts.append(reader.text(element, len(texts) + len(arts)))
        elif _asks_for_art(element):
            element.set(MARK, str(len(texts) + len(arts)))
            arts.append(reader.art(element, len(texts) + len(arts)))
    _check_links(drawing)
    _check_growing(drawing)
    layout = Layout(
        name=name,
        digest=hashlib.sha256(data).hexdigest(),
        drawing=drawing,
        language=language,
        texts=tuple(texts),
        arts=tuple(arts),
        roles=roles,
        lost=tuple(lost),
        stacks=drawn_tops(drawing, texts, arts),
        shapes=tuple(_fixed_shapes(drawing)),
    )
    _check_language(layout)
    _check_hyphens(layout)
    return layout


def _role_names(roles: Mapping[str, Palettes]) -> Iterator[str]:
    for palettes in roles.values():
        for colours in palettes.values():
            yield from colours


_SPOKEN = {"circle": "ring", "ellipse": "ring", "line": "line", "rect": "frame", "polyline": "line"}


def _fixed_shapes(drawing: Drawing) -> Iterator[tuple[str, str, DrawnShape]]:
    """What words must not run into: all that is drawn, but guides, slots and what says so itself."""
    for index, (element, shape) in enumerate(drawn_shapes(drawing, drawing.root)):
        around = [element, *element.iterancestors()]
        if any(
            e.get("data-guide") or e.get("data-behind") == "yes" or e.get(MARK) is not None for e in around
        ):
            continue
        element.set(SHAPE, str(index))
        yield str(index), _SPOKEN.get(local(element), "shape"), shape


def _asks_for_art(element: etree._Element) -> bool:
    if element.get("data-art") is not None:
        return True
    return local(element) == "image" and "{" in (element.get("href") or element.get(f"{{{XLINK}}}href") or "")


def _check_attributes(drawing: Drawing) -> None:
    for element in elements(drawing.root):
        for name in attributes(element):
            if name.startswith("data-") and name not in ATTRIBUTES and not name.startswith("data-name"):
                what = f'"{name}" on <{local(element)}> is not an attribute of ours'
                fix = did_you_mean(name, sorted(ATTRIBUTES))
                raise ShopError("bad-layout", what, fix, Where(drawing.name, line_of(element)))


def _check_links(drawing: Drawing) -> None:
    """Pictures come from slots or lie inside the file: a linked file would be missing at the partner's."""
    for element in drawing.root.iter(f"{{{SVG}}}image", f"{{{SVG}}}use"):
        link = element.get("href") or element.get(f"{{{XLINK}}}href") or ""
        if element.get(MARK) is None and link and not link.startswith(("#", "data:image/")):
            what = f"it links to another file, {link[:60]!r}"
            fix = "embed the picture in the drawing, or make it an art slot"
            raise ShopError("bad-layout", what, fix, Where(drawing.name, line_of(element)))


def _check_growing(drawing: Drawing) -> None:
    for element in elements(drawing.root):
        told = element.get("data-grow")
        if told is None:
            continue
        where = Where(drawing.name, line_of(element), field="data-grow")
        if grow_of(element) is None:
            fix = 'write two numbers, the smaller first: data-grow="0.5 2"'
            raise ShopError("bad-layout", f"{told!r} is no pair of numbers", fix, where)
        if not element.get("data-stack") or any(True for _ in element.iter(f"{{{SVG}}}text")):
            fix = "put it on a picture that has data-stack, or on such a group without words"
            raise ShopError("bad-layout", "only a picture in a stack can grow", fix, where)


def _check_hyphens(layout: Layout) -> None:
    for text in layout.texts:
        if text.hyphens and not has_patterns(layout.language):
            what = f'{text.label!r} asks for hyphens, and "{layout.language}" has no rules for them here'
            fix = 'take "data-hyphens" off, or name the layout\'s language: lang="de"'
            raise ShopError("bad-layout", what, fix, Where(layout.name))


def _check_language(layout: Layout) -> None:
    if layout.language.split("-")[0].lower() == "en":
        return
    for text in layout.texts:
        for helper in english_only(text.pattern):
            what = (
                f'"{helper}" in {text.label!r} knows English only, and the layout is in "{layout.language}"'
            )
            raise ShopError(
                "bad-slot", what, "write the whole phrase into the list's cells", Where(layout.name)
            )


def _split_lines(drawing: Drawing) -> None:
    """A text whose spans have places of their own is so many texts: drawing programs save lines this way."""
    for text in list(drawing.root.iter(f"{{{SVG}}}text")):
        if drawing.style(text, "shape-inside"):
            continue  # one text in a shape: its lines are broken anew
        spans = [c for c in text if local(c) == "tspan" and (c.get("x") or c.get("y"))]
        if len(spans) < 2:
            continue
        parent = text.getparent()
        if parent is None:
            continue
        place = parent.index(text)
        for offset, span in enumerate(spans):
            line = etree.Element(f"{{{SVG}}}text", attributes(text))
            take(line, "id")
            for key, value in attributes(span).items():
                if key == "style" and line.get("style"):
                    value = f"{line.get('style')};{value}"
                line.set(key, value)
            if span.get("y") is None:
                line.set("y", str(number(text.get("y", "")) + _em_steps(drawing, spans[: offset + 1])))
            line.text = text_of(span)
            set_line_of(line, line_of(text))
            parent.insert(place + offset, line)
        parent.remove(text)


def _em_steps(drawing: Drawing, spans: list[etree._Element]) -> float:
    total = 0.0
    for span in spans:
        step = span.get("dy", "")
        size = number(drawing.style(span, "font-size"), 16.0)
        total += number(step) * (size if re.search(r"em\s*$", step) else 1.0)
    return total
