"""Breaking text into lines for a box: the optimum of a stated cost, found by dynamic programming.

Where a line may break is UAX 14's business (uniseg). Two costs:

*Ragged* (all lines one size): the largest size that fits; among breaks that allow it, the least sum of
squared slack (room in the line less its ink, in em); among those, the fewest lines.

*Level* (every line as wide as the block, as on a slab): for each count of lines, the breaks with the
least sum of squared logarithms of line width over the average; among the counts, the block that covers
most of the box when fitted into it; among those, the fewest lines.
"""

import math
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from uniseg.linebreak import line_break_units

Floats = NDArray[np.float64]
Measure = Callable[[str], float]
# Letters, digits and spaces, with a comma or full stop at most at a word's end: by UAX 14 such text breaks
# after its spaces only, which needs no tables.
_PLAIN = re.compile(r"(?:[A-Za-z0-9&]+[,.]?(?: |$))+")
_WORDS = re.compile(r"[^ ]+ ?")
_SAME = 1e-9  # sizes nearer than this share are one size


@dataclass(frozen=True)
class Room:
    """A box in units and how lines stack, in em: height of n lines = first + (n - 1) * leading + last, and in
    units ``between`` for each line after the first.
    """

    width: float
    height: float
    first: float  # ink above the first baseline
    last: float  # ink below the last baseline
    leading: float
    most_lines: int = 0  # 0: as many as there are places to break
    largest: float = math.inf
    stroke: float = 0.0  # width of an outline around the letters, in units
    between: float = 0.0  # more room between lines, for outlines and shadows, in units

    def size_by_height(self, lines: int) -> float:
        """The largest size at which that many lines are no taller than the box."""
        tall = self.first + (lines - 1) * self.leading + self.last
        return (
            max(0.0, self.height - self.stroke - (lines - 1) * self.between) / tall
            if tall > 0
            else self.largest
        )

    def size_by_width(self, em: float) -> float:
        """The largest size at which a line of ``em`` is no wider than the box."""
        return max(0.0, self.width - self.stroke) / em if em > 0 else self.largest


def break_places(text: str) -> list[str]:
    """The pieces between UAX 14's break opportunities; spaces stay at the end of their piece."""
    if _PLAIN.fullmatch(text):
        return _WORDS.findall(text)
    return [piece for piece in line_break_units(text) if piece]


def lines_of(pieces: Sequence[str], ends: Sequence[int]) -> list[str]:
    """The pieces gathered into lines that end before ``ends``, without the spaces at the break."""
    starts = [0, *ends[:-1]]
    return ["".join(pieces[a:b]).strip() for a, b in zip(starts, ends, strict=True)]


def widths_of(pieces: Sequence[str], measure: Measure) -> Floats:
    """Ink widths in em of every run of pieces: row the first, column one past the last; else infinite."""
    count = len(pieces)
    widths = np.full((count, count + 1), math.inf)
    for start in range(count):
        for end in range(start + 1, count + 1):
            widths[start, end] = measure("".join(pieces[start:end]).strip())
    return widths


def run_widths(left: Floats, right: Floats) -> Floats:
    """The same from where each piece's ink begins and ends along one line."""
    count = len(left)
    widths = np.full((count, count + 1), math.inf)
    for start in range(count):
        reach = np.maximum.accumulate(right[start:]) - np.minimum.accumulate(left[start:])
        widths[start, start + 1 :] = np.maximum(reach, 0.0)
    return widths


def break_ragged(
    text: str, measure: Measure, room: Room, widths: Floats | None = None
) -> tuple[float, list[str]]:
    """The largest size and the lines, all at that size.

    ``measure`` gives a line's ink width in em; ``widths`` those of all runs of ``break_places(text)``, where
    they are known already.
    """
    pieces = break_places(text)
    if not pieces:
        return 0.0, []
    if widths is None:
        widths = widths_of(pieces, measure)
    most = min(room.most_lines or len(pieces), len(pieces))
    sizes = [
        min(room.largest, room.size_by_width(narrowest), room.size_by_height(lines))
        for lines, narrowest in enumerate(_narrowest(widths, most), start=1)
    ]
    size = max(sizes)
    if size <= 0:
        return 0.0, lines_of(pieces, [len(pieces)])
    limit = max(0.0, room.width - room.stroke) / size * (1 + _SAME)
    slack = np.where(widths <= limit, (limit - np.where(widths <= limit, widths, 0.0)) ** 2, math.inf)
    best: tuple[float, list[int]] | None = None
    for lines, reached in enumerate(sizes, start=1):
        if reached < size * (1 - _SAME):
            continue
        found = _cheapest(slack, lines)
        if best is None or found[0] < best[0] - _SAME:
            best = found
    assert best is not None
    return size, lines_of(pieces, best[1])


def break_level(
    text: str, measure: Measure, heights: Measure, room: Room, gap: float, widths: Floats | None = None
) -> tuple[float, list[str]]:
    """The width of the block and its lines, each to be set that wide.

    ``heights`` gives a line's ink height in em; ``gap`` is the space between lines in units; ``widths`` as
    for ``break_ragged``.
    """
    pieces = break_places(text)
    if not pieces:
        return 0.0, []
    if widths is None:
        widths = widths_of(pieces, measure)
    most = min(room.most_lines or len(pieces), len(pieces))
    whole = widths[0, -1]
    drawn = (widths > 0) & np.isfinite(widths)
    best: tuple[float, float, list[str]] | None = None
    for lines in range(1, most + 1):
        uneven = np.full(widths.shape, math.inf)
        uneven[drawn] = np.log(widths[drawn] * lines / whole) ** 2
        cost, ends = _cheapest(uneven, lines)
        if not math.isfinite(cost):
            continue
        texts = lines_of(pieces, ends)
        block, cover = level_block([(measure(t), heights(t)) for t in texts], room, gap)
        if best is None or cover > best[0] * (1 + _SAME):
            best = (cover, block, texts)
    return (best[1], best[2]) if best else (0.0, lines_of(pieces, [len(pieces)]))


def level_block(lines: Sequence[tuple[float, float]], room: Room, gap: float) -> tuple[float, float]:
    """The widest block of lines given as (ink width, ink height) in em, and the area it covers.

    Each line is as wide as the block, so its height is width times its own proportions; the size of no
    line passes ``room.largest``, which then narrows that line only.
    """
    per_width = sum(height / width for width, height in lines if width > 0)
    rest = max(0.0, room.height - gap * (len(lines) - 1) - room.stroke * len(lines))
    block = max(0.0, room.width - room.stroke)
    if per_width > 0:
        block = min(block, rest / per_width)
    tall = sum(min(block / width, room.largest) * height for width, height in lines if width > 0)
    return block, block * (tall + gap * (len(lines) - 1))


def _narrowest(widths: Floats, most: int) -> list[float]:
    """For 1 to ``most`` lines, the least possible width of the widest line."""
    row = np.full(widths.shape[1], math.inf)
    row[0] = 0.0
    answer = []
    for _ in range(most):
        row = np.maximum(row[:-1, None], widths).min(axis=0)
        answer.append(float(row[-1]))
    return answer


def _cheapest(costs: Floats, lines: int) -> tuple[float, list[int]]:
    """The least total cost of cutting pieces into ``lines`` runs, and where the runs end.

    ``costs`` has a row for each first piece of a run and a column for each end.
    """
    row = np.full(costs.shape[1], math.inf)
    row[0] = 0.0
    history = []
    for _ in range(lines):
        totals = row[:-1, None] + costs
        came = totals.argmin(axis=0)
        history.append(came)
        row = np.take_along_axis(totals, came[None], axis=0)[0]
    ends = []
    at = costs.shape[1] - 1
    for came in reversed(history):
        ends.append(at)
        at = int(came[at])
    return float(row[-1]), ends[::-1]
