"""A canvas bag laid flat, its handles drawn up and sewn on with a box and cross. Millimetres."""

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import RectBivariateSpline

from tools.plates.cloth import triangulated, vertex_normals
from tools.plates.sewn import (
    Fold,
    Piece,
    Smooth,
    Textile,
    evenly,
    folded,
    laid,
    noise,
    seams,
    swayed,
    tape,
    threads,
)
from tools.plates.solids import Mesh

Floats = NDArray[np.float64]
CELL = 2.0
HEM = 30.0
STRAP, HALF_GAP = 12.5, 80.0  # half a strap's width; its middle from the bag's
BOX = (9.2, 34.0, 56.0)  # of the stitched box: half its width, from and to below the rim
FOLDS = (
    Fold(-84, 96, -96, 90, 15, 5.8), Fold(82, 92, -86, 96, 16, 6.5),  # the handles' pull
    Fold(-116, -122, 34, 70, 27, 3.4), Fold(134, -142, 124, 105, 18, 6.8),
    Fold(-30, 60, -62, 130, 26, 5.1), Fold(60, -60, 70, 120, 28, 5.4),
    Fold(-150, 20, 84, 120, 20, 4.4), Fold(20, -170, 12, 90, 18, 4.1),
)  # fmt: skip


def _outline(a: float, b: float, corner: float) -> Floats:
    """The bag's front: square at the mouth, its lower corners rounded by the turned seam."""
    turn = np.linspace(0, np.pi / 2, 16)
    arc = np.column_stack([np.sin(turn), -np.cos(turn)]) * corner + (a - corner, corner - b)
    return np.concatenate([arc, [[a, b], [-a, b]], arc[::-1] * (-1, 1)])


def _height(u: Floats, v: Floats, a: float, b: float) -> Floats:
    """The upper sheet over the table: a little body, round at the seams, soft folds."""

    def within(mm: float) -> Floats:
        """0 at the seams, rising to 1 within about so many mm, without a crease at the corners."""
        side, low = np.maximum(a - np.abs(u), 0), np.maximum(v + b, 0)
        return np.asarray((1 - np.exp(-side / mm)) * (1 - np.exp(-low / mm)))

    closed = 1 - 0.6 * np.exp(-(((b - v) / 50.0) ** 2))  # an empty bag's mouth lies nearly flat
    body = (4.0 * within(9.0) + 3.0 * within(45.0)) * closed
    rumpled = 0.9 * noise(u.shape, 51, 34.0, CELL) + 0.45 * noise(u.shape, 52, 13.0, CELL)
    return 3.4 + body + (folded(u, v, FOLDS) + rumpled) * within(16.0)


def _front(a: float, b: float) -> Smooth:
    """Rest points to places on the upper sheet."""
    across, down = (np.arange(-h - 6, h + 6 + CELL / 2, CELL) for h in (a, b))
    u, v = np.meshgrid(across, down)
    up = _height(u, v, a, b)
    x, y = laid(up, across, down)
    x, y = swayed(x, y, np.minimum(a - np.abs(u), b - np.abs(v)), 1.6, 53, CELL)
    mouth = np.clip((v - b + 90) / 90, 0, 1) ** 2
    y = y - 2.2 * mouth * (1 - np.minimum(np.abs(u) / HALF_GAP, 2.0) ** 2 / 2)
    splines = [RectBivariateSpline(down, across, plane) for plane in (x, y, up)]
    return lambda rest: np.column_stack([s.ev(rest[:, 1], rest[:, 0]) for s in splines])


def tote_bag(wide: float = 380.0, high: float = 420.0) -> Textile:
    """A bag with both handles up, the farther one a little higher."""
    a, b = wide / 2, high / 2
    cut = _outline(a, b, 13.0)
    surface = _front(a, b)
    rest, faces, _ = triangulated(cut, 1.5, 33)
    below = b - rest[:, 1]
    raised = 1.1 / (1 + np.exp((below - HEM) / 0.7)) - 0.5 * np.exp(-(((below - HEM + 2.6) / 1.1) ** 2))
    raised -= 0.5 * np.exp(-((below / 1.2) ** 2))
    places = surface(rest)
    places += vertex_normals(places, faces) * raised[:, None]
    mesh = Mesh(places, vertex_normals(places, faces), faces, rest)
    behind = places * (1, 1, 0.3)
    behind[:, 1] += 4.5 * np.clip(1 - below / 40, 0, 1) ** 2 * (1 - (rest[:, 0] / a) ** 2)
    under = Mesh(behind, vertex_normals(behind, faces), faces, rest)
    pieces = [Piece(mesh, "canvas", True), Piece(under, "canvas")]

    free = (3 - a, -HALF_GAP - STRAP, STRAP - HALF_GAP, HALF_GAP - STRAP, HALF_GAP + STRAP, a - 3)
    hem = [
        np.column_stack([np.arange(left, right), np.full(len(np.arange(left, right)), b - HEM + 2.6)])
        for left, right in pairwise(free)
    ][::2]
    pieces.append(Piece(threads([surface(part) + np.array([0, 0, 1.0]) for part in hem]), "tape"))
    for front in (False, True):
        pieces += _handle(surface, b, front)
    return Textile(pieces, surface, cut, 1.6 * high / 420.0)


def _arch(low: float, top: float, lean: float) -> Floats:
    """A strap's middle: straight up from where it is sewn, then round, its top ``lean`` mm to the right."""
    turn = np.linspace(np.pi, 0, 1200)
    x, y = np.cos(turn), np.sin(turn)
    shape = np.column_stack([np.sign(x) * np.abs(x) ** 0.86 * HALF_GAP, np.abs(y) ** 0.60])
    shape[:, 0] += lean * shape[:, 1] ** 2 + 1.4 * np.sin(7 * shape[:, 1] + 0.2 * lean) * shape[:, 1]
    return evenly(shape * (1, top - low) + np.array([0, low]), 1.2)


def _handle(surface: Smooth, b: float, front: bool) -> list[Piece]:
    """A strap and its seams; the front one lies over the rim, the other comes from behind."""
    line = _arch(b - BOX[2] - 2.0, b + 224.0, -7.0) if front else _arch(b - 20.0, b + 244.0, 9.0)
    run = np.linspace(0, 1, len(line))
    lazy = 1.1 * np.sin(run * 11.0 + front) ** 2 + 1.6 * np.sin(np.pi * run) ** 6
    if front:
        flat = surface(np.column_stack([line[:, 0], np.minimum(line[:, 1], b)]))
        on = 1 / (1 + np.exp((line[:, 1] - b - 16.0) / 7.0))  # 1 on the bag, falling to the table above it
        level = on * (flat[:, 2] + 1.4) + (1 - on) * (2.6 + lazy)
        line = np.column_stack([line[:, 0] + on * (flat[:, 0] - line[:, 0]), line[:, 1]])
    else:
        level = 0.4 + 0.5 * lazy
    mesh, place = tape(line, STRAP, level, 1.7, 5.0 * np.sin(np.pi * run) ** 4)
    edges = [place(seam) for seam in seams(len(line), STRAP - 2.6)]
    if front:
        edges += [place(part) for end in (0, 1) for part in _box(line, end)]
    return [Piece(mesh, "tape"), Piece(threads(edges), "tape")]


def _box(line: Floats, end: int) -> list[Floats]:
    """A box with a cross in it at one end of a strap: lines of (index along, mm across)."""
    half, near, far = BOX
    first = line[::-1] if end else line
    up = first[:, 1] - first[0, 1]
    low, high = (float(np.argmax(up > mm)) for mm in (2.5, 2.5 + far - near))
    corners = np.array([(low, -half), (low, half), (high, half), (high, -half)])
    if end:
        corners[:, 0] = len(line) - 1 - corners[:, 0]
    pairs = ((0, 1), (2, 3), (0, 2), (1, 3))
    return [np.linspace(corners[i], corners[j], 40) for i, j in pairs]
