"""The pieces that starter layouts are drawn from: colours by role, texts, boxes, places for pictures."""

import math
from collections.abc import Mapping

from tools.sampleart.kit import disc, number, place, ring

NAMES = ("ink", "accent", "second", "paper", "spot", "plate", "mark")
CREAM, WHITE = "#fbf4e4", "#fff8ea"
# ink, accent, second, paper, spot (on ink), plate
_LIGHT = {
    "": ("#1f2a3c", "#c2412d", "#d99a2b", CREAM, "#f2b94c", CREAM),
    "honey": ("#3a2414", "#b5651d", "#e0a126", "#fff3d6", "#f5bd4a", "#fff3d6"),
    "garden": ("#1f3d2b", "#c8571f", "#7da04a", CREAM, "#c9dc8a", CREAM),
    "sea": ("#12324a", "#d9573f", "#2f8fa8", "#eef8f7", "#8fd3e0", "#eef8f7"),
    "tower": ("#2b2440", "#a8322b", "#c98f2c", CREAM, "#f0c36a", CREAM),
    "canal": ("#14463a", "#b3262e", "#d9a62e", CREAM, "#f3cf6b", CREAM),
    "choir": ("#4b1d4f", "#c43c63", "#c78a3a", "#fdf1ee", "#f6a9bf", "#fdf1ee"),
    "spring": ("#2c4a3e", "#d4567f", "#8fb84a", "#fffaf0", "#f7c9d6", "#fffaf0"),
    "summer": ("#0f4c5c", "#e4572e", "#f0a202", "#fff8e7", "#ffd166", "#fff8e7"),
    "autumn": ("#3d2b1f", "#b8451b", "#d48c2b", "#fdf3e3", "#f2b36a", "#fdf3e3"),
    "winter": ("#1d2f4f", "#a61e36", "#7f9fbf", "#f4f8fb", "#c9dcec", "#f4f8fb"),
    "festive": ("#123f2d", "#b3202c", "#c99a3b", "#fdf6e8", "#f0cf7a", "#fdf6e8"),
    "one ink": ("#1b1b1b", "#1b1b1b", "#5a5a5a", "#ffffff", "#d9d9d9", "#ffffff"),
}
_DARK = {
    "": (CREAM, "#ff8a66", "#f4c05a", "#1f2a3c", "#b5372a", WHITE),
    "honey": ("#ffe9b8", "#f5b83d", "#e8963a", "#3a2414", "#8a4a10", WHITE),
    "garden": ("#eef3d8", "#f29a5b", "#a9c45f", "#1f3d2b", "#4c7a32", WHITE),
    "sea": ("#e6f5f6", "#ff8f78", "#6cc5d6", "#12324a", "#1f6f8b", WHITE),
    "tower": ("#f7ecd6", "#f07a6a", "#e8b552", "#2b2440", "#93312a", WHITE),
    "canal": ("#f6efd9", "#f0686e", "#eec257", "#14463a", "#9d222a", WHITE),
    "choir": ("#fde6ec", "#ff8fb0", "#efbd72", "#4b1d4f", "#a12d52", WHITE),
    "spring": ("#f4f7e6", "#f79ab7", "#b7d66e", "#2c4a3e", "#a83560", WHITE),
    "summer": ("#fff3d6", "#ff8f5e", "#ffc84a", "#0f4c5c", "#b23d12", WHITE),
    "autumn": ("#fbead0", "#f08a4b", "#e8b04f", "#3d2b1f", "#8f3a12", WHITE),
    "winter": ("#eef5fb", "#f2788a", "#a9c6e2", "#1d2f4f", "#8c1f36", WHITE),
    "festive": ("#fbf1d8", "#f07a7a", "#e5bd62", "#123f2d", "#97202b", WHITE),
    "one ink": ("#ffffff", "#ffffff", "#c4c4c4", "#1b1b1b", "#3a3a3a", WHITE),
}
# A plate is light on any goods: pictures lie on it. A mark is dark on any: for words on a plate.
LIGHT: Mapping[str, tuple[str, ...]] = {name: (*colours, colours[0]) for name, colours in _LIGHT.items()}
DARK: Mapping[str, tuple[str, ...]] = {name: (*colours, colours[3]) for name, colours in _DARK.items()}
INK, ACCENT, SECOND, PAPER, SPOT, PLATE, MARK = (f"role-{name}" for name in NAMES)


def text(words: str, font: str, size: float, role: str, x: float = 1800, y: float = 0, **data: object) -> str:
    """A text with slots; keywords are our attributes, with underscores for hyphens."""
    name, _, weight = font.partition(":")
    ours = "".join(f' data-{key.replace("_", "-")}="{value}"' for key, value in data.items())
    heavy = f' font-weight="{weight}"' if weight else ""
    return (
        f'<text x="{number(x)}" y="{number(y)}" font-family="{name}"{heavy} font-size="{number(size)}" '
        f'text-anchor="middle" fill="role-{role}"{ours}>{words}</text>\n'
    )


def arc(name: str, cx: float, cy: float, r: float, span: float, under: bool = False) -> str:
    """Part of a circle, about its top or its bottom, left to right."""
    half = math.radians(span / 2)
    x, y = r * math.sin(half), r * math.cos(half) * (1 if under else -1)
    sweep, large = (0 if under else 1), (1 if span > 180 else 0)
    return curve(
        name,
        f"M{number(cx - x)} {number(cy + y)}A{number(r)} {number(r)} 0 {large} {sweep} {number(cx + x)} {number(cy + y)}",
    )


def curve(name: str, data: str) -> str:
    """A path to set text along, seen in the editor only."""
    return f'<path id="{name}" d="{data}" fill="none" stroke="#00a0ff" data-guide="yes"/>\n'


def box(name: str, left: float, top: float, width: float, height: float) -> str:
    """A box for text, seen in the editor only."""
    return (
        f'<rect id="{name}" x="{number(left)}" y="{number(top)}" width="{number(width)}" height="{number(height)}" '
        'fill="none" stroke="#00a0ff" data-guide="yes"/>\n'
    )


def art(
    slot: str, left: float, top: float, width: float, height: float, recolour: str = "", stack: str = ""
) -> str:
    """A place for a picture."""
    more = f' data-recolour="{recolour}"' if recolour else ""
    more += f' data-stack="{stack}"' if stack else ""
    return (
        f'<rect x="{number(left)}" y="{number(top)}" width="{number(width)}" height="{number(height)}" '
        f'fill="none" data-art="{{{slot}}}"{more}/>\n'
    )


def round_art(slot: str, x: float, y: float, r: float, stack: str = "") -> str:
    """A round place for a picture: its ink fits the circle."""
    more = f' data-stack="{stack}"' if stack else ""
    return f'<circle cx="{number(x)}" cy="{number(y)}" r="{number(r)}" fill="none" data-art="{{{slot}}}"{more}/>\n'


def stacked(svg: str, x: float, y: float) -> str:
    """An ornament in the stack of the layout's frame."""
    return f'<g data-stack="#frame">{place(svg, x, y)}</g>\n'


def plated(x: float, y: float, r: float, grow: str, line: str = SECOND, more: str = "") -> str:
    """A picture on a round plate in the stack, as large as the words let it be."""
    return (
        f'<g data-when="picture" data-stack="#frame" data-grow="{grow}"{more}>{disc(x, y, r, PLATE)}'
        f"{ring(x, y, r, line, r / 22)}{round_art('picture?', x, y, r * 0.82)}</g>"
    )
