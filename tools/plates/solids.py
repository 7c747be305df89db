"""Bodies as signed distances (mm, negative inside), and their meshes."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree
from skimage.measure import marching_cubes

Floats = NDArray[np.float64]
Distance = Callable[[Floats, Floats, Floats], Floats]


@dataclass
class Mesh:
    """Triangles with smooth normals; ``uv`` carries texture coordinates where a part needs them."""

    points: Floats
    normals: Floats
    faces: NDArray[np.int64]
    uv: Floats | None = None


def union(a: Floats, b: Floats, fillet: float) -> Floats:
    """Smooth union with a cubic fillet of about this radius."""
    h = np.maximum(fillet - np.abs(a - b), 0) / fillet
    return np.minimum(a, b) - h * h * h * fillet / 6


def cut(a: Floats, b: Floats, fillet: float) -> Floats:
    """What is in both, with a rounded edge."""
    return -union(-a, -b, fillet)


def drum(r: Floats, z: Floats, radius: float, low: float, high: float, foot: float, rim: float) -> Floats:
    """A solid of revolution: a cylinder with rounded lower and upper edges."""
    round_by = np.where(z < (low + high) / 2, foot, rim)
    out = r - radius + round_by
    up = np.abs(z - (low + high) / 2) - (high - low) / 2 + round_by
    edge = np.hypot(np.maximum(out, 0), np.maximum(up, 0))
    return np.asarray(np.minimum(np.maximum(out, up), 0) + edge - round_by)


def bezier(points: Sequence[tuple[float, float]], count: int = 800) -> Floats:
    """Points along a cubic Bezier curve."""
    t = np.linspace(0, 1, count)[:, None]
    a, b, c, d = np.asarray(points, float)
    return np.asarray((1 - t) ** 3 * a + 3 * (1 - t) ** 2 * t * b + 3 * (1 - t) * t * t * c + t**3 * d)


class Strap:
    """A handle: a rounded bar swept along a curve in the x-z plane, flaring where it joins the body."""

    def __init__(self, path: Floats, half_width: float, half_thick: float, flare: float, edge: float) -> None:
        self.tree = cKDTree(path)
        self.path = path
        self.measure = (half_width, half_thick, flare, edge)

    def __call__(self, x: Floats, y: Floats, z: Floats) -> Floats:
        """Signed distance; x and z may vary over a plane shared by all y."""
        far, along = (v.reshape(x.shape) for v in self._nearest(np.stack([x.ravel(), z.ravel()], 1)))
        half_width, half_thick, flare, edge = self.measure
        swell = np.exp(-((along / 0.16) ** 2)) + np.exp(-(((1 - along) / 0.16) ** 2))
        wide, thick = half_width + flare * swell, half_thick + 0.4 * flare * swell
        out, side = far - thick + edge, np.abs(y) - wide + edge
        return np.minimum(np.maximum(out, side), 0) + np.hypot(np.maximum(out, 0), np.maximum(side, 0)) - edge

    def _nearest(self, flat: Floats) -> tuple[Floats, Floats]:
        """Distance to the curve, segment by segment, and the share along it."""
        _, index = self.tree.query(flat)
        best, share = np.full(len(flat), np.inf), np.zeros(len(flat))
        for start in (index - 1, index):
            first = np.clip(start, 0, len(self.path) - 2)
            a, way = self.path[first], self.path[first + 1] - self.path[first]
            t = np.clip(((flat - a) * way).sum(1) / (way * way).sum(1), 0, 1)
            far = np.linalg.norm(flat - a - t[:, None] * way, axis=1)
            nearer = far < best
            best = np.where(nearer, far, best)
            share = np.where(nearer, (first + t) / (len(self.path) - 1), share)
        return best, share


def mesh_of(body: Distance, low: Sequence[float], high: Sequence[float], step: float) -> Mesh:
    """Marching cubes, moved onto the surface and finer where it bends; normals are the gradient."""
    axes = [np.arange(a, b + step, step) for a, b in zip(low, high, strict=True)]
    grid = np.empty([len(a) for a in axes], np.float32)
    x, z = np.meshgrid(axes[0], axes[2], indexing="ij")
    for j, y in enumerate(axes[1]):
        grid[:, j, :] = body(x, np.full_like(x, y), z)
    points, faces, _, _ = marching_cubes(grid, 0.0)
    points = onto(body, points.astype(np.float64) * step + np.asarray(low))
    points, faces = refined(body, points, faces.astype(np.int64))
    normals = unit_gradient(body, points)
    return Mesh(points, normals, facing_out(points, normals, faces))


def onto(body: Distance, points: Floats) -> Floats:
    """Points near a surface moved onto it."""
    for _ in range(3):
        slope = gradient(body, points)
        away = body(*points.T)
        points = points - slope * (away / np.maximum((slope * slope).sum(1), 1e-3))[:, None]
    return points


def refined(
    body: Distance, points: Floats, faces: NDArray[np.int64], bend_deg: float = 5.0, rounds: int = 4
) -> tuple[Floats, NDArray[np.int64]]:
    """Edges halved where the surface bends more along them: gloss on a thin rim shows every triangle."""
    for _ in range(rounds):
        normals = unit_gradient(body, points)
        sides = np.sort(np.stack([faces, np.roll(faces, -1, axis=1)], 2), axis=2)
        edges, which = np.unique(sides.reshape(-1, 2), axis=0, return_inverse=True)
        a, b = edges.T
        bent = (normals[a] * normals[b]).sum(1) < np.cos(np.radians(bend_deg))
        middle = np.where(bent, len(points) + np.cumsum(bent) - 1, -1)
        points = np.concatenate([points, onto(body, (points[a[bent]] + points[b[bent]]) / 2)])
        faces = _split(faces, middle[which].reshape(-1, 3))
    return points, faces


def _split(faces: NDArray[np.int64], middle: NDArray[np.int64]) -> NDArray[np.int64]:
    """Triangles cut at the middles of their edges (first to second, second to third...; -1: none)."""
    cuts = (middle >= 0).sum(1)
    for _ in range(2):  # turned: a single cut comes first, the uncut of three last
        turn = ((cuts == 1) & (middle[:, 0] < 0)) | ((cuts == 2) & (middle[:, 2] >= 0))
        faces = np.where(turn[:, None], np.roll(faces, -1, axis=1), faces)
        middle = np.where(turn[:, None], np.roll(middle, -1, axis=1), middle)
    corner = np.concatenate([faces, middle], 1)  # a, b, c, ab, bc, ca
    patterns = {
        0: [(0, 1, 2)],
        1: [(0, 3, 2), (3, 1, 2)],
        2: [(3, 1, 4), (0, 3, 4), (0, 4, 2)],
        3: [(0, 3, 5), (3, 1, 4), (5, 4, 2), (3, 4, 5)],
    }
    parts = [corner[cuts == n][:, list(p)] for n, each in patterns.items() for p in each]
    return np.concatenate(parts)


def unit_gradient(body: Distance, points: Floats) -> Floats:
    """Normals of a distance's surface at points."""
    slope = gradient(body, points)
    return np.asarray(slope / (np.linalg.norm(slope, axis=1, keepdims=True) + 1e-12))


def gradient(body: Distance, points: Floats, step: float = 0.06) -> Floats:
    """Central differences of a distance at points."""
    ways = np.eye(3) * step
    sides = [body(*(points + w).T) - body(*(points - w).T) for w in ways]
    return np.stack(sides, 1) / (2 * step)


def facing_out(points: Floats, normals: Floats, faces: NDArray[np.int64]) -> NDArray[np.int64]:
    """Faces turned so that their winding agrees with the normals."""
    first, second, third = (points[faces[:, k]] for k in range(3))
    wrong = (np.cross(second - first, third - first) * normals[faces[:, 0]]).sum(1) < 0
    turned = faces.copy()
    turned[wrong] = turned[wrong][:, ::-1]
    return turned


def smooth_profile(corners: Sequence[tuple[float, float, float]], step: float = 0.4) -> Floats:
    """A profile (r, z) through corners with a rounding radius each (the third number), evenly sampled."""
    pts = np.asarray([c[:2] for c in corners], float)
    radii = [c[2] for c in corners]
    out: list[Floats] = [pts[:1]]
    for k in range(1, len(pts) - 1):
        back, ahead = pts[k - 1] - pts[k], pts[k + 1] - pts[k]
        room = min(np.linalg.norm(back), np.linalg.norm(ahead)) / 2
        back, ahead = back / np.linalg.norm(back), ahead / np.linalg.norm(ahead)
        half = np.arccos(np.clip(back @ ahead, -1, 1)) / 2
        reach = min(radii[k] / np.tan(half), room) if radii[k] > 0 else 0.0
        if reach <= 0:
            out.append(pts[k : k + 1])
            continue
        radius = reach * np.tan(half)
        middle = pts[k] + (back + ahead) / np.linalg.norm(back + ahead) * radius / np.sin(half)
        start, end = pts[k] + back * reach - middle, pts[k] + ahead * reach - middle
        a0, a1 = np.arctan2(start[1], start[0]), np.arctan2(end[1], end[0])
        turn = (a1 - a0 + np.pi) % (2 * np.pi) - np.pi
        steps = np.linspace(0, 1, max(6, int(abs(turn) * radius / 0.15)))
        arc = a0 + turn * steps
        out.append(middle + radius * np.stack([np.cos(arc), np.sin(arc)], 1))
    out.append(pts[-1:])
    return np.concatenate(out)


def lathe(profile: Floats, around: int = 1440) -> Mesh:
    """A surface of revolution; the profile runs so that its left-hand side is the outside.

    Normals come from the profile's tangents; corners sharper than 40 degrees stay sharp. ``uv`` is
    (share of the turn, share along the profile).
    """
    profile = _split_corners(profile)
    tangent = np.gradient(profile, axis=0)
    gap = np.linalg.norm(np.diff(profile, axis=0), axis=1)
    for k in np.flatnonzero(gap < 1e-9):  # the two halves of a sharp corner
        tangent[k], tangent[k + 1] = profile[k] - profile[k - 1], profile[k + 2] - profile[k + 1]
    tangent /= np.linalg.norm(tangent, axis=1, keepdims=True) + 1e-12
    turn = np.linspace(0, 2 * np.pi, around + 1)
    cos, sin = np.cos(turn)[:, None], np.sin(turn)[:, None]
    r, z = profile[:, 0], profile[:, 1]
    points = np.stack([r * cos, r * sin, np.broadcast_to(z, (around + 1, len(r)))], 2)
    nr, nz = tangent[:, 1], -tangent[:, 0]
    normals = np.stack([nr * cos, nr * sin, np.broadcast_to(nz, (around + 1, len(r)))], 2)
    along = np.concatenate([[0], np.cumsum(gap)])
    uv = np.stack(np.broadcast_arrays((turn / 2 / np.pi)[:, None], along / along[-1]), 2)
    n = len(r)
    i, j = np.meshgrid(np.arange(around), np.arange(n - 1), indexing="ij")
    a = (i * n + j).ravel()
    faces = np.concatenate([np.stack([a, a + n, a + 1], 1), np.stack([a + 1, a + n, a + n + 1], 1)])
    flat = points.reshape(-1, 3), normals.reshape(-1, 3)
    return Mesh(*flat, facing_out(*flat, faces), uv.reshape(-1, 2))


def _split_corners(profile: Floats) -> Floats:
    way = np.diff(profile, axis=0)
    keep = np.linalg.norm(way, axis=1) > 1e-9
    profile = np.concatenate([profile[:1], profile[1:][keep]])
    way = np.diff(profile, axis=0)
    way /= np.linalg.norm(way, axis=1, keepdims=True)
    sharp = np.flatnonzero((way[1:] * way[:-1]).sum(1) < np.cos(np.radians(40))) + 1
    return np.insert(profile, sharp, profile[sharp], axis=0)
