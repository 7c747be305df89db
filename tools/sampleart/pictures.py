"""Single drawings of the sample shop, for the art slots of layouts: square, cropped to what is drawn."""

from tools.sampleart import bees, canal, garden, music, ornaments, shore, tower
from tools.sampleart.kit import place

_HALF = 500

_INK, _HONEY, _CREAM, _LEAF, _SEA, _RED = "#2b2622", "#eaa62c", "#fff3d6", "#4f8a4b", "#1f6f8b", "#c2352b"


def sample_pictures() -> tuple[tuple[str, bytes], ...]:
    """(file name, SVG) for the shop's art folder, sorted by name."""
    drawn = {
        "bee": place(bees.bee(_HONEY, _INK, _CREAM, _INK), 0, -25, 1.06),
        "bell": place(tower.bell("#d9962e", "#8a5a14", "#ffe2a0"), 0, 0, 0.82),
        "beetroot": place(garden.beetroot("#8e1f47", "#c0567c", _LEAF, "#651533"), 0, -20, 0.92),
        "carrot": place(garden.carrot("#e4762b", "#a94f16", _LEAF), 0, 0, 0.95),
        "clef": place(music.c_clef(_INK), 60, 0, 2.1),
        "hive": place(bees.hive(_HONEY, "#a66a1d", _INK), 0, 0, 0.95),
        "jar": place(bees.jar("#e9dcc0", _HONEY, _CREAM, _INK), 0, 0, 0.98),
        "mouth": place(music.mouth(_RED, "#4a0f1c", "#ff9db4", _CREAM), 0, -20, 1.12),
        "narrowboat": place(canal.narrowboat("#22252b", "#b3262e", _HONEY, _CREAM, _SEA), 0, 60, 0.34),
        "notes": place(music.beamed("#4b1d4f", 300, -60), -190, 190, 1.35),
        "rose": place(canal.rose("#e4577d", "#b3262e", _HONEY), 0, 0, 1.4),
        "seedling": place(garden.seedling(_LEAF, "#2f5233"), 0, 330, 2.3),
        "spade": place(garden.spade("#8b98a0", "#5d6a72", "#b0763f"), 0, 0, 0.6, turn=35),
        "swimmer": place(shore.swimmer("#e8b48f", "#f2705a", "#12324a", "#cfe9f2", _SEA), 0, 60, 0.82),
        "tower": place(tower.tower("#b9b0a0", "#7d766a", _INK), 0, 90, 0.6),
        "tuning-fork": place(music.tuning_fork("#4b1d4f", 56), 0, 10, 0.95),
        "watering-can": place(garden.watering_can("#e4762b", "#a94f16", _HONEY), -40, 0, 0.68),
        "wave": place(shore.breaker(_SEA, "#58b4c7", "#bfe3ea"), 0, 0, 0.5),
        "wellies": place(garden.wellies(_LEAF, "#1f3d2b", "#20140c", _HONEY), -70, 20, 0.88),
        "heart": ornaments.heart(900, _RED),
    }
    box = f"{-_HALF} {-_HALF} {2 * _HALF} {2 * _HALF}"
    return tuple(
        (f"{name}.svg", f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}">{svg}</svg>\n'.encode())
        for name, svg in sorted(drawn.items())
    )
