"""Cloth goods by name, and the T-shirt, simulated from its flat cut. Millimetres.

Rest coordinates are the cloth's own: x to the right, y up, as the piece lies on a cutting table. They are
what print areas are measured in, so art follows every fold exactly.
"""

from collections.abc import Callable

import numpy as np
from cloth import Cloth, Forces, Simulator, double, fine_sheet, triangulated, vertex_normals
from cushion import cushion
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline
from scipy.ndimage import gaussian_filter
from scipy.spatial import cKDTree
from sewn import Piece, Smooth, Textile, stitched
from solids import Mesh, bezier
from tote import tote_bag
from towel import tea_towel

Floats = NDArray[np.float64]


LINING = np.array([0.0, 0.0, 0.5])  # the back layer above the table
LAYER_MM = 1.6  # cloth above cloth, and cloth above the table


def _above(mesh: Mesh, smooth: Smooth, layers: float) -> tuple[Mesh, Smooth]:
    """A sheet and its surface lifted by so many layers of cloth."""
    rise = np.array([0.0, 0.0, layers * LAYER_MM])
    mesh.points = mesh.points + rise
    return mesh, lambda rest: np.asarray(smooth(rest) + rise)


def _back(cloth: Cloth, place: Smooth, weave: str) -> Piece:
    faces = cloth.faces[len(cloth.front) :]
    points = place(cloth.points)
    return Piece(Mesh(points, vertex_normals(points, faces), faces, cloth.rest * 1.0), weave)


def _waved(cloth: Cloth, seed: int, squeeze: tuple[float, float], height: float, wave: float) -> None:
    """Start a sheet as a gently rumpled one: a little too much cloth for the place it covers."""
    rng = np.random.default_rng(seed)
    cells = 96
    field = gaussian_filter(rng.normal(size=(cells, cells)), 96 * wave / 1600, mode="wrap")
    field /= field.std()
    low, span = cloth.rest.min(0), np.ptp(cloth.rest, axis=0).max()
    at = ((cloth.rest - low) / span * (cells - 1)).astype(int)
    cloth.points[:, :2] *= squeeze
    cloth.points[:, 2] += np.maximum(field[at[:, 1], at[:, 0]], -0.4) * height / 2 + height / 5


CUFF_TOP, CUFF_LOW = (404.0, 530.0), (308.0, 380.0)
UNDER_ARM = [CUFF_LOW, (292.0, 406.0), (276.0, 432.0), (262.0, 446.0)]
SIDE = [(262.0, 446.0), (255.0, 400.0), (254.0, 280.0), (258.0, 150.0)]


def shirt_outline() -> Floats:
    """The front of a size M shirt laid flat, 530 mm wide, y 0 at the hem: outline from the neck round."""
    neck = bezier([(88, 712), (80, 640), (50, 604), (0, 604)], 40)[::-1]
    right = np.concatenate([
        neck,
        bezier([(88, 712), (90, 719), (96, 717), (104, 715)], 8)[1:],
        bezier([(104, 715), (145, 702), (185, 688), (222, 672)], 20)[1:],
        bezier([(222, 672), (285, 641), (345, 589), CUFF_TOP], 30)[1:],
        bezier([CUFF_TOP, (372, 480), (340, 430), CUFF_LOW], 24)[1:],
        bezier(UNDER_ARM, 14)[1:],
        bezier(SIDE, 30)[1:],
        bezier([(258, 150), (260, 90), (264, 40), (265, 0)], 14)[1:],
        bezier([(265, 0), (180, -5), (90, -7), (0, -7)], 20)[1:],
    ])  # fmt: skip
    left = right[::-1] * (-1, 1)
    return np.concatenate([right, left[1:-1]])


def _to_cuff(points: Floats) -> Floats:
    """Distance to the nearer sleeve's opening."""
    folded = np.stack([np.abs(points[:, 0]), points[:, 1]], 1)
    return _distance(folded, np.linspace(CUFF_LOW, CUFF_TOP, 400))


def _sewn_shirt(points: Floats) -> NDArray[np.bool_]:
    x, y = np.abs(points[:, 0]), points[:, 1]
    neck = (y > 598) & (x < 87)
    return ~(neck | ((_to_cuff(points) < 1.5) & (x > 309)) | (y < -0.5))


def t_shirt() -> Textile:
    """A shirt laid flat by hand: sleeves drawn down, sides never quite straight, so that cloth gathers."""
    cut = shirt_outline()
    cloth = double(cut, 8.0, 41, _sewn_shirt)
    _waved(cloth, 42, squeeze=(1.0, 1.0), height=5.0, wave=120.0)
    folded = np.stack([np.abs(cloth.rest[:, 0]), cloth.rest[:, 1]], 1)
    under = _distance(folded, bezier(UNDER_ARM, 200)) < 5
    side = _distance(folded, bezier(SIDE, 400)) < 6
    hold = np.flatnonzero((folded[:, 1] > 690) | (_to_cuff(cloth.rest) < 9) | under | side)
    start = cloth.rest[hold] * 1.0
    level = np.column_stack([start, np.full(len(hold), 0.6)])
    sim = Simulator(cloth, stretch=60.0, bend=5.0, pins=hold)
    for k in range(100):
        share = min(1.0, k / 50)
        puff = 0.0018 * (1 - share)
        sim.step(Forces(gravity=0.03, pressure=puff, damping=0.85), _drawn(level, share), rounds=6)
    neck = _neckline()

    def seams(rest: Floats) -> Floats:
        x, y = np.abs(rest[:, 0]), rest[:, 1]
        rib = _distance(rest, neck)
        collar = 1.3 / (1 + np.exp((rib - 19.0) / 0.6)) * (1 - 0.7 * np.exp(-((rib / 2.5) ** 2)))
        collar -= 0.35 * np.exp(-(((rib - 22.5) / 0.6) ** 2))
        cuff = np.where(x > 250, _to_cuff(rest), 99.0)
        drop = np.clip((672 - y) / 226, 0, 1)
        sleeve = np.abs(x - 224 + 26 * np.sin(np.pi * drop * 0.8) - 38 * drop**4)
        armhole = np.where((y > 447) & (y < 676), 0.8 * np.exp(-((sleeve / 1.6) ** 2)), 0)
        low = y + 7 - 7 * (x / 265) ** 2
        return collar + stitched(rest, low, 22.0, 0.8) + stitched(rest, cuff, 20.0, 0.8) - armhole

    def fold(rest: Floats) -> Floats:
        return seams(np.stack([np.abs(rest[:, 0]), rest[:, 1]], 1))

    mesh, smooth = _above(*fine_sheet(cloth, cloth.faces[cloth.front], cut, 1.9, fold, 43), 1.6)
    pieces = [
        Piece(mesh, "jersey", True),
        _back(cloth, lambda p: p + LINING, "jersey"),
        Piece(_nape(), "jersey"),
    ]
    return Textile(pieces, smooth, cut, 1.0)


def _drawn(start: Floats, share: float) -> Floats:
    """Where held points go: each sleeve turned down about its shoulder, sides pushed in here and there."""
    moved = start.copy()
    for side, degrees in ((-1, 3.2), (1, 2.2)):
        out = start[:, 0] * side
        arm = (out > 262) & (start[:, 1] > 300)
        hinge = np.array([side * 215.0, 665.0])
        turn = -side * np.radians(degrees) * share * np.clip((out[arm] - 262) / 46, 0, 1)
        away = start[arm, :2] - hinge - share * np.array([side * 6.0, -4.0])  # and a little up the sleeve
        c, s = np.cos(turn), np.sin(turn)
        moved[arm, :2] = hinge + np.stack(
            [c * away[:, 0] - s * away[:, 1], s * away[:, 0] + c * away[:, 1]], 1
        )
        low = (out > 200) & (out <= 266) & (start[:, 1] < 446)
        bends = (
            (0, 120, 220, 330, 446),
            (5.0, 12.0, 5.0, 13.0, 4.0) if side < 0 else (9.0, 5.0, 13.0, 8.0, 4.0),
        )
        moved[low, 0] -= side * share * CubicSpline(*bends)(start[low, 1])
    return moved


def _neckline() -> Floats:
    right = bezier([(0, 604), (50, 604), (80, 640), (88, 712)], 200)
    return np.concatenate([right[::-1] * (-1, 1), right])


def _distance(points: Floats, line: Floats) -> Floats:
    return np.asarray(cKDTree(line).query(points)[0])


def _nape() -> Mesh:
    """The inside of the back seen through the neck, with the collar's rib along its upper edge."""
    upper = bezier([(-92, 711), (-60, 690), (60, 690), (92, 711)], 80)
    lower = bezier([(98, 690), (92, 540), (-92, 540), (-98, 690)], 80)
    ring = np.concatenate([upper, lower])
    rest, faces, _ = triangulated(ring, 1.6, 44)
    rib = _distance(rest, bezier([(-92, 711), (-60, 690), (60, 690), (92, 711)], 400))
    rise = 1.2 + 1.6 / (1 + np.exp((rib - 17.0) / 0.6)) * (1 - 0.6 * np.exp(-((rib / 2.5) ** 2)))
    points = np.column_stack([rest, rise])
    normals = vertex_normals(points, faces)
    if normals[:, 2].mean() < 0:
        faces, normals = faces[:, ::-1], -normals
    return Mesh(points, normals, faces, rest)


TEXTILES: dict[str, Callable[[], Textile]] = {
    "cushion": cushion, "tea-towel": tea_towel, "tote-bag": tote_bag, "t-shirt": t_shirt,
}  # fmt: skip
