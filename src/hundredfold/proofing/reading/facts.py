"""What is measured once on a design: the reduced art and its lines of text."""

from dataclasses import dataclass
from functools import lru_cache

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.reading.art import Floats, SmallArt, at_width, reduced, shown
from hundredfold.proofing.reading.lab import lab
from hundredfold.proofing.reading.lettering import Lettering, candidates, lettering_of, text_measures
from hundredfold.proofing.reading.measures import Sized, coloured, sized
from hundredfold.proofing.reading.names import OUTER_NAMES, ROW_NAMES
from hundredfold.proofing.reading.trees import Doubles, ReadingTrees, chance

LIKELY_TEXT = 0.5  # a design with no line this likely to be letters is judged by its shapes only
OUTER_COLUMNS = tuple(ROW_NAMES.index(name) for name in OUTER_NAMES)


@dataclass(frozen=True, eq=False)
class ReadingFacts:
    """One design, ready to be judged on any blank colour at any thumbnail width."""

    art: SmallArt | None  # None when nothing is inked
    lines: tuple[Lettering, ...]
    trees: ReadingTrees | None  # None only when nothing is inked

    @property
    def applicable(self) -> bool:
        """Whether the design has text at all, as far as its shapes tell."""
        return any(line.text >= LIKELY_TEXT for line in self.lines)

    def changed_to(self, art: SmallArt) -> "ReadingFacts":
        """The same trees' facts of the art as changed. Raises ValueError when nothing was inked."""
        if self.trees is None:
            raise ValueError("nothing is inked")
        return facts_of(art, self.trees)


NOTHING = ReadingFacts(None, (), None)  # of art without ink


def facts_for_reading(rgba: NDArray[np.uint8], trees: ReadingTrees) -> ReadingFacts:
    """Measure straight-alpha, sRGB-encoded RGBA (height x width x 4, 8 bits), upright.

    Raises ValueError for another shape.
    """
    if rgba.ndim != 3 or rgba.shape[2] != 4 or rgba.dtype != np.uint8:
        raise ValueError(f"expected height x width x 4 of 8 bits, got {rgba.shape} of {rgba.dtype}")
    art = reduced(rgba)
    return NOTHING if art is None else facts_of(art, trees)


def facts_of(art: SmallArt, trees: ReadingTrees) -> ReadingFacts:
    """The facts of art that is reduced already."""
    rows = candidates(art)
    if not rows:
        return ReadingFacts(art, (), trees)
    text = chance(trees.text.log_odds(text_measures(rows)))
    return ReadingFacts(art, lettering_of(rows, text), trees)


def packed_facts(facts: ReadingFacts) -> bytes:
    """The facts as a lossless PNG of the reduced art, some tens of kilobytes; empty when nothing is inked."""
    if facts.art is None:
        return b""
    done, code = cv2.imencode(".png", facts.art.pixels, [cv2.IMWRITE_PNG_COMPRESSION, 6])
    if not done:
        raise ValueError("the reduced art could not be packed")
    return bytes(code)


def unpacked_facts(data: bytes, trees: ReadingTrees) -> ReadingFacts:
    """The facts again, measured from the packed art (about 50 ms). Raises ValueError for other bytes."""
    art = unpacked_art(data)
    return NOTHING if art is None else facts_of(art, trees)


def unpacked_art(data: bytes) -> SmallArt | None:
    """The packed art alone; None where nothing is inked. Raises ValueError for other bytes."""
    if not data:
        return None
    pixels = cv2.imdecode(np.frombuffer(data, np.uint8), cv2.IMREAD_UNCHANGED)
    if pixels is None or pixels.ndim != 3 or pixels.shape[2] != 4:
        raise ValueError("these are not packed reading facts")
    return SmallArt(np.asarray(pixels, np.uint8))


@dataclass(frozen=True, eq=False)
class ThumbnailFacts:
    """The facts at one thumbnail width: what every colour shares."""

    small: Floats
    inner: tuple[Sized, ...]
    outer: tuple[Sized, ...]  # the same object as the inner one where there is no outline

    def measures(self, blank: Srgb, transparent_ink: bool) -> Doubles:
        """LINE_NAMES for each line of text on a blank colour."""
        picture = lab(shown(self.small, blank, transparent_ink))
        rows = []
        for inner, outer in zip(self.inner, self.outer, strict=True):
            first = (*inner.size, *inner.shape, *coloured(inner, picture))
            second = first if outer is inner else (*outer.size, *outer.shape, *coloured(outer, picture))
            rows.append((*first, *(second[n] for n in OUTER_COLUMNS), float(outer is not inner)))
        return np.array(rows, np.float64)


@lru_cache(maxsize=4)
def view_at(facts: ReadingFacts, width_px: int) -> ThumbnailFacts:
    """The facts at an art width in thumbnail pixels. Raises ValueError when nothing is inked."""
    if facts.art is None:
        raise ValueError("nothing is inked")
    inner = tuple(sized(facts.art, line.inner, width_px) for line in facts.lines)
    outer = tuple(
        one if line.outer is line.inner else sized(facts.art, line.outer, width_px)
        for one, line in zip(inner, facts.lines, strict=True)
    )
    return ThumbnailFacts(at_width(facts.art, width_px), inner, outer)
