"""Breaking text into lines of one size for a box: the optimum of a stated cost, by dynamic programming.

Where a line may break is UAX 14's business (uniseg). Where it should is a reader's; each way to break costs

    SIZE ln(largest / size)                   the size it allows, against the largest any way allows
    + EVEN (1 - width / widest)^2             for each line, by how much it is narrower than the widest
    + DANGLING                                for each line but the last that ends on a small word; LINKING
                                              where the line has no other words
    - PAUSE                                   for each line but the last that ends on a comma, stop or dash
    + STRANDED                                for a last line of one word less than half as wide as the
    widest,
                                              in a text of three words or more
    + HYPHEN                                  for each line that ends inside a word

and the cheapest is taken; among equals the one with the fewest lines. ``levelling`` does it for blocks whose
lines are all as wide as the block.
"""

import math
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from uniseg.linebreak import line_break_units

from hundredfold.designs.typesetting.smallwords import Sense, sense_of
from hundredfold.designs.typesetting.spans import read_marks, remarked

Floats = NDArray[np.float64]
Measure = Callable[[str], float]
# Letters, digits and spaces, with a comma or full stop at most at a word's end: by UAX 14 such text breaks
# after its spaces only, which needs no tables.
_PLAIN = re.compile(r"(?:[A-Za-z0-9&]+[,.]?(?: |$))+")
_WORDS = re.compile(r"[^ ]+ ?")
_SOFT_END = re.compile("\u00ad([\ufdd0-\ufdef]*)$")  # at a line's end, inside a span or not
_SAME = 1e-9  # costs and shares nearer than this are equal
SIZE, EVEN, DANGLING, LINKING, STRANDED, HYPHEN, PAUSE = (
    2.0,
    0.6,
    0.75,
    0.25,
    0.7,
    0.5,
    0.12,
)  # set by eye; common practice, no source
_LAST_SHARE = 0.5


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
    bare, styles = read_marks(text)
    if bare != text:
        return remarked(break_places(bare), styles)
    if _PLAIN.fullmatch(text):
        return _WORDS.findall(text)
    return [piece for piece in line_break_units(text) if piece]


def lines_of(pieces: Sequence[str], ends: Sequence[int]) -> list[str]:
    """The pieces gathered into lines that end before ``ends``, without the spaces at the break."""
    starts = [0, *ends[:-1]]
    return [run_text(pieces, a, b) for a, b in zip(starts, ends, strict=True)]


def run_text(pieces: Sequence[str], start: int, end: int) -> str:
    """What a line of these pieces shows: a soft hyphen only where the line ends on it."""
    text = "".join(pieces[start:end]).strip()
    if "\u00ad" not in text:
        return text
    if end < len(pieces):
        text = _SOFT_END.sub(r"-\1", text)
    return text.replace("\u00ad", "")


def widths_of(pieces: Sequence[str], measure: Measure) -> Floats:
    """Ink widths in em of every run of pieces: row the first, column one past the last; else infinite."""
    count = len(pieces)
    widths = np.full((count, count + 1), math.inf)
    for start in range(count):
        for end in range(start + 1, count + 1):
            widths[start, end] = measure(run_text(pieces, start, end))
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
    text: str, measure: Measure, room: Room, widths: Floats | None = None, language: str = "en"
) -> tuple[float, list[str]]:
    """The size and the lines, all at that size.

    ``measure`` gives a line's ink width in em; ``widths`` those of all runs of ``break_places(text)``, where
    they are known already.
    """
    pieces = break_places(text)
    if not pieces:
        return 0.0, []
    if widths is None:
        widths = widths_of(pieces, measure)
    most = min(room.most_lines or len(pieces), len(pieces))
    narrowest = _narrowest(widths, most)
    sizes = [_size(room, wide, lines) for lines, wide in enumerate(narrowest, start=1)]
    largest = max(sizes)
    if not 0 < largest < math.inf:
        return 0.0, lines_of(pieces, [len(pieces)])
    sense = sense_of(pieces, language)
    fixed = _sense_costs(sense)
    words = sum(piece != piece.rstrip() for piece in pieces[:-1]) + 1
    best = (math.inf, 0, [len(pieces)], 0.0)
    # Each width of a run may be that of the widest line; those that cost the least size come first.
    for wide in _candidates(widths, room, narrowest, largest):
        able = [_size(room, wide, n) for n in range(1, most + 1) if narrowest[n - 1] <= wide * (1 + _SAME)]
        if max(able, default=0.0) <= 0:
            continue
        floor = SIZE * math.log(largest / max(able))
        if floor - PAUSE * (most - 1) > best[0] + _SAME:
            continue
        table = _ragged_costs(widths, wide, fixed, sense.alone, words)
        for lines, total, came in _totals(table, most):
            size = _size(room, wide, lines)
            cost = total + SIZE * math.log(largest / size) if size > 0 else math.inf
            if cost < best[0] - _SAME or (cost < best[0] + _SAME and lines < best[1]):
                best = (cost, lines, _traced(came), size)
    ends = best[2]
    widest = max(float(widths[a, b]) for a, b in zip([0, *ends[:-1]], ends, strict=True))
    return _size(room, widest, len(ends)), lines_of(pieces, ends)


def _size(room: Room, wide: float, lines: int) -> float:
    return min(room.largest, room.size_by_width(wide), room.size_by_height(lines))


def _candidates(widths: Floats, room: Room, narrowest: Sequence[float], largest: float) -> list[float]:
    every = np.unique(widths[np.isfinite(widths)])
    every = every[every >= min(narrowest) * (1 - _SAME)]
    # Cheapest first by the size they allow, so that the search may stop early.
    return sorted(every.tolist(), key=lambda wide: (-min(largest, room.size_by_width(wide)), wide))


def _sense_costs(sense: Sense) -> Floats:
    """What each run costs as a line whatever its width, but for the end of the text."""
    costs = np.where(sense.small, LINKING, DANGLING * sense.dangles) + HYPHEN * sense.hyphened
    costs = costs - PAUSE * sense.pauses
    costs[:, -1] = 0.0
    value: Floats = costs.astype(np.float64)
    return value


def _ragged_costs(widths: Floats, wide: float, fixed: Floats, alone: NDArray[np.bool_], words: int) -> Floats:
    able = widths <= wide * (1 + _SAME)
    share = np.where(able, widths, 0.0) / wide if wide > 0 else np.where(able, 1.0, 0.0)
    costs: Floats = np.where(able, EVEN * (1 - np.minimum(share, 1.0)) ** 2 + fixed, math.inf)
    if words > 2:
        costs[1:, -1] += np.where(alone[1:, -1] & (share[1:, -1] < _LAST_SHARE), STRANDED, 0.0)
    return costs


def _totals(costs: Floats, most: int) -> Iterator[tuple[int, float, list[NDArray[np.int64]]]]:
    """For 1 to ``most`` lines the least total cost, and where each run came from."""
    row = np.full(costs.shape[1], math.inf)
    row[0] = 0.0
    history: list[NDArray[np.int64]] = []
    for lines in range(1, most + 1):
        totals = row[:-1, None] + costs
        came = totals.argmin(axis=0)
        history.append(came)
        row = np.take_along_axis(totals, came[None], axis=0)[0]
        if math.isfinite(row[-1]):
            yield lines, float(row[-1]), list(history)


def _traced(history: Sequence[NDArray[np.int64]]) -> list[int]:
    ends = []
    at = len(history[0]) - 1
    for came in reversed(history):
        ends.append(at)
        at = int(came[at])
    return ends[::-1]


def _narrowest(widths: Floats, most: int) -> list[float]:
    """For 1 to ``most`` lines, the least possible width of the widest line."""
    row = np.full(widths.shape[1], math.inf)
    row[0] = 0.0
    answer = []
    for _ in range(most):
        row = np.maximum(row[:-1, None], widths).min(axis=0)
        answer.append(float(row[-1]))
    return answer
