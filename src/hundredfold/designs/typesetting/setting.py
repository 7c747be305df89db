"""Setting a shaped line: straight at a point, or along a curve; the result is an outline, y down.

On a curve, letters that do not join stay rigid and turn about their middles; ``curvespacing`` says where they
stand. Joined letters are bent as one outline.
"""

from collections.abc import Sequence
from itertools import pairwise

import cv2
import numpy as np

from hundredfold.designs.typesetting.curves import Curve
from hundredfold.designs.typesetting.curvespacing import CurveSpacing, spacing_of
from hundredfold.designs.typesetting.outline import (
    EMPTY,
    Floats,
    Outline,
    as_cubics,
    from_cubics,
    joined,
)
from hundredfold.designs.typesetting.shaping import Glyph, ShapedLine, Unit

_SEEN = 120.0  # pixels to the em when it is looked whether letters touch
_ANCHOR = {"start": 0.0, "middle": 0.5, "end": 1.0}


def set_line(
    line: ShapedLine, size: float, x: float, y: float, anchor: str = "middle", by: str = "ink"
) -> Outline:
    """The line with its baseline at ``y``, ``size`` units to the em.

    ``anchor`` is start, middle or end, as seen from the left; ``by`` says what is anchored: the "ink", the
    "optical" edges (marks at the ends hang over) or the "advance" (which includes the side bearings).
    """
    if by == "optical":
        left, right = line.optical
    elif by == "ink":
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
    spacing = spacing_of(line, size, curve, align, rise)
    points, tangents, _ = curve.at(spacing.at)
    parts: list[Outline] = []
    group: list[Glyph] = []
    for unit, point, tangent in zip(line.units, points, tangents, strict=True):
        glyphs = line.glyphs[unit.first : unit.last + 1]
        if unit.joined:
            group.extend(glyphs)
            continue
        parts.append(_bent(group, spacing))
        group = []
        parts.append(_turned(glyphs, unit.middle, point, tangent, size, rise))
    parts.append(_bent(group, spacing))
    return joined(parts)


def touching_pairs(
    line: ShapedLine, size: float, curve: Curve, align: str = "middle", rise: float = 0.0
) -> tuple[tuple[str, str], ...]:
    """Neighbouring letters whose ink lies together on the curve and apart in the flat line, as they are
    read."""
    if line.outline.empty:
        return ()
    spacing = spacing_of(line, size, curve, align, rise)
    if spacing.clear:
        return ()
    points, tangents, _ = curve.at(spacing.at)
    drawn = [
        (unit, _turned(line.glyphs[unit.first : unit.last + 1], unit.middle, point, tangent, size, rise))
        for unit, point, tangent in zip(line.units, points, tangents, strict=True)
        if not unit.joined and unit.profile is not None
    ]
    found = []
    for (unit, here), (following, there) in pairwise(drawn):
        if _together(here, there, size) and not _together(_flat(line, unit), _flat(line, following), 1.0):
            found.append((_letter(line, unit), _letter(line, following)))
    return tuple(found)


def _flat(line: ShapedLine, unit: Unit) -> Outline:
    return joined(glyph.outline() for glyph in line.glyphs[unit.first : unit.last + 1])


def _letter(line: ShapedLine, unit: Unit) -> str:
    return line.text[line.glyphs[unit.first].cluster]


def _together(first: Outline, second: Outline, size: float) -> bool:
    """Whether two outlines share ink, at ``_SEEN`` pixels to the em."""
    a, b = first.bounds(), second.bounds()
    if a is None or b is None:
        return False
    left, top = max(a.left, b.left), max(a.top, b.top)
    width, height = min(a.right, b.right) - left, min(a.bottom, b.bottom) - top
    if width <= 0 or height <= 0:
        return False
    scale = _SEEN / size
    masks = []
    for outline in (first, second):
        mask = np.zeros((int(height * scale) + 2, int(width * scale) + 2), dtype=np.uint8)
        contours = [np.round((c - (left, top)) * scale).astype(np.int32) for c in outline.flat]
        cv2.fillPoly(mask, contours, 1)
        masks.append(mask)
    return bool((masks[0] & masks[1]).any())


def curve_overrun(
    line: ShapedLine, size: float, curve: Curve, align: str = "middle", rise: float = 0.0
) -> float:
    """How far the ink reaches past the ends of the curve, in the curve's units; negative when inside.

    Measured along the curve, from each point of the ink square down to it; control points stand for
    the ink, so the answer is never too small.
    """
    if line.outline.empty:
        return -curve.length
    spacing = spacing_of(line, size, curve, align, rise)
    points, unit, rigid = line.ink_points
    middles = np.array([each.middle for each in line.units])[unit]
    along = spacing.at[unit]
    bend = curve.at(along)[2]
    across = (points[:, 0] - middles) * size
    curved = rigid & (np.abs(bend) > 1e-12)
    up = points[:, 1] * size + rise
    across[curved] = np.arctan2(across[curved] * bend[curved], 1 + bend[curved] * up[curved]) / bend[curved]
    along = np.where(rigid, along + across, spacing.along(points[:, 0]))
    return max(-float(along.min()), float(along.max()) - curve.length)


def _turned(
    glyphs: Sequence[Glyph], middle: float, point: Floats, tangent: Floats, size: float, rise: float
) -> Outline:
    """The glyphs about their middle: local x runs along the tangent, local y along the normal (ty, -tx)."""
    shape = joined(glyph.outline() for glyph in glyphs)
    if shape.empty:
        return EMPTY
    (px, py), (tx, ty) = point, tangent
    local = shape.moved(-middle, 0.0)
    return local.affine(size * tx, size * ty, size * ty, -size * tx, px + rise * ty, py - rise * tx)


def _bent(glyphs: list[Glyph], spacing: CurveSpacing) -> Outline:
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
