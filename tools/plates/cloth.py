"""Cloth by projective dynamics: sheets cut to an outline, sewn, filled, laid on a table. Millimetres.

Method: Bouaziz, Martin, Liu, Kavan, Pauly, "Projective Dynamics", ACM TOG 33(4), 2014: springs are
projected to their rest length, then one prefactored linear system moves all points. Bending is a
quadratic energy on the mesh Laplacian.
"""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import cv2
import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray
from scipy.interpolate import CloughTocher2DInterpolator
from scipy.sparse.linalg import splu
from scipy.spatial import Delaunay
from solids import Mesh

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


@dataclass
class Cloth:
    """A sheet (or two sewn ones): rest coordinates, triangles, places, and which points are the back's."""

    rest: Floats
    faces: Ints
    points: Floats
    front: Ints  # indices of the front layer's triangles
    sewn: NDArray[np.bool_]


def single(outline: Floats, step: float, seed: int) -> Cloth:
    """One sheet, flat on the table."""
    rest, faces, ring = triangulated(outline, step, seed)
    points = np.column_stack([rest, np.zeros(len(rest))])
    return Cloth(rest, faces, points, np.arange(len(faces)), np.arange(len(rest)) < ring)


def double(outline: Floats, step: float, seed: int, sewn: Callable[[Floats], NDArray[np.bool_]]) -> Cloth:
    """Two sheets of one outline, sewn where ``sewn`` says so of boundary points; front above back."""
    rest, faces, ring = triangulated(outline, step, seed)
    joined = np.zeros(len(rest), bool)
    joined[:ring] = sewn(rest[:ring])
    other = np.where(joined, np.arange(len(rest)), 0)
    other[~joined] = len(rest) + np.arange((~joined).sum())
    both = np.concatenate([rest, rest[~joined]])
    rise = np.concatenate([np.where(joined, 0.6, 1.2), np.zeros((~joined).sum())])
    all_faces = np.concatenate([faces, other[faces][:, ::-1]])
    sewn_all = np.concatenate([joined, np.zeros((~joined).sum(), bool)])
    return Cloth(both, all_faces, np.column_stack([both, rise]), np.arange(len(faces)), sewn_all)


@dataclass
class Forces:
    """What acts on a cloth in one step; lengths mm, unit mass a point, unit time a step."""

    gravity: float = 0.0
    pressure: float = 0.0
    table: bool = True
    damping: float = 0.90
    pins: dict[int, Floats] | None = None


class Simulator:
    """Steps a cloth; one factorisation for its life."""

    def __init__(
        self, cloth: Cloth, stretch: float = 60.0, bend: float = 1.5, pins: Ints | None = None
    ) -> None:
        self.cloth = cloth
        n = len(cloth.points)
        edges = np.concatenate([cloth.faces[:, [0, 1]], cloth.faces[:, [1, 2]], cloth.faces[:, [2, 0]]])
        self.edges = np.unique(np.sort(edges, 1), axis=0)
        flat = cloth.rest[self.edges]
        self.length = np.linalg.norm(flat[:, 0] - flat[:, 1], axis=1)
        m = len(self.edges)
        self.spring = sp.csr_matrix(
            (np.r_[np.ones(m), -np.ones(m)], (np.r_[np.arange(m), np.arange(m)], self.edges.T.ravel())),
            (m, n),
        )
        degree = np.maximum(np.bincount(self.edges.ravel(), minlength=n), 1)
        pairs = np.concatenate([self.edges, self.edges[:, ::-1]])
        mean = sp.csr_matrix((1 / degree[pairs[:, 0]], pairs.T), (n, n))
        rough = (sp.identity(n) - mean).tolil()
        for k in np.flatnonzero(self._rim()):
            rough.rows[k], rough.data[k] = [], []
        self.stretch = stretch
        self.pins = np.array([], int) if pins is None else pins
        hold = sp.csr_matrix((np.full(len(self.pins), 1e3), (self.pins, self.pins)), (n, n))
        rough = rough.tocsr()
        system = sp.identity(n) + stretch * self.spring.T @ self.spring + bend * rough.T @ rough + hold
        self.solve = splu(system.tocsc(), permc_spec="MMD_AT_PLUS_A", options={"SymmetricMode": True}).solve
        self.speed = np.zeros((n, 3))

    def _rim(self) -> NDArray[np.bool_]:
        sides = np.sort(
            np.concatenate(
                [self.cloth.faces[:, [0, 1]], self.cloth.faces[:, [1, 2]], self.cloth.faces[:, [2, 0]]]
            ),
            1,
        )
        kinds, count = np.unique(sides, axis=0, return_counts=True)
        rim = np.zeros(len(self.cloth.points), bool)
        rim[kinds[count == 1].ravel()] = True
        return rim | self.cloth.sewn

    def step(self, forces: Forces, targets: Floats | None = None, rounds: int = 8) -> None:
        """One step of implicit Euler; ``targets`` are the pinned points' places."""
        points = self.cloth.points
        push = np.zeros_like(points)
        push[:, 2] -= forces.gravity
        if forces.pressure:
            a, b, c = (points[self.cloth.faces[:, k]] for k in range(3))
            area = np.cross(b - a, c - a) / 6 * forces.pressure
            for k in range(3):
                np.add.at(push, self.cloth.faces[:, k], area)
        aim = points + self.speed * forces.damping + push
        held = np.zeros_like(points)
        if targets is not None:
            held[self.pins] = 1e3 * targets
        now = aim.copy()
        for _ in range(rounds):
            way = self.spring @ now
            way *= (self.length / np.maximum(np.linalg.norm(way, axis=1), 1e-9))[:, None]
            now = self.solve(aim + self.stretch * (self.spring.T @ way) + held)
            if forces.table:
                now[:, 2] = np.maximum(now[:, 2], 0.0)
        self.speed = now - points
        if forces.table:
            self.speed[now[:, 2] <= 0.0, :2] *= 0.5
        self.cloth.points = now


def fine_sheet(
    cloth: Cloth, faces: Ints, outline: Floats, step: float, raise_by: Callable[[Floats], Floats], seed: int
) -> tuple[Mesh, CloughTocher2DInterpolator]:
    """One layer of a cloth, C1-smooth over its rest plane and meshed finely, raised along its normal.

    ``uv`` are rest coordinates in mm. The second value gives the smooth place of any rest point.
    """
    used = np.unique(faces)
    smooth = CloughTocher2DInterpolator(cloth.rest[used], cloth.points[used])
    rest, fine, _ = triangulated(outline, step, seed)
    middle = outline.mean(0)
    places = smooth(middle + (rest - middle) * (1 - 1e-6))
    lost = np.isnan(places).any(1)
    if lost.any():
        from scipy.interpolate import NearestNDInterpolator

        places[lost] = NearestNDInterpolator(cloth.rest[used], cloth.points[used])(rest[lost])
    normals = vertex_normals(places, fine)
    places = places + normals * raise_by(rest)[:, None]
    return Mesh(places, vertex_normals(places, fine), fine, rest), smooth


def vertex_normals(points: Floats, faces: Ints) -> Floats:
    """Area-weighted normals."""
    a, b, c = (points[faces[:, k]] for k in range(3))
    across = np.cross(b - a, c - a)
    total = np.zeros_like(points)
    for k in range(3):
        np.add.at(total, faces[:, k], across)
    return total / (np.linalg.norm(total, axis=1, keepdims=True) + 1e-12)
