"""A tea towel laid flat in soft folds, hemmed all round, with a loop of tape to hang it by. Millimetres."""

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
CELL = 2.5
HEM, STITCH = 12.0, 9.6  # the hem's width, and its seam's distance from the edge
LOOP_AT, LOOP = 26.0, 4.5  # of the loop's middle from the corner; half the tape's width
FOLDS = (
    Fold(-212, 150, 84, 250, 34, 7.0), Fold(-118, -60, 97, 420, 38, 10.0), Fold(-20, 190, 80, 260, 36, 7.0),
    Fold(38, -150, 93, 300, 42, 9.0), Fold(118, 70, 99, 420, 40, 11.5), Fold(216, -120, 88, 280, 32, 8.0),
    Fold(-235, -300, 38, 120, 26, 5.0), Fold(225, 300, 48, 110, 24, 4.5), Fold(60, 340, 14, 120, 22, 3.0),
)  # fmt: skip


def _cloth(a: float, b: float) -> Smooth:
    """Rest points to places on the towel."""
    across, down = (np.arange(-h - 7.5, h + 7.5 + CELL / 2, CELL) for h in (a, b))
    u, v = np.meshgrid(across, down)
    rumpled = 0.8 * noise(u.shape, 81, 36.0, CELL) + 0.3 * noise(u.shape, 82, 14.0, CELL)
    up = folded(u, v, FOLDS) + rumpled
    up = 3.0 + 2.0 * np.logaddexp(0, up / 2.0)  # valleys rest on the table, without a crease
    x, y = laid(up, across, down)
    x, y = swayed(x, y, np.minimum(a - np.abs(u), b - np.abs(v)), 1.2, 83, CELL)
    splines = [RectBivariateSpline(down, across, plane) for plane in (x, y, up)]
    return lambda rest: np.column_stack([s.ev(rest[:, 1], rest[:, 0]) for s in splines])


def _raised(edge: Floats) -> Floats:
    """The hem: two more layers turned under, drawn in where it is sewn, round at its edge."""
    hem = 1.1 / (1 + np.exp((edge - HEM) / 0.6)) - 0.5 * np.exp(-(((edge - STITCH) / 1.1) ** 2))
    return np.asarray(hem - 0.6 * np.exp(-((edge / 0.8) ** 2)))


def _cut(a: float, b: float, corner: float = 4.0) -> Floats:
    """The towel's outline; turning the hem rounds its corners."""
    turn = np.linspace(0, np.pi / 2, 12)
    arc = np.column_stack([np.cos(turn), np.sin(turn)]) * corner + (a - corner, b - corner)
    right = np.concatenate([arc[::-1], arc * (1, -1)])
    return np.concatenate([right, right[::-1] * (-1, 1)])


def tea_towel(wide: float = 500.0, high: float = 700.0) -> Textile:
    """A towel with its loop at the upper left."""
    a, b = wide / 2, high / 2
    cut = _cut(a, b)
    surface = _cloth(a, b)
    rest, faces, _ = triangulated(cut, 1.6, 23)
    places = surface(rest)
    edge = np.minimum(a - np.abs(rest[:, 0]), b - np.abs(rest[:, 1]))
    places += vertex_normals(places, faces) * _raised(edge)[:, None]
    mesh = Mesh(places, vertex_normals(places, faces), faces, rest)
    corners = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1], [-1, -1]]) * (a - STITCH, b - STITCH)
    sides = [evenly(np.stack(ends), 1.0) for ends in pairwise(corners)]
    sewn = [*sides, *_tacks(LOOP_AT - a, b)]
    seam = Piece(threads([surface(line) + np.array([0, 0, 0.9]) for line in sewn]), "tape")
    pieces = [Piece(mesh, "linen", True), seam, *_loop(surface, LOOP_AT - a, b)]
    return Textile(pieces, surface, cut, 1.6 * high / 700.0)


def _tacks(x: float, b: float) -> list[Floats]:
    """Short close seams across the hem that hold the loop's ends."""
    return [np.column_stack([np.linspace(x - 11, x + 11, 60), np.full(60, b - down)]) for down in (3.2, 5.4)]


def _loop(surface: Smooth, x: float, b: float) -> list[Piece]:
    """Soft tape: flat where it leaves the hem, turning up on its edge round the loop."""
    t = np.linspace(-np.pi, np.pi, 1200)
    drop = (1 - np.cos(t)) / 2  # 0 round the top, 1 at the ends
    aside = 15.0 * np.sin(t) * (1 - 0.42 * drop) + 4.6 * np.sign(t) * drop**3
    shape = np.column_stack([aside, 50.0 * (1 - drop)])
    foot = surface(np.array([[x, b]]))[0]
    line = evenly(shape + foot[:2] + np.array([0.0, -8.0]), 0.6)
    run = np.linspace(0, 1, len(line))
    out = np.clip((line[:, 1] - foot[1]) / 40.0, 0, 1)
    mesh, place = tape(line, LOOP, 0.3 + 1.2 * out, 0.7, 52.0 * np.sin(np.pi * run) ** 3)
    sewn = threads([place(seam) for seam in seams(len(line), LOOP - 2.6)])
    return [Piece(mesh, "tape"), Piece(sewn, "tape")]
