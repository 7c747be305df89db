"""Measures beside labels: what the trees are fitted on and judged by."""

import csv
import gzip
import io
import multiprocessing
import os
from dataclasses import dataclass
from pathlib import Path

import cv2
import numpy as np
from numpy.typing import NDArray
from tools.reading.designs import BLANKS, Labelled, draw
from tools.reading.fonts import HELD_OUT
from tools.reading.truth import LEGIBLE, UNREADABLE

from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.reading.art import at_width, reduced
from hundredfold.proofing.reading.facts import View, candidates, text_measures
from hundredfold.proofing.reading.lines import Box, Row
from hundredfold.proofing.reading.measures import sized

Doubles = NDArray[np.float64]
Label = dict[str, str]
FOUND, STRANGE = 0.4, 0.1  # shared area over joint area: a row is that line; it is no line
LARGE_ENOUGH = 0.8  # the control: designs neither engine reads large are dropped


@dataclass(frozen=True)
class Measured:
    """All candidates of one design: text measures once, and for each of its pairs the row measures."""

    number: int
    boxes: tuple[Box, ...]
    lines: NDArray[np.int64]  # which line of text each candidate is, -1 for none
    shared: Doubles  # shared area over joint area with that line
    text: Doubles  # candidates x TEXT_NAMES
    pairs: tuple[Doubles, ...]  # candidates x ROW_NAMES


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


def line_of(row: Row, design: Labelled, scale: float) -> tuple[int, float]:
    """The line of text a candidate overlaps most, and by how much."""
    found, most = -1, 0.0
    for number, line in enumerate(design.lines):
        left, top, right, bottom = (value * scale for value in line.box)
        across = min(row.box[2], right) - max(row.box[0], left)
        down = min(row.box[3], bottom) - max(row.box[1], top)
        if across <= 0 or down <= 0:
            continue
        shared = across * down
        share = shared / (row.width * row.height + (right - left) * (bottom - top) - shared)
        if share > most:
            found, most = number, share
    return found, most


def measured(job: tuple[int, int, list[Label]]) -> Measured | None:
    """One design's measures for the given pairs; None when no candidate is found."""
    cv2.setNumThreads(1)
    seed, number, labels = job
    design = draw(seed, number)
    art = reduced(design.rgba)
    rows = candidates(art) if art is not None else []
    if art is None or not rows:
        return None
    matches = [line_of(row, design, art.width / design.rgba.shape[1]) for row in rows]
    views: dict[int, View] = {}
    pairs = []
    for label in labels:
        width = int(label["width_px"])
        if width not in views:
            views[width] = View(at_width(art, width), tuple(sized(art, row, width) for row in rows))
        blank = Srgb(*BLANKS[label["blank"]])
        pairs.append(views[width].measures(blank, label["transparent"] == "1"))
    lines, shared = zip(*matches, strict=True)
    boxes = tuple(row.box for row in rows)
    return Measured(number, boxes, np.array(lines), np.array(shared), text_measures(rows), tuple(pairs))


def measure_all(seed: int, labels: list[Label], workers: int | None = None) -> dict[int, Measured | None]:
    """Measures by design number."""
    by_design: dict[int, list[Label]] = {}
    for label in labels:
        by_design.setdefault(int(label["design"]), []).append(label)
    jobs = [(seed, number, mine) for number, mine in by_design.items()]
    with multiprocessing.get_context("spawn").Pool(workers or os.cpu_count()) as pool:
        return dict(zip(by_design, pool.imap(measured, jobs, chunksize=8), strict=True))


def verdict(share: float) -> int:
    """1 read, 0 not read, -1 in between."""
    return 1 if share >= LEGIBLE else 0 if share < UNREADABLE else -1
