"""Sample designs for allotment growers."""

from tools.sampleart.garden import (
    barrow,
    beetroot,
    carrot,
    courgette,
    drops,
    fork,
    radish,
    seedling,
    soil,
    spade,
    watering_can,
    wellies,
)  # fmt: skip
from tools.sampleart.kit import (
    BLACK,
    DECO,
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
from tools.sampleart.ornaments import (
    flourish,
    laurel,
    ribbon,
    rule,
    shield,
    sprig,
    star,
)

_FOREST, _LEAF, _SPROUT, _EARTH, _CREAM = "#1f3d2b", "#4f8a4b", "#a9c45f", "#5b3d2a", "#fbf1dc"
_CARROT, _BEET, _SUN, _STEEL, _WOOD = "#e4762b", "#8e1f47", "#f2b632", "#8b98a0", "#b0763f"


def allotment_life() -> bytes:
    """Arch over art, for light goods."""
    rows = "".join(place(seedling(_LEAF, _FOREST), x, 3390, 1.25) for x in (1900, 2330, 2760, 3150))
    return canvas(
        arched("ALLOTMENT LIFE", SLAB, _FOREST, cy=2330, radius=1330, span=168, size=520).svg,
        place(watering_can(_CARROT, "#a94f16", _SUN), 1500, 2250, 1.42),
        place(drops("#3f8fb5"), 2560, 2160, 1.5),
        rows,
        place(soil(3200, _EARTH, "#8a6143"), MIDDLE, 3480, 1.0),
        words("plot, pot, repeat", LOBSTER, _CARROT, top=3660, width=2350).svg,
    )


def plot_twist() -> bytes:
    """Big cream words with a small line, for dark goods only."""
    block = stack([("PLOT", TALL, _CREAM), ("TWIST", TALL, _SPROUT)], top=330, width=2900, gap=110)
    foot = words(
        "I PLANTED MORE COURGETTES", PLAIN, _CREAM, top=block.box.bottom + 180, width=2900, tracking=0.05
    )
    return canvas(
        block.svg,
        foot.svg,
        place(courgette(_LEAF, _SPROUT, _SUN), MIDDLE, foot.box.bottom + 400, 1.5, turn=-6),
    )


def head_gardener() -> bytes:
    """A crest with crossed tools and a leaf-green line, for light and dark goods."""
    return canvas(
        disc(MIDDLE, 1780, 1480, _SUN),
        place(spade(_STEEL, "#5d6a72", _WOOD), MIDDLE, 1800, 1.62, turn=42),
        place(fork(_STEEL, "#5d6a72", _WOOD), MIDDLE, 1800, 1.62, turn=-42),
        place(shield(1240, 1420, _CREAM), MIDDLE, 1800),
        place(shield(1180, 1350, _FOREST), MIDDLE, 1797),
        place(shield(1070, 1225, _LEAF), MIDDLE, 1790),
        place(beetroot(_BEET, "#c0567c", _SPROUT, "#5d1130"), MIDDLE, 1780, 0.84),
        place(ribbon(2500, 520, _BEET, "#651533", "#3d0a1d", 50), MIDDLE, 3120),
        bannered("HEAD GARDENER", SIGN, _CREAM, y=3120, width=2400, dip=50, tallest=320).svg,
        words("under-gardeners: the slugs", HAND, _LEAF, top=3680, width=2400).svg,
    )


def dig_sow_grow() -> bytes:
    """A three-line list with pictures, for light goods."""
    parts = []
    rows = (("DIG", _FOREST, 300), ("SOW", _CARROT, 1690), ("GROW", _BEET, 3080))
    for text, fill, top in rows:
        parts.append(words(text, DECO, fill, top=top, x=1330, width=2060, tallest=1100, anchor="start").svg)
        parts.append(disc(720, top + 550, 520, fill))
    parts.append(place(spade(_CREAM, "#d8cdb2", _SUN), 720, 830, 0.5, turn=28))
    parts.append(place(seedling(_CREAM, _CREAM), 720, 2460, 2.1))
    parts.append(place(radish(_CREAM, "#f6b9c9", _SPROUT), 720, 3590, 0.86))
    return canvas(*parts)


def happy_in_wellies() -> bytes:
    """A picture with script, for mid-tone and light goods."""
    return canvas(
        disc(MIDDLE, 1720, 1330, _SUN),
        place(wellies(_LEAF, _FOREST, "#20140c", _CREAM), 1730, 1790, 1.75),
        place(soil(3000, _EARTH, "#8a6143"), MIDDLE, 2720, 1.05),
        words("Muddy Boots", SCRIPT, _FOREST, top=2980, width=3100, edge=_CREAM, edge_width=60).svg,
        words("HAPPY HEART", SIGN, _BEET, top=3860, width=2100, tracking=0.06).svg,
    )


def compost_happens() -> bytes:
    """A stacked slab in middle tones, for light and dark goods."""
    block = stack(
        [("COMPOST", SLAB, "#d98a1a"), ("HAPPENS", SLAB, "#d5592a")], top=1980, width=3160, gap=110
    )  # fmt: skip
    foot = words("give it time and turn it often", LOBSTER, "#3f8fb5", top=block.box.bottom + 190, width=2900)
    return canvas(
        place(barrow("#3f8fb5", "#20506b", _WOOD), 1760, 1290, 1.5),
        place(soil(880, _EARTH, _SUN), 1780, 900, 1.2),
        place(carrot(_CARROT, "#a94f16", _LEAF), 1560, 660, 0.7, turn=-22),
        place(beetroot(_BEET, "#c0567c", _LEAF, "#651533"), 2060, 640, 0.66, turn=18),
        block.svg,
        foot.svg,
        down=280,
    )


def five_a_day() -> bytes:
    """A label in two inks, works on light and mid-tone goods."""
    return canvas(
        bar(320, 300, 2960, 3900, _FOREST, 90),
        bar(400, 380, 2800, 3740, _CREAM, 60),
        words("PUDDLEWICK PLOT No. 7", PLAIN, _FOREST, top=560, width=2200, tracking=0.1).svg,
        place(rule(2300, 16, _FOREST, "diamond"), MIDDLE, 900),
        words("Grown", FAT, _BEET, top=1060, width=2350).svg,
        words("not bought", FAT, _FOREST, top=1930, width=2450).svg,
        place(carrot(_CARROT, "#a94f16", _LEAF), 920, 3130, 0.92),
        place(beetroot(_BEET, "#c0567c", _LEAF, "#651533"), MIDDLE, 3130, 0.9),
        place(radish("#d23c5b", _CREAM, _LEAF), 2680, 3150, 1.05),
        words(
            "MOSTLY EATEN BEFORE IT REACHED THE KITCHEN", BLACK, _FOREST, top=3830, width=2360, tracking=0.03
        ).svg,
    )


def seed_swap() -> bytes:
    """A round seal on a disc of its own, for goods of any colour."""
    y = 2250
    return canvas(
        disc(MIDDLE, y, 1640, _FOREST),
        ring(MIDDLE, y, 1640, _SPROUT, 40),
        ring(MIDDLE, y, 1010, _SPROUT, 20),
        arched("SEED SWAP SOCIETY", ROUND, _CREAM, cy=y, radius=1140, span=190, size=420).svg,
        arched(
            "est. under a gooseberry bush", HAND, _SPROUT, cy=y, radius=1150, span=130, size=360, below=True
        ).svg,
        place(seedling(_SPROUT, _LEAF), MIDDLE, y + 420, 3.3),
        place(soil(1150, _WOOD, _CREAM), MIDDLE, y + 480, 0.95),
        place(star(80, _SUN), MIDDLE - 1310, y + 280),
        place(star(80, _SUN), MIDDLE + 1310, y + 280),
    )


def potting_shed() -> bytes:
    """A wreath with script inside, for light goods."""
    return canvas(
        place(laurel(1480, 11, _LEAF, 98, 262), MIDDLE, 2180),
        words("meet me", HAND, _FOREST, top=1330, width=1150).svg,
        words("in the", HAND, _FOREST, top=1760, width=640).svg,
        words("Potting", LOBSTER, _CARROT, top=2060, width=1950).svg,
        words("Shed", LOBSTER, _CARROT, top=2830, width=1250).svg,
        place(sprig(4, 420, _LEAF, _FOREST), MIDDLE, 1230, 0.9),
        place(flourish(1600, _FOREST, 26), MIDDLE, 4000),
    )


DESIGNS = (
    ("allotment-life-watering-can-arch", allotment_life),
    ("plot-twist-courgettes-gardener-joke", plot_twist),
    ("head-gardener-spade-fork-crest", head_gardener),
    ("dig-sow-grow-allotment-list", dig_sow_grow),
    ("muddy-boots-happy-heart-gardener-wellies", happy_in_wellies),
    ("compost-happens-wheelbarrow-allotment", compost_happens),
    ("grown-not-bought-allotment-vegetables-label", five_a_day),
    ("seed-swap-society-seedling-badge", seed_swap),
    ("meet-me-in-the-potting-shed-wreath", potting_shed),
)
