"""The chance that a design's text is read in a shop's thumbnail on a blank colour.

Three small sets of boosted trees, fitted on OCR truth (docs/accuracy.md): is a row letters; is a line of
text read; is the design read, given its lines. More contrast or larger letters never lower a line's chance.
"""

from dataclasses import dataclass

import numpy as np

from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.reading.facts import LIKELY_TEXT, ReadingFacts, view_at
from hundredfold.proofing.reading.lines import Box
from hundredfold.proofing.reading.names import LINE_NAMES
from hundredfold.proofing.reading.trees import Doubles, Numbers, chance

HUGE, HUGE_TEXT = 2.0, 0.4  # times the tallest sure line; how letter-like such a row must be
LETTERS, HEIGHT, STROKE = (LINE_NAMES.index(name) for name in ("letters", "height", "stroke"))


@dataclass(frozen=True)
class LineReading:
    """One line of text in the thumbnail."""

    box: tuple[float, float, float, float]  # left, top, right, bottom as shares of the inked art
    chance: float
    letter_height_px: float  # thumbnail pixels


@dataclass(frozen=True)
class PredictedReading:
    """How likely the text is read; no chance when the art has no text."""

    chance: float | None
    lines: tuple[LineReading, ...]

    @property
    def applicable(self) -> bool:
        """Whether the art has text."""
        return self.chance is not None


def chance_read(
    facts: ReadingFacts, blank: Srgb, *, transparent_ink: bool, art_width_px: int
) -> PredictedReading:
    """The chance (0-1) that the text is read on a blank colour.

    ``transparent_ink``: dye that lets the blank through (no white underbase). ``art_width_px``: width of the
    inked art in the thumbnail; fitted from 60 to 240, and held to 40 at the least and 320 at the most.
    Raises ValueError for a width under 1.
    """
    if art_width_px < 1:
        raise ValueError(f"an art width of {art_width_px} px cannot be judged")
    trees = facts.trees
    if facts.art is None or trees is None or not facts.applicable:
        return PredictedReading(None, ())
    measures = view_at(facts, int(np.clip(art_width_px, 40, 320))).measures(blank, transparent_ink)
    read = chance(trees.line.log_odds(measures))
    text = np.array([line.text for line in facts.lines])
    whole = chance(trees.design.log_odds(design_measures(measures, read, text)[None]))
    across, down = facts.art.width, facts.art.pixels.shape[0]
    likely = least_likely(text, measures[:, HEIGHT])
    lines = [
        LineReading(
            shares(line.outer.box, across, down),
            round(float(read[n]), 4),
            round(float(np.exp(measures[n, HEIGHT])), 2),
        )
        for n, line in enumerate(facts.lines)
        if line.text >= likely[n]
    ]
    return PredictedReading(round(float(whole[0]), 4), tuple(lines))


def least_likely(text: Doubles, log_height: Doubles) -> Doubles:
    """How letter-like each row must be to count as a line of words.

    A word of a few huge letters has little of what rows of letters have; beside rows half as tall that are
    letters, it is taken for the main word all the same.
    """
    sure = log_height[text >= LIKELY_TEXT]
    tall = log_height >= (sure.max() if sure.size else np.inf) + np.log(HUGE)
    return np.where(tall, HUGE_TEXT, LIKELY_TEXT)


def shares(box: Box, across: int, down: int) -> tuple[float, float, float, float]:
    """A box as shares of the art."""
    left, top, right, bottom = box
    return (round(left / across, 4), round(top / down, 4), round(right / across, 4), round(bottom / down, 4))


def design_measures(measures: Numbers, read: Doubles, text: Doubles) -> Doubles:
    """DESIGN_NAMES: the lines of a design put together, each weighing as many letters as it is long."""
    weight = np.exp(measures[:, LETTERS]) * text
    weight = weight / weight.sum()
    chances = np.clip(read, 0.0025, 0.9975)
    return np.array(
        [
            weight @ chances, weight @ np.log(chances / (1 - chances)), chances.min(), chances.max(),
            len(read), *(weight @ measures), measures[:, HEIGHT].min(), measures[:, STROKE].min(), text.max(),
        ]
    )  # fmt: skip
