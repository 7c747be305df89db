"""Sample designs for sea swimmers."""

from tools.sampleart.kit import (
    BLACK,
    BOLD,
    BRUSH,
    DECO,
    HAND,
    LOBSTER,
    MIDDLE,
    ROUND,
    SCRIPT,
    SIGN,
    TALL,
    arched,
    bannered,
    canvas,
    disc,
    place,
    ring,
    stack,
    words,
)  # fmt: skip
from tools.sampleart.ornaments import heart, ribbon, rule, star
from tools.sampleart.shore import (
    anchor,
    banded_sun,
    breaker,
    flake,
    gull,
    ripple,
    scales,
    swimmer,
    tow_float,
)  # fmt: skip

_NAVY, _SEA, _LIGHT, _FOAM, _CORAL, _SUN, _SKIN = (
    "#12324a",
    "#1f6f8b",
    "#58b4c7",
    "#eef8f7",
    "#f2705a",
    "#f7b84b",
    "#e8b48f",
)


def cold_water_club() -> bytes:
    """A round badge for light goods."""
    y = 2250
    return canvas(
        disc(MIDDLE, y, 1680, _NAVY),
        ring(MIDDLE, y, 1590, _FOAM, 22),
        disc(MIDDLE, y, 1060, _LIGHT),
        ring(MIDDLE, y, 1060, _FOAM, 22),
        arched("COLD WATER CLUB", ROUND, _FOAM, cy=y, radius=1180, span=186, size=430).svg,
        arched(
            "NO WETSUIT · NO WORRIES",
            BLACK,
            _SUN,
            cy=y,
            radius=1190,
            span=132,
            size=350,
            below=True,
            tracking=0.04,
        ).svg,
        place(flake(150, _CORAL, 30), MIDDLE - 1330, y + 330),
        place(flake(150, _CORAL, 30), MIDDLE + 1330, y + 330),
        place(swimmer(_SKIN, _CORAL, _NAVY, _FOAM, _FOAM), MIDDLE, y + 160, 1.45),
    )


def salty() -> bytes:
    """Big script in an outline over a wave, for goods of any colour."""
    mid = "#3a97b4"
    return canvas(
        words("Salty", SCRIPT, _FOAM, top=380, width=2850, edge=_SEA, edge_width=160).svg,
        words("AND SLIGHTLY", BOLD, mid, top=1975, x=1480, width=1640, tracking=0.12).svg,
        words("BLUE", TALL, mid, top=2340, width=2300, tallest=900).svg,
        place(ripple(3100, 7, 110, _LIGHT, 70), MIDDLE, 3560),
        place(ripple(2700, 6, 110, mid, 60), MIDDLE, 3800),
        place(ripple(2200, 5, 110, _SEA, 50), MIDDLE, 4030),
    )


def sunrise() -> bytes:
    """A banded sun and a breaker, for light goods."""
    return canvas(
        place(banded_sun(1480, _CORAL, 6), MIDDLE, 2210),
        place(gull(_NAVY, 40), 760, 700, 1.3),
        place(gull(_NAVY, 34), 2960, 520, 1.0),
        place(breaker(_SEA, _LIGHT, _FOAM), MIDDLE, 2020, 1.66),
        words("SWIM AT", DECO, _NAVY, top=2900, width=1900).svg,
        words("SUNRISE", DECO, _CORAL, top=3430, width=3160).svg,
        words("kettle on by seven", HAND, _SEA, top=4130, width=1500).svg,
    )


def warm_heart() -> bytes:
    """A heart and a ribbon, for light and dark goods."""
    y = 1650
    return canvas(
        place(heart(2900, _CORAL), MIDDLE, y),
        place(scales(1500, 3, 190, (_NAVY, _LIGHT, _FOAM), _NAVY), MIDDLE, y + 180),
        place(ribbon(2400, 540, _NAVY, _SEA, "#081a28", 70), MIDDLE, 3010),
        bannered("COLD WATER", SIGN, _FOAM, y=3010, width=2200, dip=70, tallest=330).svg,
        words("warm heart", LOBSTER, _CORAL, top=3530, width=2100).svg,
        words("wobbly legs", HAND, "#2f8fa8", top=4110, width=1100).svg,
    )


def uncombed() -> bytes:
    """A stacked slab in white and coral, for dark goods only."""
    block = stack(
        [
            ("I DID NOT", TALL, _FOAM),
            ("COMB MY HAIR", TALL, _CORAL),
            ("I SWAM", TALL, _FOAM),
        ],
        top=330, width=3060, gap=110,
    )  # fmt: skip
    return canvas(
        block.svg,
        place(tow_float(_SUN, _CORAL), MIDDLE + 150, block.box.bottom + 330, 1.35),
        place(ripple(3000, 7, 90, _LIGHT, 60), MIDDLE, block.box.bottom + 560),
        down=420,
    )


def tide_times() -> bytes:
    """A calm label in outline, works on light and dark goods."""
    mid, warm = "#2f8fa8", "#e2684f"
    return canvas(
        place(anchor(mid, 84), MIDDLE, 1180, 1.55),
        place(ripple(1200, 3, 90, warm, 60), 640, 1500, 0.72),
        place(ripple(1200, 3, 90, warm, 60), 2960, 1500, 0.72),
        words("HIGH TIDE", DECO, mid, top=2160, width=3050).svg,
        place(rule(2600, 22, warm), MIDDLE, 2870),
        words("GOOD VIBES", DECO, warm, top=3030, width=3050).svg,
        words("low tide, strong tea", LOBSTER, mid, top=3740, width=2300).svg,
    )


def just_one_dip() -> bytes:
    """Brush words stepping down, for light goods."""
    return canvas(
        words("just", BRUSH, _NAVY, top=330, x=1000, width=1350).svg,
        words("one more", BRUSH, _SEA, top=1180, x=1800, width=3000).svg,
        words("dip", BRUSH, _CORAL, top=2190, x=2300, width=1700).svg,
        place(scales(3200, 4, 230, (_SEA, _FOAM, _LIGHT), _NAVY), MIDDLE, 3710),
        place(star(90, _SUN), 520, 2500), place(star(60, _SUN), 800, 2800), place(star(44, _SUN), 480, 2930),
    )  # fmt: skip


DESIGNS = (
    ("cold-water-club-sea-swimming-badge", cold_water_club),
    ("salty-and-slightly-blue-sea-swimmer", salty),
    ("swim-at-sunrise-sea-swimming-wave", sunrise),
    ("cold-water-warm-heart-sea-swimmer-gift", warm_heart),
    ("did-not-comb-my-hair-sea-swimmer-joke", uncombed),
    ("high-tide-good-vibes-anchor-sea-swimming", tide_times),
    ("just-one-more-dip-sea-swimming-waves", just_one_dip),
)
