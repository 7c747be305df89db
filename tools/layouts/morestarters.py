"""Starter layouts across the page, with photographs, and worn."""

import math

from tools.layouts.starterkit import (
    ACCENT,
    INK,
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
from tools.sampleart.kit import bar, disc, path, place, ring


def mug_wrap() -> str:
    """Round a mug: a picture on either side, the words between."""
    return (
        disc(720, 1000, 640, PLATE) + disc(4080, 1000, 640, PLATE) + round_art("picture", 720, 1000, 540) + ring(720, 1000, 640, SECOND, 22) + ring(720, 1000, 690, ACCENT, 12)
        + round_art("picture", 4080, 1000, 540) + ring(4080, 1000, 640, SECOND, 22) + ring(4080, 1000, 690, ACCENT, 12)
        + box("frame", 1520, 180, 1760, 1640)
        + box("main", 1520, 220, 1760, 1080)
        + text("{title}", "Abril Fatface", 380, "ink", fit="box", box="#main", lines="3", max_size="560", stack="#frame")
        + stacked(o.rule(1500, 16, SECOND), 2400, 1380)
        + box("foot", 1560, 1480, 1680, 260)
        + text("{line}", "Josefin Sans:700", 170, "accent", fit="box", box="#foot", lines="2", case="upper", tracking="0.02 0.1", max_size="180", stack="#frame")
    )  # fmt: skip


def wide_sign() -> str:
    """A long board: capitals between two rules, the line under them."""
    return (
        bar(120, 120, 4560, 1760, INK, 160) + bar(190, 190, 4420, 1620, PAPER, 120) + bar(226, 226, 4348, 1548, INK, 100)
        + box("frame", 420, 300, 3960, 1400)
        + box("main", 420, 340, 3960, 940)
        + text("{title}", "Alfa Slab One", 560, "paper", emphasis="spot", fit="box", box="#main", lines="2", case="upper", max_size="900", leading="1.02", tracking="0 0.02", stack="#frame")
        + stacked(o.rule(3300, 20, SPOT, "diamond"), 2400, 1390)
        + box("foot", 600, 1490, 3600, 190)
        + text("{line}", "Bebas Neue", 220, "spot", emphasis="paper", fit="width", box="#foot", case="upper", tracking="0.06 0.24", max_size="230", stack="#frame")
    )  # fmt: skip


def wide_script() -> str:
    """Across the page: script over a long stroke, small capitals beneath."""
    swash = "M520 1330C1400 1190 3400 1190 4280 1330C3500 1260 1400 1260 520 1330Z"
    return (
        box("frame", 200, 140, 4400, 1720)
        + box("script", 240, 180, 4320, 960)
        + text("{title}", "Yellowtail", 700, "accent", fit="box", box="#script", lines="2", max_size="1150", leading="0.98", stack="#frame")
        + f'<g data-stack="#frame">{path(swash, SECOND)}</g>'
        + box("foot", 700, 1430, 3400, 260)
        + text("{line}", "Josefin Sans:700", 220, "ink", fit="box", box="#foot", lines="2", case="upper", tracking="0.06 0.16", max_size="230", stack="#frame")
    )  # fmt: skip


def wide_stripes() -> str:
    """A big word over three stripes, the picture at its end."""
    stripes = "".join(
        bar(140, 1270 + k * 130, 4520, 92, role) for k, role in enumerate((ACCENT, SECOND, INK))
    )
    return (
        stripes
        + disc(3900, 800, 700, PLATE) + ring(3900, 800, 700, INK, 34) + round_art("picture", 3900, 800, 590)
        + box("word", 160, 140, 2920, 1030)
        + text("{title}", "Righteous", 620, "ink", fit="box", box="#word", lines="2", align="start", valign="bottom", case="upper", max_size="860")
        + box("foot", 160, 1690, 4480, 200)
        + text("{line}", "Oswald:700", 190, "accent", fit="box", box="#foot", lines="1", align="start", case="upper", tracking="0.04 0.1", max_size="200")
    )  # fmt: skip


def script_and_caps() -> str:
    """Script for the line, capitals for the title: two voices."""
    return (
        box("frame", 220, 300, 3160, 3900)
        + box("script", 300, 340, 3000, 900)
        + text("{line}", "Lobster", 420, "accent", fit="box", box="#script", lines="2", max_size="520", stack="#frame")
        + stacked(o.flourish(1900, SECOND, 28), 1800, 1480)
        + box("block", 260, 1760, 3080, 2300)
        + text("{title}", "Oswald:700", 700, "ink", fit="box", box="#block", align="level", gap="100", lines="4", case="upper", max_size="1500", tracking="0 0.04", stack="#frame")
    )  # fmt: skip


def hand_and_caps() -> str:
    """A marker's hand over wide capitals, with a stroke under it."""
    stroke = "M700 3390C1300 3290 2300 3300 2920 3370C2300 3340 1300 3350 700 3440Z"
    return (
        box("frame", 240, 300, 3120, 3900)
        + box("top", 300, 380, 3000, 300)
        + text("{line}", "Barlow Condensed:700", 260, "ink", fit="width", box="#top", case="upper", tracking="0.1 0.34", max_size="270", stack="#frame")
        + box("main", 260, 860, 3080, 2300)
        + text("{title}", "Permanent Marker", 620, "accent", fit="box", box="#main", lines="4", max_size="1050", stack="#frame")
        + f'<g data-stack="#frame">{path(stroke, SECOND)}</g>'
        + text("{personal?}", "Barlow Condensed:700", 200, "ink", y=3800, case="upper", tracking="0.14", stack="#frame")
    )  # fmt: skip


def photo_oval() -> str:
    """A photograph in an oval, words over and under it."""
    return (
        f'<ellipse cx="1800" cy="2180" rx="1090" ry="1290" fill="{INK}"/><ellipse cx="1800" cy="2180" rx="1050" ry="1250" fill="{PAPER}"/>'
        + f'<ellipse cx="1800" cy="2180" rx="1010" ry="1210" fill="{PLATE}"/>'
        + '<ellipse cx="1800" cy="2180" rx="1010" ry="1210" fill="none" data-art="{picture}" data-fit="photo"/>\n'
        + arc("over", 1800, 2150, 1500, 150)
        + text("{title}", "Playfair Display:900", 400, "ink", path="#over", band="420 110", tracking="0 0.05")
        + box("foot", 420, 3660, 2760, 470)
        + text("{line}", "Playfair Display:700", 300, "accent", fit="box", box="#foot", lines="2", max_size="330", min_x_height="2mm")
    )  # fmt: skip


def photo_frame() -> str:
    """A photograph as a print with a white foot to write on."""
    return (
        bar(430, 420, 2740, 3560, INK, 60) + bar(470, 460, 2660, 3480, PLATE, 36)
        + path("M640 630H2960V2910H640Z", stroke=SECOND, width=24)
        + '<rect x="640" y="630" width="2320" height="2280" rx="20" fill="none" data-art="{picture}" data-fit="photo"/>\n'
        + box("caption", 640, 3030, 2320, 500)
        + text("{title}", "Caveat:700", 420, "mark", fit="box", box="#caption", lines="2", max_size="470")
        + box("small", 700, 3600, 2200, 200)
        + text("{line}", "Barlow Condensed:500", 150, "mark", fit="box", box="#small", lines="1", case="upper", tracking="0.04 0.12", max_size="160")
    )  # fmt: skip


def worn_stamp() -> str:
    """A rubber stamp that has been used a lot."""
    y = 2250
    stars = "".join(
        place(
            o.star(size, ACCENT),
            1800 + 1200 * math.cos(math.radians(a)),
            y + 1200 * math.sin(math.radians(a)),
        )
        for a, size in ((90, 100), (72, 62), (108, 62), (56, 84), (124, 84), (40, 56), (140, 56))
    )
    return (
        '<g data-distress="0.45 11">' + ring(1800, y, 1560, ACCENT, 90) + ring(1800, y, 1440, ACCENT, 26) + ring(1800, y, 960, ACCENT, 26)
        + "</g>"
        + arc("over", 1800, y, 1200, 200)
        + text("{line}", "Oswald:700", 270, "accent", path="#over", hang="middle", band="190 190", case="upper", tracking="0.04 0.2", distress="0.45 12")
        + '<g data-distress="0.4 5">'
        + stars + "</g>"
        + box("block", 1080, 1700, 1440, 1100)
        + text("{title}", "Alfa Slab One", 420, "accent", fit="box", box="#block", align="level", gap="60", case="upper", lines="4", max_size="900", tracking="0 0.02", distress="0.45 14")
    )  # fmt: skip


def worn_poster() -> str:
    """A bill from an old press: heavy type, a border, ink worn thin."""
    return (
        '<g data-distress="0.3 21">' + path("M260 260H3340V4240H260Z", stroke=INK, width=60) + path("M350 350H3250V4150H350Z", stroke=INK, width=16) + "</g>"
        + box("frame", 460, 460, 2680, 3580)
        + box("top", 500, 500, 2600, 260)
        + text("{line}", "Playfair Display:900", 220, "accent", fit="box", box="#top", lines="1", max_size="300", distress="0.25 22", stack="#frame")
        + '<g data-distress="0.25 23" data-stack="#frame">' + place(o.rule(2500, 22, INK, "diamond"), 1800, 880) + "</g>"
        + box("block", 480, 1020, 2640, 2300)
        + text("{title}", "Roboto Slab:900", 640, "ink", fit="box", box="#block", align="level", gap="90", case="upper", lines="5", max_size="1200", tracking="0 0.02", distress="0.35 24", stack="#frame")
        + '<g data-distress="0.25 25" data-stack="#frame">' + place(o.rule(2500, 22, INK, "diamond"), 1800, 3470) + "</g>"
        + art("picture?", 1400, 3560, 800, 440, "ink", stack="#frame")
    )  # fmt: skip
