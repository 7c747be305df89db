"""How near a close-up goes to the goods."""

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.facts import Box
from hundredfold.mockups.plate import Plate
from hundredfold.mockups.surface import Side

Mask = NDArray[np.bool_]
Single = NDArray[np.float32]
T = TypeVar("T", bound=np.generic)

_LEAST, _MOST = 1.3, 1.75  # art of 2 to 3 on the whole area must not be cut
_FILLED, _UPRIGHT = 0.86, 1.5  # of the frame the room for art fills; taller room than this is cut
_EITHER_WAY = 0.12  # the most that nearness changes for the border's sake
_BORDER = 0.03  # of the frame: outlines, rims and feet along it look like a careless cut
_STEP = 14 / 255  # of the square root of a white coat's light: a rim's or a lid's edge, not a shaded wall
_NEARER, _FARTHER = 0.5, 1.0  # border with outline along it that is worth going once again as near, or far


def nearness(plate: Plate, room: Box) -> float:
    """How many times nearer a close-up shows the room for art (a box of the frame's pixels).

    It fills the frame as far as that goes, a little more or less where the goods' outline, or a vessel's rim,
    lid or foot, would otherwise run along the frame's border. Going nearer never cuts the room.
    """
    tall = min(room.height, _UPRIGHT * room.width)
    usual = min(max(_FILLED * plate.size_px / tall, _LEAST), _MOST)
    nearest = max(usual, plate.size_px / max(room.width, room.height))
    solid = _framed(plate, plate.planes["cover"] > 127)
    light = _framed(plate, _coated(plate)) if isinstance(plate.surface, Side) else None
    centre = middle_of(room)

    def fault(nearer: float) -> float:
        inside = 0.0 if light is None else edges_along_border(light, solid, centre, nearer)
        way = nearer / usual - 1
        return along_border(solid, centre, nearer) + inside + max(_NEARER * way, -_FARTHER * way)

    steps = np.arange(-round(_EITHER_WAY * 100), round(_EITHER_WAY * 100) + 1)
    tried = (float(usual * (1 + step / 100)) for step in sorted(steps, key=abs))
    return min((nearer for nearer in tried if nearer <= nearest), key=fault)


def _framed(plate: Plate, plane: NDArray[T]) -> NDArray[T]:
    """A plane of the goods' box in the whole frame."""
    box, frame = plate.box, np.zeros((plate.size_px, plate.size_px), plane.dtype)
    frame[box.top : box.bottom, box.left : box.right] = plane
    return frame


def _coated(plate: Plate) -> Single:
    """Square roots of the light of goods with a white coat: rims, lids and second colours stand out."""
    return np.asarray(np.sqrt(plate.linear("gloss") + plate.linear("response")), np.float32)


def middle_of(room: Box) -> tuple[float, float]:
    """The middle of a box of the frame."""
    return (room.left + room.right) / 2, (room.top + room.bottom) / 2


def along_border(solid: Mask, centre: tuple[float, float], nearer: float) -> float:
    """How much outline runs along the border of the frame so near: 1 is a whole side's length."""
    seen, strip = _seen(solid, centre, nearer)
    sides = (seen[:strip], seen[-strip:], seen[:, :strip].T, seen[:, -strip:].T)
    return float(sum((each.any(0) & ~each.all(0)).mean() for each in sides))


def edges_along_border(light: Single, solid: Mask, centre: tuple[float, float], nearer: float) -> float:
    """How much of the goods' own edges (rim, lid, foot) runs along the upper and lower border so near."""
    (shown, strip), (goods, _) = _seen(light, centre, nearer), _seen(solid, centre, nearer)
    found = 0.0
    for rows in (np.s_[:strip], np.s_[-strip:]):
        found += float((goods[rows].all(0) & (np.ptp(shown[rows], axis=0) > _STEP)).mean())
    return found


def _seen(frame: NDArray[T], centre: tuple[float, float], nearer: float) -> tuple[NDArray[T], int]:
    """What is seen so near, and how many rows or columns are its border."""
    side = len(frame) / nearer
    left, top = (round(min(max(c - side / 2, 0.0), len(frame) - side)) for c in centre)
    return frame[top : top + round(side), left : left + round(side)], max(1, round(_BORDER * side))
