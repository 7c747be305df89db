"""What vector editors save besides plain text: text in a shape, flowed text, and styling that is not kept."""

import re

from lxml import etree

from hundredfold.designs.layouts.drawing import SVG, Drawing, local
from hundredfold.designs.layouts.elements import attributes, elements, line_of, replace, set_line_of, text_of
from hundredfold.designs.layouts.shapes import box_of

# Attributes and properties of a text that say more than we set, and how to say it otherwise.
_ATTRIBUTES = ("rotate", "textLength", "dx")
_PROPERTIES = {
    "text-decoration": ("none",),
    "text-decoration-line": ("none",),
    "font-variant": ("normal",),
    "writing-mode": ("lr-tb", "horizontal-tb", "lr"),
}


def unflow(drawing: Drawing) -> None:
    """Flowed text (a draft of SVG 1.2 that editors still save) becomes a text in its region's box."""
    for flow in list(drawing.root.iter(f"{{{SVG}}}flowRoot")):
        region = next((e for e in elements(flow) if local(e) in ("rect", "path", "circle", "ellipse")), None)
        words = " ".join(text_of(e) for e in elements(flow) if local(e) in ("flowPara", "flowSpan")).split()
        if region is None or not words:
            continue
        box = box_of(region)
        text = etree.Element(f"{{{SVG}}}text", attributes(flow))
        text.set("data-box", f"{box.left:g} {box.top:g} {box.width:g} {box.height:g}")
        if text.get("data-fit") is None:
            text.set("data-fit", "box")
            text.set("data-max-size", drawing.style(flow, "font-size") or "16")
            text.set("data-valign", "top")
        text.text = " ".join(words)
        set_line_of(text, line_of(flow))
        replace(flow, text)


def lost_styling(drawing: Drawing) -> list[tuple[int | None, str]]:
    """The line and the name of each styling of a text that the setting does not keep."""
    found: list[tuple[int | None, str]] = []
    for text in drawing.root.iter(f"{{{SVG}}}text"):
        names: list[str] = []
        for part in elements(text):
            names += [name for name in _ATTRIBUTES if re.search(r"[1-9]", part.get(name, ""))]
            for name, usual in _PROPERTIES.items():
                value = drawing.style(part, name)
                if value and value not in usual:
                    names.append(f"{name}: {value}")
        found.extend((line_of(text), name) for name in dict.fromkeys(names))
    return found
