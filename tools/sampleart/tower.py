"""Church bells, ropes and the lines ringers follow, around (0, 0)."""

from collections.abc import Sequence

from tools.sampleart.kit import bar, disc, number, path, place


def bell(bronze: str, shade: str, light: str) -> str:
    """A tower bell with headstock and clapper, about 1000 wide and 1150 tall."""
    body = (
        "M-190 -330C-150 -400 150 -400 190 -330C260 -210 250 40 330 210C370 290 440 320 470 380C478 420 460 430 430 430"
        "L-430 430C-460 430 -478 420 -470 380C-440 320 -370 290 -330 210C-250 40 -260 -210 -190 -330Z"
    )
    return (
        bar(-330, -560, 660, 110, shade, 30)
        + path("M-120 -380L-120 -470M0 -380L0 -470M120 -380L120 -470", stroke=shade, width=58)
        + disc(0, 500, 92, shade)
        + path("M0 380L0 470", stroke=shade, width=60)
        + path(body, bronze)
        + path("M-345 235C-150 285 150 285 345 235L372 290C150 345 -150 345 -372 290Z", shade)
        + path("M-205 -215C-80 -180 80 -180 205 -215", stroke=shade, width=26)
        + path("M-222 -140C-80 -105 80 -105 222 -140", stroke=shade, width=14)
        + path("M-140 -280C-180 -150 -175 20 -230 160", stroke=light, width=40)
    )


def rope(length: float, hemp: str, sally: Sequence[str]) -> str:
    """A bell rope hanging from (0, 0) with its woollen sally and a tail loop."""
    top, tall, wide = length * 0.3, length * 0.34, length * 0.05
    parts = [path(f"M0 0L0 {number(length)}", stroke=hemp, width=length * 0.02)]
    bands = 12
    for k in range(bands):
        y = top + tall * k / bands
        swell = wide * (0.62 if k in (0, bands - 1) else 0.86 if k in (1, bands - 2) else 1.0)
        rise = tall / bands * 0.9
        parts.append(
            path(
                f"M{number(-swell)} {number(y + rise)}L{number(swell)} {number(y)}L{number(swell)} {number(y + tall / bands + 3)}"
                f"L{number(-swell)} {number(y + rise + tall / bands + 3)}Z",
                sally[k % len(sally)],
            )
        )
    w = length * 0.035
    parts.append(
        path(
            f"M0 {number(length)}C{number(w * 2)} {number(length * 1.06)} {number(w)} {number(length * 1.13)} 0 {number(length * 1.13)}"
            f"C{number(-w)} {number(length * 1.13)} {number(-w * 2)} {number(length * 1.06)} 0 {number(length)}",
            stroke=hemp,
            width=length * 0.02,
        )
    )
    return "".join(parts)


def plain_hunt(bells: int) -> list[list[int]]:
    """Rows of plain hunt from rounds back to rounds: each change swaps neighbours, starting at the front,
    then at second place, in turn. (The trade's first exercise; rows are 2 x bells + 1.)
    """
    row = list(range(1, bells + 1))
    rows = [row[:]]
    for change in range(2 * bells):
        for i in range(change % 2, bells - 1, 2):
            row[i], row[i + 1] = row[i + 1], row[i]
        rows.append(row[:])
    return rows


def method_line(
    rows: Sequence[Sequence[int]], which: int, across: float, down: float, stroke: str, width: float
) -> str:
    """The path of one bell through the rows, the first row centred on y = 0."""
    middle = (len(rows[0]) - 1) / 2
    spots = [((row.index(which) - middle) * across, k * down) for k, row in enumerate(rows)]
    return path("M" + "L".join(f"{number(x)} {number(y)}" for x, y in spots), stroke=stroke, width=width)


def tower(stone: str, shade: str, dark: str) -> str:
    """A church tower with battlements, about 700 wide and 1300 tall, foot at y = 650."""
    merlons = "".join(bar(-330 + 165 * k, -640, 100, 110, stone) for k in range(4)) + bar(
        -330 + 590, -640, 70, 110, stone
    )
    courses = "".join(
        path(f"M{x} {y}L{x + 90} {y}", stroke=shade, width=16)
        for x, y in (
            (-240, -60),
            (120, 40),
            (-150, 180),
            (160, 250),
            (-250, 330),
            (30, 420),
            (-180, 520),
            (150, 560),
            (-40, 90),
        )
    )
    louvre = "M-110 -150L-110 -330A110 110 0 0 1 110 -330L110 -150Z"
    slats = "".join(path(f"M-96 {y}L96 {y}", stroke=shade, width=20) for y in (-200, -250, -300, -350))
    door = "M-100 650L-100 440A100 110 0 0 1 100 440L100 650Z"
    return (
        merlons
        + bar(-350, -560, 700, 80, stone, 10)
        + bar(-300, -500, 600, 1150, stone)
        + courses
        + path(louvre, dark)
        + slats
        + path(door, dark)
        + bar(-330, -440, 660, 26, shade)
        + place(path("M0 0L0 -260M-70 -190L70 -190", stroke=dark, width=26), 0, -640)
    )
