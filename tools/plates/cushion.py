"""A filled scatter cushion as a surface over its flat cover. Millimetres.

Woven cloth keeps its length along both threads and gives only on the bias, so the cover's threads are laid
over the filling's height at their own length: sides draw in where the filling is thick, corners stay out.
"""

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import cumulative_trapezoid
from scipy.interpolate import RectBivariateSpline
from scipy.ndimage import gaussian_filter1d

from tools.plates.cloth import triangulated, vertex_normals
from tools.plates.sewn import Piece, Textile, laid, noise, swayed
from tools.plates.solids import Mesh

Floats = NDArray[np.float64]
CELL = 1.0  # of the grid that the surface is splined over
ROUND = 11.0  # radius of the cover's corners
TAPER = 1.5  # how far a corner is cut in, against dog-ears
LEAN = 6.0  # degrees that it leans back
SUNK = 1.2  # how much of the lower seam its own weight presses flat
# Soft wrinkles out of each corner: degrees from its diagonal, height, angular width, where highest.
WRINKLES = (
    ((-21.0, 2.6, 6.0, 56.0), (-6.0, -3.0, 7.0, 80.0), (20.0, 2.2, 9.0, 62.0)),
    ((-29.0, -2.0, 5.5, 46.0), (-9.0, 3.8, 6.5, 78.0), (9.0, -3.0, 6.0, 58.0), (24.0, 1.8, 5.5, 44.0)),
    ((-15.0, 1.6, 6.0, 48.0), (13.0, 3.0, 7.5, 74.0), (27.0, -1.8, 6.0, 58.0)),
    ((-25.0, 2.2, 5.5, 48.0), (-3.0, -3.6, 7.0, 64.0), (15.0, 3.2, 5.5, 84.0)),
)


def within(u: Floats, v: Floats, half: float) -> Floats:
    """Distance to the cover's edge, positive inside: a square with rounded, slightly tapered corners."""
    x = np.abs(u) + TAPER * np.abs(v / half) ** 3 - half + ROUND
    y = np.abs(v) + TAPER * np.abs(u / half) ** 3 - half + ROUND
    return ROUND - np.minimum(np.maximum(x, y), 0) - np.hypot(np.maximum(x, 0), np.maximum(y, 0))


def _tapered(edge: float, along: Floats, half: float) -> Floats:
    """Where a side of the cover runs, its corners cut in."""
    return np.asarray(edge * (1 - TAPER / half * np.abs(along / half) ** 3))


def cover(half: float) -> Floats:
    """The cover's outline."""
    turn = np.linspace(0, 2 * np.pi, 1441)[:-1]
    way = np.column_stack([np.cos(turn), np.sin(turn)])
    low, high = np.zeros(len(turn)), np.full(len(turn), half * 1.5)
    for _ in range(50):
        middle = (low + high) / 2
        u, v = (way * middle[:, None]).T
        inside = within(u, v, half) > 0
        low, high = np.where(inside, middle, low), np.where(inside, high, middle)
    return way * low[:, None]


def _puckers(u: Floats, v: Floats, half: float) -> Floats:
    """Short waves that the seam's thread draws up along every edge, no two alike."""
    rng = np.random.default_rng(63)
    total, knots = np.zeros_like(u), np.arange(-half - 6, half + 7)
    for along, across in ((u, half + v), (v, half - u), (u, half - v), (v, half + u)):
        waves, strength = (gaussian_filter1d(rng.normal(size=len(knots)), mm) for mm in (1.5, 9.0))
        waves = 0.8 * np.tanh(0.6 * np.exp(0.5 * strength / strength.std()) * waves / waves.std())
        ends = np.clip((half - np.abs(along)) / 25, 0, 1)
        total += np.interp(along, knots, waves) * ends * np.exp(-(((across - 4) / 6) ** 2))
    edge = np.maximum(within(u, v, half), 0)
    return np.asarray(total * (1 - np.exp(-((edge / 3.4) ** 2))))


def _dome(share: Floats, steep_deg: float) -> Floats:
    """Height of a bulge from its middle (1) to its edge (0), its slope growing to ``steep_deg`` there."""
    t = np.linspace(0, 1, 2001)
    rise = cumulative_trapezoid(np.sin(np.radians(steep_deg) * t**1.1), t, initial=0)
    return np.asarray(np.interp(np.minimum(np.abs(share), 1.0), t, 1 - rise / rise[-1]))


def _wrinkles(u: Floats, v: Floats, half: float) -> Floats:
    """Folds that the filling's pull leaves near the corners."""
    total = np.zeros_like(u)
    for (across, up), folds in zip(((-1, -1), (1, -1), (1, 1), (-1, 1)), WRINKLES, strict=True):
        x, y = half - across * u, half - up * v
        far, angle = np.hypot(x, y), np.degrees(np.arctan2(y, x)) - 45
        for at, tall, wide, reach in folds:
            swell = (far / reach) ** 2 * np.exp(2 - 2 * far / reach)
            bend = at + 5.0 * np.sin(far / 45.0 + at)
            total += tall * swell * np.exp(-(((angle - bend) / wide) ** 2))
    return total


def _height(u: Floats, v: Floats, half: float, thick: float) -> Floats:
    """How far the filling lifts the cover from the seam's plane."""
    steep = 42.0
    one, other = _dome(u / half, steep), _dome(v / half, steep)
    power = 0.9
    with np.errstate(divide="ignore"):
        plump = np.maximum(one**-power + other**-power - 1, 1.0) ** (-1 / power)
    edge = np.maximum(within(u, v, half), 0)
    lumps = 1.3 * noise(u.shape, 61, 32.0, CELL) * plump
    lifted = thick * plump * (1 - 0.05 * v / half) + lumps + _wrinkles(u, v, half) * (1 - np.exp(-edge / 14))
    # The seam's allowance lies flat inside the edge: a narrow round lip, which stitches draw in.
    lip = 1.2 * (1 - np.exp(-edge / 1.5)) - 0.5 * np.exp(-(((edge - 3.0) / 1.1) ** 2))
    return np.asarray(lifted * (1 - np.exp(-((edge / 3.4) ** 2))) + lip)


def _laid(half: float, thick: float) -> tuple[Floats, Floats]:
    """The grid's rest coordinates (one axis) and places: x, y and height of every crossing of threads."""
    axis = np.arange(-half - 4, half + 4 + CELL / 2, CELL)
    u, v = np.meshgrid(axis, axis)
    up = _height(u, v, half, thick)
    x, y = laid(up, axis, axis)
    x, y = swayed(x, y, within(u, v, half), 0.7, 62, CELL)
    # Standing on it, the lower seam is pressed nearly straight.
    seam = RectBivariateSpline(axis, axis, y).ev(_tapered(-half, axis, half), axis)
    y = y - 0.8 * (seam - seam.min()) * ((half - v) / (2 * half)) ** 5
    # Puckers come last: the seam's thread takes up their length.
    return axis, np.stack([x, y, up + _puckers(u, v, half)])


def upright(points: Floats, lean_deg: float) -> Floats:
    """Cloth lying flat stood up facing the camera, leaning back."""
    lift = np.radians(90 - lean_deg)
    x, y, z = points.T
    return np.stack([x, y * np.cos(lift) - z * np.sin(lift), y * np.sin(lift) + z * np.cos(lift)], 1)


def cushion(size: float = 450.0, thick: float = 72.0) -> Textile:
    """A knife-edge cushion, ``thick`` from seam to face, standing on its lower edge and leaning back."""
    half = size / 2
    axis, places = _laid(half, thick)
    x, y, up = (RectBivariateSpline(axis, axis, plane) for plane in places)
    outline = cover(half)
    v, u = outline[:, 1], outline[:, 0]
    seam = upright(np.column_stack([x.ev(v, u), y.ev(v, u), up.ev(v, u)]), LEAN)[:, 2]
    low = seam.min() + SUNK

    def face(rest: Floats, side: float = 1.0) -> Floats:
        v, u = rest[:, 1], rest[:, 0]
        flat = np.column_stack([x.ev(v, u), y.ev(v, u), side * up.ev(v, u)])
        stood = upright(flat, LEAN) - (0, 0, low)
        stood[:, 2] = 0.5 * np.logaddexp(0.0, stood[:, 2] / 0.5)  # what would sink is pressed flat
        return stood

    rest, faces, _ = triangulated(outline, 1.7, 12)
    pieces: list[Piece] = []
    for side, turned in ((1.0, faces), (-1.0, faces[:, ::-1])):
        points = face(rest, side)
        pieces.append(Piece(Mesh(points, vertex_normals(points, turned), turned, rest), "linen", not pieces))
    return Textile(pieces, face, outline, size / 100.0, standing=True)
