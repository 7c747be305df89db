"""What every good of cloth is made of: pieces with a weave, tapes, folded hems. Millimetres."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import cumulative_trapezoid
from scipy.interpolate import RectBivariateSpline
from scipy.ndimage import gaussian_filter

from tools.plates.cloth import vertex_normals
from tools.plates.solids import Mesh

Floats = NDArray[np.float64]
Smooth = Callable[[Floats], Floats]


@dataclass
class Piece:
    """A mesh of cloth; ``weave`` names its bump texture, ``printed`` marks the sheet that takes art."""

    mesh: Mesh
    weave: str
    printed: bool = False


@dataclass
class Textile:
    """A cloth good ready for the stage: pieces, the printed sheet's surface, and how large its lights are."""

    pieces: list[Piece]
    surface: Smooth  # rest point -> place
    outline: Floats
    scale: float
    standing: bool = False
    worn: bool = False  # clothes are lit from higher up, exposed darker: white must stand out from white


@dataclass(frozen=True)
class Fold:
    """A soft fold: its middle, direction, how far it reaches along and across, and its height."""

    x: float
    y: float
    degrees: float
    along: float
    across: float
    tall: float


def folded(u: Floats, v: Floats, folds: Sequence[Fold]) -> Floats:
    """Heights of folds, each a little bent."""
    total = np.zeros_like(u)
    for fold in folds:
        turn = np.radians(fold.degrees)
        along = (u - fold.x) * np.cos(turn) + (v - fold.y) * np.sin(turn)
        across = (v - fold.y) * np.cos(turn) - (u - fold.x) * np.sin(turn) + 7.0 * np.sin(along / 60.0)
        total += fold.tall * np.exp(-((across / fold.across) ** 2) - (along / fold.along) ** 2)
    return total


def laid(up: Floats, across: Floats, down: Floats) -> tuple[Floats, Floats]:
    """x and y of a grid of threads that keep their length over heights ``up``, from the middle outwards."""
    places = []
    for axis, knots in ((1, across), (0, down)):
        slope = np.clip(np.gradient(up, knots, axis=axis), -0.9, 0.9)
        run = cumulative_trapezoid(np.sqrt(1 - slope**2), knots, axis=axis, initial=0)
        places.append(run - np.take(run, [len(knots) // 2], axis) + knots[len(knots) // 2])
    return places[0], places[1]


def noise(shape: tuple[int, ...], seed: int, wave_mm: float, cell_mm: float) -> Floats:
    """A smooth random field of standard deviation 1."""
    field = gaussian_filter(np.random.default_rng(seed).normal(size=shape), wave_mm / cell_mm)
    return np.asarray(field / field.std())


def swayed(
    x: Floats, y: Floats, inside: Floats, mm: float, seed: int, cell_mm: float
) -> tuple[Floats, Floats]:
    """Threads moved a little towards the cloth's edge (``inside`` mm away): no side is quite straight."""
    share = mm * np.exp(-np.maximum(inside, 0) / 24.0)
    return (
        x + share * noise(x.shape, seed, 45.0, cell_mm),
        y + share * noise(y.shape, seed + 1, 45.0, cell_mm),
    )


def evenly(line: Floats, step: float) -> Floats:
    """A line with points every ``step`` or a little less."""
    run = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))])
    at = np.linspace(0, run[-1], max(2, int(np.ceil(run[-1] / step)) + 1))
    return np.column_stack([np.interp(at, run, values) for values in line.T])


def tape(line: Floats, half: float, level: Floats, arch: float, bank: Floats) -> tuple[Mesh, Smooth]:
    """A strip of tape along a curve on the table, its ends closed, its outer edge raised by ``bank`` degrees.

    The second value gives the place of (index along, mm across), a little above the tape.
    """
    way = np.gradient(line, axis=0)
    way /= np.linalg.norm(way, axis=1, keepdims=True)
    side = np.stack([-way[:, 1], way[:, 0]], 1)
    run = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))])
    close = 1 - np.clip(1 - np.minimum(run, run[-1] - run) / 1.5, 0, 1) ** 2
    across = np.linspace(-1, 1, 31)
    tilt = np.radians(bank)
    flat = line[:, None] + (side * np.cos(tilt)[:, None])[:, None] * (across * half)[None, :, None]
    groove = 0.35 * np.exp(-(((np.abs(across) * half - half + 2.6) / 0.9) ** 2))
    up = level[:, None] + half * np.sin(tilt)[:, None] * (across + 1)
    up = up + close[:, None] * arch * (1 - across**8 - groove)
    points = np.concatenate([flat, up[..., None]], 2)
    uv = np.stack(np.broadcast_arrays(run[:, None], across * half), 2)
    n = len(across)
    i, j = np.meshgrid(np.arange(len(line) - 1), np.arange(n - 1), indexing="ij")
    a = (i * n + j).ravel()
    faces = np.concatenate([np.stack([a, a + n, a + 1], 1), np.stack([a + 1, a + n, a + n + 1], 1)])
    splined = RectBivariateSpline(np.arange(len(line)), across * half, up)

    def place(at: Floats) -> Floats:
        along = np.arange(len(line))
        middle = np.column_stack([np.interp(at[:, 0], along, v) for v in line.T])
        sides = np.column_stack([np.interp(at[:, 0], along, v) for v in side.T])
        return np.column_stack([middle + sides * at[:, 1:], splined.ev(at[:, 0], at[:, 1]) + 0.1])

    flat_points = points.reshape(-1, 3)
    normals = vertex_normals(flat_points, faces)
    if normals[:, 2].mean() < 0:
        faces, normals = faces[:, ::-1], -normals
    return Mesh(flat_points, normals, faces, uv.reshape(-1, 2)), place


def seams(count: int, off: float) -> list[Floats]:
    """The two lines of stitches along a tape of so many points, ``off`` mm from its middle."""
    along = np.linspace(2, count - 3, count)
    return [np.column_stack([along, np.full(count, way * off)]) for way in (-1.0, 1.0)]


def threads(lines: Sequence[Floats], long: float = 3.0, gap: float = 1.0, thick: float = 0.42) -> Mesh:
    """Lock stitches along lines in space: short round threads, each end sunk into the cloth."""
    t, turn = np.linspace(0, 1, 9), np.linspace(0, 2 * np.pi, 9)[:-1]
    n, points, faces = len(turn), [], []
    for line in lines:
        run = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))])
        each = run[-1] / max(1, round(run[-1] / (long + gap)))  # whole stitches, so that seams meet
        for start in np.arange(gap / 2, run[-1] - gap / 2, each):
            at = np.column_stack([np.interp(start + t * (each - gap), run, values) for values in line.T])
            way = at[-1] - at[0]
            side = np.array([-way[1], way[0], 0.0]) / np.hypot(way[0], way[1])
            bulge = np.sqrt(np.clip(1 - (2 * t - 1) ** 6, 0, 1))
            at[:, 2] += 0.3 * bulge - 0.3
            ring = np.cos(turn)[:, None] * side + np.sin(turn)[:, None] * (0, 0, 1)
            points.append((at[:, None] + thick * bulge[:, None, None] * ring).reshape(-1, 3))
            i, j = np.meshgrid(np.arange(len(t) - 1), np.arange(n), indexing="ij")
            a, b = (i * n + j).ravel(), (i * n + (j + 1) % n).ravel()
            base = (len(points) - 1) * len(t) * n
            faces.append(base + np.concatenate([np.stack([a, a + n, b], 1), np.stack([b, a + n, b + n], 1)]))
    places, triangles = np.concatenate(points), np.concatenate(faces)
    return Mesh(places, -vertex_normals(places, triangles), triangles[:, ::-1], places[:, :2])
