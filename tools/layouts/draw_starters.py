"""Draw the starter layouts into src/hundredfold/starter_layouts/. Run: python -m tools.layouts.draw_starters

They are ordinary SVG files afterwards: anyone may open them in a drawing program and change them.
"""

import math
import re
from collections.abc import Mapping
from pathlib import Path

from tools.sampleart import ornaments as o
from tools.sampleart.kit import bar, disc, number, path, place, ring

TARGET = Path(__file__).parents[2] / "src" / "hundredfold" / "starter_layouts"
NAMES = ("ink", "accent", "second", "paper", "spot", "plate")
CREAM, WHITE = "#fbf4e4", "#fff8ea"
# ink, accent, second, paper, spot (on ink), plate
LIGHT = {
    "": ("#1f2a3c", "#c2412d", "#d99a2b", CREAM, "#f2b94c", CREAM),
    "honey": ("#3a2414", "#b5651d", "#e0a126", "#fff3d6", "#f5bd4a", "#fff3d6"),
    "garden": ("#1f3d2b", "#c8571f", "#7da04a", CREAM, "#c9dc8a", CREAM),
    "sea": ("#12324a", "#d9573f", "#2f8fa8", "#eef8f7", "#8fd3e0", "#eef8f7"),
    "tower": ("#2b2440", "#a8322b", "#c98f2c", CREAM, "#f0c36a", CREAM),
    "canal": ("#14463a", "#b3262e", "#d9a62e", CREAM, "#f3cf6b", CREAM),
    "choir": ("#4b1d4f", "#c43c63", "#c78a3a", "#fdf1ee", "#f6a9bf", "#fdf1ee"),
}
DARK = {
    "": (CREAM, "#ff8a66", "#f4c05a", "#1f2a3c", "#b5372a", WHITE),
    "honey": ("#ffe9b8", "#f5b83d", "#e8963a", "#3a2414", "#8a4a10", WHITE),
    "garden": ("#eef3d8", "#f29a5b", "#a9c45f", "#1f3d2b", "#4c7a32", WHITE),
    "sea": ("#e6f5f6", "#ff8f78", "#6cc5d6", "#12324a", "#1f6f8b", WHITE),
    "tower": ("#f7ecd6", "#f07a6a", "#e8b552", "#2b2440", "#93312a", WHITE),
    "canal": ("#f6efd9", "#f0686e", "#eec257", "#14463a", "#9d222a", WHITE),
    "choir": ("#fde6ec", "#ff8fb0", "#efbd72", "#4b1d4f", "#a12d52", WHITE),
}
# A plate is light on any goods: pictures lie on it.
INK, ACCENT, SECOND, PAPER, SPOT, PLATE = (f"role-{name}" for name in NAMES)


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


def art(slot: str, left: float, top: float, width: float, height: float, recolour: str = "") -> str:
    """A place for a picture."""
    tint = f' data-recolour="{recolour}"' if recolour else ""
    return (
        f'<rect x="{number(left)}" y="{number(top)}" width="{number(width)}" height="{number(height)}" '
        f'fill="none" data-art="{{{slot}}}"{tint}/>\n'
    )


def badge() -> str:
    """Words round a ring, a picture in the middle."""
    y = 2250
    return (
        disc(1800, y, 1690, INK) + ring(1800, y, 1600, PAPER, 20) + disc(1800, y, 1100, PAPER) + disc(1800, y, 1050, PLATE) + ring(1800, y, 1000, ACCENT, 18)
        + arc("over", 1800, y, 1345, 206) + arc("under", 1800, y, 1345, 126, under=True)
        + text("{title}", "Alfa Slab One", 420, "paper", path="#over", hang="middle", case="upper", tracking="0 0.1")
        + text("{line}", "Bebas Neue", 330, "spot", path="#under", hang="middle", case="upper", tracking="0.02 0.14")
        + place(o.star(95, SPOT), 1800 - 1275, y + 430) + place(o.star(95, SPOT), 1800 + 1275, y + 430)
        + art("picture", 1050, y - 750, 1500, 1500)
    )  # fmt: skip


def arch_over_art() -> str:
    """An arch of words, a picture under it, a line in script."""
    return (
        arc("arch", 1800, 2010, 1230, 184)
        + text("{title}", "Rowdies:700", 500, "ink", path="#arch", case="upper", tracking="0 0.08")
        + place(o.sunburst(1010, 1130, 46, SECOND, 184, 356), 1800, 2010)
        + art("picture", 1070, 1330, 1460, 1460)
        + box("foot", 350, 2960, 2900, 620)
        + text("{line}", "Lobster", 420, "accent", fit="box", box="#foot", max_size="430", lines="2", min_x_height="3mm")
        + place(o.rule(1800, 22, INK), 1800, 3780)
    )  # fmt: skip


def stacked_slab() -> str:
    """A block of lines of one width."""
    return (
        place(o.rule(3000, 30, SECOND, "diamond"), 1800, 420)
        + box("block", 250, 620, 3100, 2820)
        + text("{title}", "Anton", 600, "ink", fit="box", box="#block", align="level", gap="110", case="upper", max_size="1500", lines="5", tracking="0 0.12")
        + box("foot", 350, 3590, 2900, 300)
        + text("{line}", "Oswald:700", 240, "accent", fit="width", box="#foot", max_size="300", case="upper", tracking="0.04 0.3")
        + place(o.rule(3000, 30, SECOND, "diamond"), 1800, 4090)
    )  # fmt: skip


def ticket() -> str:
    """A ticket with a stub."""
    notch = 150
    left, right, top, low, tear = 200.0, 3400.0, 760.0, 3740.0, 3000.0
    outline = (
        f"M{number(left)} {number(top)}H{number(right)}V{number(tear - notch)}A{notch} {notch} 0 0 0 {number(right)} {number(tear + notch)}"
        f"V{number(low)}H{number(left)}V{number(tear + notch)}A{notch} {notch} 0 0 0 {number(left)} {number(tear - notch)}Z"
    )
    dots = "".join(disc(x, tear, 17, PAPER) for x in range(510, 3100, 86))
    frame = path(
        f"M{left + 90:.0f} {top + 90:.0f}H{right - 90:.0f}V{tear - 260:.0f}H{left + 90:.0f}Z",
        stroke=PAPER,
        width=16,
    )
    return (
        path(outline, INK) + frame + dots
        + text("ADMIT ONE", "Bebas Neue", 250, "spot", y=1160, tracking="0.3")
        + box("main", 440, 1310, 2720, 1290)
        + text("{title}", "Abril Fatface", 420, "paper", fit="box", box="#main", lines="3", max_size="1000")
        + box("stub", 480, 3250, 2640, 330)
        + text("{line}", "Josefin Sans:700", 240, "spot", fit="box", box="#stub", lines="1", case="upper", tracking="0 0.1", max_size="300", min_x_height="2mm")
    )  # fmt: skip


def crest() -> str:
    """A shield with a picture, leaves and a ribbon."""
    return (
        place(o.laurel(1460, 10, SECOND), 1800, 1800)
        + place(o.shield(1860, 2200, INK), 1800, 1780) + place(o.shield(1700, 2020, PAPER), 1800, 1772)
        + place(o.shield(1620, 1925, ACCENT), 1800, 1768) + place(o.shield(1530, 1825, PLATE), 1800, 1765)
        + art("picture", 1160, 960, 1280, 1360)
        + place(o.ribbon(2360, 520, INK, ACCENT, SECOND, 0), 1800, 3080)
        + box("banner", 720, 2880, 2160, 400)
        + text("{title}", "Alfa Slab One", 330, "paper", fit="width", box="#banner", case="upper", max_size="360", tracking="0 0.1")
        + box("foot", 450, 3610, 2700, 420)
        + text("{line}", "Caveat:700", 380, "ink", fit="box", box="#foot", lines="2", max_size="420", min_x_height="2mm")
    )  # fmt: skip


def circle_block() -> str:
    """A disc with a block of words inside and a line round its edge."""
    y = 2250
    return (
        place(o.scallop(1640, 40, ACCENT), 1800, y) + disc(1800, y, 1560, PAPER) + disc(1800, y, 1500, ACCENT)
        + arc("edge-over", 1800, y, 1330, 150) + arc("edge-under", 1800, y, 1330, 150, under=True)
        + place(o.star(80, PAPER), 1800 - 1330, y) + place(o.star(80, PAPER), 1800 + 1330, y)
        + text("{line}", "Josefin Sans:700", 260, "paper", path="#edge-over", hang="middle", case="upper", tracking="0.06 0.3")
        + text("{line}", "Josefin Sans:700", 260, "paper", path="#edge-under", hang="middle", case="upper", tracking="0.06 0.3")
        + disc(1800, y, 1130, PAPER)
        + box("block", 920, 1620, 1760, 1260)
        + text("{title}", "Lilita One", 500, "ink", fit="box", box="#block", align="level", gap="70", case="upper", lines="4", max_size="720")
    )  # fmt: skip


def ribbon() -> str:
    """Big script over a ribbon."""
    return (
        place(o.flourish(2300, SECOND, 34), 1800, 640)
        + box("script", 200, 880, 3200, 1880)
        + text("{title}", "Pacifico", 700, "accent", fit="box", box="#script", lines="2", leading="1.05", max_size="1300", outline="3.2mm paper, 1.2mm ink")
        + place(o.ribbon(2300, 520, INK, SECOND, ACCENT, 0), 1800, 3180)
        + box("banner", 740, 2990, 2120, 380)
        + text("{line}", "Bebas Neue", 300, "paper", fit="width", box="#banner", case="upper", tracking="0.04 0.2", max_size="360")
        + place(o.star(110, SECOND), 1800, 3770) + place(o.star(70, SECOND), 1500, 3790) + place(o.star(70, SECOND), 2100, 3790)
    )  # fmt: skip


def label() -> str:
    """A shop label with a frame."""
    return (
        bar(330, 360, 2940, 3780, INK, 220) + bar(410, 440, 2780, 3620, PAPER, 170) + bar(460, 490, 2680, 3520, INK, 140)
        + bar(484, 514, 2632, 3472, PAPER, 124)
        + box("top", 760, 660, 2080, 200)
        + text("{line}", "Josefin Sans:700", 190, "accent", fit="width", box="#top", case="upper", tracking="0.08 0.3", max_size="210", min_x_height="2mm")
        + place(o.rule(2100, 18, SECOND), 1800, 1010)
        + box("main", 620, 1130, 2360, 1330)
        + text("{title}", "Abril Fatface", 500, "ink", fit="box", box="#main", lines="3", max_size="820")
        + place(o.rule(2100, 18, SECOND, "diamond"), 1800, 2600)
        + '<g data-when="picture">' + disc(1800, 3290, 560, PLATE) + ring(1800, 3290, 590, SECOND, 18) + "</g>"
        + art("picture?", 1380, 2870, 840, 840)
    )  # fmt: skip


def big_word() -> str:
    """One word as large as it goes, a small line under it."""
    return (
        box("word", 200, 900, 3200, 1780)
        + text("{title}", "Righteous", 900, "accent", fit="box", box="#word", lines="3", valign="bottom", case="upper", max_size="1700", shadow="3mm 3mm ink")
        + bar(200, 2850, 3200, 40, INK)
        + box("foot", 200, 2990, 3200, 330)
        + text("{line}", "Josefin Sans:700", 240, "ink", fit="box", box="#foot", lines="2", tracking="0 0.06", max_size="270", min_x_height="2mm")
    )  # fmt: skip


def three_line_list() -> str:
    """Three lines with marks, like a plan for the day."""
    parts = []
    for k, (slot, role) in enumerate((("first", "ink"), ("second", "accent"), ("third", "ink"))):
        top = 620 + k * 1150
        parts.append(disc(560, top + 400, 300, SECOND) + disc(560, top + 400, 250, PAPER))
        parts.append(path(f"M430 {top + 400}L525 {top + 500}L700 {top + 300}", stroke=ACCENT, width=74))
        parts.append(box(f"row-{k + 1}", 1040, top, 2320, 800))
        parts.append(
            text(
                f"{{{slot}}}",
                "Lilita One",
                500,
                role,
                fit="box",
                box=f"#row-{k + 1}",
                align="start",
                lines="2",
                case="upper",
                max_size="620",
            )
        )
    return "".join(parts) + place(o.rule(3000, 26, SECOND, "diamond"), 1800, 4070)


DRAWINGS = {
    "arch-over-art": arch_over_art, "badge": badge, "big-word": big_word, "circle": circle_block, "crest": crest,
    "label": label, "ribbon": ribbon, "stacked-slab": stacked_slab, "three-line-list": three_line_list, "ticket": ticket,
}  # fmt: skip


def _roles(palettes: Mapping[str, tuple[str, ...]]) -> str:
    parts = []
    for name, colours in palettes.items():
        roles = ", ".join(f"{role} {value}" for role, value in zip(NAMES, colours, strict=True))
        parts.append(f"{name}: {roles}" if name else roles)
    return "\n    | ".join(parts)


def finished(body: str) -> str:
    """The file: role colours written out for the editor, and named for us."""
    for attribute in ("fill", "stroke"):
        for name, value in zip(NAMES, LIGHT[""], strict=True):
            body = body.replace(
                f'{attribute}="role-{name}"', f'{attribute}="{value}" data-{attribute}="{name}"'
            )
    body = re.sub(r">(?=<)", ">\n", body)
    head = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="304.8mm" height="381mm" viewBox="0 0 3600 4500" xml:lang="en"\n'
        f'  data-light="{_roles(LIGHT)}"\n  data-dark="{_roles(DARK)}">\n'
    )
    return f"{head}{body.strip()}\n</svg>\n"


def main() -> None:
    """Write all ten."""
    TARGET.mkdir(exist_ok=True)
    for name, draw in DRAWINGS.items():
        (TARGET / f"{name}.svg").write_text(finished(draw()), encoding="utf-8", newline="\n")
        print(name)


if __name__ == "__main__":
    main()
