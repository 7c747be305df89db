"""Narrowboats and the painted roses of the cut, around (0, 0)."""

from tools.sampleart.kit import around, bar, disc, number, path, place, polygon
from tools.sampleart.ornaments import leaf
from tools.sampleart.shore import ripple


def narrowboat(hull: str, cabin: str, trim: str, light: str, water: str) -> str:
    """A narrowboat from the side, bow to the right, about 2800 wide and 900 tall."""
    body = "M-1330 150L1180 150C1290 120 1350 60 1390 -10C1400 110 1370 270 1270 330L-1260 330C-1310 290 -1330 220 -1330 150Z"
    house = "M-980 -240L860 -240L900 160L-1010 160Z"
    windows = "".join(
        f"<g>{disc(x, -60, 88, trim)}{disc(x, -60, 62, light)}</g>" for x in (-330, 30, 390, 680)
    )
    panel = bar(-920, -170, 440, 260, trim, 20) + bar(-890, -140, 380, 200, cabin, 14)
    diamonds = "".join(
        polygon([(x, -40 - 46), (x + 46, -40), (x, -40 + 46), (x - 46, -40)], light)
        for x in (-820, -700, -580)
    )
    roof = path("M-1010 -250L890 -250", stroke=trim, width=40)
    tiller = path("M-1260 150C-1290 20 -1210 -30 -1080 -40", stroke=trim, width=34)
    stem = path("M1180 150C1290 120 1350 60 1390 -10", stroke=trim, width=30)
    band = path("M-1326 190L1330 190", stroke=trim, width=34)
    return (
        _on_the_roof(hull, cabin, trim, light)
        + tiller
        + path(house, cabin)
        + panel
        + diamonds
        + windows
        + roof
        + path(body, hull)
        + band
        + stem
        + place(ripple(3000, 10, 46, water, 40), 0, 350)
        + place(ripple(2500, 8, 40, water, 30), 60, 430)
    )


def _on_the_roof(hull: str, cabin: str, trim: str, light: str) -> str:
    """Smoke, its chimney, the water can and a trough of leaves."""
    smoke = path(
        "M-250 -470C-300 -540 -210 -590 -270 -670C-310 -730 -240 -780 -290 -850", stroke=light, width=34
    )
    leaves = "".join(
        place(leaf(110, 34, light), x, -330, turn=t)
        for x, t in ((480, -110), (540, -90), (600, -70), (630, -50))
    )
    return (
        smoke
        + path("M-250 -270L-250 -420", stroke=hull, width=64)
        + path("M-290 -420L-210 -420", stroke=light, width=30)
        + path("M-250 -360L-250 -340", stroke=light, width=66)
        + _can(trim, light, cabin)
        + bar(430, -330, 240, 66, trim, 10)
        + leaves
    )


def _can(body: str, light: str, rim: str) -> str:
    """The painted water can on the roof."""
    return place(
        polygon([(-70, 0), (70, 0), (50, -150), (-50, -150)], body)
        + path("M-66 -50L66 -50", stroke=light, width=22)
        + path("M-50 -150C-40 -220 40 -220 50 -150", stroke=rim, width=18)
        + path("M60 -60L130 -150", stroke=body, width=30),
        80,
        -268,
    )


def rose(petal: str, shade: str, heart: str) -> str:
    """A painted canal rose in single brush strokes, about 600 across."""
    parts = [disc(0, 0, 250, shade)]
    stroke = "M0 0C90 -60 130 -150 70 -235C20 -290 -70 -270 -95 -205C-115 -130 -60 -60 0 0Z"
    for k in range(5):
        parts.append(f'<g transform="rotate({72 * k}) translate(0 -58)">{path(stroke, petal)}</g>')
    for k in range(5):
        parts.append(
            f'<g transform="rotate({72 * k + 36}) translate(0 -20) scale(.55)">{path(stroke, petal, shade, 18)}</g>'
        )
    dots = "".join(disc(x, y, 14, heart) for x, y, _ in around(7, 44))
    return "".join(parts) + disc(0, 0, 66, shade) + dots + disc(0, 0, 18, heart)


def brush_leaf(fill: str, light: str) -> str:
    """A leaf of the same painting, from (0, 0) along +x, 320 long."""
    return leaf(320, 110, fill) + path("M30 0C110 -46 200 -40 285 0", stroke=light, width=20)


def castle(wall: str, shade: str, roof: str, water: str) -> str:
    """The castle of canal painting, about 1000 wide, water at y = 330."""

    def turret(x: float, y: float, w: float, h: float) -> str:
        return (
            bar(x - w / 2, y - h, w, h, wall)
            + polygon([(x - w * 0.66, y - h), (x + w * 0.66, y - h), (x, y - h - w * 1.05)], roof)
            + path(
                f"M{number(x)} {number(y - h * 0.62)}L{number(x)} {number(y - h * 0.42)}",
                stroke=shade,
                width=w * 0.2,
            )
        )

    return (
        turret(-300, 260, 170, 430)
        + turret(300, 260, 170, 400)
        + turret(0, 260, 220, 620)
        + bar(-330, 40, 660, 230, wall)
        + "".join(bar(-330 + 96 * k, 0, 54, 60, wall) for k in range(7))
        + path("M-80 270L-80 160A80 80 0 0 1 80 160L80 270Z", shade)
        + path("M-560 290C-300 220 300 220 560 290Z", shade)
        + place(ripple(1050, 4, 34, water, 30), 0, 340)
    )


def windlass(stroke: str, grip: str) -> str:
    """The crank that works a lock's paddles, about 800 tall."""
    return (
        path("M-60 360L-60 -180C-60 -280 40 -290 110 -330", stroke=stroke, width=80)
        + path("M-60 380L230 380", stroke=stroke, width=74)
        + path("M110 380L260 380", stroke=grip, width=92)
        + polygon([(60, -430), (230, -400), (200, -240), (40, -270)], stroke)
    )
