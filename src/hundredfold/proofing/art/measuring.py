"""All deep facts of one piece of art: a cached build step's work, pure arrays in."""

from dataclasses import replace
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.facts import Box
from hundredfold.designs.measure import alpha_of
from hundredfold.proofing.art.facts import ArtFacts, TextLine
from hundredfold.proofing.art.lettering import text_lines
from hundredfold.proofing.art.rims import rim
from hundredfold.proofing.art.steps import steps
from hundredfold.proofing.art.thin import thin_lines
from hundredfold.proofing.art.windows import edges_of, reduced
from hundredfold.proofing.art.words import confirmed
from hundredfold.proofing.reading.facts import NOTHING, ReadingFacts

Bytes = NDArray[Any]  # uint8; OpenCV promises no more

# Raised by hand when a fact comes out differently for the same pixels; the golden test beside it says so.
_LETTERING_PX = 1200
_ONE_COLOUR = 12  # spread, per channel, that the border of a box in one colour may show after JPEG

EMPTY = ArtFacts(0.0, (), (), (), 0.0, 0.0, 0.0, 0.0, False, ())


def measure_art(pixels: Bytes, ink: Box, words: ReadingFacts = NOTHING) -> ArtFacts:
    """Deep facts of upright sRGB art: height x width x RGBA, uint8, straight alpha; ``ink`` is its ink box.

    ``words`` is what the reader found: without it, ornament may pass for lines. Lines are placed in pixels
    of the whole file. Nothing is found on an empty ink box.
    """
    if ink.empty:
        return EMPTY
    art = pixels[ink.top : ink.bottom, ink.left : ink.right]
    alpha = alpha_of(art)
    medium = reduced(art, _LETTERING_PX)
    edges = edges_of(reduced(np.dstack([medium.colour, medium.alpha])))
    soft_band, fringe = rim(art, alpha)
    step_share, step_px = steps(art)
    found = tuple(replace(one, line=_moved(one.line, ink)) for one in text_lines(medium))
    return ArtFacts(
        outline_px=round(edges.length_px / medium.scale, 1),
        windows=edges.windows,
        strokes=thin_lines(alpha),
        gaps=thin_lines(cv2.bitwise_not(alpha), beyond=255),
        soft_band_px=soft_band,
        fringe_share=fringe,
        step_share=step_share,
        step_px=step_px,
        inset_box=_inset_box(art, pixels),
        lines=confirmed(found, medium.alpha.shape, words, ink, edges),
    )


def _moved(line: TextLine, ink: Box) -> TextLine:
    return replace(
        line,
        left=line.left + ink.left,
        right=line.right + ink.left,
        top=line.top + ink.top,
        bottom=line.bottom + ink.top,
    )


def _inset_box(art: Bytes, pixels: Bytes) -> bool:
    """The ink box is smaller than the file, and its own border is opaque and of one colour."""
    if art.shape == pixels.shape:
        return False
    border = np.concatenate([art[1], art[-2], art[1:-1, 1], art[1:-1, -2]]) if min(art.shape[:2]) > 4 else art
    border = border.reshape(-1, 4)
    return bool(border[:, 3].min() > 250 and np.ptp(border[:, :3], axis=0).max() <= _ONE_COLOUR)
