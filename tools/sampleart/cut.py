"""Sample designs for narrowboat folk and choir altos."""

from tools.sampleart.canal import brush_leaf, castle, narrowboat, rose, windlass
from tools.sampleart.kit import (
    BLACK,
    FAT,
    HAND,
    LOBSTER,
    MIDDLE,
    PLAIN,
    ROUND,
    SCRIPT,
    SIGN,
    SLAB,
    TALL,
    arched,
    bannered,
    bar,
    canvas,
    disc,
    place,
    ring,
    stack,
    words,
)  # fmt: skip
from tools.sampleart.music import (
    beamed,
    c_clef,
    g_clef,
    melody,
    mouth,
    note,
    staff,
    tuning_fork,
)
from tools.sampleart.ornaments import flourish, ribbon, scallop, star

_GREEN, _RED, _GOLD, _CREAM, _NIGHT, _WATER = "#14463a", "#b3262e", "#e8b13c", "#fbf2dc", "#1a2338", "#3f86a3"
_PLUM, _PINK, _TEAL = "#4b1d4f", "#e4577d", "#1e8a8a"


def four_miles() -> bytes:
    """A boat under an arch, for light goods."""
    return canvas(
        arched("LIFE AT FOUR MILES AN HOUR", SIGN, _GREEN, cy=3060, radius=1960, span=112, size=400).svg,
        place(narrowboat("#22252b", _RED, _GOLD, _CREAM, _WATER), MIDDLE, 2520, 1.12),
        words("OVERTAKEN BY DUCKS", SLAB, _GREEN, top=3250, width=3060).svg,
        words("and happy about it", LOBSTER, _RED, top=3720, width=2000).svg,
    )


def painted_roses() -> bytes:
    """Canal painting with a line in leaf green, for light and dark goods."""
    petals = (("#e9c33f", "#a87a12"), ("#f7f0df", "#b8ab8c"), ("#e4577d", _RED))
    flowers = (
        (MIDDLE, 1330, 2, 1.7), (MIDDLE - 760, 1560, 1, 1.15), (MIDDLE + 760, 1560, 1, 1.15),
        (MIDDLE - 360, 760, 0, 0.95), (MIDDLE + 360, 760, 0, 0.95),
    )  # fmt: skip
    leaves = "".join(
        place(brush_leaf("#3f8f55", "#b9d977"), MIDDLE + x, y, 1.5, turn=t)
        for x, y, t in (
            (-1000, 1300, -150), (1000, 1300, -30), (-1050, 1750, 165), (1050, 1750, 15), (-300, 600, -115), (300, 600, -65),
            (-380, 1850, 125), (380, 1850, 55), (0, 560, -90), (-700, 900, -150), (700, 900, -30),
        )
    )  # fmt: skip
    return canvas(
        leaves,
        *(place(rose(*petals[k], _GOLD), x, y, s) for x, y, k, s in flowers),
        place(ribbon(2400, 540, _RED, "#7d161c", "#4d0a0e", 60), MIDDLE, 2640),
        bannered("GONE CRUISING", SIGN, _CREAM, y=2640, width=2280, dip=60, tallest=320).svg,
        words("Back when the water runs out", LOBSTER, "#3f8f55", top=3230, width=2960).svg,
        place(flourish(2100, "#3f8f55", 30), MIDDLE, 3900),
    )


def lock_stock() -> bytes:
    """Stacked words with a crank, works on light and mid-tone goods."""
    block = stack([("LOCK, STOCK", TALL, _NIGHT), ("& TEAPOT", TALL, _RED)], top=1760, width=3060, gap=110)
    return canvas(
        place(windlass(_NIGHT, _RED), 1080, 950, 1.35, turn=-16),
        place(castle("#e7d9b8", _NIGHT, _RED, _WATER), 2330, 960, 1.5),
        block.svg,
        words("the whole of my life on one boat", HAND, _NIGHT, top=block.box.bottom + 170, width=2800).svg,
        down=330,
    )


def cut_above() -> bytes:
    """A seal for dark goods."""
    y = 2250
    return canvas(
        place(scallop(1660, 44, _GOLD), MIDDLE, y),
        disc(MIDDLE, y, 1585, _GREEN),
        ring(MIDDLE, y, 1500, _GOLD, 18),
        ring(MIDDLE, y, 1000, _GOLD, 18),
        arched("A CUT ABOVE", FAT, _CREAM, cy=y, radius=1110, span=160, size=450).svg,
        arched("NARROWBOAT CREW", ROUND, _GOLD, cy=y, radius=1120, span=140, size=380, below=True).svg,
        place(rose(_RED, "#7d161c", _GOLD), MIDDLE, y, 2.1),
        place(star(90, _RED), MIDDLE - 1255, y + 200), place(star(90, _RED), MIDDLE + 1255, y + 200),
    )  # fmt: skip


def big_alto() -> bytes:
    """One big word on a staff, for light goods."""
    return canvas(
        place(staff(3200, 260, _PLUM, 20), MIDDLE, 1180),
        place(c_clef(_PLUM), 640, 1180, 2.6),
        place(note(_PINK), 1420, 1180, 2.4),
        place(beamed(_PINK, 250, -54), 1950, 1440, 2.4),
        words("ALTO", TALL, _PLUM, top=2040, width=3100, tallest=1500).svg,
        words("the rich middle of the chord", LOBSTER, _PINK, top=3740, width=3060).svg,
    )


def since_bar_one() -> bytes:
    """A badge on a disc of its own, for goods of any colour."""
    y = 2250
    return canvas(
        disc(MIDDLE, y, 1650, "#3a1240"),
        ring(MIDDLE, y, 1650, _PINK, 46),
        ring(MIDDLE, y, 1560, _CREAM, 14),
        disc(MIDDLE, y, 1020, _PINK),
        arched("HOLDING IT TOGETHER", ROUND, _CREAM, cy=y, radius=1150, span=204, size=400).svg,
        arched("since bar one", LOBSTER, _GOLD, cy=y, radius=1130, span=100, size=420, below=True).svg,
        place(mouth("#7d1238", "#2d0715", "#ff9db4", _CREAM), MIDDLE, y, 1.75),
        place(star(90, _GOLD), MIDDLE - 1270, y + 420), place(star(90, _GOLD), MIDDLE + 1270, y + 420),
    )  # fmt: skip


def warming_up() -> bytes:
    """Words that bend with a melody, for light goods."""
    return canvas(
        arched(
            "PLEASE BE PATIENT", BLACK, _TEAL, cy=2470, radius=1750, span=116, size=560, tracking=0.03
        ).svg,
        place(staff(3000, 210, _NIGHT, 16), MIDDLE, 1880),
        place(g_clef(_NIGHT, 44), 620, 1890, 1.42),
        place(melody((-3, -1, 1, 0, 2, -2), 200, _PINK), MIDDLE + 260, 1880, 2.1),
        words("Altos", SCRIPT, _PLUM, top=2530, width=1900).svg,
        words("WARMING UP", SLAB, _TEAL, top=3640, width=3060).svg,
    )


def alto_noun() -> bytes:
    """A dictionary card, works on light and mid-tone goods."""
    ink, warm = "#3b2250", "#c43c63"
    rows = (
        "one who finds the note that",
        "nobody else is singing, keeps it,",
        "and brings spare cough sweets.",
    )
    parts = [
        words("alto", FAT, ink, top=420, x=300, width=2350, anchor="start").svg,
        words("noun, plural: trouble", HAND, warm, top=1660, x=300, width=2000, anchor="start").svg,
    ]
    for k, row in enumerate(rows):
        parts.append(words(row, PLAIN, ink, top=2230 + 330 * k, x=300, size=200, anchor="start").svg)
    parts.append(place(tuning_fork(warm, 80), 3080, 1130, 1.25, turn=14))
    parts.append(bar(300, 3360, 3000, 26, warm))
    parts.append(words("see also: tenor, lost", HAND, ink, top=3520, x=300, width=1900, anchor="start").svg)
    parts.append(place(beamed(warm), 2780, 4050, 1.1))
    return canvas(*parts)


DESIGNS = (
    ("life-at-four-miles-an-hour-narrowboat", four_miles),
    ("gone-cruising-canal-roses-narrowboat", painted_roses),
    ("lock-stock-and-teapot-narrowboat-canal", lock_stock),
    ("a-cut-above-narrowboat-crew-seal", cut_above),
    ("alto-choir-big-word-clef", big_alto),
    ("holding-it-together-since-bar-one-choir-alto", since_bar_one),
    ("please-be-patient-altos-warming-up-choir", warming_up),
    ("alto-noun-definition-choir-singer", alto_noun),
)
