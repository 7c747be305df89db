"""Measures beside labels: what the trees are fitted on and judged by."""

import csv
import gzip
import io
import multiprocessing
import os
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TypeVar

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.reading.art import inked_span, reduced
from hundredfold.proofing.reading.facts import ReadingFacts, facts_for_reading, view_at
from hundredfold.proofing.reading.lettering import candidates, text_measures
from hundredfold.proofing.reading.lines import Box
from hundredfold.proofing.repair.changes import Change, Kind, changed
from hundredfold.workshop.steps.readingtrees import reading_trees
from tools.reading.designs import BLANKS, Labelled, draw
from tools.reading.fonts import HELD_OUT
from tools.reading.lettering import Line
from tools.reading.truth import LEGIBLE, UNREADABLE

Doubles = NDArray[np.float64]
Label = dict[str, str]
FOUND, STRANGE = 0.4, 0.1  # shared area over joint area: a row is that line; it is no line
LARGE_ENOUGH = 0.8  # the control: designs neither engine reads large are dropped
Made = TypeVar("Made")
HERE = Path(__file__).parent
SEEDS = (20261, 20262)  # the set that is split by font, and more outlined designs of the fitted fonts


@dataclass(frozen=True)
class Rows:
    """Every candidate row of a design: is it a line of text?"""

    shared: Doubles  # shared area over joint area with the line it overlaps most
    text: Doubles  # candidates x TEXT_NAMES


@dataclass(frozen=True)
class Pair:
    """A label with the measures of the lines found in its design."""

    label: Label
    text: Doubles  # chance that each is letters
    line: NDArray[np.int64]  # which line of the design each is, -1 for none
    measures: NDArray[np.float32]  # lines x LINE_NAMES

    @property
    def share(self) -> float:
        """The better engine's share of letters."""
        return best(self.label)


def label_file(seed: int) -> Path:
    """Where a seed's labels are kept."""
    return HERE / f"labels-{seed}.csv.gz"


def labels_in(path: Path) -> list[Label]:
    """The rows of a label file."""
    return list(csv.DictReader(io.StringIO(gzip.decompress(path.read_bytes()).decode())))


def best(label: Label, moved: bool = False) -> float:
    """The better engine's share of letters; of the shifted reading when ``moved``."""
    return max(float(label["shifted_" * moved + name]) for name in ("tesseract", "rapidocr"))


def usable(label: Label) -> bool:
    """The design is read when it is large."""
    return float(label["control"]) >= LARGE_ENOUGH


def held_out(label: Label) -> bool:
    """The pair's font was kept from the fitting."""
    return label["font"] in HELD_OUT


def line_of(box: Box, design: Labelled, scale: float) -> tuple[int, float]:
    """The line of text a box overlaps most, and by how much."""
    found, most = -1, 0.0
    for number, line in enumerate(design.lines):
        left, top, right, bottom = (value * scale for value in line.box)
        across = min(box[2], right) - max(box[0], left)
        down = min(box[3], bottom) - max(box[1], top)
        if across <= 0 or down <= 0:
            continue
        shared = across * down
        area = (box[2] - box[0]) * (box[3] - box[1])
        share = shared / (area + (right - left) * (bottom - top) - shared)
        if share > most:
            found, most = number, share
    return found, most


def rows_of(job: tuple[int, int]) -> Rows | None:
    """One design's candidate rows; None when there are none."""
    cv2.setNumThreads(1)
    design = draw(*job)
    art = reduced(design.rgba)
    rows = candidates(art) if art is not None else []
    if art is None or not rows:
        return None
    scale = art.width / design.rgba.shape[1]
    return Rows(np.array([line_of(row.box, design, scale)[1] for row in rows]), text_measures(rows))


def pairs_measured(job: tuple[int, int, list[Label]]) -> list[Pair]:
    """One design's usable labels with measures, art as drawn or changed; none when no line is found."""
    cv2.setNumThreads(1)
    seed, number, labels = job
    drawn = draw(seed, number)
    found = []
    for change in dict.fromkeys(change_of(label) for label in labels):
        design = with_change(drawn, change)
        facts = facts_for_reading(design.rgba, reading_trees())
        if facts.art is None or not facts.lines:
            continue
        scale = facts.art.width / design.rgba.shape[1]
        matches = [line_of(line.inner.box, design, scale) for line in facts.lines]
        which = np.array([line if shared > FOUND else -1 for line, shared in matches])
        text = np.array([line.text for line in facts.lines])
        found += [
            Pair(label, text, which, measured_on(facts, label))
            for label in labels
            if change_of(label) == change
        ]
    return found


def measured_on(facts: ReadingFacts, label: Label) -> NDArray[np.float32]:
    """LINE_NAMES of every line on the label's blank colour."""
    measures = view_at(facts, int(label["width_px"])).measures(*shown_on(label))
    return np.asarray(measures, np.float32)


def change_of(label: Label) -> Change | None:
    """The change that was made to the art; None as drawn."""
    if not label.get("kind"):
        return None
    return Change(Kind(label["kind"]), Srgb.parse(label["ink"]), float(label["share"]))


def with_change(design: Labelled, change: Change | None) -> Labelled:
    """The design with the change made, cut to its ink, its lines where they are then."""
    if change is None:
        return design
    fresh = changed(design.rgba, change)
    down, across = ((fresh.shape[n] - design.rgba.shape[n]) // 2 for n in (0, 1))
    rows, columns = inked_span(fresh[..., 3])
    assert rows is not None
    assert columns is not None
    dx, dy = across - columns.start, down - rows.start
    lines = tuple(
        Line(one.text, (one.box[0] + dx, one.box[1] + dy, one.box[2] + dx, one.box[3] + dy))
        for one in design.lines
    )
    return replace(design, rgba=np.ascontiguousarray(fresh[rows, columns]), lines=lines)


def shown_on(label: Label) -> tuple[Srgb, bool]:
    """Blank colour, and whether the ink is dye."""
    return Srgb(*BLANKS[label["blank"]]), label["transparent"] == "1"


def in_pool(work: Callable[..., Made], jobs: list[tuple[object, ...]]) -> list[Made]:
    """The work of every job, in order."""
    with multiprocessing.get_context("spawn").Pool(os.cpu_count()) as pool:
        return list(pool.imap(work, jobs, chunksize=8))


def pairs_of_labels(seed: int, labels: list[Label]) -> list[Pair]:
    """Every usable label with its measures, through the shipped text trees."""
    by_design: dict[int, list[Label]] = {}
    for label in labels:
        if usable(label):
            by_design.setdefault(int(label["design"]), []).append(label)
    jobs: list[tuple[object, ...]] = [(seed, number, mine) for number, mine in by_design.items()]
    return [pair for pairs in in_pool(pairs_measured, jobs) for pair in pairs]


def verdict(share: float) -> int:
    """1 read, 0 not read, -1 in between."""
    return 1 if share >= LEGIBLE else 0 if share < UNREADABLE else -1
