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
    plated,
    round_art,
    stacked,
    text,
)
from tools.sampleart import ornaments as o
from tools.sampleart.kit import bar, disc, path, place, ring


def mug_wrap() -> str:
    """Round a mug: a picture on either side, the words between."""
    sides = "".join(
        disc(x, 1000, 560, PLATE) + ring(x, 1000, 560, SECOND, 22) + ring(x, 1000, 610, ACCENT, 12) + round_art("picture", x, 1000, 470)
        for x in (700, 4100)
    )  # fmt: skip
    return (
        sides
        + box("frame", 1400, 140, 2000, 1720)
        + box("main", 1400, 160, 2000, 1080)
        + text("{title}", "Abril Fatface", 420, "ink", fit="box", box="#main", lines="3", max_size="620", stack="#frame")
        + stacked(o.rule(1500, 16, SECOND), 2400, 1340)
        + box("foot", 1420, 1440, 1960, 380)
        + text("{line}", "Josefin Sans:700", 200, "accent", fit="box", box="#foot", lines="2", case="upper", tracking="0.02 0.08", max_size="230", stack="#frame")
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
        + box("word", 160, 140, 2840, 1030)
        + text("{title}", "Righteous", 620, "ink", fit="box", box="#word", lines="2", align="start", valign="bottom", case="upper", max_size="860")
        + box("foot", 160, 1690, 4480, 200)
        + text("{line}", "Oswald:700", 190, "accent", fit="box", box="#foot", lines="1", align="start", case="upper", tracking="0.04 0.1", max_size="200")
    )  # fmt: skip


def script_and_caps() -> str:
    """Script for the line, capitals for the title: two voices."""
    return (
        box("frame", 220, 240, 3160, 4020)
        + box("script", 240, 260, 3120, 560)
        + text("{line}", "Lobster", 420, "accent", fit="box", box="#script", lines="1", max_size="520", stack="#frame")
        + stacked(o.flourish(1900, SECOND, 28), 1800, 1080)
        + plated(1800, 1700, 420, "0.8 2")
        + box("block", 240, 2260, 3120, 1980)
        + text("{title}", "Oswald:700", 700, "ink", fit="box", box="#block", align="level", gap="100", lines="4", case="upper", max_size="1500", tracking="0 0.04", stack="#frame")
    )  # fmt: skip


def hand_and_caps() -> str:
    """A marker's hand over wide capitals, with a stroke under it."""
    stroke = "M700 4040C1300 3940 2300 3950 2920 4020C2300 3990 1300 4000 700 4090Z"
    return (
        box("frame", 220, 240, 3160, 4020)
        + box("top", 260, 260, 3080, 430)
        + text("{line}", "Barlow Condensed:700", 290, "ink", fit="box", box="#top", lines="2", case="upper", tracking="0.06 0.2", max_size="320", stack="#frame")
        + plated(1800, 1250, 440, "0.8 2")
        + box("main", 240, 1800, 3120, 2130)
        + text("{title}", "Permanent Marker", 700, "accent", fit="box", box="#main", lines="4", max_size="1200", stack="#frame")
        + f'<g data-stack="#frame">{path(stroke, SECOND)}</g>'
        + text("{personal?}", "Barlow Condensed:700", 200, "ink", y=4240, case="upper", tracking="0.14", stack="#frame")
    )  # fmt: skip


def photo_oval() -> str:
    """A photograph in an oval, words over and under it."""
    ovals = "".join(
        f'<ellipse cx="1800" cy="2420" rx="{rx}" ry="{ry}" fill="{role}"/>'
        for rx, ry, role in ((1200, 1360, INK), (1160, 1320, PAPER), (1110, 1270, PLATE))
    )
    return (
        box("head", 240, 260, 3120, 640)
        + text("{title}", "Playfair Display:900", 460, "ink", fit="box", box="#head", lines="1", max_size="560", tracking="0 0.02")
        + ovals
        + '<ellipse cx="1800" cy="2420" rx="1110" ry="1270" fill="none" data-art="{picture}" data-fit="photo"/>\n'
        + box("foot", 300, 3880, 3000, 400)
        + text("{line}", "Playfair Display:700", 300, "accent", fit="box", box="#foot", lines="1", max_size="360", min_x_height="2mm")
    )  # fmt: skip


def photo_frame() -> str:
    """A photograph as a print with a white foot to write on."""
    return (
        bar(330, 260, 2940, 3980, INK, 60) + bar(370, 300, 2860, 3900, PLATE, 36)
        + path("M540 470H3060V2870H540Z", stroke=SECOND, width=24)
        + '<rect x="540" y="470" width="2520" height="2400" rx="20" fill="none" data-art="{picture}" data-fit="photo"/>\n'
        + box("caption", 480, 2970, 2640, 680)
        + text("{title}", "Caveat:700", 520, "mark", fit="box", box="#caption", lines="2", max_size="620")
        + box("small", 520, 3720, 2560, 330)
        + text("{line}", "Barlow Condensed:700", 230, "mark", fit="box", box="#small", lines="1", case="upper", tracking="0.03 0.12", max_size="250")
    )  # fmt: skip


def worn_stamp() -> str:
    """A rubber stamp that has been used a lot."""
    y = 2250
    stars = "".join(
        place(
            o.star(size, ACCENT),
            1800 + 1365 * math.cos(math.radians(a)),
            y + 1365 * math.sin(math.radians(a)),
        )
        for a, size in ((90, 120), (75, 76), (105, 76), (61, 100), (119, 100))
    )
    return (
        '<g data-distress="0.5 11">' + ring(1800, y, 1690, ACCENT, 96) + ring(1800, y, 1575, ACCENT, 26) + ring(1800, y, 1155, ACCENT, 30)
        + "</g>"
        + arc("over", 1800, y, 1365, 244)
        + text("{line}", "Oswald:700", 290, "accent", path="#over", hang="middle", band="185 185", case="upper", tracking="0.02 0.22", distress="0.5 12")
        + '<g data-distress="0.45 5">'
        + stars + "</g>"
        + box("frame", 940, 1450, 1720, 1600)
        + f'<g data-when="picture" data-stack="#frame" data-grow="0.7 1.9" data-distress="0.5 13">{art("picture?", 1560, 1460, 480, 420, "accent")}</g>'
        + box("block", 960, 1990, 1680, 1060)
        + text("{title}", "Alfa Slab One", 460, "accent", fit="box", box="#block", align="level", gap="64", case="upper", lines="4", max_size="900", tracking="0 0.02", distress="0.5 14", stack="#frame")
    )  # fmt: skip


def worn_poster() -> str:
    """A bill from an old press: heavy type, a border, ink worn thin."""
    return (
        '<g data-distress="0.3 21">' + path("M190 190H3410V4310H190Z", stroke=INK, width=60) + path("M280 280H3320V4220H280Z", stroke=INK, width=16) + "</g>"
        + box("frame", 400, 400, 2800, 3700)
        + box("top", 420, 420, 2760, 420)
        + text("{line}", "Playfair Display:900", 280, "accent", fit="box", box="#top", lines="2", max_size="300", distress="0.25 22", stack="#frame")
        + '<g data-distress="0.25 23" data-stack="#frame">' + place(o.rule(2500, 22, INK, "diamond"), 1800, 960) + "</g>"
        + box("block", 420, 1080, 2760, 2000)
        + text("{title}", "Roboto Slab:900", 640, "ink", fit="box", box="#block", align="level", gap="90", case="upper", lines="5", max_size="1200", tracking="0 0.02", distress="0.35 24", stack="#frame")
        + '<g data-distress="0.25 25" data-stack="#frame">' + place(o.rule(2500, 22, INK, "diamond"), 1800, 3200) + "</g>"
        + plated(1800, 3640, 400, "0.75 2.4", INK, ' data-distress="0.25 26"')
    )  # fmt: skip
