"""Breaking text into a block whose lines are all as wide as the block, as on a slab.

Small words between two lines may stand as a *catch line*: a low line of their own, ``CATCH`` of the average
height of the full lines, which is not stretched to the block. The stated cost, in two steps. For each number
of full lines and of catch lines the cheapest breaks of

    EVEN ln(width / average)^2     for each full line; the average is the whole text's width over the full
    lines
    + DANGLING                     for each full line but the last that ends on a small word
    + SHOUTING                     for each full line of small words only
    - PAUSE                        for each full line but the last that ends on a comma, stop or dash
    + CATCHING                     for each catch line: all the small words between two others, never the last

and among the numbers the least of that cost + COVER ln(largest cover / cover), where the cover is the area of
the block that comes of it when fitted into the box; among equals the one with the fewest lines.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hundredfold.designs.typesetting.breaking import (
    HYPHEN,
    PAUSE,
    Floats,
    Measure,
    Room,
    break_places,
    run_text,
    widths_of,
)
from hundredfold.designs.typesetting.smallwords import Sense, sense_of

# Set by eye; common practice, no source.
EVEN, DANGLING, SHOUTING, CATCHING, COVER = 1.0, 0.75, 3.0, -0.1, 1.0
CATCH = 0.4
_MOST_CATCHES = 3
_SAME = 1e-9


@dataclass(frozen=True)
class LevelLine:
    """A line of the block; ``catch`` when it is a low line between the others."""

    text: str
    catch: bool


@dataclass(frozen=True)
class MeasuredLine:
    """A line's ink in em."""

    width: float
    height: float
    catch: bool = False


def break_level(
    text: str,
    measure: Measure,
    heights: Measure,
    room: Room,
    gap: float,
    widths: Floats | None = None,
    language: str = "en",
    catches: bool = True,
) -> tuple[float, list[LevelLine]]:
    """The width of the block and its lines.

    ``heights`` gives a line's ink height in em; ``gap`` is the space between lines in units; ``widths`` as
    for ``break_ragged``; ``catches`` whether small words may stand between the lines.
    """
    pieces = break_places(text)
    if not pieces:
        return 0.0, []
    if widths is None:
        widths = widths_of(pieces, measure)
    sense = sense_of(pieces, language)
    found: list[tuple[float, float, float, list[LevelLine]]] = []
    most = min(room.most_lines or len(pieces), len(pieces))
    for full in range(1, most + 1):
        for low in range(min(_MOST_CATCHES, len(pieces) - full) + 1 if catches else 1):
            cost, runs = _cheapest(_full_costs(widths, sense, full), _low_costs(sense, widths), full, low)
            if not math.isfinite(cost):
                continue
            lines = [LevelLine(run_text(pieces, a, b), catch) for a, b, catch in runs]
            block, cover = level_block(
                [MeasuredLine(measure(line.text), heights(line.text), line.catch) for line in lines],
                room,
                gap,
            )
            if cover > 0:
                found.append((cost, block, cover, lines))
    if not found:
        return 0.0, [LevelLine(run_text(pieces, 0, len(pieces)), False)]
    largest = max(cover for _, _, cover, _ in found)
    best = min(found, key=lambda one: (round(one[0] + COVER * math.log(largest / one[2]), 9), len(one[3])))
    return best[1], best[3]


def level_block(lines: Sequence[MeasuredLine], room: Room, gap: float) -> tuple[float, float]:
    """The widest block of lines, and the area it covers.

    Each full line is as wide as the block, so its height is width times its own proportions; the size of no
    line passes ``room.largest``, which then narrows that line only.
    """
    full = [line for line in lines if not line.catch and line.width > 0]
    low = sum(line.catch for line in lines)
    per_width = sum(line.height / line.width for line in full)
    per_width += low * CATCH * per_width / max(len(full), 1)
    rest = max(0.0, room.height - gap * (len(lines) - 1) - room.stroke * len(lines))
    block = max(0.0, room.width - room.stroke)
    if per_width > 0:
        block = min(block, rest / per_width)
    tall = sum(min(block / line.width, room.largest) * line.height for line in full)
    tall += low * CATCH * tall / max(len(full), 1)
    return block, block * (tall + gap * (len(lines) - 1))


def _full_costs(widths: Floats, sense: Sense, full: int) -> Floats:
    drawn = (widths > 0) & np.isfinite(widths)
    costs = np.full(widths.shape, math.inf)
    costs[drawn] = EVEN * np.log(widths[drawn] * full / widths[0, -1]) ** 2
    ends = DANGLING * (sense.dangles & ~sense.small) + HYPHEN * sense.hyphened - PAUSE * sense.pauses
    ends[:, -1] = 0.0
    value: Floats = costs + ends + SHOUTING * sense.small
    return value


def _low_costs(sense: Sense, widths: Floats) -> Floats:
    costs: Floats = np.where(sense.linking & (widths > 0), CATCHING, math.inf)
    costs[:, -1] = math.inf
    return costs


def _cheapest(
    full_costs: Floats, low_costs: Floats, full: int, low: int
) -> tuple[float, list[tuple[int, int, bool]]]:
    """The least total of cutting the pieces into so many full and catch runs, and the runs."""
    size = full_costs.shape[1]
    empty = np.full(size, math.inf)
    empty[0] = 0.0
    rows: dict[tuple[int, int], Floats] = {(0, 0): empty}
    came: dict[tuple[int, int], tuple[Floats, Floats]] = {}
    for a in range(full + 1):
        for b in range(low + 1):
            if a == b == 0:
                continue
            row, source, kind = np.full(size, math.inf), np.zeros(size), np.zeros(size)
            for before, costs, catch in (((a - 1, b), full_costs, 0), ((a, b - 1), low_costs, 1)):
                if before not in rows:
                    continue
                totals = rows[before][:-1, None] + costs
                start = totals.argmin(axis=0)
                value = totals[start, np.arange(size)]
                better = value < row
                row, source, kind = (
                    np.where(better, value, row),
                    np.where(better, start, source),
                    np.where(better, catch, kind),
                )
            rows[a, b], came[a, b] = row, (source, kind)
    runs: list[tuple[int, int, bool]] = []
    at, key = size - 1, (full, low)
    total = float(rows[key][-1])
    while math.isfinite(total) and key != (0, 0):
        source, kind = came[key]
        start, catch = int(source[at]), bool(kind[at])
        runs.append((start, at, catch))
        at, key = start, (key[0] - (not catch), key[1] - catch)
    return total, runs[::-1]
