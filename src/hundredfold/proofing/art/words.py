"""Lines of words, told from ornament by the reader: rows that only look like lettering are dropped."""

from hundredfold.designs.facts import Box
from hundredfold.proofing.art.facts import TextLine
from hundredfold.proofing.art.lettering import body_height, crossings_of, same_place
from hundredfold.proofing.reading.facts import LIKELY_TEXT, ReadingFacts
from hundredfold.proofing.reading.lines import LEAST_HEIGHT, Row

BIG = 0.15  # of the art's longer side: words so tall are often too few and too bold for the reader
TALL_PX = 19  # of the reader's copy: lower rows that shapes alone do not show are grain, not words
LONG = 8  # letter heights: a line too small for the reader is words only if it is a long one
_LIKE = 2.0  # two measures of one line that differ by more than this factor are not of one line


def confirmed(lines: tuple[TextLine, ...], words: ReadingFacts, ink: Box) -> tuple[TextLine, ...]:
    """The lines of lettering among those found by shape, and those that only the reader found.

    A line of ornament looks like letters to shapes alone; the reader knows letters, on a copy of the art too
    small for the smallest of them, and seldom a word of a few huge ones. Those two are taken as they are.
    """
    if words.art is None:
        return lines
    scale = ink.width / words.art.width
    likely = [row.inner for row in words.lines if row.text >= LIKELY_TEXT]
    read = [_line(row, scale, ink) for row in likely]
    sure = [line for line, row in zip(read, likely, strict=True) if row.letter_height >= TALL_PX]
    kept = [
        line
        for line in lines
        if any(same_place(line, other) and _alike(line, other) for other in read)
        or (line.letter_px < LEAST_HEIGHT * scale and line.right - line.left >= LONG * line.letter_px)
        or line.letter_px >= BIG * max(ink.width, ink.height)
    ]
    kept += [line for line in sure if not any(same_place(line, other) for other in kept)]
    return tuple(sorted(kept, key=lambda line: (line.top, line.left)))


def _alike(first: TextLine, second: TextLine) -> bool:
    return 1 / _LIKE <= first.letter_px / second.letter_px <= _LIKE


def _line(row: Row, scale: float, ink: Box) -> TextLine:
    left, top, right, bottom = (round(value * scale) for value in row.box)
    mask = row.mask > 0
    body = body_height(mask)
    if row.height > 1.9 * row.letter_height:  # an arch: its rows mix letters of many levels
        body = 0.8 * row.letter_height
    letters = max(row.parts, round(crossings_of(mask) / 2))
    return TextLine(
        left + ink.left, top + ink.top, right + ink.left, bottom + ink.top, round(body * scale, 1), letters
    )
