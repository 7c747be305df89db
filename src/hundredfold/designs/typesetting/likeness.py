"""How alike two faces look: the weight of their strokes and the width of their letters."""

import math
from dataclasses import dataclass

import numpy as np

from hundredfold.designs.typesetting.fonts import Font

_LATIN = "HOEnaes"
_SHARE = 1.5  # what weight counts against width; set by eye


@dataclass(frozen=True)
class Build:
    """``ink``: how much of its letters' room is ink; ``width``: their mean advance, in cap heights."""

    ink: float
    width: float

    def unlike(self, other: "Build") -> float:
        """0 for the same build; about 0.7 for twice the weight or width."""
        return _SHARE * abs(math.log(self.ink / other.ink)) + abs(math.log(self.width / other.width))


def build_of(font: Font) -> Build | None:
    """Measured on letters the face has; None for a face without any to measure."""
    letters = [ord(c) for c in _LATIN if font.covers(c)] or sorted(font.characters)[40:48]
    inks, widths = [], []
    for code in letters:
        glyph = font.shaper.get_nominal_glyph(code)
        if glyph is None:
            continue
        advance = font.shaper.get_glyph_h_advance(glyph) / font.units_per_em
        area = abs(sum(_area(contour) for contour in font.glyph(glyph).flat))
        if advance > 0 and area > 0:
            inks.append(area / (advance * font.cap_height))
            widths.append(advance / font.cap_height)
    return Build(float(np.mean(inks)), float(np.mean(widths))) if inks else None


def _area(points: np.ndarray) -> float:
    x, y = points.T
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) / 2)
