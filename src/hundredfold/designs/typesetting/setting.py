"""Setting a shaped line: straight at a point, or along a curve; the result is an outline, y down.

On a curve, letters that do not join stay rigid and turn about their middles. Their distances are kept at a
third of the ink's height, from the side where they crowd, so that they neither collide nor drift apart.
Joined letters are bent as one outline.
"""

import numpy as np

from hundredfold.designs.typesetting.curves import Curve
from hundredfold.designs.typesetting.outline import EMPTY, Floats, Outline, as_cubics, from_cubics, joined
from hundredfold.designs.typesetting.shaping import Glyph, ShapedLine

# Where along the ink's height distances are kept, counted from the side that the curve pinches.
_TRUE_AT = 1 / 3
_ANCHOR = {"start": 0.0, "middle": 0.5, "end": 1.0}


def set_line(
    line: ShapedLine, size: float, x: float, y: float, anchor: str = "middle", by: str = "ink"
) -> Outline:
    """The line with its baseline at ``y``, ``size`` units to the em.

    ``anchor`` is start, middle or end, as seen from the left; ``by`` says what is anchored: the "ink" or
    the "advance" (which includes the side bearings).
    """
    if by == "ink":
        left, right = line.ink.left, line.ink.right
    else:
        left, right = 0.0, line.advance
    origin = left + (right - left) * _ANCHOR[anchor]
    return line.outline.affine(size, 0, 0, -size, x - origin * size, y)


def set_on_curve(
    line: ShapedLine, size: float, curve: Curve, align: str = "middle", rise: float = 0.0
) -> Outline:
    """The line along ``curve``, ``rise`` units above it; ``align`` is start, middle or end of the curve."""
    if line.outline.empty:
        return EMPTY
    spacing = _Spacing(line, size, curve, align, rise)
    middles = np.array([glyph.pen_x + glyph.advance / 2 for glyph in line.glyphs])
    points, tangents, _ = curve.at(spacing.along(middles))
    parts: list[Outline] = []
    group: list[Glyph] = []
    for glyph, middle, point, tangent in zip(line.glyphs, middles, points, tangents, strict=True):
        if glyph.joined:
            group.append(glyph)
            continue
        parts.append(_bent(group, spacing))
        group = []
        parts.append(_turned(glyph, middle, point, tangent, size, rise))
    parts.append(_bent(group, spacing))
    return joined(parts)


def curve_overrun(
    line: ShapedLine, size: float, curve: Curve, align: str = "middle", rise: float = 0.0
) -> float:
    """How far the ink reaches past the ends of the curve, in the curve's units; negative when inside.

    Measured along the curve, from each point of the ink square down to it; control points stand for
    the ink, so the answer is never too small.
    """
    if line.outline.empty:
        return -curve.length
    spacing = _Spacing(line, size, curve, align, rise)
    points, middles, rigid = line.ink_points
    along = spacing.along(middles)
    bend = curve.at(along)[2]
    across = (points[:, 0] - middles) * size
    curved = rigid & (np.abs(bend) > 1e-12)
    up = points[:, 1] * size + rise
    across[curved] = np.arctan2(across[curved] * bend[curved], 1 + bend[curved] * up[curved]) / bend[curved]
    along = np.where(rigid, along + across, spacing.along(points[:, 0]))
    return max(-float(along.min()), float(along.max()) - curve.length)


class _Spacing:
    """From em along the line to distance along the curve, true at one height of the ink."""

    def __init__(self, line: ShapedLine, size: float, curve: Curve, align: str, rise: float) -> None:
        self.curve, self.size, self.rise = curve, size, rise
        ink = line.ink
        distance, bends = curve.bends
        share = _TRUE_AT if bends.mean() >= 0 else 1 - _TRUE_AT
        height = rise + size * (ink.top + ink.height * share)
        # Room past both ends, where the path goes straight on, lets an overlong line be measured.
        spare = max(0.0, ink.width * size - curve.length) + size
        rate = np.maximum(1 + bends * height, 0.05)
        inner = np.cumsum(np.diff(distance) * (rate[1:] + rate[:-1]) / 2)
        total = float(inner[-1])
        self._distance = np.concatenate([[-spare], distance, [curve.length + spare]])
        self._measure = np.concatenate([[-spare, 0.0], inner, [total + spare]])
        place = _ANCHOR[align]
        self._shift = total * place - (ink.left + ink.width * place) * size

    def along(self, x: Floats) -> Floats:
        """Distances along the curve for positions in em."""
        value: Floats = np.interp(x * self.size + self._shift, self._measure, self._distance)
        return value

    def rate(self, x: Floats) -> Floats:
        """Distance along the curve per em."""
        at = x * self.size + self._shift
        index = np.clip(np.searchsorted(self._measure, at) - 1, 0, len(self._measure) - 2)
        step = np.diff(self._distance)[index] / np.diff(self._measure)[index]
        value: Floats = step * self.size
        return value


def _turned(glyph: Glyph, middle: float, point: Floats, tangent: Floats, size: float, rise: float) -> Outline:
    """The glyph about its middle: local x runs along the tangent, local y along the normal (ty, -tx)."""
    shape = glyph.font.glyph(glyph.id)
    if shape.empty:
        return EMPTY
    (px, py), (tx, ty) = point, tangent
    local = shape.moved(glyph.x - middle, glyph.y)
    return local.affine(size * tx, size * ty, size * ty, -size * tx, px + rise * ty, py - rise * tx)


def _bent(glyphs: list[Glyph], spacing: _Spacing) -> Outline:
    """Bend every point; each curve keeps its ends and end directions (cubic Hermite), in short pieces."""
    if not glyphs:
        return EMPTY
    whole = joined(glyph.outline() for glyph in glyphs)
    if whole.empty:
        return EMPTY
    pieces, starts = as_cubics(whole, most=0.08)
    ends, directions = pieces[:, [0, 3]], 3 * (pieces[:, [1, 3]] - pieces[:, [0, 2]])
    x, y = ends[..., 0], ends[..., 1]
    point, tangent, bend = spacing.curve.at(spacing.along(x))
    normal = np.stack([tangent[..., 1], -tangent[..., 0]], axis=-1)
    up = y * spacing.size + spacing.rise
    mapped = point + normal * up[..., None]
    along = directions[..., 0] * spacing.rate(x) * (1 + bend * up)
    moved = tangent * along[..., None] + normal * (directions[..., 1] * spacing.size)[..., None]
    bent = np.stack(
        [mapped[:, 0], mapped[:, 0] + moved[:, 0] / 3, mapped[:, 1] - moved[:, 1] / 3, mapped[:, 1]], axis=1
    )
    return from_cubics(bent, starts)
