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
        arc("arch", 1800, 2060, 1290, 184)
        + text("{title}", "Rowdies:700", 540, "ink", path="#arch", band="640 70", case="upper", tracking="0 0.06")
        + place(o.sunburst(1040, 1150, 46, SECOND, 178, 362), 1800, 2060)
        + disc(1800, 2060, 985, PLATE) + round_art("picture", 1800, 2060, 860)
        + box("foot", 350, 3130, 2900, 640)
        + text("{line}", "Lobster", 460, "accent", fit="box", box="#foot", max_size="520", lines="2", min_x_height="3mm")
        + place(o.rule(1800, 22, INK), 1800, 3960)
    )  # fmt: skip


def stacked_slab() -> str:
    """A block of lines of one width."""
    return (
        box("frame", 200, 320, 3200, 3860)
        + stacked(o.rule(3000, 30, SECOND, "diamond"), 1800, 420)
        + box("block", 250, 660, 3100, 2760)
        + text("{title}", "Anton", 600, "ink", fit="box", box="#block", align="level", gap="110", case="upper", max_size="2300", lines="5", tracking="0 0.05", stack="#frame")
        + box("foot", 350, 3600, 2900, 280)
        + text("{line}", "Oswald:700", 240, "accent", fit="width", box="#foot", max_size="300", case="upper", tracking="0.04 0.22", stack="#frame")
        + stacked(o.rule(3000, 30, SECOND, "diamond"), 1800, 4060)
    )  # fmt: skip


def ticket() -> str:
    """A ticket with a stub; a number on it where the row has one."""
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
        + text("ADMIT ONE", "Bebas Neue", 250, "spot", emphasis="paper", y=1160, tracking="0.3")
        + text("No {number?}", "Bebas Neue", 150, "spot", emphasis="paper", x=3050, y=1010, align="end", when="number")
        + box("main", 440, 1310, 2720, 1290)
        + text("{title}", "Abril Fatface", 420, "paper", emphasis="spot", fit="box", box="#main", lines="3", max_size="1000")
        + box("stub", 480, 3250, 2640, 330)
        + text("{line}", "Josefin Sans:700", 240, "spot", emphasis="paper", fit="box", box="#stub", lines="1", case="upper", tracking="0 0.1", max_size="300", min_x_height="2mm")
    )  # fmt: skip


def crest() -> str:
    """A shield with a picture, leaves and a ribbon."""
    return (
        place(o.laurel(1460, 10, SECOND), 1800, 1800)
        + place(o.shield(1860, 2200, INK), 1800, 1780) + place(o.shield(1700, 2020, PAPER), 1800, 1772)
        + place(o.shield(1620, 1925, ACCENT), 1800, 1768) + place(o.shield(1530, 1825, PLATE), 1800, 1765)
        + art("picture", 1180, 960, 1240, 1180)
        + place(o.ribbon(2560, 520, INK, ACCENT, SECOND, 0), 1800, 3080)
        + box("banner", 600, 2880, 2400, 400)
        + text("{title}", "Alfa Slab One", 330, "paper", emphasis="spot", fit="width", box="#banner", case="upper", max_size="360", tracking="0 0.08")
        + box("foot", 450, 3540, 2700, 470)
        + text("{line}", "Caveat:700", 380, "ink", fit="box", box="#foot", lines="2", max_size="460", min_x_height="2mm")
    )  # fmt: skip


def circle_block() -> str:
    """A disc with a block of words inside and a line round its edge, stars along the foot."""
    y = 2250
    stars = "".join(
        place(
            o.star(size, PAPER), 1800 + 1330 * math.cos(math.radians(a)), y + 1330 * math.sin(math.radians(a))
        )
        for a, size in ((90, 110), (74, 62), (106, 62), (60, 84), (120, 84), (46, 50), (134, 50))
    )
    return (
        place(o.scallop(1640, 40, ACCENT), 1800, y) + disc(1800, y, 1560, PAPER) + disc(1800, y, 1500, ACCENT)
        + arc("edge-over", 1800, y, 1330, 232) + stars
        + text("{line}", "Josefin Sans:700", 290, "paper", emphasis="spot", path="#edge-over", hang="middle", band="135 165", case="upper", tracking="0.04 0.24")
        + disc(1800, y, 1130, PAPER)
        + box("block", 860, 1560, 1880, 1380)
        + text("{title}", "Lilita One", 500, "ink", fit="box", box="#block", align="level", gap="76", case="upper", lines="4", max_size="900", tracking="0 0.03")
    )  # fmt: skip


def ribbon() -> str:
    """Big script over a ribbon."""
    return (
        place(o.flourish(2300, SECOND, 34), 1800, 640)
        + box("script", 200, 860, 3200, 1960)
        + text("{title}", "Pacifico", 700, "accent", fit="box", box="#script", lines="3", leading="1.05", max_size="1300", outline="3.2mm paper, 1.2mm ink")
        + place(o.ribbon(2300, 520, INK, SECOND, ACCENT, 0), 1800, 3180)
        + box("banner", 740, 2990, 2120, 380)
        + text("{line}", "Bebas Neue", 300, "paper", emphasis="spot", fit="width", box="#banner", case="upper", tracking="0.04 0.16", max_size="360")
        + place(o.star(110, SECOND), 1800, 3770) + place(o.star(70, SECOND), 1500, 3790) + place(o.star(70, SECOND), 2100, 3790)
    )  # fmt: skip


def label() -> str:
    """A shop label with a frame."""
    return (
        bar(330, 360, 2940, 3780, INK, 220) + bar(410, 440, 2780, 3620, PAPER, 170) + bar(460, 490, 2680, 3520, INK, 140)
        + bar(484, 514, 2632, 3472, PAPER, 124)
        + box("frame", 620, 600, 2360, 3280)
        + box("top", 760, 660, 2080, 200)
        + text("{line}", "Josefin Sans:700", 190, "accent", fit="width", box="#top", case="upper", tracking="0.08 0.26", max_size="210", min_x_height="2mm", stack="#frame")
        + stacked(o.rule(2100, 18, SECOND), 1800, 1010)
        + box("main", 620, 1160, 2360, 1330)
        + text("{title}", "Abril Fatface", 500, "ink", fit="box", box="#main", lines="3", max_size="820", stack="#frame")
        + stacked(o.rule(2100, 18, SECOND, "diamond"), 1800, 2600)
        + '<g data-when="picture" data-stack="#frame">' + disc(1800, 3290, 560, PLATE) + ring(1800, 3290, 590, SECOND, 18)
        + round_art("picture?", 1800, 3290, 500) + "</g>"
    )  # fmt: skip


def big_word() -> str:
    """The words as large as the page lets them be, a small line under them."""
    return (
        box("frame", 180, 260, 3240, 3980)
        + box("word", 200, 300, 3200, 3180)
        + text("{title}", "Titan One", 900, "accent", fit="box", box="#word", align="level", gap="150", lines="5", case="upper", max_size="2600", tracking="0 0.02", shadow="3mm 3mm ink", small="plain", stack="#frame")
        + f'<g data-stack="#frame">{bar(300, 3600, 3000, 40, INK)}</g>'
        + box("foot", 300, 3740, 3000, 300)
        + text("{line}", "Josefin Sans:700", 240, "ink", fit="box", box="#foot", lines="2", tracking="0 0.06", max_size="290", min_x_height="2mm", stack="#frame")
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
    """What there is to do, with ticks: the items of the line, one under the other."""
    parts = [
        box("frame", 250, 260, 3100, 3980),
        box("head", 250, 320, 3100, 1050),
        text(
            "{title}",
            "Lobster",
            500,
            "accent",
            fit="box",
            box="#head",
            lines="2",
            max_size="820",
            stack="#frame",
        ),
        stacked(o.rule(3000, 26, SECOND, "diamond"), 1800, 1500),
    ]
    for k, order in enumerate(("1st", "2nd", "3rd", "4th")):
        top = 1640 + k * 660
        tick = disc(520, top + 260, 220, SECOND) + disc(520, top + 260, 184, PAPER)
        tick += path(f"M425 {top + 255}L495 {top + 330}L620 {top + 185}", stroke=ACCENT, width=56)
        words = text(f"{{{order} line?}}", "Lilita One", 400, "ink", fit="box", box=f"#row-{k + 1}", align="start", lines="2", case="upper", max_size="560", same="item")  # fmt: skip
        parts.append(box(f"row-{k + 1}", 860, top, 2500, 560))
        parts.append(f'<g data-when="{order} line" data-stack="#frame">{tick}{words}</g>')
    return "".join(parts) + stacked(o.rule(3000, 26, SECOND, "diamond"), 1800, 4200)


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
