"""Sheets of cloth as triangles: points inside an outline, and normals. Millimetres."""

from itertools import pairwise

import cv2
import numpy as np
from numpy.typing import NDArray
from scipy.spatial import Delaunay

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


def resampled(outline: Floats, step: float) -> Floats:
    """A closed outline as evenly spaced points, corners kept."""
    closed = np.concatenate([outline, outline[:1]])
    out: list[Floats] = []
    for a, b in pairwise(closed):
        count = max(1, round(float(np.linalg.norm(b - a)) / step))
        out.append(a + (b - a) * (np.arange(count) / count)[:, None])
    return np.concatenate(out)


def inside(outline: Floats, points: Floats) -> NDArray[np.bool_]:
    """Which points lie within a closed outline."""
    ring = outline.astype(np.float32)
    return np.array([cv2.pointPolygonTest(ring, (float(x), float(y)), False) >= 0 for x, y in points])


def depth(outline: Floats, points: Floats) -> Floats:
    """Distance to the outline, positive within."""
    ring = outline.astype(np.float32)
    return np.array([cv2.pointPolygonTest(ring, (float(x), float(y)), True) for x, y in points])


def triangulated(outline: Floats, step: float, seed: int) -> tuple[Floats, Ints, int]:
    """Rest points (the boundary's first), triangles, and how many points are boundary."""
    ring = resampled(outline, step)
    low, high = outline.min(0), outline.max(0)
    rows = np.arange(low[1], high[1], step * 0.866)
    grid = [
        np.stack([np.arange(low[0] + (k % 2) * step / 2, high[0], step), np.full_like(
            np.arange(low[0] + (k % 2) * step / 2, high[0], step), y)], 1)
        for k, y in enumerate(rows)
    ]  # fmt: skip
    inner = np.concatenate(grid)
    inner += np.random.default_rng(seed).normal(0, step * 0.04, inner.shape)
    inner = inner[depth(outline, inner) > 0.62 * step]
    points = np.concatenate([ring, inner])
    faces = Delaunay(points).simplices
    return points, faces[inside(outline, points[faces].mean(1))].astype(np.int64), len(ring)


def vertex_normals(points: Floats, faces: Ints) -> Floats:
    """Area-weighted normals."""
    a, b, c = (points[faces[:, k]] for k in range(3))
    across = np.cross(b - a, c - a)
    total = np.zeros_like(points)
    for k in range(3):
        np.add.at(total, faces[:, k], across)
    return np.asarray(total / (np.linalg.norm(total, axis=1, keepdims=True) + 1e-12))
