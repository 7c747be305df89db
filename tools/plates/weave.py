"""Textures of cloth over a square tile, seeded and seamless: heights in mm, and shades of its colour."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter

Floats = NDArray[np.float64]
TILE_MM = 48.0
CELLS = 1024


@dataclass(frozen=True)
class Weave:
    """A tile of cloth: its height in mm, and a factor to its albedo, 1 on average.

    Bumps alone vanish where light meets cloth head-on; between yarns it is darker from everywhere.
    """

    height: NDArray[np.float64]
    shade: NDArray[np.float64]


def _noise(seed: int, blur: tuple[float, float]) -> Floats:
    field = gaussian_filter(np.random.default_rng(seed).normal(size=(CELLS, CELLS)), blur, mode="wrap")
    return np.asarray(field / field.std())


def plain(pitch_mm: float, height_mm: float, slub: float, seed: int) -> Floats:
    """Plain weave: warp over weft over warp, the yarns uneven in thickness by ``slub``."""
    count = round(TILE_MM / pitch_mm / 2) * 2
    y, x = (np.mgrid[0:CELLS, 0:CELLS] + 0.5) / CELLS * count
    x = x + 0.10 * _noise(seed, (40, 3))
    y = y + 0.10 * _noise(seed + 1, (3, 40))
    over = np.cos(np.pi * np.floor(x)) * np.cos(np.pi * np.floor(y))
    warp = np.sin(np.pi * (x % 1)) * (1 + slub * _noise(seed + 2, (60, 4)))
    weft = np.sin(np.pi * (y % 1)) * (1 + slub * _noise(seed + 3, (4, 60)))
    lift_x, lift_y = np.sin(np.pi * (y % 1)), np.sin(np.pi * (x % 1))
    top = np.where(over > 0, warp * (0.5 + 0.5 * lift_x), weft * (0.5 + 0.5 * lift_y))
    return np.asarray(height_mm * (top + 0.15 * _noise(seed + 4, (2, 2))))


def jersey(height_mm: float, seed: int) -> Floats:
    """Stockinette from where its loops blend: faint upright streaks of uneven yarn."""
    wales = _noise(seed, (70, 7)) + 0.8 * _noise(seed + 1, (26, 11))
    return height_mm * (wales + 0.5 * _noise(seed + 2, (9, 9)))


def rib(pitch_mm: float, height_mm: float, seed: int) -> Floats:
    """Ribs across a band, along its length every ``pitch_mm``, rounded on top."""
    count = round(TILE_MM / pitch_mm)
    x = (np.mgrid[0:CELLS, 0:CELLS][1] + 0.5) / CELLS * count + 0.05 * _noise(seed, (50, 12))
    return np.asarray(height_mm * (np.abs(np.sin(np.pi * x)) + 0.1 * _noise(seed + 1, (12, 6))))


def _shaded(height: Floats, depth: float) -> Weave:
    """A weave whose valleys are darker than its yarns' tops by ``depth``, a share of 1."""
    soft = gaussian_filter(height, 3, mode="wrap")  # lest single yarns, finer than pixels, beat with them
    low, high = np.percentile(soft, (2, 98))
    share = np.clip((soft - low) / (high - low), 0, 1)
    return Weave(height, 1 + depth * (share - share.mean()))


def textures() -> dict[str, Weave]:
    """Every weave by name."""
    return {
        "linen": _shaded(plain(0.9, 0.10, 0.16, 71), 0.16),
        "canvas": _shaded(plain(1.2, 0.16, 0.14, 72), 0.18),
        "tape": _shaded(plain(1.0, 0.14, 0.08, 73), 0.18),
        "jersey": _shaded(jersey(0.02, 74), 0.0),
        "rib": _shaded(rib(2.0, 0.16, 78), 0.22),
    }
