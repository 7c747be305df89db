"""A ring drawn round the words that a finding speaks of, on the art, so that it goes where the words go."""

from collections.abc import Sequence
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.kernel.findings import Finding

Pixels = NDArray[Any]
_INK = (226, 0, 122)  # sRGB: a magenta that stands out from light and dark goods alike
_SIDES = ("left", "top", "right", "bottom")
_WIDE = 0.008  # of the art's width
_ROOM = 0.016  # between the words and the ring


def ringed(art: Pixels, findings: Sequence[Finding]) -> Pixels:
    """Art (RGBA, uint8, straight alpha, cut to its ink) with a ring round what its first placed finding says.

    The art itself where no finding says where. The ring stays on the art, so that it is printed where the
    words are.
    """
    found = next((one for one in findings if all(side in one.numbers for side in _SIDES)), None)
    if found is None:
        return art
    height, width = art.shape[:2]
    line, room = max(2, round(_WIDE * width)), round(_ROOM * width)
    left, top, right, bottom = (float(found.numbers[side]) for side in _SIDES)
    first = (max(line, round(left * width) - room), max(line, round(top * height) - room))
    last = (
        min(width - 1 - line, round(right * width) + room),
        min(height - 1 - line, round(bottom * height) + room),
    )
    drawn = np.ascontiguousarray(art.copy())
    return np.asarray(cv2.rectangle(drawn, first, last, (*_INK, 255), line, cv2.LINE_AA))
