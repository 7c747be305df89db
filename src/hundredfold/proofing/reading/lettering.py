"""Lines of text out of candidate rows: which rows are letters, and which are the same letters seen twice."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hundredfold.proofing.reading.art import SmallArt
from hundredfold.proofing.reading.layers import layers_of
from hundredfold.proofing.reading.lines import Box, LetterRow, rows_in
from hundredfold.proofing.reading.measures import shape_of

Doubles = NDArray[np.float64]
KINDS = ("all", "ink", "gap")
MAYBE_TEXT = 0.3  # a row less likely to be letters is left out
MOST_LINES = 16
SAME = 0.4  # shared area over joint area from which two rows are the same letters
SURELY_SAME = 0.6


@dataclass(frozen=True)
class Lettering:
    """One line of text: its letters, and their silhouette with any outline (the same row without one)."""

    inner: LetterRow
    outer: LetterRow
    text: float  # chance that it is letters at all


def candidates(art: SmallArt) -> list[LetterRow]:
    """Rows of letters in any layer; a single part must at least be wider than tall to be a joined word."""
    rows = [row for layer in layers_of(art) for row in rows_in(layer)]
    return [row for row in rows if row.parts > 1 or row.width > 1.3 * row.height]


def text_measures(rows: list[LetterRow]) -> Doubles:
    """TEXT_NAMES of each row."""
    return np.array(
        [
            (*shape_of(row), np.log(row.width / row.letter_height + 0.5), KINDS.index(row.kind))
            for row in rows
        ],
        np.float64,
    )


def lettering_of(rows: list[LetterRow], text: Doubles) -> tuple[Lettering, ...]:
    """Lines of text, top to bottom, from candidates and each one's chance to be letters."""
    boxes = np.array([row.box for row in rows], np.float64)
    joint = shared_over_joint(boxes)
    # A drawing's hollow outline looks like letters by itself, and outlined letters' silhouette does not:
    # what lies inside the outline tells.
    sure = np.array([text[innermost(rows, np.flatnonzero(same))] for same in joint >= SURELY_SAME])
    order = sorted(range(len(rows)), key=lambda n: (-sure[n] * np.log(1 + rows[n].parts), n))
    groups: list[list[int]] = []
    for n in order:
        if sure[n] < MAYBE_TEXT:
            continue
        home = next((g for g in groups if joint[g[0], n] >= SAME), None)
        if home is not None:
            home.append(n)
        elif all(overlap(rows[g[0]].box, rows[n].box) <= 0.5 for g in groups):
            groups.append([n])
    found = [
        Lettering(*ends([rows[n] for n in group]), float(sure[group[0]])) for group in groups[:MOST_LINES]
    ]
    return tuple(sorted(found, key=lambda line: (line.inner.box[1], line.inner.box[0])))


def innermost(rows: list[LetterRow], which: NDArray[np.int64]) -> int:
    """Of the same letters seen in several layers, the index of the letters themselves."""
    inner, _ = ends([rows[n] for n in which])
    return next(int(n) for n in which if rows[n] is inner)


def ends(rows: list[LetterRow]) -> tuple[LetterRow, LetterRow]:
    """Of rows that are the same letters: the thickest strokes inside the silhouette, and the silhouette."""
    outer = max(rows, key=lambda row: int(row.mask.sum()))
    inside = [row for row in rows if row is not outer]
    return (max(inside, key=lambda row: row.stroke) if inside else outer), outer


def shared_over_joint(boxes: Doubles) -> Doubles:
    """Shared area over joint area of every two boxes."""
    low = np.maximum(boxes[:, None, :2], boxes[None, :, :2])
    high = np.minimum(boxes[:, None, 2:], boxes[None, :, 2:])
    shared = np.clip(high - low, 0, None).prod(2)
    area = (boxes[:, 2:] - boxes[:, :2]).prod(1)
    return np.asarray(shared / (area[:, None] + area[None, :] - shared))


def overlap(one: Box, other: Box) -> float:
    """Shared area over the smaller box's."""
    across = min(one[2], other[2]) - max(one[0], other[0])
    down = min(one[3], other[3]) - max(one[1], other[1])
    if across <= 0 or down <= 0:
        return 0.0
    areas = [(b[2] - b[0]) * (b[3] - b[1]) for b in (one, other)]
    return across * down / min(areas)
