"""A filled scatter cushion as a surface over its flat cover. Millimetres.

Woven cloth keeps its length along both threads and gives only on the bias, so the cover's threads are laid
over the filling's height at their own length: sides draw in where the filling is thick, corners stay out.
"""

import numpy as np
from cloth import triangulated, vertex_normals
from numpy.typing import NDArray
from scipy.integrate import cumulative_trapezoid
from scipy.interpolate import RectBivariateSpline
from sewn import Piece, Textile, laid, noise, swayed
from solids import Mesh

Floats = NDArray[np.float64]
CELL = 1.0  # of the grid that the surface is splined over
ROUND = 11.0  # radius of the cover's corners
TAPER = 1.5  # how far a corner is cut in, against dog-ears
# Soft wrinkles out of each corner: degrees from its diagonal, height, angular width, where highest.
WRINKLES = (
    ((-24.0, 2.4, 7.0, 58.0), (-4.0, -2.6, 8.0, 74.0), (17.0, 2.8, 7.5, 66.0), (31.0, -1.5, 6.0, 46.0)),
    ((-29.0, -1.6, 6.5, 50.0), (-13.0, 2.7, 7.0, 70.0), (7.0, -2.4, 8.5, 62.0), (25.0, 2.0, 7.0, 54.0)),
    ((-20.0, 2.6, 8.0, 72.0), (0.0, -2.2, 7.0, 56.0), (22.0, 2.9, 8.0, 64.0)),
    ((-27.0, 1.9, 6.5, 52.0), (-8.0, -2.8, 8.0, 68.0), (12.0, 2.5, 7.0, 60.0), (30.0, -1.8, 6.5, 48.0)),
)


def within(u: Floats, v: Floats, half: float) -> Floats:
    """Distance to the cover's edge, positive inside: a square with rounded, slightly tapered corners."""
    x = np.abs(u) + TAPER * np.abs(v / half) ** 3 - half + ROUND
    y = np.abs(v) + TAPER * np.abs(u / half) ** 3 - half + ROUND
    return ROUND - np.minimum(np.maximum(x, y), 0) - np.hypot(np.maximum(x, 0), np.maximum(y, 0))


def cover(half: float) -> Floats:
    """The cover's outline."""
    turn = np.linspace(0, 2 * np.pi, 1441)[:-1]
    way = np.column_stack([np.cos(turn), np.sin(turn)])
    low, high = np.zeros(len(turn)), np.full(len(turn), half * 1.5)
    for _ in range(50):
        middle = (low + high) / 2
        inside = within(*(way * middle[:, None]).T, half) > 0
        low, high = np.where(inside, middle, low), np.where(inside, high, middle)
    return way * low[:, None]


def _dome(share: Floats, steep_deg: float) -> Floats:
    """Height of a bulge from its middle (1) to its edge (0), its slope growing to ``steep_deg`` there."""
    t = np.linspace(0, 1, 2001)
    rise = cumulative_trapezoid(np.sin(np.radians(steep_deg) * t**1.1), t, initial=0)
    return np.interp(np.minimum(np.abs(share), 1.0), t, 1 - rise / rise[-1])


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
    # The seam's allowance lies flat inside the edge: a narrow lip, which the stitches draw in.
    return lifted * (1 - np.exp(-((edge / 3.4) ** 2))) - 0.5 * np.exp(-(((edge - 3.0) / 1.1) ** 2))


def _laid(half: float, thick: float) -> tuple[Floats, Floats]:
    """The grid's rest coordinates (one axis) and places: x, y and height of every crossing of threads."""
    axis = np.arange(-half - 4, half + 4 + CELL / 2, CELL)
    u, v = np.meshgrid(axis, axis)
    up = _height(u, v, half, thick)
    x, y = laid(up, axis, axis)
    # Standing on it, the lower side is pressed nearly straight.
    bow = y[2] - y[2].min()
    y = y - 0.6 * bow * ((half - v) / (2 * half)) ** 5
    x, y = swayed(x, y, within(u, v, half), 0.7, 62, CELL)
    return axis, np.stack([x, y, up])


def upright(points: Floats, lean_deg: float) -> Floats:
    """Cloth lying flat stood up facing the camera, leaning back."""
    lift = np.radians(90 - lean_deg)
    x, y, z = points.T
    return np.stack([x, y * np.cos(lift) - z * np.sin(lift), y * np.sin(lift) + z * np.cos(lift)], 1)


def cushion(size: float = 450.0, thick: float = 66.0) -> Textile:
    """A knife-edge cushion, ``thick`` from seam to face, standing on its lower edge and leaning back."""
    half = size / 2
    axis, places = _laid(half, thick)
    x, y, up = (RectBivariateSpline(axis, axis, plane) for plane in places)
    low = upright(np.column_stack([places[0][2], places[1][2], 0 * axis]), 9.0)[:, 2].min()

    def face(rest: Floats, side: float = 1.0) -> Floats:
        v, u = rest[:, 1], rest[:, 0]
        flat = np.column_stack([x.ev(v, u), y.ev(v, u), side * up.ev(v, u)])
        stood = upright(flat, 9.0) - (0, 0, low)
        stood[:, 2] = 3.0 * np.logaddexp(0.0, stood[:, 2] / 3.0)  # what would sink is pressed flat
        return stood

    outline = cover(half)
    rest, faces, _ = triangulated(outline, 1.7, 12)
    pieces = []
    for side, turned in ((1.0, faces), (-1.0, faces[:, ::-1])):
        points = face(rest, side)
        pieces.append(Piece(Mesh(points, vertex_normals(points, turned), turned, rest), "linen", not pieces))
    return Textile(pieces, face, outline, size / 100.0, standing=True)
