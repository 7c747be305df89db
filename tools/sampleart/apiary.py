"""Sample designs for beekeepers."""

from tools.sampleart.bees import bee, comb, dipper, hexagon, hive, jar, trail
from tools.sampleart.kit import (
    BLACK,
    BRUSH,
    FAT,
    HAND,
    LOBSTER,
    MIDDLE,
    PLAIN,
    ROUND,
    SIGN,
    SLAB,
    TALL,
    arched,
    around,
    bannered,
    bar,
    canvas,
    disc,
    place,
    ring,
    stack,
    words,
)  # fmt: skip
from tools.sampleart.ornaments import (
    crown,
    flourish,
    laurel,
    ribbon,
    rule,
    scallop,
    shield,
    star,
)

_BROWN, _HONEY, _AMBER, _CREAM, _SMOKE = "#2e1d12", "#f0ad28", "#c9741a", "#fff3d6", "#8d8378"


def proud_badge() -> bytes:
    """A round badge for light goods: bee on a comb."""
    cells = ((-1, -1), (0, -1), (-1, 0), (0, 0), (1, 0), (-1, 1), (0, 1))
    y = 2250
    return canvas(
        ring(MIDDLE, y, 1680, _BROWN, 44),
        ring(MIDDLE, y, 1600, _BROWN, 14),
        ring(MIDDLE, y, 1080, _BROWN, 14),
        arched("PROUD BEEKEEPER", SLAB, _BROWN, cy=y, radius=1180, span=196, size=400).svg,
        arched(
            "STUNG & STILL SMILING",
            BLACK,
            _AMBER,
            cy=y,
            radius=1205,
            span=120,
            size=330,
            below=True,
            tracking=0.04,
        ).svg,
        place(star(100, _HONEY), MIDDLE - 1320, y + 330),
        place(star(100, _HONEY), MIDDLE + 1320, y + 330),
        place(comb(cells, 360, (_HONEY, "#f6c65b")), MIDDLE, y),
        place(bee(_AMBER, _BROWN, _CREAM, _BROWN), MIDDLE, y - 30, 1.55),
    )


def forty_thousand() -> bytes:
    """A stacked slab in an outline, for goods of any colour: the family joke."""
    block = stack(
        [
            ("MY OTHER FAMILY", TALL, _CREAM),
            ("HAS 40,000", SLAB, _HONEY),
            ("MEMBERS", TALL, _CREAM),
        ],
        top=1560, width=3100, gap=150, edge=_BROWN, edge_width=92,
    )  # fmt: skip
    foot = words("AND ONE QUEEN", PLAIN, _AMBER, top=block.box.bottom + 150, width=2150, tracking=0.16)
    y = foot.box.top + foot.box.height / 2
    return canvas(
        place(hive(_HONEY, _AMBER, _BROWN), MIDDLE, 820, 1.32),
        place(bee(_HONEY, _BROWN, _CREAM, _BROWN), 760, 720, 0.5, turn=-38),
        place(bee(_HONEY, _BROWN, _CREAM, _BROWN), 2860, 620, 0.6, turn=32),
        place(bee(_HONEY, _BROWN, _CREAM, _BROWN), 2760, 1230, 0.36, turn=70),
        block.svg,
        foot.svg,
        place(star(70, _AMBER), 460, y),
        place(star(70, _AMBER), 3140, y),
        down=170,
    )


def honey_label() -> bytes:
    """A jar label that works on light and mid-tone goods."""
    y = 2250
    name = words("Honey", LOBSTER, "#7a3b0c", top=1290, width=2250)
    return canvas(
        bar(300, 330, 3000, 3840, "#7a3b0c", 260),
        bar(380, 410, 2840, 3680, _CREAM, 200),
        bar(430, 460, 2740, 3580, "#7a3b0c", 170),
        bar(452, 482, 2696, 3536, _CREAM, 150),
        arched(
            "SMALL BATCH · BIG BUZZ", BLACK, _AMBER, cy=2720, radius=1960, span=62, size=300, tracking=0.06
        ).svg,
        name.svg,
        place(ribbon(1900, 330, _AMBER, "#8a4a10", "#4d2607"), MIDDLE, 2620),
        bannered("HARVEST CREW", SIGN, _CREAM, y=2620, width=1800, dip=0, tallest=205).svg,
        place(dipper("#a86b35", "#7a3b0c", _HONEY), 1180, 3220, 0.62, turn=24),
        place(bee(_HONEY, _BROWN, "#fbe2a6", _BROWN), 2330, 3220, 0.86, turn=18),
        words("hand spun · sticky fingers", HAND, "#7a3b0c", top=3735, width=2150).svg,
        place(rule(1500, 16, _AMBER), MIDDLE, y - 1290),
    )


def queen_crest() -> bytes:
    """A crest with its motto in amber, for light and dark goods."""
    cells = ((-1, -1), (0, -1), (-1, 0), (0, 0), (1, 0), (-1, 1), (0, 1))
    return canvas(
        place(crown(980, _HONEY, _CREAM), MIDDLE, 900),
        place(laurel(1500, 9, "#8fa65a"), MIDDLE, 2030),
        place(shield(1900, 2200, _HONEY), MIDDLE, 2120),
        place(shield(1780, 2070, _BROWN), MIDDLE, 2112),
        place(shield(1700, 1985, "#4a2f1c"), MIDDLE, 2107),
        place(comb(cells, 300, ("#5d3d22", "#66452a")), MIDDLE, 1960),
        place(bee(_HONEY, _BROWN, _CREAM, _BROWN), MIDDLE, 2010, 1.55),
        place(ribbon(2500, 520, _HONEY, _AMBER, "#7d4711", 60), MIDDLE, 3330),
        bannered("QUEEN OF THE HIVE", SIGN, _BROWN, y=3330, width=2440, dip=60, tallest=300).svg,
        words("everyone else is just staff", HAND, _AMBER, top=3840, width=2250).svg,
    )


def full_supers() -> bytes:
    """Big brush words for light goods."""
    top = words("Full", BRUSH, _BROWN, top=420, x=1450, width=2050)
    low = words("Supers", BRUSH, _AMBER, top=1800, x=1800, width=3150)
    return canvas(
        place(trail(_BROWN, 44), 2640, 1120, 0.62, turn=-24),
        place(bee(_HONEY, _BROWN, "#ffe9b8", _BROWN), 2990, 860, 0.6, turn=52),
        top.svg,
        low.svg,
        words("ONLY NINE STINGS", SIGN, _BROWN, top=3560, width=3000).svg,
        place(flourish(2200, _AMBER, 36), MIDDLE, 4060),
    )


def honeycomb_list() -> bytes:
    """A three-line list in cells, for mid-tone goods."""
    parts = []
    lines = (("FEED", 760, _HONEY), ("SMOKE", 2250, _CREAM), ("REPEAT", 3740, _HONEY))
    for text, y, fill in lines:
        x = MIDDLE + (-420 if text != "SMOKE" else 420)
        parts.append(place(hexagon(700, _BROWN), x, y))
        parts.append(place(hexagon(640, fill), x, y))
        parts.append(words(text, ROUND, _BROWN, top=y - 165, x=x, width=960, tallest=330).svg)
    parts.append(place(bee(_HONEY, _BROWN, _CREAM, _BROWN), 2560, 830, 0.95, turn=24))
    parts.append(place(hive(_HONEY, _AMBER, _BROWN), 900, 2270, 0.95))
    parts.append(place(jar(_CREAM, _HONEY, _CREAM, _BROWN), 2590, 3700, 1.0))
    return canvas(*parts)


def swarm_season() -> bytes:
    """A scalloped seal in two inks, for light goods."""
    y = 2250
    bees = "".join(
        place(bee(_CREAM, _BROWN, _CREAM, _BROWN), MIDDLE + x, y + d, 0.2, turn=a + 90)
        for x, d, a in around(9, 640)
    )
    return canvas(
        place(scallop(1660, 44, _BROWN), MIDDLE, y),
        disc(MIDDLE, y, 1560, _HONEY),
        ring(MIDDLE, y, 1480, _BROWN, 20),
        ring(MIDDLE, y, 930, _BROWN, 20),
        arched("SWARM SEASON", FAT, _BROWN, cy=y, radius=1045, span=170, size=420).svg,
        arched(
            "KEEP A SPARE BOX READY",
            BLACK,
            _BROWN,
            cy=y,
            radius=1060,
            span=130,
            size=330,
            below=True,
            tracking=0.03,
        ).svg,
        bees,
        place(hive(_CREAM, _AMBER, _BROWN), MIDDLE, y - 10, 0.72),
    )


DESIGNS = (
    ("proud-beekeeper-honeycomb-bee-badge", proud_badge),
    ("my-other-family-has-40000-members-beekeeping-hive", forty_thousand),
    ("honey-harvest-crew-jar-label-beekeeper", honey_label),
    ("queen-of-the-hive-beekeeper-crest", queen_crest),
    ("full-supers-only-nine-stings-beekeeping", full_supers),
    ("feed-smoke-repeat-honeycomb-beekeeping-list", honeycomb_list),
    ("swarm-season-beekeeper-seal", swarm_season),
)
