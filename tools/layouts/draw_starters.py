"""Draw the starter layouts into src/hundredfold/starter_layouts/. Run: python -m tools.layouts.draw_starters

They are ordinary SVG files afterwards: anyone may open them in a drawing program and change them.
"""

import math
import re
from collections.abc import Mapping
from pathlib import Path

from tools.layouts.morestarters import (
    hand_and_caps,
    mug_wrap,
    photo_frame,
    photo_oval,
    script_and_caps,
    wide_script,
    wide_sign,
    wide_stripes,
    worn_poster,
    worn_stamp,
)
from tools.layouts.starterkit import (
    ACCENT,
    DARK,
    INK,
    LIGHT,
    NAMES,
    PAPER,
    PLATE,
    SECOND,
    SPOT,
    arc,
    art,
    box,
    plated,
    round_art,
    stacked,
    text,
)
from tools.sampleart import ornaments as o
from tools.sampleart.kit import bar, disc, number, path, place, ring

TARGET = Path(__file__).parents[2] / "src" / "hundredfold" / "starter_layouts"


def badge() -> str:
    """Words round a ring, a picture in the middle."""
    y = 2250
    return (
        disc(1800, y, 1690, INK) + ring(1800, y, 1600, PAPER, 20) + disc(1800, y, 1100, PAPER) + disc(1800, y, 1050, PLATE) + ring(1800, y, 1000, ACCENT, 18)
        + arc("over", 1800, y, 1345, 206) + arc("under", 1800, y, 1345, 126, under=True)
        + text("{title}", "Alfa Slab One", 420, "paper", emphasis="spot", path="#over", hang="middle", band="210 205", case="upper", tracking="0 0.08")
        + text("{line}", "Bebas Neue", 330, "spot", emphasis="paper", path="#under", hang="middle", band="205 210", case="upper", tracking="0.02 0.12")
        + place(o.star(95, SPOT), 1800 - 1275, y + 430) + place(o.star(95, SPOT), 1800 + 1275, y + 430)
        + round_art("picture", 1800, y, 860)
    )  # fmt: skip


def arch_over_art() -> str:
    """An arch of words, a picture under it, a line in script."""
    return (
        arc("arch", 1800, 2060, 1200, 196)
        + text("{title}", "Anton", 590, "ink", path="#arch", band="530 50", case="upper", tracking="0.01 0.06")
        + place(o.sunburst(1040, 1150, 46, SECOND, 178, 362), 1800, 2060)
        + disc(1800, 2060, 985, PLATE) + round_art("picture", 1800, 2060, 860)
        + box("foot", 250, 3180, 3100, 700)
        + text("{line}", "Lobster", 480, "accent", fit="box", box="#foot", max_size="560", lines="2", min_x_height="3mm")
        + place(o.rule(1800, 22, INK), 1800, 4080)
    )  # fmt: skip


def stacked_slab() -> str:
    """A block of lines of one width."""
    return (
        box("frame", 200, 320, 3200, 3860)
        + stacked(o.rule(3000, 30, SECOND, "diamond"), 1800, 420)
        + box("block", 250, 660, 3100, 2760)
        + text("{title}", "Anton", 600, "ink", fit="box", box="#block", align="level", gap="110", case="upper", max_size="2300", lines="5", tracking="0 0.05", stack="#frame")
        + box("foot", 280, 3560, 3040, 400)
        + text("{line}", "Oswald:700", 270, "accent", fit="box", box="#foot", lines="1", max_size="320", case="upper", tracking="0.02 0.16", stack="#frame")
        + stacked(o.rule(3000, 30, SECOND, "diamond"), 1800, 4060)
    )  # fmt: skip


def ticket() -> str:
    """A ticket with a stub; a number on it where the row has one."""
    notch = 150
    left, right, top, low, tear = 200.0, 3400.0, 330.0, 4170.0, 3330.0
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
        + text("ADMIT ONE", "Bebas Neue", 250, "spot", emphasis="paper", y=720, tracking="0.3")
        + text("No {number?}", "Bebas Neue", 150, "spot", emphasis="paper", x=3050, y=580, align="end", when="number")
        + box("frame", 400, 830, 2800, 2160)
        + plated(1800, 1190, 360, "0.9 2", SPOT)
        + box("main", 420, 1620, 2760, 1360)
        + text("{title}", "Abril Fatface", 480, "paper", emphasis="spot", fit="box", box="#main", lines="3", max_size="900", stack="#frame")
        + box("stub", 420, 3540, 2760, 500)
        + text("{line}", "Josefin Sans:700", 260, "spot", emphasis="paper", fit="box", box="#stub", lines="2", case="upper", tracking="0 0.1", max_size="330", min_x_height="2mm")
    )  # fmt: skip


def crest() -> str:
    """A shield with a picture, leaves and a ribbon."""
    return (
        place(o.laurel(1480, 10, SECOND), 1800, 1780)
        + place(o.shield(2000, 2360, INK), 1800, 1720) + place(o.shield(1840, 2180, PAPER), 1800, 1712)
        + place(o.shield(1760, 2085, ACCENT), 1800, 1708) + place(o.shield(1670, 1985, PLATE), 1800, 1705)
        + art("picture", 1090, 820, 1420, 1400)
        + place(o.ribbon(2240, 640, INK, ACCENT, SECOND, 0), 1800, 3060)
        + box("banner", 720, 2800, 2160, 510)
        + text("{title}", "Alfa Slab One", 380, "paper", emphasis="spot", fit="box", box="#banner", lines="2", case="upper", max_size="480", tracking="0 0.06", leading="1.02")
        + box("foot", 300, 3600, 3000, 560)
        + text("{line}", "Caveat:700", 420, "ink", fit="box", box="#foot", lines="2", max_size="520", min_x_height="2mm")
    )  # fmt: skip


def circle_block() -> str:
    """A disc with a block of words inside and a line round its edge, stars along the foot."""
    y = 2250
    stars = "".join(
        place(
            o.star(size, PAPER), 1800 + 1370 * math.cos(math.radians(a)), y + 1370 * math.sin(math.radians(a))
        )
        for a, size in ((90, 120), (75, 70), (105, 70), (61, 92), (119, 92))
    )
    return (
        place(o.scallop(1690, 40, ACCENT), 1800, y) + disc(1800, y, 1610, PAPER) + disc(1800, y, 1560, ACCENT)
        + arc("edge-over", 1800, y, 1370, 244) + stars
        + text("{line}", "Josefin Sans:700", 310, "paper", emphasis="spot", path="#edge-over", hang="middle", band="150 180", case="upper", tracking="0.02 0.22")
        + disc(1800, y, 1180, PLATE)
        + box("frame", 950, 1460, 1700, 1600)
        + f'<g data-when="picture" data-stack="#frame" data-grow="0.75 2">{art("picture?", 1500, 1470, 600, 480)}</g>'
        + box("block", 960, 2040, 1680, 1020)
        + text("{title}", "Lilita One", 520, "mark", fit="box", box="#block", align="level", gap="76", case="upper", lines="4", max_size="900", tracking="0 0.03", stack="#frame")
    )  # fmt: skip


def ribbon() -> str:
    """Big script over a ribbon."""
    return (
        box("frame", 160, 240, 3280, 4020)
        + plated(1800, 620, 360, "0.9 2.4")
        + stacked(o.flourish(2300, SECOND, 34), 1800, 1160)
        + box("script", 180, 1300, 3240, 1960)
        + text("{title}", "Pacifico", 760, "accent", fit="box", box="#script", lines="3", leading="1.05", max_size="1300", stack="#frame")
        + '<g data-stack="#frame">' + place(o.ribbon(2340, 560, INK, SECOND, ACCENT, 0), 1800, 3640)
        + box("banner", 720, 3430, 2160, 420)
        + text("{line}", "Bebas Neue", 340, "paper", emphasis="spot", fit="width", box="#banner", case="upper", tracking="0.02 0.16", max_size="400") + "</g>"
    )  # fmt: skip


def label() -> str:
    """A shop label with a frame."""
    return (
        bar(330, 360, 2940, 3780, INK, 220) + bar(410, 440, 2780, 3620, PAPER, 170) + bar(460, 490, 2680, 3520, INK, 140)
        + bar(484, 514, 2632, 3472, PAPER, 124)
        + box("frame", 620, 600, 2360, 3280)
        + box("top", 640, 640, 2320, 360)
        + text("{line}", "Josefin Sans:700", 220, "ink", fit="box", box="#top", lines="2", case="upper", tracking="0.04 0.2", max_size="240", min_x_height="2mm", stack="#frame")
        + stacked(o.rule(2100, 18, SECOND), 1800, 1110)
        + box("main", 620, 1240, 2360, 1330)
        + text("{title}", "Abril Fatface", 520, "ink", fit="box", box="#main", lines="3", max_size="860", stack="#frame")
        + stacked(o.rule(2100, 18, SECOND, "diamond"), 1800, 2680)
        + plated(1800, 3280, 500, "0.7 1.7")
    )  # fmt: skip


def big_word() -> str:
    """The words as large as the page lets them be, a small line under them."""
    return (
        box("frame", 180, 220, 3240, 4060)
        + plated(1800, 600, 340, "0.95 2.7", INK)
        + box("word", 200, 1080, 3200, 2640)
        + text("{title}", "Titan One", 900, "accent", fit="box", box="#word", align="level", gap="150", lines="5", case="upper", max_size="2600", tracking="0 0.02", shadow="3mm 3mm ink", small="plain", stack="#frame")
        + f'<g data-stack="#frame">{bar(300, 3830, 3000, 40, INK)}</g>'
        + box("foot", 240, 3940, 3120, 340)
        + text("{line}", "Josefin Sans:700", 280, "ink", fit="box", box="#foot", lines="1", tracking="0 0.06", max_size="330", min_x_height="2mm", stack="#frame")
    )  # fmt: skip


def tall_word() -> str:
    """One word up the whole page, a line along its side."""
    return (
        '<g transform="translate(0 4500) rotate(-90)">'
        + box("word", 200, 250, 4100, 2450)
        + text("{title}", "Anton", 1500, "ink", fit="box", box="#word", align="level", gap="120", lines="3", case="upper", max_size="3600", tracking="0 0.02", small="plain")
        + bar(200, 2830, 4100, 44, ACCENT)
        + box("foot", 200, 2960, 4100, 330)
        + text("{line}", "Oswald:700", 260, "accent", fit="width", box="#foot", case="upper", tracking="0.04 0.2", max_size="330")
        + "</g>"
    )  # fmt: skip


def three_line_list() -> str:
    """What there is to do, with ticks: the items of the line, one under the other; a line that is no list in one
    block, and the picture where there is room.
    """
    parts = [
        box("frame", 240, 220, 3120, 4060),
        box("head", 240, 240, 3120, 1000),
        text("{title}", "Lobster", 560, "accent", fit="box", box="#head", lines="2", max_size="860", stack="#frame"),
        stacked(o.rule(3000, 26, SECOND, "diamond"), 1800, 1370),
        box("whole", 260, 1500, 3080, 1500),
        text("{line}", "Lilita One", 430, "ink", fit="box", box="#whole", lines="3", case="upper", max_size="620", leading="1.1", unless="2nd line", stack="#frame"),
    ]  # fmt: skip
    for k, order in enumerate(("1st", "2nd", "3rd", "4th")):
        top = 1500 + k * 560
        tick = disc(500, top + 240, 200, SECOND) + disc(500, top + 240, 166, PAPER)
        tick += path(f"M415 {top + 235}L478 {top + 303}L590 {top + 172}", stroke=ACCENT, width=52)
        words = text(f"{{{order} line?}}", "Lilita One", 400, "ink", fit="box", box=f"#row-{k + 1}", align="start", lines="2", case="upper", max_size="500", same="item")  # fmt: skip
        parts.append(box(f"row-{k + 1}", 820, top, 2520, 480))
        shown = "2nd line" if k == 0 else f"{order} line"
        parts.append(f'<g data-when="{shown}" data-stack="#frame">{tick}{words}</g>')
    return "".join(parts) + plated(1800, 4140, 340, "0.95 3.4")


DRAWINGS = {
    "arch-over-art": arch_over_art, "badge": badge, "big-word": big_word, "circle": circle_block, "crest": crest,
    "hand-and-caps": hand_and_caps, "label": label, "mug-wrap": mug_wrap, "photo-frame": photo_frame, "photo-oval": photo_oval,
    "ribbon": ribbon, "script-and-caps": script_and_caps, "stacked-slab": stacked_slab, "tall-word": tall_word,
    "three-line-list": three_line_list, "ticket": ticket, "wide-script": wide_script, "wide-sign": wide_sign,
    "wide-stripes": wide_stripes, "worn-poster": worn_poster, "worn-stamp": worn_stamp,
}  # fmt: skip
WIDE = frozenset({"mug-wrap", "wide-script", "wide-sign", "wide-stripes"})


def _roles(palettes: Mapping[str, tuple[str, ...]]) -> str:
    parts = []
    for name, colours in palettes.items():
        roles = ", ".join(f"{role} {value}" for role, value in zip(NAMES, colours, strict=True))
        parts.append(f"{name}: {roles}" if name else roles)
    return "\n    | ".join(parts)


def finished(body: str, wide: bool) -> str:
    """The file: role colours written out for the editor, and named for us."""
    for attribute in ("fill", "stroke"):
        for name, value in zip(NAMES, LIGHT[""], strict=True):
            body = body.replace(
                f'{attribute}="role-{name}"', f'{attribute}="{value}" data-{attribute}="{name}"'
            )
    body = re.sub(r">(?=<)", ">\n", body)
    size = (
        'width="406.4mm" height="169.33mm" viewBox="0 0 4800 2000"'
        if wide
        else 'width="304.8mm" height="381mm" viewBox="0 0 3600 4500"'
    )
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} xml:lang="en"\n'
        f'  data-light="{_roles(LIGHT)}"\n  data-dark="{_roles(DARK)}">\n'
    )
    return f"{head}{body.strip()}\n</svg>\n"


def main() -> None:
    """Write them all."""
    TARGET.mkdir(exist_ok=True)
    for name, draw in DRAWINGS.items():
        (TARGET / f"{name}.svg").write_text(finished(draw(), name in WIDE), encoding="utf-8", newline="\n")
        print(name)


if __name__ == "__main__":
    main()
