"""Notes, staves and clefs, around (0, 0). One staff space is 100 units unless told otherwise."""

from collections.abc import Sequence

from tools.sampleart.kit import bar, disc, number, path, place


def staff(width: float, space: float, stroke: str, thick: float) -> str:
    """Five lines, the middle one at y = 0."""
    lines = "".join(
        f"M{number(-width / 2)} {number(k * space)}L{number(width / 2)} {number(k * space)}"
        for k in range(-2, 3)
    )
    return path(lines, stroke=stroke, width=thick)


def c_clef(fill: str) -> str:
    """A C clef for a staff of 100 units a space: its waist sits on the middle line, the altos' note C."""
    half = (
        "M-40 0C-20 -14 -10 -34 -4 -62C20 -30 60 -26 86 -52C116 -84 112 -168 60 -180C40 -184 24 -176 22 -162"
        "C50 -168 64 -128 34 -116C10 -108 -12 -128 -6 -158C4 -200 60 -214 106 -194C184 -160 186 -50 110 -14C74 2 36 -4 14 -24C8 -14 2 -6 -6 0Z"
    )
    return (
        bar(-150, -200, 62, 400, fill)
        + bar(-66, -200, 20, 400, fill)
        + path(half, fill)
        + f'<g transform="scale(1 -1)">{path(half, fill)}</g>'
    )


def g_clef(stroke: str, thick: float) -> str:
    """A treble clef drawn with one pen line, about 800 tall, curling round the second line at y = 100."""
    data = (
        "M20 110C-10 60 70 30 100 100C130 190 20 250 -60 210C-180 150 -150 10 -50 -80C40 -160 110 -220 100 -330"
        "C94 -410 40 -420 10 -350C-30 -240 40 -20 70 180C90 320 90 400 10 410C-50 416 -80 370 -60 330"
    )
    return path(data, stroke=stroke, width=thick) + disc(-44, 350, thick * 1.1, stroke)


def note(fill: str, flag: bool = False, stem: float = 330.0) -> str:
    """A quarter note with its head at (0, 0) and stem up; an eighth with ``flag``."""
    head = f'<ellipse cx="0" cy="0" rx="66" ry="46" fill="{fill}" transform="rotate(-22)"/>'
    line = path(f"M56 -14L56 {number(-stem)}", stroke=fill, width=18)
    tail = (
        path(
            f"M56 {number(-stem)}C70 {number(-stem + 90)} 170 {number(-stem + 120)} 130 {number(-stem + 250)}C150 {number(-stem + 160)} 90 {number(-stem + 130)} 56 {number(-stem + 110)}Z",
            fill,
        )
        if flag
        else ""
    )
    return head + line + tail


def beamed(fill: str, gap: float = 260.0, rise: float = -50.0) -> str:
    """Two eighth notes under one beam, the first head at (0, 0)."""
    x0, x1 = 56.0, gap + 56
    beam = f"M{number(x0 - 9)} -330L{number(x1 + 9)} {number(-330 + rise)}L{number(x1 + 9)} {number(-260 + rise)}L{number(x0 - 9)} -260Z"
    return note(fill) + place(note(fill), gap, rise) + path(beam, fill)


def melody(heights: Sequence[float], gap: float, fill: str) -> str:
    """Quarter notes along a staff; heights count half spaces of 50 units up from the middle line."""
    middle = (len(heights) - 1) / 2
    parts = []
    for k, height in enumerate(heights):
        x, y = (k - middle) * gap, -50 * height
        one = note(fill, stem=300)
        parts.append(
            place(one, x, y)
            if height < 0
            else f'<g transform="translate({number(x)} {number(y)}) rotate(180)">{one}</g>'
        )
    return "".join(parts)


def tuning_fork(stroke: str, width: float) -> str:
    """A tuning fork, tines up, about 1000 tall."""
    return path(
        "M-110 -480L-110 0C-110 150 110 150 110 0L110 -480M0 112L0 430", stroke=stroke, width=width
    ) + disc(0, 460, width * 0.8, stroke)


def mouth(lip: str, inside: str, tongue: str, teeth: str) -> str:
    """An open singing mouth, about 800 wide."""
    return (
        path(
            "M-400 -40C-300 -190 -130 -290 0 -220C130 -290 300 -190 400 -40C330 190 160 330 0 330C-160 330 -330 190 -400 -40Z",
            lip,
        )
        + path(
            "M-290 -40C-180 -130 180 -130 290 -40C230 130 120 220 0 220C-120 220 -230 130 -290 -40Z", inside
        )
        + path("M-180 150C-110 60 110 60 180 150C120 210 60 220 0 220C-60 220 -120 210 -180 150Z", tongue)
        + path("M-240 -62C-140 -112 140 -112 240 -62L215 -18C120 -52 -120 -52 -215 -18Z", teeth)
    )
