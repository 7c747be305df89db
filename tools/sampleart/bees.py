"""Bees, combs, hives and honey, around (0, 0)."""

import math

from tools.sampleart.kit import bar, disc, number, path, place, polygon


def bee(body: str, stripe: str, wing: str, vein: str) -> str:
    """A bee from above, head up, about 900 wide and 800 tall."""
    parts = []
    for side in (-1, 1):
        fore = "M0 0C-60 -120 -250 -250 -400 -230C-500 -215 -480 -90 -380 -40C-260 15 -90 30 0 0Z"
        hind = "M0 0C-90 30 -260 90 -300 190C-325 270 -210 300 -140 230C-70 160 -20 80 0 0Z"
        lines = "M-40 -15C-150 -60 -270 -120 -370 -150M-60 0C-170 -20 -270 -50 -350 -70"
        wings = path(fore, wing, vein, 14) + path(hind, wing, vein, 14) + path(lines, stroke=vein, width=9)
        parts.append(place(wings, side * 50, -90, flip=side > 0))
    parts.append(
        path(
            "M-45 -290C-80 -370 -130 -380 -160 -360M45 -290C80 -370 130 -380 160 -360",
            stroke=stripe,
            width=20,
        )
    )
    parts.append(disc(-162, -358, 20, stripe) + disc(162, -358, 20, stripe))
    parts.append(polygon([(-22, 380), (22, 380), (0, 470)], stripe))
    parts.append(_abdomen(body, stripe))
    parts.append(
        disc(0, -110, 128, body)
        + path("M-128 -110A128 128 0 0 1 128 -110C80 -150 -80 -150 -128 -110Z", stripe)
    )
    parts.append(disc(0, -250, 88, stripe) + disc(-42, -268, 20, wing) + disc(42, -268, 20, wing))
    return "".join(parts)


def _abdomen(body: str, stripe: str) -> str:
    """An egg with bands that follow its outline."""

    def half(y: float) -> float:
        t = (y - 170) / 235
        return 158 * math.sqrt(max(0.0, 1 - t * t)) * (1 - 0.14 * t)

    def band(y0: float, y1: float, colour: str) -> str:
        steps = [y0 + (y1 - y0) * k / 12 for k in range(13)]
        right = [(half(y), y) for y in steps]
        left = [(-x, y) for x, y in reversed(right)]
        sag = 26
        data = f"M{number(-right[0][0])} {number(y0)}Q0 {number(y0 + sag)} {number(right[0][0])} {number(y0)}"
        data += "".join(f"L{number(x)} {number(y)}" for x, y in right[1:])
        data += f"Q0 {number(y1 + sag)} {number(-right[-1][0])} {number(y1)}"
        data += "".join(f"L{number(x)} {number(y)}" for x, y in left[1:])
        return path(data + "Z", colour)

    whole = band(-64, 404, body)
    return whole + "".join(band(y, y + 58, stripe) for y in (30, 146, 262)) + band(362, 404, stripe)


def hexagon(r: float, fill: str, stroke: str = "", width: float = 0.0) -> str:
    """A cell of a comb, flat sides left and right."""
    spots = [
        (r * math.cos(math.radians(60 * k - 90)), r * math.sin(math.radians(60 * k - 90))) for k in range(6)
    ]
    return polygon(spots, fill, stroke, width)


def comb(
    cells: tuple[tuple[int, int], ...], r: float, fills: tuple[str, ...], gap: float = 0.1, stroke: str = ""
) -> str:
    """Cells at (column, row) of a honeycomb; colours go round in turn."""
    parts = []
    for k, (column, row) in enumerate(cells):
        x = r * math.sqrt(3) * (column + 0.5 * (row % 2))
        y = r * 1.5 * row
        fill = fills[k % len(fills)]
        parts.append(place(hexagon(r * (1 - gap), fill, stroke, r * 0.08 if stroke else 0), x, y))
    return "".join(parts)


def hive(straw: str, shade: str, door: str) -> str:
    """A straw skep on its stand, about 760 wide and 800 tall."""
    parts = [
        bar(-430, 350, 860, 56, shade, 20),
        bar(-330, 400, 70, 120, shade, 14),
        bar(260, 400, 70, 120, shade, 14),
    ]
    rows = 8
    for k in range(rows):
        y = 268 - k * 88
        t = (k + 0.35) / rows
        w = 372 * math.sqrt(max(0.02, 1 - t**2.6))
        parts.append(bar(-w, y, 2 * w, 92, straw, 46))
        parts.append(
            path(
                f"M{number(-w + 40)} {number(y + 82)}L{number(w - 40)} {number(y + 82)}",
                stroke=shade,
                width=12,
            )
        )
    parts.append(path("M-95 356L-95 250A95 95 0 0 1 95 250L95 356Z", door))
    parts.append(disc(0, -400, 46, straw))
    return "".join(parts)


def jar(glass: str, honey: str, label: str, lid: str) -> str:
    """A honey jar, about 640 wide and 900 tall, with an empty label."""
    body = "M-250 -260C-320 -230 -330 -170 -330 -120L-330 330C-330 420 -280 450 -210 450L210 450C280 450 330 420 330 330L330 -120C330 -170 320 -230 250 -260Z"
    fill = "M-292 -90C-200 -130 -90 -60 20 -92C120 -120 210 -110 292 -86L292 320C292 390 262 412 205 412L-205 412C-262 412 -292 390 -292 320Z"
    shine = "M-262 -120L-262 250"
    return (
        path(body, glass)
        + path(fill, honey)
        + path(shine, stroke=glass, width=26)
        + bar(-285, -430, 570, 150, lid, 34)
        + path("M-250 -300L250 -300", stroke=glass, width=16)
        + bar(-200, 0, 400, 290, label, 26)
    )


def dipper(wood: str, shade: str, honey: str) -> str:
    """A honey dipper, handle up, about 1000 tall, with a drip."""
    parts = [bar(-28, -560, 56, 700, wood, 28)]
    for k, w in enumerate((95, 135, 155, 155, 130, 90)):
        parts.append(bar(-w, 60 + k * 62, 2 * w, 46, wood if k % 2 == 0 else shade, 23))
    drip = "M-90 392C-60 430 -40 470 -36 560C-34 610 36 610 36 560C40 480 60 430 90 392Z"
    return path(drip, honey) + "".join(parts) + disc(2, 690, 34, honey)


def trail(stroke: str, width: float) -> str:
    """The dashed loop a bee flies, about 1300 wide."""
    data = "M-650 200C-500 -60 -260 -40 -180 110C-110 250 -300 330 -330 190C-370 0 -60 -160 160 -110C360 -60 480 40 640 -60"
    return (
        f'<path d="{data}" fill="none" stroke="{stroke}" stroke-width="{number(width)}" '
        f'stroke-linecap="round" stroke-dasharray="{number(width * 0.1)} {number(width * 2.4)}"/>'
    )
