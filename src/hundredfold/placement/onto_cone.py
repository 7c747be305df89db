"""Art on a tapered side: the largest undistorted place for it, and the partner's pre-warped file.

Art lies flat on the unrolled side, as on paper that is then rolled up: the side is developable, so
lengths and angles stay as drawn.
"""

from collections.abc import Sequence
from functools import lru_cache

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import PrintArea
from hundredfold.designs.facts import Box
from hundredfold.kernel.units import MM_PER_INCH, mm_to_px, px_to_mm
from hundredfold.placement.area import cone_area, sector_origin

Rectangle = tuple[float, float, float, float]  # left, top, width, height in pixels
_HEIGHTS = 41


@lru_cache(maxsize=4096)  # judging a design asks for the same place once a step
def roomiest(ink: Box, area: PrintArea, room: Box, free_mm: float = 0.0) -> Box:
    """The part of ``room`` in which art of the ink box's proportions comes out largest, wholly on the side.

    The outline of the fitted art stays on the cone's printed band, inside bleed and safe margin, and
    below ``free_mm`` at its upper edge. Areas without a cone give ``room`` back.
    """
    if area.cone is None or _on_side([_fitted(ink, room)], area, free_mm).all():
        return room
    moved = [_moved(room, shift) for shift in np.linspace(-0.5, 0.5, _HEIGHTS)]
    low, high = np.zeros(_HEIGHTS), np.ones(_HEIGHTS)
    best = (0.0, 0, 0, _shrunk(room, 0.01))
    for step in range(14):  # all heights at once: one by one this was most of the time of judging a shop
        share = (low + high) / 2
        tried = [_shrunk(box, float(part)) for box, part in zip(moved, share, strict=True)]
        placed = [_fitted(ink, box) for box in tried]
        fits = _on_side(placed, area, free_mm)
        low, high = np.where(fits, share, low), np.where(fits, high, share)
        found = [(placed[at][2], -at, -step, tried[at]) for at in range(_HEIGHTS) if fits[at]]
        best = max([best, *found], key=lambda one: one[:3])
    return best[3]


def lies_on_side(placed: Rectangle, area: PrintArea, free_mm: float = 0.0) -> bool:
    """Whether a rectangle (left, top, width, height in pixels of the flat canvas) is wholly on the band.

    True of areas without a cone. Margins and ``free_mm`` as for ``roomiest``.
    """
    return area.cone is None or bool(_on_side([placed], area, free_mm)[0])


def _moved(room: Box, shift: float) -> Box:
    # An arc leaves more room on one side of the middle, so the art is tried at several heights.
    top = room.top + round(shift * room.height)
    return Box(room.left, max(room.top, top), room.right, min(room.bottom, top + room.height))


def _fitted(ink: Box, room: Box) -> Rectangle:
    """Left, top, width and height of the ink box fitted in the room, centred."""
    scale = min(room.width / ink.width, room.height / ink.height)
    width, height = ink.width * scale, ink.height * scale
    return (
        room.left + (room.width - width) / 2,
        room.top + (room.height - height) / 2,
        width,
        height,
    )


def _shrunk(room: Box, share: float) -> Box:
    half_w, half_h = room.width * share / 2, room.height * share / 2
    x, y = (room.left + room.right) / 2, (room.top + room.bottom) / 2
    left, top = round(x - half_w), round(y - half_h)
    return Box(left, top, max(round(x + half_w), left + 1), max(round(y + half_h), top + 1))


def _on_side(placed: Sequence[Rectangle], area: PrintArea, free_mm: float) -> NDArray[np.bool_]:
    """Which rectangles' outlines, 33 points an edge, lie on the printed band with its margins."""
    left, top, width, height = (column[:, None] for column in np.array(placed, dtype=np.float64).T)
    on = cone_area(area)
    along, none, one = np.linspace(0.0, 1.0, 33), np.zeros(33), np.ones(33)
    x = np.concatenate([along, along, none, one]) * width + left
    y = np.concatenate([none, one, along, along]) * height + top
    centre_x, centre_y = flat_origin_px(area)
    right, up = px_to_mm(1, area.dpi) * (x - centre_x), px_to_mm(1, area.dpi) * (centre_y - y)
    angle, rise = on.band.from_flat(right, up)
    margin = area.bleed_mm + area.safe_margin_mm
    foot = on.band.slant_mm / 2 - margin
    head = on.band.slant_mm / 2 - max(margin, free_mm)
    side = on.turn / 2 - margin / on.band.middle_mm
    # Whole pixels of the placement may lie half a pixel out.
    slack = px_to_mm(0.5, area.dpi)
    inside = (rise <= head + slack) & (rise >= -foot - slack)
    inside &= np.abs(angle) <= side + slack / on.band.middle_mm
    return np.asarray(inside.all(axis=1))


def flat_origin_px(area: PrintArea) -> tuple[float, float]:
    """The flat plane's origin (middle of the band, angle 0) in pixels of the area's flat canvas."""
    if area.cone is not None and area.cone.file == "sector":
        return sector_origin(area, cone_area(area))
    return area.width_px / 2, area.height_px / 2


def prewarp_maps(area: PrintArea) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """For each pixel of a "rectangle" file, where on the flat canvas its ink comes from (x, y).

    Pixel centres are at +0.5, as everywhere; the maps are ready for ``cv2.remap``.
    """
    on = cone_area(area)
    columns = (np.arange(area.width_px) + 0.5 - area.width_px / 2) / area.width_px * on.turn
    rows = (area.height_px / 2 - np.arange(area.height_px) - 0.5) * MM_PER_INCH / area.dpi
    right, up = on.band.to_flat(columns[None, :], rows[:, None])
    centre_x, centre_y = flat_origin_px(area)
    x = centre_x + mm_to_px(1, area.dpi) * right - 0.5
    y = centre_y - mm_to_px(1, area.dpi) * up - 0.5
    return x.astype(np.float32), y.astype(np.float32)


def prewarp(canvas: NDArray[np.uint8], area: PrintArea) -> NDArray[np.uint8]:
    """The partner's rectangle from flat art: what the press rolls onto the cone comes out undistorted.

    ``canvas`` is the area's size, RGBA straight alpha, sRGB-encoded; so is the result. Other areas
    get the canvas back unchanged.
    """
    if area.cone is None or area.cone.file != "rectangle":
        return canvas
    alpha = canvas[..., 3:].astype(np.uint16)
    ink = np.concatenate([(canvas[..., :3] * alpha + 127) // 255, alpha], axis=2).astype(np.uint8)
    x, y = prewarp_maps(area)
    warped = cv2.remap(ink, x, y, cv2.INTER_CUBIC, borderMode=cv2.BORDER_CONSTANT)
    covered = warped[..., 3:].astype(np.uint16)
    colour = (warped[..., :3].astype(np.uint16) * 255 + covered // 2) // np.maximum(covered, 1)
    return np.concatenate([np.minimum(colour, 255), covered], axis=2).astype(np.uint8)
