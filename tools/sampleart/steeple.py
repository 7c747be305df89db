"""Sample designs for bell ringers."""

from tools.sampleart.kit import (
    BLACK,
    BOLD,
    DECO,
    FAT,
    HAND,
    LOBSTER,
    MIDDLE,
    PLAIN,
    SIGN,
    SLAB,
    TALL,
    arched,
    bannered,
    bar,
    canvas,
    place,
    stack,
    words,
)  # fmt: skip
from tools.sampleart.ornaments import laurel, ribbon, rule, shield, star, sunburst
from tools.sampleart.tower import bell, method_line, plain_hunt, rope, tower

_INK, _BRONZE, _DARK, _CREAM, _RED, _BLUE, _STONE = (
    "#1d2433",
    "#d9962e",
    "#8a5a14",
    "#fdf3dd",
    "#c2352b",
    "#2c5f9e",
    "#b9b0a0",
)
_SALLY = (_RED, _CREAM, _BLUE)


def look_to() -> bytes:
    """A bell under an arch, for light goods."""
    return canvas(
        arched("LOOK TO!", SLAB, _INK, cy=2080, radius=1180, span=168, size=620).svg,
        place(sunburst(930, 1120, 44, _BRONZE, 185, 355), MIDDLE, 2080),
        place(bell(_BRONZE, _DARK, "#ffe2a0"), MIDDLE, 2270, 1.32),
        words("TREBLE'S GOING…", SIGN, _RED, top=3220, width=2900).svg,
        words("she's gone!", LOBSTER, _INK, top=3720, width=1800).svg,
    )


def know_the_ropes() -> bytes:
    """Two ropes beside cream words, for dark goods only."""
    block = stack(
        [("I KNOW", TALL, _CREAM), ("THE", DECO, _BRONZE), ("ROPES", TALL, _CREAM)], top=520, width=2060, gap=110
    )  # fmt: skip
    return canvas(
        place(rope(3650, "#d9bf8c", _SALLY), 420, 180),
        place(rope(3650, "#d9bf8c", _SALLY), 3180, 180),
        block.svg,
        words("bell ringer", LOBSTER, _BRONZE, top=block.box.bottom + 150, width=1700).svg,
    )


def plain_hunt_chart() -> bytes:
    """The figures and blue line of plain hunt on six, for light goods."""
    rows = plain_hunt(6)
    across, down, top = 440.0, 240.0, 1000.0
    figures = []
    for k, row in enumerate(rows):
        for place_in_row, number_rung in enumerate(row):
            fill = _RED if number_rung == 1 else _INK
            if number_rung == 2:
                continue
            x = MIDDLE + (place_in_row - 2.5) * across
            figures.append(words(str(number_rung), BOLD, fill, top=top + k * down - 64, x=x, size=178).svg)
    return canvas(
        words("PLAIN HUNT", SLAB, _INK, top=270, width=3000).svg,
        *figures,
        place(method_line(rows, 2, across, down, _BLUE, 64), MIDDLE, top),
        words("one day I'll get to the end of it", HAND, _BLUE, top=top + 12 * down + 190, width=2350).svg,
    )


def tower_captain() -> bytes:
    """A crest whose motto stands on a strip of its own, for goods of any colour."""
    return canvas(
        place(laurel(1480, 10, "#7f9b6a"), MIDDLE, 1880),
        place(shield(1980, 2340, _BRONZE), MIDDLE, 1920),
        place(shield(1860, 2210, "#1b2a44"), MIDDLE, 1912),
        place(tower(_STONE, "#8b8375", _INK), MIDDLE, 1910, 1.05),
        place(bell(_BRONZE, _DARK, "#ffe2a0"), 1190, 1560, 0.4, turn=-18),
        place(bell(_BRONZE, _DARK, "#ffe2a0"), 2410, 1560, 0.4, turn=18),
        place(ribbon(2420, 540, _RED, "#8b1f18", "#561009", 60), MIDDLE, 3330),
        bannered("TOWER CAPTAIN", SIGN, _CREAM, y=3330, width=2300, dip=60, tallest=320).svg,
        bar(400, 3770, 2800, 420, _BRONZE, 210),
        bar(426, 3796, 2748, 368, "#1b2a44", 184),
        words("please stand when I say stand", LOBSTER, _CREAM, top=3868, width=2480).svg,
    )


def ringing_list() -> bytes:
    """A poster of calls, works on light and mid-tone goods."""
    ink, warm = "#2d3561", "#b8402f"
    lines = (("LISTEN", FAT, ink), ("COUNT", FAT, warm), ("PULL", FAT, ink), ("PUB", FAT, warm))
    block = stack(lines, top=300, width=2350, gap=100)
    return canvas(
        block.svg,
        place(star(150, warm), 300, 1700), place(star(150, warm), 3300, 1700),
        down=420,
    )  # fmt: skip


def sunday_service() -> bytes:
    """A wide bell with text inside, for light goods."""
    return canvas(
        place(bell(_INK, _INK, _INK), MIDDLE, 2180, 3.35),
        words("RINGERS", BLACK, _CREAM, top=1290, width=1240).svg,
        words("go round in", HAND, _BRONZE, top=1830, width=1000).svg,
        words("ROUNDS", SLAB, _CREAM, top=2190, width=1720).svg,
        bar(840, 2620, 1920, 24, _BRONZE),
        words("THEN PUT THE KETTLE ON", PLAIN, _CREAM, top=2740, width=1900).svg,
        place(rule(1500, 16, _BRONZE), MIDDLE, 3060),
    )


DESIGNS = (
    ("look-to-trebles-going-bell-ringer-arch", look_to),
    ("i-know-the-ropes-bell-ringer-sally", know_the_ropes),
    ("plain-hunt-method-line-bell-ringing", plain_hunt_chart),
    ("tower-captain-bell-ringer-crest", tower_captain),
    ("listen-count-pull-pub-bell-ringing-list", ringing_list),
    ("ringers-do-it-in-rounds-church-bell", sunday_service),
)
