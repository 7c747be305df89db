"""What is measured once on a design: the reduced art and its candidate rows of letters."""

from dataclasses import dataclass
from functools import lru_cache

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.reading.art import Floats, SmallArt, at_width, reduced, shown
from hundredfold.proofing.reading.lab import lab
from hundredfold.proofing.reading.layers import layers_of
from hundredfold.proofing.reading.lines import Row, rows_in
from hundredfold.proofing.reading.measures import Sized, coloured, shape_of, sized
from hundredfold.proofing.reading.text_trees import TEXT_TREES
from hundredfold.proofing.reading.trees import Doubles, chance

KINDS = ("all", "ink", "gap")
LIKELY_TEXT = 0.5  # a design with no row this likely to be letters is judged by its shapes only
MOST_ROWS = 24  # candidates kept, likeliest first


@dataclass(frozen=True, eq=False)
class ReadingFacts:
    """One design, ready to be judged on any blank colour at any thumbnail width."""

    art: SmallArt | None  # None when nothing is inked
    rows: tuple[Row, ...]
    text: tuple[float, ...]  # chance that each row is letters

    @property
    def applicable(self) -> bool:
        """Whether the design has text at all, as far as its shapes tell."""
        return any(likely >= LIKELY_TEXT for likely in self.text)


def facts_for_reading(rgba: NDArray[np.uint8]) -> ReadingFacts:
    """Measure straight-alpha, sRGB-encoded RGBA (height x width x 4, 8 bits), upright.

    Raises ValueError for another shape.
    """
    if rgba.ndim != 3 or rgba.shape[2] != 4 or rgba.dtype != np.uint8:
        raise ValueError(f"expected height x width x 4 of 8 bits, got {rgba.shape} of {rgba.dtype}")
    art = reduced(rgba)
    return ReadingFacts(None, (), ()) if art is None else facts_of(art)


def facts_of(art: SmallArt) -> ReadingFacts:
    """The facts of art that is reduced already."""
    rows = candidates(art)
    if not rows:
        return ReadingFacts(art, (), ())
    text = chance(TEXT_TREES.log_odds(text_measures(rows)))
    best = sorted(np.argsort(-text, kind="stable")[:MOST_ROWS])
    return ReadingFacts(art, tuple(rows[n] for n in best), tuple(float(text[n]) for n in best))


def candidates(art: SmallArt) -> list[Row]:
    """Rows of letters in any layer; a single part must at least be wider than tall to be a joined word."""
    rows = [row for layer in layers_of(art) for row in rows_in(layer)]
    return [row for row in rows if row.parts > 1 or row.width > 1.3 * row.height]


def text_measures(rows: list[Row]) -> Doubles:
    """TEXT_NAMES of each row."""
    return np.array(
        [
            (*shape_of(row), np.log(row.width / row.letter_height + 0.5), KINDS.index(row.kind))
            for row in rows
        ],
        np.float64,
    )


def packed_facts(facts: ReadingFacts) -> bytes:
    """The facts as a lossless PNG of the reduced art, some tens of kilobytes; empty when nothing is inked."""
    if facts.art is None:
        return b""
    done, code = cv2.imencode(".png", facts.art.pixels, [cv2.IMWRITE_PNG_COMPRESSION, 6])
    if not done:
        raise ValueError("the reduced art could not be packed")
    return bytes(code)


def unpacked_facts(data: bytes) -> ReadingFacts:
    """The facts again, measured from the packed art (about 50 ms). Raises ValueError for other bytes."""
    if not data:
        return ReadingFacts(None, (), ())
    pixels = cv2.imdecode(np.frombuffer(data, np.uint8), cv2.IMREAD_UNCHANGED)
    if pixels is None or pixels.ndim != 3 or pixels.shape[2] != 4:
        raise ValueError("these are not packed reading facts")
    return facts_of(SmallArt(np.asarray(pixels, np.uint8)))


@dataclass(frozen=True, eq=False)
class View:
    """The facts at one thumbnail width: what every colour shares."""

    small: Floats
    rows: tuple[Sized, ...]

    def measures(self, blank: Srgb, transparent_ink: bool) -> Doubles:
        """A row of measures (``names.ROW_NAMES``) for each candidate on a blank colour."""
        picture = lab(shown(self.small, blank, transparent_ink))
        return np.array([(*row.size, *row.shape, *coloured(row, picture)) for row in self.rows], np.float64)


@lru_cache(maxsize=4)
def view_at(facts: ReadingFacts, width_px: int) -> View:
    """The facts at an art width in thumbnail pixels. The facts must have art."""
    if facts.art is None:
        raise ValueError("nothing is inked")
    sizes = tuple(sized(facts.art, row, width_px) for row in facts.rows)
    return View(at_width(facts.art, width_px), sizes)
