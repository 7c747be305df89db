"""The chance that a design's text is read in a shop's thumbnail on a blank colour.

Three small sets of boosted trees, fitted on OCR truth (docs/accuracy.md): is a row letters; is a row of
letters read; is the design read, given its rows. More contrast or larger letters never lower a row's chance.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.reading.design_trees import DESIGN_TREES
from hundredfold.proofing.reading.facts import LIKELY_TEXT, ReadingFacts, view_at
from hundredfold.proofing.reading.lines import Box
from hundredfold.proofing.reading.names import ROW_NAMES
from hundredfold.proofing.reading.row_trees import ROW_TREES
from hundredfold.proofing.reading.trees import Doubles, chance

READING_VERSION = 1  # raised whenever the chances of the same facts change
LETTERS, HEIGHT, STROKE = (ROW_NAMES.index(name) for name in ("letters", "height", "stroke"))


@dataclass(frozen=True)
class LineReading:
    """One line of text in the thumbnail."""

    box: tuple[float, float, float, float]  # left, top, right, bottom as shares of the inked art
    chance: float
    letter_height_px: float  # thumbnail pixels


@dataclass(frozen=True)
class Reading:
    """How likely the text is read; no chance when the art has no text."""

    chance: float | None
    lines: tuple[LineReading, ...]

    @property
    def applicable(self) -> bool:
        """Whether the art has text."""
        return self.chance is not None

    @property
    def weakest(self) -> LineReading | None:
        """The line least likely to be read."""
        return min(self.lines, key=lambda line: line.chance, default=None)


def chance_read(facts: ReadingFacts, blank: Srgb, *, transparent_ink: bool, art_width_px: int) -> Reading:
    """The chance (0-1) that the text is read on a blank colour.

    ``transparent_ink``: dye that lets the blank through (no white underbase). ``art_width_px``: width of the
    inked art in the thumbnail; judged from 60 to 240, narrower or wider counts as 40 or 320 at the least or
    most. Raises ValueError for a width under 1.
    """
    if art_width_px < 1:
        raise ValueError(f"an art width of {art_width_px} px cannot be judged")
    if facts.art is None or not facts.applicable:
        return Reading(None, ())
    view = view_at(facts, int(np.clip(art_width_px, 40, 320)))
    measures = view.measures(blank, transparent_ink)
    rows = chance(ROW_TREES.log_odds(measures))
    text = np.array(facts.text)
    groups = regions(tuple(row.box for row in facts.rows), rows, text)
    whole = chance(DESIGN_TREES.log_odds(design_measures(measures, rows, text, groups)[None]))
    across, down = facts.art.width, facts.art.pixels.shape[0]
    lines = [
        LineReading(
            shares(facts.rows[first].box, across, down),
            round(float(rows[first]), 4),
            round(float(np.exp(measures[first, HEIGHT])), 2),
        )
        for first, *_ in groups
        if text[first] >= LIKELY_TEXT
    ]
    return Reading(
        round(float(whole[0]), 4), tuple(sorted(lines, key=lambda line: (line.box[1], line.box[0])))
    )


def shares(box: Box, across: int, down: int) -> tuple[float, float, float, float]:
    """A box as shares of the art."""
    left, top, right, bottom = box
    return (round(left / across, 4), round(top / down, 4), round(right / across, 4), round(bottom / down, 4))


def regions(boxes: tuple[Box, ...], read: Doubles, text: Doubles) -> list[list[int]]:
    """Rows that are the same words seen in different layers, the likeliest to be read first in each group."""
    likely = [n for n in range(len(boxes)) if text[n] > 0.3] or [int(text.argmax())]
    groups: list[list[int]] = []
    for n in sorted(likely, key=lambda n: (-read[n] * text[n], n)):
        home = next((g for g in groups if overlap(boxes[g[0]], boxes[n]) > 0.5), None)
        if home is None:
            groups.append([n])
        else:
            home.append(n)
    return groups


def overlap(one: Box, other: Box) -> float:
    """Shared area over the smaller box's."""
    across = min(one[2], other[2]) - max(one[0], other[0])
    down = min(one[3], other[3]) - max(one[1], other[1])
    if across <= 0 or down <= 0:
        return 0.0
    areas = [(b[2] - b[0]) * (b[3] - b[1]) for b in (one, other)]
    return across * down / min(areas)


def design_measures(
    measures: Doubles, read: Doubles, text: Doubles, groups: list[list[int]]
) -> NDArray[np.float64]:
    """DESIGN_NAMES: the rows of a design put together, each line weighing as many letters as it is long."""
    top = np.array([g[0] for g in groups])
    weight = np.exp(measures[top, LETTERS]) * text[top]
    weight = weight / weight.sum()
    chances = np.clip(read[top], 0.0025, 0.9975)
    other = np.array([max((read[n] for n in g[1:]), default=0.0) for g in groups])
    return np.array(
        [
            weight @ chances, weight @ np.log(chances / (1 - chances)), chances.min(), chances.max(),
            len(top), weight @ other, *(weight @ measures[top]),
            measures[top, HEIGHT].min(), measures[top, STROKE].min(), text[top].max(),
        ]
    )  # fmt: skip
