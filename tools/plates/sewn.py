"""What every good of cloth is made of: pieces with a weave, tapes, folded hems. Millimetres."""

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
from cloth import vertex_normals
from numpy.typing import NDArray
from solids import Mesh

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
    """A cloth good ready for the stage: pieces, the printed sheet's surface, and its size."""

    pieces: list[Piece]
    surface: Smooth  # rest point -> place
    outline: Floats
    scale: float
    standing: bool = False
    grid: dict[str, float] = field(default_factory=dict)


def stitched(rest: Floats, edge: Floats, hem: float, raise_mm: float) -> Floats:
    """A folded hem: one more layer of cloth inside ``hem`` of the edge, and a stitch line on it."""
    step = 1 / (1 + np.exp((edge - hem) / 0.7))
    along = rest.sum(1)
    stitch = np.exp(-(((edge - hem + 2.2) / 0.7) ** 2)) * (0.45 + 0.25 * np.sin(along * 2 * np.pi / 3.2))
    return raise_mm * step - stitch * raise_mm * 0.8


def ribbon(line: Floats, half: float, level: Floats | float, arch: float) -> Mesh:
    """A strip of tape along a curve on the table, rounded across."""
    way = np.gradient(line, axis=0)
    way /= np.linalg.norm(way, axis=1, keepdims=True)
    side = np.stack([-way[:, 1], way[:, 0]], 1)
    across = np.linspace(-1, 1, 21)
    flat = line[:, None] + side[:, None] * (across * half)[None, :, None]
    up = np.broadcast_to(level, len(line))[:, None] + arch * (1 - across**6)
    points = np.concatenate([flat, up[..., None]], 2)
    run = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))])
    uv = np.stack(np.broadcast_arrays(run[:, None], across * half), 2)
    n = len(across)
    i, j = np.meshgrid(np.arange(len(line) - 1), np.arange(n - 1), indexing="ij")
    a = (i * n + j).ravel()
    faces = np.concatenate([np.stack([a, a + n, a + 1], 1), np.stack([a + 1, a + n, a + n + 1], 1)])
    flat_points = points.reshape(-1, 3)
    normals = vertex_normals(flat_points, faces)
    if normals[:, 2].mean() < 0:
        faces, normals = faces[:, ::-1], -normals
    return Mesh(flat_points, normals, faces, uv.reshape(-1, 2))
