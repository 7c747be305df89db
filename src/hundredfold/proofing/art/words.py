"""Lines of words, told from ornament by the reader: rows that only look like lettering are dropped."""

from dataclasses import dataclass, replace
from math import ceil

import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.facts import Box
from hundredfold.proofing.art.bars import only_bars
from hundredfold.proofing.art.facts import TextLine
from hundredfold.proofing.art.lettering import Found, body_height, crossings_of, same_place
from hundredfold.proofing.art.windows import Edges
from hundredfold.proofing.reading.facts import LIKELY_TEXT, ReadingFacts
from hundredfold.proofing.reading.lettering import Lettering
from hundredfold.proofing.reading.lines import LEAST_HEIGHT

BIG = 0.15  # of the art's longer side: words so tall are often too few and too bold for the reader
TALL_PX = 19  # of the reader's copy: lower rows that shapes alone do not show are grain, not words
LONG = 8  # letter heights: a line too small for the reader is words only if it is a long one
_PANEL = 1.6  # times the ink of the letters: a shape with more is not they
_LIKE = 2.0  # two measures of one line that differ by more than this factor are not of one line


def confirmed(
    found: tuple[Found, ...], shape: tuple[int, ...], words: ReadingFacts, ink: Box, edges: Edges
) -> tuple[TextLine, ...]:
    """The lines of lettering among those found by shape, and those that only the reader found.

    ``found`` are in pixels of the whole file, their letters on small art of this ``shape`` (height x width).

    A line of ornament looks like letters to shapes alone; the reader knows letters (but for rays), on a copy
    of the art too small for the smallest of them, and seldom a word of a few huge ones. Those two are taken
    as they are.
    """
    if words.art is None:
        return tuple(replace(one.line, windows=edges.along(one.mask(shape))) for one in found)
    scale = ink.width / words.art.width
    copy = words.art.pixels.shape[:2]
    read = [
        _Read(_line(row, scale, ink), _whole(row, copy), row.inner.letter_height >= TALL_PX)
        for row in words.lines
        if _lettered(row)
    ]
    tall = [replace(one.line, windows=edges.along(one.letters)) for one in read if one.tall]
    kept = [
        line
        for line in (_told(one, shape, read, edges) for one in found)
        if line.sure > 0
        or (line.letter_px < LEAST_HEIGHT * scale and line.right - line.left >= LONG * line.letter_px)
        or line.letter_px >= BIG * max(ink.width, ink.height)
    ]
    kept += [line for line in tall if not any(same_place(line, other) for other in kept)]
    return tuple(sorted(kept, key=lambda line: (line.top, line.left)))


def lines_read(words: ReadingFacts, edges: Edges) -> tuple[TextLine, ...]:
    """The lines that the reader takes for words, in pixels of its own copy; ``edges`` are of the same art."""
    if words.art is None:
        return ()
    shape = words.art.pixels.shape[:2]
    likely = (row for row in words.lines if _lettered(row))
    here = Box(0, 0, shape[1], shape[0])
    return tuple(replace(_line(row, 1.0, here), windows=edges.along(_whole(row, shape))) for row in likely)


def _lettered(row: Lettering) -> bool:
    """The reader takes it for letters, and it is no row of rays or palings."""
    return row.text >= LIKELY_TEXT and not only_bars(row.inner.mask)


@dataclass(frozen=True, eq=False)
class _Read:
    """A line that the reader found, in pixels of the file, and its letters on the reader's copy."""

    line: TextLine
    letters: NDArray[np.uint8]
    tall: bool


def _told(found: Found, shape: tuple[int, ...], read: list[_Read], edges: Edges) -> TextLine:
    """A line found by shape with what the reader says of it.

    The finer letters are those of the shape, less the leaves beside them; where the shape is the panel that
    the words stand on, they are the reader's.
    """
    line, letters = found.line, found.mask(shape)
    mine = [one for one in read if same_place(line, one.line) and _alike(line, one.line)]
    if not mine:
        return replace(line, windows=edges.along(letters))
    whole = np.maximum.reduce([one.letters for one in mine])
    columns = np.flatnonzero(whole.any(axis=0)) / whole.shape[1] * shape[1]
    letters[:, : int(columns[0])] = 0
    letters[:, ceil(columns[-1] + shape[1] / whole.shape[1]) :] = 0
    if letters.mean() > _PANEL * whole.mean():
        letters = whole
    return replace(line, sure=max(one.line.sure for one in mine), windows=edges.along(letters))


def _alike(first: TextLine, second: TextLine) -> bool:
    return 1 / _LIKE <= first.letter_px / second.letter_px <= _LIKE


def _whole(line: Lettering, shape: tuple[int, ...]) -> NDArray[np.uint8]:
    """The line's letters, with an outline they have, on the whole of the reader's copy."""
    panel = 2 * line.outer.parts <= line.inner.parts  # many letters in one shape
    row = line.inner if panel else line.outer
    mask = np.zeros(shape, np.uint8)
    left, top, right, bottom = row.box
    mask[top:bottom, left:right] = row.mask
    return mask


def _line(line: Lettering, scale: float, ink: Box) -> TextLine:
    row = line.inner
    left, top, right, bottom = (round(value * scale) for value in row.box)
    mask = row.mask > 0
    body = body_height(mask)
    if row.height > 1.9 * row.letter_height:  # an arch: its rows mix letters of many levels
        body = 0.8 * row.letter_height
    letters = max(row.parts, round(crossings_of(mask) / 2))
    box = (left + ink.left, top + ink.top, right + ink.left, bottom + ink.top)
    return TextLine(*box, round(body * scale, 1), letters, round(line.text, 3))
