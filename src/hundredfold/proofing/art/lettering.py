"""Finding lines of lettering in art, and how tall their letters are."""

from dataclasses import dataclass, replace
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.proofing.art.facts import TextLine
from hundredfold.proofing.art.windows import Small

Bytes = NDArray[Any]  # uint8; OpenCV promises no more
_MOST = 700  # islands looked at; more of them is a texture
_TONES_APART = (
    60  # levels of luma between light and dark ink for lettering inside filled art to be looked for
)
_OTHER_HEIGHT = (
    2.6  # letters of one line differ in height by less than this factor (x against l, or a capital)
)


@dataclass(frozen=True)
class _Islands:
    left: NDArray[Any]
    top: NDArray[Any]
    width: NDArray[Any]
    height: NDArray[Any]
    area: NDArray[Any]
    number: NDArray[Any]


@dataclass(frozen=True, eq=False)
class Found:
    """A line in pixels of the full-size art, and its letters in a box of the small art."""

    line: TextLine
    left: int  # of the box
    top: int
    letters: NDArray[np.bool_]

    def mask(self, shape: tuple[int, ...]) -> Bytes:
        """The letters on the whole of the small art (height x width)."""
        whole = np.zeros(shape, np.uint8)
        down, across = self.letters.shape
        whole[self.top : self.top + down, self.left : self.left + across] = self.letters
        return whole


def text_lines(small: Small) -> tuple[Found, ...]:
    """Lines of lettering, top to bottom, in pixels of the full-size art. Drawings may be taken for lettering.

    Looks at the shape of all ink, and at light and dark ink apart, since words often stand on a filled shape.
    """
    found: list[Found] = []
    for mask in _masks(small):
        for one in _lines_of(mask):
            if not any(same_place(one.line, other.line) for other in found):
                found.append(one)
    grown = [replace(one, line=_scaled(one.line, 1 / small.scale)) for one in found]
    return tuple(sorted(grown, key=lambda one: (one.line.top, one.line.left)))


def _masks(small: Small) -> list[Bytes]:
    solid = small.alpha > 127
    if not solid.any():
        return []
    luma = cv2.cvtColor(small.colour, cv2.COLOR_RGB2GRAY)
    inks = luma[solid].reshape(-1, 1)
    cut, _ = cv2.threshold(inks, 0, 255, cv2.THRESH_BINARY + cv2.THRESH_OTSU)
    dark, light = inks[inks <= cut], inks[inks > cut]
    masks = [solid]
    if dark.size and light.size and float(np.median(light)) - float(np.median(dark)) >= _TONES_APART:
        masks += [solid & (luma <= cut), solid & (luma > cut)]
    return [mask.view(np.uint8) for mask in masks]


def _islands(mask: Bytes) -> tuple[_Islands, NDArray[Any]]:
    _, labels, stats, _ = cv2.connectedComponentsWithStats(mask, connectivity=8, ltype=cv2.CV_32S)
    left, top, width, height, area = (stats[1:, index] for index in range(5))
    most = 0.6 * max(mask.shape)
    kept = np.flatnonzero((height >= 4) & (height <= most) & (width <= 30 * height) & (height <= 12 * width))
    kept = kept[np.argsort(-area[kept], kind="stable")][:_MOST]
    return _Islands(left[kept], top[kept], width[kept], height[kept], area[kept], kept + 1), labels


def _lines_of(mask: Bytes) -> list[Found]:
    from scipy.sparse.csgraph import (
        connected_components,  # its import is dear, and most commands measure nothing
    )

    islands, labels = _islands(mask)
    if not islands.number.size:
        return []
    count, group = connected_components(_neighbours(islands), directed=False)
    lines = []
    for index in range(count):
        members = np.flatnonzero(group == index)
        line = _line(islands, labels, members)
        if line is not None:
            lines.append(line)
    return lines


def _neighbours(islands: _Islands) -> NDArray[np.bool_]:
    """Which islands could be letters side by side: like heights, on one level, less than a height apart."""
    bottom, right = islands.top + islands.height, islands.left + islands.width
    tallest = np.maximum.outer(islands.height, islands.height)
    lowest = np.minimum.outer(islands.height, islands.height)
    overlap = np.minimum.outer(bottom, bottom) - np.maximum.outer(islands.top, islands.top)
    gap = np.maximum.outer(islands.left, islands.left) - np.minimum.outer(right, right)
    return np.asarray(
        (tallest <= _OTHER_HEIGHT * lowest) & (overlap >= 0.5 * lowest) & (gap <= 0.9 * tallest)
    )


def _line(islands: _Islands, labels: NDArray[Any], members: NDArray[Any]) -> Found | None:
    left, top = int(islands.left[members].min()), int(islands.top[members].min())
    right = int((islands.left + islands.width)[members].max())
    bottom = int((islands.top + islands.height)[members].max())
    part = np.isin(labels[top:bottom, left:right], islands.number[members])
    typical = float(np.median(islands.height[members]))
    body = body_height(part)
    if bottom - top > 1.9 * typical:  # an arch or a slope: its rows mix letters of many levels
        body = 0.8 * typical
    crossings = crossings_of(part)
    fill = float(islands.area[members].sum() / (islands.width * islands.height)[members].sum())
    wide = (right - left) / max(body, 1.0)
    looks_like_words = members.size >= 3 or (crossings >= 6 and wide >= 2.5)
    if not looks_like_words or not 0.12 <= fill <= 0.85 or not 0.25 <= crossings / wide <= 6.0:
        return None
    letters = max(int(members.size), round(crossings / 2))
    return Found(TextLine(left, top, right, bottom, round(body, 2), letters), left, top, part)


def body_height(part: NDArray[np.bool_]) -> float:
    """Rows that are about as full as the fullest: x-height of lower case, the whole of capitals."""
    profile = part.sum(axis=1)
    full = profile >= 0.4 * np.percentile(profile, 90)
    rows = np.flatnonzero(full)
    return float(rows[-1] - rows[0] + 1) if rows.size else 0.0


def crossings_of(part: NDArray[np.bool_]) -> float:
    """How often a row of the middle half goes from bare to inked, in the median."""
    quarter = part.shape[0] // 4
    middle = part[quarter : part.shape[0] - quarter] if part.shape[0] > 4 else part
    padded = np.pad(middle, ((0, 0), (1, 0))).astype(np.int8)
    return float(np.median((np.diff(padded, axis=1) > 0).sum(axis=1)))


def same_place(first: TextLine, second: TextLine) -> bool:
    """Whether one covers most of the other."""
    across = min(first.right, second.right) - max(first.left, second.left)
    down = min(first.bottom, second.bottom) - max(first.top, second.top)
    smaller = min((line.right - line.left) * (line.bottom - line.top) for line in (first, second))
    return across > 0 and down > 0 and across * down > 0.5 * smaller


def _scaled(line: TextLine, factor: float) -> TextLine:
    left, top, right, bottom = (round(v * factor) for v in (line.left, line.top, line.right, line.bottom))
    letter = round(line.letter_px * factor, 1)
    return replace(line, left=left, top=top, right=right, bottom=bottom, letter_px=letter)
