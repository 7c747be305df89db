"""How near a close-up goes to the goods."""

import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.facts import Box
from hundredfold.mockups.plate import Plate

_LEAST, _MOST = 1.3, 1.75  # art of 2 to 3 on the whole area must not be cut
_FILLED, _UPRIGHT = 0.86, 1.5  # of the frame the room for art fills; taller room than this is cut
_EITHER_WAY = 0.12  # the most that nearness changes for the outline's sake
_BORDER = 0.03  # of the frame: outlines along it look like a careless cut
_WORTH = 0.5  # border with outline along it that is worth going once again as near


def nearness(plate: Plate, room: Box) -> float:
    """How many times nearer a close-up shows the room for art (a box of the frame's pixels).

    It fills the frame as far as that goes, a little more or less where the goods' outline would otherwise
    run along the frame's border.
    """
    tall = min(room.height, _UPRIGHT * room.width)
    usual = min(max(_FILLED * plate.size_px / tall, _LEAST), _MOST)
    solid = np.zeros((plate.size_px, plate.size_px), bool)
    box = plate.box
    solid[box.top : box.bottom, box.left : box.right] = plate.planes["cover"] > 127
    centre = middle_of(room)

    def fault(nearer: float) -> float:
        return along_border(solid, centre, nearer) + _WORTH * abs(nearer / usual - 1)

    steps = np.arange(-round(_EITHER_WAY * 100), round(_EITHER_WAY * 100) + 1)
    return min((float(usual * (1 + step / 100)) for step in sorted(steps, key=abs)), key=fault)


def middle_of(room: Box) -> tuple[float, float]:
    """The middle of a box of the frame."""
    return (room.left + room.right) / 2, (room.top + room.bottom) / 2


def along_border(solid: NDArray[np.bool_], centre: tuple[float, float], nearer: float) -> float:
    """How much outline runs along the border of the frame so near: 1 is a whole side's length."""
    size = len(solid)
    side = size / nearer
    left, top = (round(min(max(c - side / 2, 0.0), size - side)) for c in centre)
    seen = solid[top : top + round(side), left : left + round(side)]
    strip = max(1, round(_BORDER * side))
    sides = (seen[:strip], seen[-strip:], seen[:, :strip].T, seen[:, -strip:].T)
    return float(sum((each.any(0) & ~each.all(0)).mean() for each in sides))
