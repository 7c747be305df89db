"""The T-shirt: a crew neck of size M laid smooth, its relief drawn over the flat cut. Millimetres.

Picture coordinates: x to the right, y up from the hem's ends, z above the table. Rest coordinates, which art
follows, are lengths on the cloth from the middle line and from the print area's upper edge.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline, RectBivariateSpline
from scipy.ndimage import gaussian_filter
from scipy.spatial import Delaunay, cKDTree
from scipy.special import expit

from tools.plates.cloth import depth, inside, resampled, vertex_normals
from tools.plates.sewn import Piece, Textile
from tools.plates.solids import Mesh, bezier

Floats = NDArray[np.float64]
Curve = Sequence[tuple[float, float]]

PRINT_TOP = 535.0  # 88 mm below the collar's seam
BAND = 20.0  # the collar's width
FREE = [(0, 643), (40, 643), (69, 660), (80, 711)]  # the collar's upper edge, front
SEAM = [(0, 623), (54, 623), (88, 652), (95, 717)]
BACK_FREE = [(0, 708.5), (42, 708.5), (64, 709.5), (80, 712.5)]
BACK_SEAM = [(0, 690.5), (36, 690.5), (72, 695), (93, 713.5)]
SHOULDER = [(95, 717), (138, 704), (182, 692), (218, 678)]
SLEEVE_TOP = [(218, 678), (266, 653), (336, 602), (399, 550)]
CUFF = [(399, 550), (374, 504), (336, 450), (299, 412)]
UNDER_ARM = [(299, 412), (290, 427), (281, 442), (274, 454)]
ARMPIT = [(274, 454), (268, 464), (265, 460), (264.5, 442)]
SIDE = [(264.5, 442), (261, 330), (260, 160), (264, 0)]
HEM = [(264, 0), (180, -1.5), (90, -2.5), (0, -2.5)]
ARMHOLE = [(218, 678), (204, 612), (210, 520), (267, 461)]
SLEEVE_WAY = np.array([0.80, -0.60])


def _both(right: Floats) -> Floats:
    """The closed outline of a right half that runs from the middle line round to it."""
    left = right[::-1] * (-1, 1)
    return _hanging(np.concatenate([right, left[1:-1]]))


def _hanging(points: Floats) -> Floats:
    """The sides below the sleeves not quite straight, each in its own way."""
    x, y = points.T
    sway = np.sin(2 * np.pi * (y / 290 + 0.31 * np.sign(x))) * _smooth((430 - y) / 160)
    return np.stack([x * (1 + 0.009 * sway), y], 1)


def _chain(*curves: Curve, count: int = 60) -> Floats:
    pieces = [bezier(curve, count) for curve in curves]
    return np.concatenate([pieces[0], *(piece[1:] for piece in pieces[1:])])


def outline() -> Floats:
    """The front without its collar; at the neck it reaches halfway under the band."""
    neck = (bezier(FREE, 60) + bezier(SEAM, 60)) / 2
    cut = _chain(SHOULDER, SLEEVE_TOP, CUFF, UNDER_ARM, ARMPIT, SIDE, HEM)
    for curve, mm in ((CUFF, 5.0), (UNDER_ARM, 4.0), (HEM, 3.0)):
        cut = _turned_softly(cut, np.array(curve[0]), mm)
    return _both(np.concatenate([neck, cut]))


def _turned_softly(line: Floats, corner: Floats, mm: float) -> Floats:
    """A line with a corner rounded that far to either side of it."""
    near = np.flatnonzero(np.linalg.norm(line - corner, axis=1) < mm)
    first, last = line[near[0] - 1], line[near[-1] + 1]
    bend = bezier([tuple(p) for p in (first, (first + 2 * corner) / 3, (last + 2 * corner) / 3, last)], 12)
    return np.concatenate([line[: near[0] - 1], bend, line[near[-1] + 2 :]])


def _tubes() -> Floats:
    """The outline with neck, sleeves and body going on past their ends, so that cloth is open there."""
    reach = SLEEVE_WAY * 150
    right = np.concatenate([
        [(0, 900), (85, 900)],
        _chain(SHOULDER, SLEEVE_TOP),
        [np.array(CUFF[0]) + reach, np.array(CUFF[-1]) + reach],
        _chain(UNDER_ARM, ARMPIT, SIDE),
        [(264, -250), (0, -250)],
    ])  # fmt: skip
    return _both(right)


@dataclass(frozen=True)
class Ridge:
    """A soft ridge along a line from ``line[0]``, its height and half-width at either end in mm.

    ``lean`` above 1 makes the side to the left of its way gentler.
    """

    line: tuple[tuple[float, float], ...]
    height: float
    wide: tuple[float, float]
    lean: float = 1.5
    onset: float = 0.15  # share of its length over which it rises
    fade: float = 0.6  # and over which it dies away

    @cached_property
    def spine(self) -> Floats:
        """Points about 2 mm apart."""
        knots = np.asarray(self.line, float)
        at = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(knots, axis=0), axis=1))])
        return np.asarray(CubicSpline(at, knots)(np.linspace(0, at[-1], max(30, int(at[-1] / 2)))))

    def rise(self, points: Floats) -> Floats:
        """Height added at each point."""
        spine, up = self.spine, np.zeros(len(points))
        reach = 4.5 * max(self.wide) * max(self.lean, 1.0)
        near = ((points > spine.min(0) - reach) & (points < spine.max(0) + reach)).all(1)
        way = np.gradient(spine, axis=0)
        way /= np.linalg.norm(way, axis=1, keepdims=True)
        far, index = cKDTree(spine).query(points[near])
        away = points[near] - spine[index]
        s = np.clip((index + (away * way[index]).sum(1) / 2.0) / (len(spine) - 1), 0, 1)
        across = way[index, 0] * away[:, 1] - way[index, 1] * away[:, 0]
        t = np.copysign(far, across)
        wide = self.wide[0] + (self.wide[1] - self.wide[0]) * s
        wide = wide * np.where(t > 0, self.lean, 1.0)
        body = np.exp(-((t / wide) ** 2)) - 0.35 * np.exp(-(((np.abs(t) - 1.9 * wide) / wide) ** 2))
        up[near] = self.height * _smooth(s / self.onset) * _smooth((1 - s) / self.fade) * body
        return up


def _smooth(share: Floats) -> Floats:
    t = np.clip(share, 0, 1)
    return np.asarray(t * t * (3 - 2 * t))


def _mirrored(ridge: Ridge) -> Ridge:
    line = tuple((-x, y) for x, y in ridge.line)
    wide, lean = ridge.wide, ridge.lean
    return Ridge(line, ridge.height, (wide[0] * lean, wide[1] * lean), 1 / lean, ridge.onset, ridge.fade)


RIGHT = (
    Ridge(((262, 468), (226, 530), (172, 600)), 8.5, (7, 17)),
    Ridge(((258, 458), (212, 490), (156, 514)), 6.0, (7, 16)),
    Ridge(((260, 446), (226, 388), (182, 296)), 9.5, (9, 27), 1.5),
    Ridge(((247, 420), (226, 260), (236, 60)), 6.0, (13, 21), 1.6, 0.3, 0.5),
    Ridge(((196, -40), (184, 90), (206, 250)), 8.5, (19, 19), 1.6, 0.05, 0.8),
    Ridge(((272, 470), (254, 545), (236, 634)), 8.0, (7, 15)),
    Ridge(((281, 460), (296, 524), (318, 592)), 8.5, (7, 21), 0.7),
    Ridge(((286, 448), (322, 486), (366, 516)), 6.0, (7, 21), 0.7),
)
LEFT = (
    Ridge(((261, 468), (230, 524), (190, 604)), 8.0, (7, 18)),
    Ridge(((258, 456), (218, 480), (166, 490)), 5.5, (7, 15)),
    Ridge(((260, 444), (232, 372), (200, 264)), 10.0, (9, 27), 1.5),
    Ridge(((249, 400), (230, 220), (240, 30)), 7.5, (14, 22), 1.6, 0.3, 0.5),
    Ridge(((140, -40), (148, 70), (180, 214)), 8.0, (20, 20), 1.6, 0.05, 0.8),
    Ridge(((272, 468), (256, 536), (242, 616)), 7.5, (7, 16)),
    Ridge(((281, 460), (302, 516), (332, 574)), 8.5, (7, 22), 0.7),
    Ridge(((287, 446), (320, 476), (358, 496)), 5.6, (7, 20), 0.7),
)
MIDDLE = (
    Ridge(((-74, -40), (-62, 90), (-30, 220)), 5.6, (23, 32), 1.2, 0.05, 0.9),
    Ridge(((46, -40), (48, 70), (26, 180)), 5.2, (23, 32), 1.2, 0.05, 0.9),
)


class Relief:
    """The shirt's height above the table, and lengths on its cloth."""

    def __init__(self) -> None:
        self.tubes = _tubes()
        self.rim = cKDTree(resampled(self.tubes, 0.5))
        x, y = self.grid = np.arange(-480.0, 481.0, 4.0), np.arange(-280.0, 941.0, 4.0)
        at = np.stack(np.meshgrid(x, y), -1)
        within = inside(self.tubes, at.reshape(-1, 2)).reshape(at.shape[:2]).astype(float)
        self.broad = RectBivariateSpline(y, x, gaussian_filter(within, 42 / 4))
        rng = np.random.default_rng(42)
        waves = ((52, 34, 2.1), (60, 14, 0.55), (12, 9, 0.16))
        self.rumple = [self._noise(rng, *wave) for wave in waves]
        self.ridges = [*RIGHT, *(_mirrored(ridge) for ridge in LEFT), *MIDDLE]

    def _noise(
        self, rng: np.random.Generator, long: float, wide: float, height: float
    ) -> RectBivariateSpline:
        """Random waves of about this length up and across, and their usual height."""
        x, y = self.grid
        field = gaussian_filter(rng.normal(size=(len(y), len(x))), (long / 4, wide / 4))
        return RectBivariateSpline(y, x, field / field.std() * height)

    def smooth(self, points: Floats) -> Floats:
        """The height without seams and hems."""
        x, y = points.T
        edge = np.asarray(self.rim.query(points)[0], np.float64) * inside(self.tubes, points)
        broad = np.clip(2 * self.broad.ev(y, x) - 1, 0, 1)
        low = 1 - 0.35 * _smooth((200 - y) / 200) * (np.abs(x) < 300)
        cuff = np.stack([np.abs(x) - 218, y - 678], 1) @ SLEEVE_WAY
        low = low * (1 - 0.3 * _smooth((cuff - 60) / 160) * _smooth((np.abs(x) - 262) / 60))
        low = low * (1 - 0.4 * _smooth((y - 700) / 30))  # over the shoulders to the back
        base = (17 * np.sqrt(1 - np.exp(-np.maximum(edge - 0.3, 0) / 13.0)) + 16 * broad) * low
        detail = sum(ridge.rise(points) for ridge in self.ridges) + sum(n.ev(y, x) for n in self.rumple)
        return np.asarray(base + detail * _smooth(edge / 14.0))

    @cached_property
    def lengths(self) -> tuple[RectBivariateSpline, RectBivariateSpline]:
        """Rest x and y of picture coordinates (as functions of y, x): lengths along rows and columns."""
        x, y = np.arange(-480.0, 481.0, 2.0), np.arange(-100.0, 781.0, 2.0)
        at = np.stack(np.meshgrid(x, y), -1)
        height = gaussian_filter(self.smooth(at.reshape(-1, 2)).reshape(at.shape[:2]), 1.0)

        def run(axis: int, origin: float, line: Floats) -> RectBivariateSpline:
            slope = np.gradient(height, 2.0, axis=axis)
            slope = slope / np.sqrt(1 + (slope / 0.7) ** 2)  # at the very edge cloth turns under
            step = np.moveaxis(np.sqrt(1 + slope * slope), axis, 0)
            sums = np.concatenate([np.zeros((1, step.shape[1])), np.cumsum(step[1:] + step[:-1], 0)])
            start = int(np.searchsorted(line, origin))
            return RectBivariateSpline(y, x, np.moveaxis(sums - sums[start] + line[start], 0, axis))

        return run(1, 0.0, x), run(0, PRINT_TOP, y)

    def rest(self, points: Floats) -> Floats:
        """Rest coordinates of picture coordinates."""
        x, y = points.T
        across, up = self.lengths
        return np.stack([across.ev(y, x), up.ev(y, x)], 1)

    def surface(self, rest: Floats) -> Floats:
        """Places of rest coordinates; lengths change slowly, so a few corrections find the point."""
        points = rest * 1.0
        for _ in range(12):
            points = points + rest - self.rest(points)
        return np.column_stack([points, self.smooth(points)])


def _near(points: Floats, curve: Curve) -> Floats:
    """Distance to a curve of the right half or to its mirror image."""
    folded = np.stack([np.abs(points[:, 0]), points[:, 1]], 1)
    return np.asarray(cKDTree(bezier(curve, 4000)).query(folded)[0])


def _groove(away: Floats, wide: float) -> Floats:
    return np.exp(-((away / wide) ** 2))


def _turned(edge: Floats) -> Floats:
    """A turned hem sewn with two needles: one more layer of cloth, two rows of stitches."""
    layer = 0.7 * expit((22.5 - edge) / 0.5) - 0.7 * _groove(edge, 1.4)
    return layer - 0.4 * (_groove(edge - 20.5, 0.75) + _groove(edge - 14.5, 0.75))


def seams(points: Floats, within: Floats) -> Floats:
    """Height that seams and hems add; ``within`` mm from the outline they fade, lest they notch it."""
    sleeve, neck = _near(points, ARMHOLE), _near(points, SEAM)
    inner = np.abs(points[:, 0]) < np.interp(points[:, 1], *bezier(ARMHOLE, 200)[::-1, ::-1].T)
    joined = 0.5 * _groove(sleeve - 3.5, 2.5) * inner - 0.9 * _groove(sleeve, 1.1)
    hems = _turned(_near(points, HEM)) + _turned(_near(points, CUFF))
    return (joined - 0.3 * _groove(neck - 3.5, 0.8) + hems) * _smooth(within / 5.0)


def _graded(ring: Floats, coarse: float, fine: float) -> tuple[Floats, NDArray[np.int64]]:
    """Points and triangles of a region, closer together along hems and seams."""

    def lattice(step: float, seed: int) -> Floats:
        low, high = ring.min(0), ring.max(0)
        x, y = np.meshgrid(np.arange(low[0], high[0], step), np.arange(low[1], high[1], step * 0.866))
        x[1::2] += step / 2
        points = np.stack([x.ravel(), y.ravel()], 1)
        return points + np.random.default_rng(seed).normal(0, step * 0.04, points.shape)

    rim = resampled(ring, fine)
    wide, close = lattice(coarse, 43), lattice(fine, 44)
    hems = np.minimum(_near(close, HEM), _near(close, CUFF))
    sewn = np.minimum(_near(close, ARMHOLE), _near(close, SEAM))
    fine_on = (hems < 27) | (sewn < 7) | (cKDTree(rim).query(close)[0] < 5)
    far = cKDTree(close[fine_on]).query(wide)[0] > coarse * 0.7
    inner = np.concatenate([close[fine_on], wide[far]])
    points = np.concatenate([rim, inner[depth(ring, inner) > 0.6 * fine]])
    faces = Delaunay(points).simplices.astype(np.int64)
    return points, faces[inside(ring, points[faces].mean(1))]


def _facing_up(points: Floats, faces: NDArray[np.int64], uv: Floats) -> Mesh:
    normals = vertex_normals(points, faces)
    if normals[:, 2].mean() < 0:
        faces, normals = faces[:, ::-1], -normals
    return Mesh(points, normals, faces, uv)


def _front(relief: Relief) -> Mesh:
    flat, faces = _graded(outline(), 2.0, 0.8)
    within = np.asarray(relief.rim.query(flat)[0], np.float64)
    places = np.column_stack([flat, relief.smooth(flat) + seams(flat, within)])
    return _facing_up(places, faces, relief.rest(flat))


ACROSS = np.concatenate([np.zeros(8), np.linspace(0, 1, 41)[1:]])  # over a band, its folded edge first


def _band(free: Floats, sewn: Floats, level: Callable[[Floats], Floats], under: float) -> Mesh:
    """A doubled band of rib from its free edge to its seam; ``level`` is the height of what it lies on.

    The free edge is a fold ``under`` mm deep.
    """
    flat = free[:, None] + (sewn - free)[:, None] * ACROSS[None, :, None]
    rounded = (1 - np.abs(2 * ACROSS - 1) ** 6) * 1.9 - 0.5
    down = np.concatenate([np.linspace(under, 0, 8), np.zeros(40)])
    rows, n = flat.shape[:2]
    up = np.maximum(level(flat.reshape(-1, 2)) + np.tile(rounded, rows), 0.3) - np.tile(down, rows)
    run = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff((free + sewn) / 2, axis=0), axis=1))])
    uv = np.stack(np.broadcast_arrays(run[:, None], ACROSS * BAND), 2).reshape(-1, 2)
    i, j = np.meshgrid(np.arange(rows - 1), np.arange(n - 1), indexing="ij")
    a = (i * n + j).ravel()
    faces = np.concatenate([np.stack([a, a + n, a + 1], 1), np.stack([a + 1, a + n, a + n + 1], 1)])
    return _facing_up(np.column_stack([flat.reshape(-1, 2), up]), faces, uv)


def _whole(curve: Curve, count: int = 260) -> Floats:
    """A curve from the middle outwards with its mirror image, from left to right."""
    right = bezier(curve, count)
    return np.concatenate([right[::-1] * (-1, 1), right[1:]])


def _behind(points: Floats) -> Floats:
    """Height of the back's inside, which rises to the shoulders."""
    return 2.0 + 7.0 * _smooth((np.abs(points[:, 0]) - 40) / 60)


def _back() -> Mesh:
    """The back's inside below the band, with the tape over its seam."""
    right = np.concatenate([bezier(BACK_FREE, 60) - np.array([0, 6]), [(110, 690), (110, 590), (0, 590)]])
    ring = _both(right)
    low, high = ring.min(0), ring.max(0)
    x, y = np.meshgrid(np.arange(low[0], high[0], 1.2), np.arange(low[1], high[1], 1.2))
    grid = np.stack([x.ravel(), y.ravel()], 1)
    flat = np.concatenate([resampled(ring, 1.2), grid[depth(ring, grid) > 0.7]])
    faces = Delaunay(flat).simplices.astype(np.int64)
    faces = faces[inside(ring, flat[faces].mean(1))]
    away = _near(flat, BACK_SEAM)
    tape = 0.8 * expit((9 - away) / 0.4) - 0.5 * _groove(away - 7.2, 0.7)
    return _facing_up(np.column_stack([flat, _behind(flat) + tape]), faces, flat)


def t_shirt() -> Textile:
    """The shirt as its pieces: printed front, the collar's band, and the back seen through the neck."""
    relief = Relief()

    front = _front(relief)
    lining = Mesh(front.points * (1, 1, 0.3), front.normals, front.faces, front.uv)
    pieces = [
        Piece(front, "jersey", True),
        Piece(lining, "jersey"),
        Piece(_band(_whole(FREE), _whole(SEAM), relief.smooth, 7.0), "rib"),
        Piece(_band(_whole(BACK_FREE), _whole(BACK_SEAM), lambda p: _behind(p) + 1.0, 2.0), "rib"),
        Piece(_back(), "jersey"),
    ]
    return Textile(pieces, relief.surface, relief.rest(outline()), 1.0, worn=True)
