"""Tools and crops of an allotment, around (0, 0)."""

from tools.sampleart.kit import bar, disc, number, path, place, polygon, ring
from tools.sampleart.ornaments import leaf


def watering_can(body: str, shade: str, rose: str) -> str:
    """A watering can pouring to the right, about 1300 wide and 900 tall."""
    spout = "M230 170L560 -250L640 -200L330 330Z"
    handle = "M-330 -150C-640 -230 -660 330 -340 300"
    hoop = "M-250 -215C-230 -470 190 -470 230 -215"
    tank = "M-340 -220L270 -220C300 -100 330 150 345 380C345 420 330 430 300 430L-370 430C-400 430 -415 420 -412 380C-400 150 -370 -100 -340 -220Z"
    return (
        path(handle, stroke=shade, width=62)
        + path(hoop, stroke=shade, width=56)
        + path(spout, body)
        + path("M520 -330L720 -170", stroke=rose, width=78)
        + path(tank, body)
        + bar(-370, -262, 668, 76, shade, 38)
        + path("M-378 40C-150 90 120 90 322 40L330 130C120 180 -150 180 -388 130Z", shade)
    )


def drops(fill: str) -> str:
    """Falling water, about 420 wide."""
    spots = (
        (0, 0, 1.0),
        (130, 60, 0.85),
        (-40, 190, 0.8),
        (95, 240, 1.0),
        (220, 210, 0.7),
        (20, 390, 0.75),
        (180, 390, 0.9),
    )
    drop = "M0 -70C30 -20 46 8 46 34A46 46 0 0 1 -46 34C-46 8 -30 -20 0 -70Z"
    return "".join(place(path(drop, fill), x, y, s, turn=-18) for x, y, s in spots)


def spade(blade: str, shade: str, wood: str) -> str:
    """A digging spade, blade down, about 1500 tall."""
    return (
        bar(-34, -560, 68, 820, wood, 24)
        + path(
            "M-150 -700L150 -700L150 -640C120 -600 60 -590 34 -520L-34 -520C-60 -590 -120 -600 -150 -640Z",
            wood,
        )
        + path("M-90 -640L90 -640C70 -610 40 -600 0 -590C-40 -600 -70 -610 -90 -640Z", shade)
        + path("M-60 130L60 130L74 330L-74 330Z", shade)
        + path(
            "M-190 290C-100 270 100 270 190 290L180 590C170 690 90 740 0 790C-90 740 -170 690 -180 590Z",
            blade,
        )
        + path("M0 330L0 620", stroke=shade, width=26)
    )


def fork(metal: str, shade: str, wood: str) -> str:
    """A garden fork, tines down, about 1500 tall."""
    tines = "".join(
        path(f"M{x} 400C{x} 560 {x} 640 {x * 0.96:.0f} 780", stroke=metal, width=46)
        for x in (-165, -55, 55, 165)
    )
    return (
        bar(-34, -560, 68, 820, wood, 24)
        + path(
            "M-150 -700L150 -700L150 -640C120 -600 60 -590 34 -520L-34 -520C-60 -590 -120 -600 -150 -640Z",
            wood,
        )
        + path("M-90 -640L90 -640C70 -610 40 -600 0 -590C-40 -600 -70 -610 -90 -640Z", shade)
        + path("M-56 130L56 130L66 330L-66 330Z", shade)
        + tines
        + path("M-190 420C-190 330 -90 330 0 310C90 330 190 330 190 420Z", metal)
    )


def carrot(root: str, line: str, green: str) -> str:
    """A carrot, tip down, about 900 tall."""
    tops = "".join(place(leaf(360, 80, green), 0, -150, turn=t) for t in (-128, -108, -90, -72, -52))
    body = "M-150 -120C-150 -200 150 -200 150 -120C150 120 60 400 0 520C-60 400 -150 120 -150 -120Z"
    marks = "M-140 -40L-60 -28M138 30L70 42M-112 110L-50 118M92 190L30 200M-70 270L-26 276"
    return tops + path(body, root) + path(marks, stroke=line, width=20)


def beetroot(root: str, line: str, green: str, stem: str) -> str:
    """A beetroot with its leaves, about 1000 tall."""
    tops = ""
    for turn, size in ((-130, 0.85), (-110, 1.0), (-90, 1.12), (-70, 1.0), (-50, 0.85)):
        stalk = path(f"M0 0L{number(200 * size)} 0", stroke=stem, width=30)
        tops += place(
            stalk + place(leaf(330 * size, 105 * size, green, stem), 150 * size, 0), 0, -60, turn=turn
        )
    body = "M0 -110C150 -130 240 -30 240 80C240 220 110 300 40 350C10 400 20 470 0 540C-20 470 -10 400 -40 350C-110 300 -240 220 -240 80C-240 -30 -150 -130 0 -110Z"
    return (
        tops
        + path(body, root)
        + path("M-150 120C-110 220 -60 250 -20 270M90 -40C140 -20 160 20 165 60", stroke=line, width=22)
    )


def radish(root: str, tip: str, green: str) -> str:
    """A radish, about 800 tall."""
    tops = "".join(
        place(leaf(s, 90, green, tip), 0, -90, turn=t) for t, s in ((-122, 300), (-90, 380), (-58, 300))
    )
    body = "M0 -110C130 -120 190 -30 180 50C168 150 80 200 30 250C10 300 8 360 0 420C-8 360 -10 300 -30 250C-80 200 -168 150 -180 50C-190 -30 -130 -120 0 -110Z"
    foot = "M-72 214C-30 232 30 232 72 214C50 232 38 240 30 250C10 300 8 360 0 420C-8 360 -10 300 -30 250C-38 240 -50 232 -72 214Z"
    return (
        tops
        + path(body, root)
        + path(foot, tip)
        + path("M-110 -10C-120 40 -100 90 -70 120", stroke=tip, width=24)
    )


def seedling(green: str, stem: str) -> str:
    """Two leaves on a stem growing from (0, 0), about 300 tall."""
    return (
        path("M0 0C8 -80 -8 -130 0 -190", stroke=stem, width=24)
        + place(leaf(190, 62, green, stem), 0, -170, turn=-152)
        + place(leaf(190, 62, green, stem), 0, -180, turn=-28)
    )


def soil(width: float, fill: str, fleck: str) -> str:
    """A mound of earth, top at about y = -90."""
    w = width / 2
    mound = f"M{number(-w)} 60C{number(-w * 0.8)} -70 {number(-w * 0.3)} -110 0 -96C{number(w * 0.35)} -120 {number(w * 0.8)} -60 {number(w)} 60Z"
    spots = ((-0.6, 10), (-0.35, -40), (-0.1, 8), (0.15, -48), (0.4, 0), (0.62, 20))
    return path(mound, fill) + "".join(disc(w * x, y, 14, fleck) for x, y in spots)


def wellies(boot: str, shade: str, sole: str, band: str) -> str:
    """A pair of wellington boots, about 1100 wide and 1000 tall."""
    one = "M-170 -480L130 -480C140 -250 120 -60 150 60C260 110 400 130 430 240C445 300 440 350 430 380L-180 380C-190 100 -190 -200 -170 -480Z"
    boots = ""
    for x, y, colour in ((170, -40, shade), (-190, 40, boot)):
        details = (
            path(one, colour)
            + path(
                "M-184 340L434 340L434 410C434 430 420 440 400 440L60 440L40 410L-20 410L-30 440L-160 440C-180 440 -186 425 -186 400Z",
                sole,
            )
            + path("M-172 -440L132 -440L134 -360L-176 -360Z", band)
            + path("M140 30C110 90 60 110 20 100", stroke=sole, width=20)
        )
        boots += place(details, x, y)
    return boots


def courgette(skin: str, light: str, flower: str) -> str:
    """A courgette lying down, its flower to the left, about 1200 wide."""
    petals = "".join(place(leaf(230, 74, flower), -390, 20, turn=t) for t in (132, 156, 180, 204, 228))
    body = "M-400 -70C-250 -130 150 -150 400 -70C470 -44 470 84 400 110C150 190 -250 160 -400 96C-440 60 -440 -34 -400 -70Z"
    stripes = "M-360 -28C-150 -76 150 -84 390 -26M-370 26C-150 2 150 0 420 24M-352 74C-150 92 150 104 384 72"
    stalk = "M396 -56C470 -60 520 -78 580 -110L616 -22C560 30 490 80 404 92Z"
    return petals + path(stalk, light) + path(body, skin) + path(stripes, stroke=light, width=16)


def wheel(stroke: str, hub: str) -> str:
    """A barrow's wheel, 300 across."""
    spokes = "".join(
        path("M0 0L0 -120", stroke=stroke, width=16).replace("<path", f'<path transform="rotate({k * 45})"')
        for k in range(8)
    )
    return ring(0, 0, 130, stroke, 34) + spokes + disc(0, 0, 32, hub)


def barrow(tray: str, shade: str, wood: str) -> str:
    """A wheelbarrow facing right, about 1400 wide."""
    return (
        path("M-720 -130L120 330M-200 120L-300 430", stroke=wood, width=52)
        + polygon([(-430, -230), (470, -230), (300, 190), (-250, 190)], tray)
        + path("M-450 -230L500 -230", stroke=shade, width=64)
        + path("M-250 40L390 40", stroke=shade, width=22)
        + path("M260 150L430 330", stroke=wood, width=46)
        + place(wheel(shade, wood), 420, 330)
    )
