"""How near a close-up goes to the goods, and round which point."""

from itertools import product
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.facts import Box
from hundredfold.mockups.plate import Plate
from hundredfold.mockups.surface import Side

Mask = NDArray[np.bool_]
Single = NDArray[np.float32]
Point = tuple[float, float]
T = TypeVar("T", bound=np.generic)

_LEAST, _MOST = 1.3, 2.0  # art of 2 to 3 on the whole area must not be cut
_FILLED, _UPRIGHT = 0.86, 1.5  # of the frame the room for art fills; taller room than this is cut
_EITHER_WAY, _MOVE = 12, 8  # hundredths of nearness, and of the frame up or down, given for the border's sake
_WITHIN, _BEYOND = 0.03, 0.01  # of the frame, in and out: outlines, rims, feet along its border look careless
_STEP = 14 / 255  # of the square root of a white coat's light: a rim's or a lid's edge, not a shaded wall
_NEARER, _FARTHER, _MOVED = 0.5, 1.0, 1.0  # border with outline along it worth going once as near, far or up


def close_up(plate: Plate, room: Box) -> tuple[Point, float]:
    """Middle (frame pixels) and nearness of a close-up of the room for art, a box of the frame's pixels.

    The room fills the frame as far as that goes, seen a little nearer, farther or higher where the goods'
    outline, or a vessel's rim, lid or foot, would otherwise run along the border. That cuts none of it.
    """
    size, middle = plate.size_px, ((room.left + room.right) / 2, (room.top + room.bottom) / 2)
    tall = min(room.height, _UPRIGHT * room.width)
    usual = min(max(_FILLED * size / tall, _LEAST), _MOST)
    solid = _framed(plate, plate.planes["cover"] > 127)
    light = _framed(plate, _coated(plate)) if isinstance(plate.surface, Side) else None
    cut = _cut(size, room, middle, usual)

    def fault(tried: tuple[Point, float]) -> float:
        centre, nearer = tried
        edges = along_border(solid, *tried)
        if light is not None:
            edges += edges_along_border(light, solid, *tried)
        way, move = nearer / usual - 1, abs(centre[1] - middle[1]) * nearer / size
        return float(edges + max(_NEARER * way, -_FARTHER * way) + _MOVED * move)

    ways = sorted(range(-_EITHER_WAY, _EITHER_WAY + 1, 2), key=abs)
    moves = sorted(range(-_MOVE, _MOVE + 1, 2), key=abs)
    tries = []
    for way, move in product(ways, moves):
        nearer = usual * (1 + way / 100)
        centre = middle[0], middle[1] + move / 100 * size / nearer
        if _cut(size, room, centre, nearer) <= cut:
            tries.append((centre, nearer))
    return min(tries, key=fault)


def _cut(size: int, room: Box, centre: Point, nearer: float) -> float:
    """Pixels of the room, up and across, outside the frame so near."""
    left, top = _corner(size, centre, nearer)
    side = size / nearer
    over = (left - room.left, top - room.top, room.right - left - side, room.bottom - top - side)
    return sum(max(each, 0.0) for each in over)


def _framed(plate: Plate, plane: NDArray[T]) -> NDArray[T]:
    """A plane of the goods' box in the whole frame."""
    box, frame = plate.box, np.zeros((plate.size_px, plate.size_px), plane.dtype)
    frame[box.top : box.bottom, box.left : box.right] = plane
    return frame


def _coated(plate: Plate) -> Single:
    """Square roots of the light of goods with a white coat: rims, lids and second colours stand out."""
    return np.asarray(np.sqrt(plate.linear("gloss") + plate.linear("response")), np.float32)


def along_border(solid: Mask, centre: Point, nearer: float) -> float:
    """How much outline runs along the border of the frame so near: 1 is a whole side's length."""
    return float(sum((s.any(0) & ~s.all(0)).mean() for s in _border(solid, centre, nearer)))


def edges_along_border(light: Single, solid: Mask, centre: Point, nearer: float) -> float:
    """How much of the goods' own edges (rim, lid, foot) runs along the upper and lower border so near."""
    seen, goods = (_border(frame, centre, nearer)[:2] for frame in (light, solid))
    return float(
        sum((g.all(0) & (np.ptp(s, axis=0) > _STEP)).mean() for s, g in zip(seen, goods, strict=True))
    )


def _corner(size: int, centre: Point, nearer: float) -> Point:
    """The upper left corner of what is seen so near; it stays in the frame."""
    x, y = (min(max(c - size / nearer / 2, 0.0), size - size / nearer) for c in centre)
    return x, y


def _border(frame: NDArray[T], centre: Point, nearer: float) -> list[NDArray[T]]:
    """Strips along the border of what is seen so near, across them downwards: upper, lower, left, right."""
    side, size = len(frame) / nearer, len(frame)
    (left, top), long = (round(c) for c in _corner(size, centre, nearer)), round(side)
    within, beyond = max(1, round(_WITHIN * side)), round(_BEYOND * side)
    strips = []
    for start, across, turned in ((top, left, frame), (left, top, frame.T)):
        end = start + long
        strips.append(turned[max(start - beyond, 0) : start + within, across : across + long])
        strips.append(turned[end - within : end + beyond, across : across + long])
    return strips
