"""Sea, sun and swimmers, around (0, 0)."""

import math

from tools.sampleart.kit import bar, disc, number, path, place


def ripple(width: float, waves: int, height: float, stroke: str, thick: float) -> str:
    """A line of water."""
    step = width / waves
    data = f"M{number(-width / 2)} 0"
    for k in range(waves):
        x = -width / 2 + k * step
        data += (
            f"C{number(x + step * 0.25)} {number(-height)} {number(x + step * 0.25)} {number(-height)} {number(x + step / 2)} 0"
            f"C{number(x + step * 0.75)} {number(height)} {number(x + step * 0.75)} {number(height)} {number(x + step)} 0"
        )
    return path(data, stroke=stroke, width=thick)


def scales(width: float, rows: int, r: float, colours: tuple[str, ...], line: str) -> str:
    """Rows of overlapping round waves, the top row at y = 0."""
    parts = []
    columns = int(width / (2 * r))
    for row in range(rows):
        y = row * r * 0.62
        shift = r if row % 2 else 0.0
        count = columns - (1 if row % 2 else 0)
        for k in range(count):
            x = -columns * r + r + 2 * r * k + shift
            for j, share in enumerate((1.0, 0.66, 0.32)):
                parts.append(
                    path(
                        f"M{number(x - r * share)} {number(y)}A{number(r * share)} {number(r * share)} 0 0 1 {number(x + r * share)} {number(y)}Z",
                        colours[j % len(colours)],
                        line if j == 0 else "",
                        r * 0.07,
                    )
                )
    return "".join(parts)


def breaker(deep: str, light: str, foam: str) -> str:
    """A curling wave running to the right, about 1900 wide and 1000 tall."""
    body = (
        "M-950 420C-760 380 -620 250 -520 60C-390 -220 -120 -440 200 -420C470 -400 610 -210 560 -30"
        "C540 60 440 100 370 50C430 -10 420 -110 330 -150C200 -200 80 -90 90 60C100 240 330 330 560 320C720 312 860 360 950 420Z"
    )
    inner = "M-700 420C-520 330 -420 150 -300 -20C-200 -160 -60 -240 60 -240C-60 -150 -110 0 -60 150C0 320 180 400 360 420Z"
    crest = "M-520 60C-390 -220 -120 -440 200 -420C470 -400 610 -210 560 -30C530 -200 400 -330 190 -340C-80 -350 -330 -190 -520 60Z"
    spray = "".join(
        disc(x, y, r, foam)
        for x, y, r in ((640, -60, 34), (700, -150, 24), (610, -250, 20), (690, -10, 18), (520, -330, 16))
    )
    return path(body, deep) + path(inner, light) + path(crest, foam) + spray


def sun(r: float, fill: str, bands: int = 0, band: str = "") -> str:
    """The upper half of a sun on the horizon at y = 0; gaps at the foot when ``bands``."""
    out = path(f"M{number(-r)} 0A{number(r)} {number(r)} 0 0 1 {number(r)} 0Z", fill)
    for k in range(bands):
        y = -r * (0.09 + 0.15 * k)
        thick = r * (0.07 - 0.012 * k)
        half = math.sqrt(max(0.0, r * r - y * y)) + 4
        out += bar(-half, y - thick / 2, 2 * half, thick, band)
    return out


def banded_sun(r: float, fill: str, gaps: int = 5) -> str:
    """A half sun cut into stripes that thin out upwards; nothing is drawn in the gaps."""
    cuts = [0.0]
    for k in range(gaps):
        cuts += [r * (0.1 + 0.15 * k), r * (0.1 + 0.15 * k) + r * (0.065 - 0.011 * k)]
    cuts.append(r)
    parts = []
    for low, high in zip(cuts[::2], cuts[1::2], strict=True):
        a, b = (math.sqrt(max(0.0, r * r - y * y)) for y in (low, high))
        parts.append(
            path(
                f"M{number(-a)} {number(-low)}A{number(r)} {number(r)} 0 0 1 {number(-b)} {number(-high)}L{number(b)} {number(-high)}"
                f"A{number(r)} {number(r)} 0 0 1 {number(a)} {number(-low)}Z",
                fill,
            )
        )
    return "".join(parts)


def swimmer(skin: str, cap: str, shade: str, glass: str, water: str) -> str:
    """A swimmer's head in cap and goggles above a ripple, about 900 wide."""
    return (
        path("M-330 260C-300 60 -200 40 0 40C200 40 300 60 330 260Z", shade)
        + bar(-110, -60, 220, 240, skin, 80)
        + path("M-225 -210C-225 60 -130 150 0 150C130 150 225 60 225 -210Z", skin)
        + path(
            "M-240 -190C-250 -480 -130 -560 0 -560C130 -560 250 -480 240 -190C120 -230 -120 -230 -240 -190Z",
            cap,
        )
        + path("M-200 -300C-190 -420 -120 -490 -40 -505", stroke=glass, width=26)
        + path("M-236 -120L236 -120", stroke=shade, width=36)
        + path(
            "M-180 -165L-40 -165C-20 -165 -14 -150 -18 -120C-24 -60 -60 -40 -110 -40C-170 -40 -205 -70 -205 -120C-205 -150 -200 -165 -180 -165Z",
            glass,
            shade,
            26,
        )
        + path(
            "M180 -165L40 -165C20 -165 14 -150 18 -120C24 -60 60 -40 110 -40C170 -40 205 -70 205 -120C205 -150 200 -165 180 -165Z",
            glass,
            shade,
            26,
        )
        + path("M-70 50C-30 90 30 90 70 50", stroke=shade, width=20)
        + place(ripple(1150, 4, 70, water, 46), 0, 235)
        + place(ripple(900, 3, 60, water, 34), 0, 330)
    )


def tow_float(body: str, strap: str) -> str:
    """A swimmer's tow float, about 560 wide."""
    return (
        path(
            "M-280 0C-280 -110 -200 -130 -120 -130L120 -130C200 -130 280 -110 280 0C280 110 200 130 120 130L-120 130C-200 130 -280 110 -280 0Z",
            body,
        )
        + path("M-110 -130L-110 130M110 -130L110 130", stroke=strap, width=30)
        + path("M-280 0C-360 0 -380 60 -450 50", stroke=strap, width=22)
    )


def gull(stroke: str, width: float) -> str:
    """A gull far off, about 300 wide."""
    return path("M-150 20C-120 -50 -50 -60 0 10C50 -60 120 -50 150 20", stroke=stroke, width=width)


def flake(r: float, stroke: str, width: float) -> str:
    """A six-armed snow crystal."""
    arm = f"M0 0L0 {number(-r)}M0 {number(-r * 0.55)}L{number(-r * 0.26)} {number(-r * 0.8)}M0 {number(-r * 0.55)}L{number(r * 0.26)} {number(-r * 0.8)}"
    return "".join(
        f'<g transform="rotate({60 * k})">{path(arm, stroke=stroke, width=width)}</g>' for k in range(6)
    )


def anchor(stroke: str, width: float) -> str:
    """An anchor, about 800 tall."""
    data = "M0 -260L0 380M-170 -170L170 -170M-330 120C-310 320 -150 390 0 390C150 390 310 320 330 120M-400 200L-330 110L-250 180M400 200L330 110L250 180"
    return (
        path(data, stroke=stroke, width=width)
        + f'<circle cx="0" cy="-330" r="74" fill="none" stroke="{stroke}" stroke-width="{number(width)}"/>'
    )
