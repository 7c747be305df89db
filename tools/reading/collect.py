"""Read a seed's thumbnails with both engines in a pool of processes and keep the labels.

``python -m tools.reading.collect --seed 7 --designs 1500 --out tools/reading/labels-7.csv.gz``
"""

import argparse
import csv
import gzip
import io
import multiprocessing
import os
import zlib
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from tools.reading.designs import BLANKS, Labelled, draw, generator
from tools.reading.pairs import Pair, as_served, pairs_of, shown_contrast, thumbnail
from tools.reading.truth import judged, weighted

FIELDS = (
    "design", "place", "font", "style", "blank", "transparent", "width_px", "contrast", "letter_px", "crc",
    "tesseract", "rapidocr", "shifted_tesseract", "shifted_rapidocr", "lines", "control",
)  # fmt: skip
SHIFTED_EVERY = 6  # every sixth design's thumbnails are read again, moved by one pixel
Row = dict[str, object]


def control(design: Labelled) -> float:
    """How well the better engine reads the art large, on the plain colour it stands out from most."""
    lines = [line.text for line in design.lines]
    best = 0.0
    ranked = sorted(BLANKS, key=lambda name: -shown_contrast(design.ink, name, False))
    for blank in dict.fromkeys((ranked[0], "white", "black")):
        scores = judged(thumbnail(design.rgba, blank, False, design.rgba.shape[1]), lines)
        best = max(best, *(weighted(lines, s) for s in scores.values()))
        if best >= 0.95:
            break
    return best


def scored(design: Labelled, pair: Pair, large: float, grain: np.random.Generator) -> Row:
    """A thumbnail read by both engines, as a row of labels."""
    lines = [line.text for line in design.lines]
    picture = thumbnail(design.rgba, pair.blank, pair.transparent, pair.width_px)
    scores = judged(as_served(picture, grain), lines)
    row: Row = {
        "design": design.number, "place": pair.place, "font": design.font, "style": design.style,
        "blank": pair.blank, "transparent": int(pair.transparent), "width_px": pair.width_px,
        "contrast": f"{pair.contrast:.3f}", "letter_px": f"{design.letter_px:.1f}",
        "crc": zlib.crc32(picture.tobytes()), "control": f"{large:.3f}",
        "lines": " ".join(f"{max(s):.2f}" for s in zip(*scores.values(), strict=True)),
    }  # fmt: skip
    return row | {name: f"{weighted(lines, s):.3f}" for name, s in scores.items()}


def read_pair(seed: int, design: Labelled, pair: Pair, large: float) -> Row:
    """One pair's row of labels."""
    row = scored(design, pair, large, generator(seed + 2, design.number * 100 + pair.place))
    if design.number % SHIFTED_EVERY == 0:
        moved = thumbnail(design.rgba, pair.blank, pair.transparent, pair.width_px, 1)
        again = generator(seed + 3, design.number * 100 + pair.place)
        lines = [line.text for line in design.lines]
        moved_scores = judged(as_served(moved, again), lines)
        row |= {f"shifted_{name}": f"{weighted(lines, s):.3f}" for name, s in moved_scores.items()}
    return row


def read_design(job: tuple[int, int, Path | None]) -> list[Row]:
    """All of a design's rows."""
    seed, number, fonts = job
    design = draw(seed, number, fonts)
    large = control(design)
    return [read_pair(seed, design, pair, large) for pair in pairs_of(seed, design)]


def collect(seed: int, numbers: range, fonts: Path | None, workers: int) -> list[Row]:
    """Rows of many designs, in order whatever the workers' pace."""
    os.environ["OMP_THREAD_LIMIT"] = "1"
    jobs = [(seed, number, fonts) for number in numbers]
    with multiprocessing.get_context("spawn").Pool(workers) as pool:
        return [row for rows in pool.imap(read_design, jobs, chunksize=4) for row in rows]


def packed(rows: list[Row], fields: Sequence[str] = FIELDS) -> bytes:
    """The rows as gzipped CSV, the same bytes for the same rows."""
    text = io.StringIO()
    writer = csv.DictWriter(text, fields, lineterminator="\n", restval="")
    writer.writeheader()
    writer.writerows(rows)
    return gzip.compress(text.getvalue().encode(), mtime=0)


def main() -> None:
    """Collect and write."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--seed", type=int, required=True)
    ask.add_argument("--first", type=int, default=0)
    ask.add_argument("--designs", type=int, default=1500)
    ask.add_argument("--fonts", type=Path)
    ask.add_argument("--workers", type=int, default=os.cpu_count())
    ask.add_argument("--out", type=Path, required=True)
    args = ask.parse_args()
    numbers = range(args.first, args.first + args.designs)
    rows = collect(args.seed, numbers, args.fonts, args.workers)
    args.out.write_bytes(packed(rows))
    best = np.array([max(float(str(r["tesseract"])), float(str(r["rapidocr"]))) for r in rows])
    print(f"{len(rows)} pairs; read {np.mean(best >= 0.8):.2f}, not read {np.mean(best < 0.5):.2f}")


if __name__ == "__main__":
    main()
