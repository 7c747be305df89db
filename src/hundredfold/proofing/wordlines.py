"""How each line of words stands out from a blank colour, and where in the art it is.

Letters on a shape of their own never end at the bare blank: whatever its colour, they are read off the shape.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.facts import Box
from hundredfold.kernel.colour import Floats, relative_luminance
from hundredfold.proofing.art.facts import EdgeWindow, TextLine
from hundredfold.proofing.profile import Limits
from hundredfold.proofing.readings import Look
from hundredfold.proofing.visible import apart, looks_in


@dataclass(frozen=True)
class LineStanding:
    """How a line of words stands out. Shares (0-1) are of all its letters' outline."""

    line: TextLine
    lost: float  # too near the bare blank to be made out
    contrast: float  # WCAG ratio, geometric mean of what ends at the bare blank
    difference: float  # CIEDE2000, mean of the same

    def sure(self, limits: Limits) -> bool:
        """The reader is sure that these are words."""
        return self.line.sure >= limits.sure_words

    def fails(self, limits: Limits, art_lost: float) -> bool:
        """These are words, or with them much of the art's outline is lost, and they cannot be made out."""
        counts = self.sure(limits) or art_lost >= limits.part_lost_share
        return counts and self.lost >= limits.lost_words_share

    def faint(self, limits: Limits) -> bool:
        """These are words that can hardly be made out."""
        return self.sure(limits) and self.contrast < limits.faint_words_contrast


def line_standings(lines: Sequence[TextLine], look: Look, limits: Limits) -> tuple[LineStanding, ...]:
    """Of each line that ends at the bare blank anywhere, top to bottom."""
    touched = [line for line in lines if line.windows]
    windows = [window for line in touched for window in line.windows]
    if not windows:
        return ()
    shares = np.array([window.share for window in windows])
    ratio, difference, gone = _seen(windows, look, limits)
    lost = shares * gone
    found, start = [], 0
    for line in touched:
        here = slice(start, start + len(line.windows))
        start = here.stop
        whole = max(float(shares[here].sum()), 1e-9)
        found.append(
            LineStanding(
                line,
                float(lost[here].sum()),
                float(np.exp((np.log(ratio[here]) * shares[here]).sum() / whole)),
                float((difference[here] * shares[here]).sum() / whole),
            )
        )
    return tuple(found)


def share_lost(windows: Sequence[EdgeWindow], look: Look, limits: Limits) -> float:
    """How much of an outline is as near the bare blank as letters may not be (0-1)."""
    if not windows:
        return 0.0
    shares = np.array([window.share for window in windows])
    return float((shares * _seen(windows, look, limits)[2]).sum() / shares.sum())


def _seen(
    windows: Sequence[EdgeWindow], look: Look, limits: Limits
) -> tuple[Floats, Floats, NDArray[np.bool_]]:
    """Contrast and difference at each window, and whether letters are lost there."""
    looks = looks_in(windows, look)
    ratio, difference = apart(looks)
    dark = np.max([relative_luminance(one) for one in looks], axis=0) < limits.dark_luminance
    least = np.where(dark, limits.dark_words_contrast, limits.lost_words_contrast)
    return ratio, difference, (ratio < least) & (difference < limits.lost_words_difference)


def place_of(line: TextLine, lines: Sequence[TextLine]) -> str:
    """Where the line is among the art's lines: "the top line of words", "line 2 of 5 of the words"."""
    rows = _rows(lines)
    place = next(number for number, row in enumerate(rows) if line in row)
    if len(rows) == 1:
        return "the only line of words"
    if place == 0:
        return "the top line of words"
    if place == len(rows) - 1:
        return "the bottom line of words"
    return "the middle line of words" if len(rows) == 3 else f"line {place + 1} of {len(rows)} of the words"


def box_of(line: TextLine, ink: Box) -> dict[str, float]:
    """The line's box in shares (0-1) of the inked art, from its top left corner."""
    return {
        "left": round((line.left - ink.left) / ink.width, 3),
        "top": round((line.top - ink.top) / ink.height, 3),
        "right": round((line.right - ink.left) / ink.width, 3),
        "bottom": round((line.bottom - ink.top) / ink.height, 3),
    }


def _rows(lines: Sequence[TextLine]) -> list[list[TextLine]]:
    """Lines beside each other count as one row."""
    rows: list[list[TextLine]] = []
    for line in sorted(lines, key=lambda one: (one.top + one.bottom, one.left)):
        middle = (line.top + line.bottom) / 2
        if rows and rows[-1][-1].top < middle < rows[-1][-1].bottom:
            rows[-1].append(line)
        else:
            rows.append([line])
    return rows
