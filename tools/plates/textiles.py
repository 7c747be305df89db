"""Cloth goods: cushion, tea towel, tote bag and T-shirt, simulated from their flat cut. Millimetres.

Rest coordinates are the cloth's own: x to the right, y up, as the piece lies on a cutting table. They are
what print areas are measured in, so art follows every fold exactly.
"""

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
from cloth import Cloth, Forces, Simulator, depth, double, fine_sheet, triangulated, vertex_normals
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline
from scipy.ndimage import gaussian_filter
from scipy.spatial import cKDTree
from solids import Mesh, bezier

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


LINING = np.array([0.0, 0.0, 0.5])  # the back layer above the table
LAYER_MM = 1.6  # cloth above cloth, and cloth above the table


def _above(mesh: Mesh, smooth: Smooth, layers: float) -> tuple[Mesh, Smooth]:
    """A sheet and its surface lifted by so many layers of cloth."""
    rise = np.array([0.0, 0.0, layers * LAYER_MM])
    mesh.points = mesh.points + rise
    return mesh, lambda rest: np.asarray(smooth(rest) + rise)


def _upright(points: Floats, lean_deg: float) -> Floats:
    """Cloth lying flat stood up facing the camera, leaning back."""
    lift = np.radians(90 - lean_deg)
    x, y, z = points.T
    return np.stack([x, y * np.cos(lift) - z * np.sin(lift), y * np.sin(lift) + z * np.cos(lift)], 1)


def _back(cloth: Cloth, place: Smooth, weave: str) -> Piece:
    faces = cloth.faces[len(cloth.front) :]
    points = place(cloth.points)
    return Piece(Mesh(points, vertex_normals(points, faces), faces, cloth.rest * 1.0), weave)


def cushion(size: float = 450.0, thick: float = 150.0) -> Textile:
    """A knife-edge cushion: two squares sewn all round and filled."""
    half = size / 2
    square = np.array([[-half, -half], [half, -half], [half, half], [-half, half]])
    cloth = double(square, 5.0, 11, lambda p: np.ones(len(p), bool))
    sim = Simulator(cloth, stretch=60.0, bend=0.9)
    for _ in range(150):
        fill = max(0.0, 1 - np.ptp(cloth.points[:, 2]) / thick)
        sim.step(Forces(pressure=0.02 * fill, table=False), rounds=6)
    low = _upright(cloth.points, 9.0)[:, 2].min()

    def place(points: Floats) -> Floats:
        return _upright(points, 9.0) - (0, 0, low)

    def seam(rest: Floats) -> Floats:
        edge = depth(square, rest)
        return -0.8 * np.exp(-((edge / 2.0) ** 2)) * np.clip(edge / 1.5, 0, 1)

    mesh, smooth = fine_sheet(cloth, cloth.faces[cloth.front], square, 1.6, seam, 12)
    mesh.points, mesh.normals = place(mesh.points), _upright(mesh.normals, 9.0)
    other, _ = fine_sheet(cloth, cloth.faces[len(cloth.front) :], square, 1.6, seam, 12)
    back = Mesh(place(other.points), -_upright(other.normals, 9.0), other.faces[:, ::-1], other.uv)
    pieces = [Piece(mesh, "linen", True), Piece(back, "linen")]
    return Textile(pieces, lambda rest: place(smooth(rest)), square, size / 100.0, standing=True)


def _stitched(rest: Floats, edge: Floats, hem: float, raise_mm: float) -> Floats:
    """A folded hem: one more layer of cloth inside ``hem`` of the edge, and a stitch line on it."""
    step = 1 / (1 + np.exp((edge - hem) / 0.7))
    along = rest.sum(1)
    stitch = np.exp(-(((edge - hem + 2.2) / 0.7) ** 2)) * (0.45 + 0.25 * np.sin(along * 2 * np.pi / 3.2))
    return raise_mm * step - stitch * raise_mm * 0.8


def _ridged(low: float, high: float) -> Callable[[Floats], tuple[Floats, Floats]]:
    """Soft ridges across a sheet as a curve of unit speed: (along, up) of a length on the cloth."""
    t = np.linspace(low, high, 6001)
    up = np.zeros_like(t)
    for at, tall, wide in ((-205, 7.5, 40), (-92, 10.0, 58), (38, 6.0, 46), (121, 11.5, 52), (226, 6.5, 34)):
        up += tall * np.exp(-(((t - at) / wide) ** 2))
    slope = np.gradient(up, t)
    along = np.concatenate([[0], np.cumsum(np.sqrt(1 - ((slope[1:] + slope[:-1]) / 2) ** 2) * np.diff(t))])
    along -= np.interp(0.0, t, along)
    return lambda s: (CubicSpline(t, along)(s), CubicSpline(t, up)(s))


def tea_towel(wide: float = 500.0, high: float = 700.0) -> Textile:
    """A towel laid on the table in soft ridges, hemmed all round, with a hanging loop.

    Bent only one way, so the cloth is neither stretched nor squeezed anywhere.
    """
    a, b = wide / 2, high / 2
    cut = np.array([[-a, -b], [a, -b], [a, b], [-a, b]])
    lean = np.radians(8.0)
    way, cross = np.array([np.cos(lean), -np.sin(lean)]), np.array([np.sin(lean), np.cos(lean)])
    curve = _ridged(-a - b, a + b)

    def surface(rest: Floats) -> Floats:
        along, up = curve(rest @ way)
        return np.column_stack([along[:, None] * way + (rest @ cross)[:, None] * cross, up + 1.0])

    rest, faces, _ = triangulated(cut, 1.6, 23)
    places = surface(rest)
    edge = np.minimum(a - np.abs(rest[:, 0]), b - np.abs(rest[:, 1]))
    places = places + vertex_normals(places, faces) * _stitched(rest, edge, 12.0, 0.9)[:, None]
    mesh = Mesh(places, vertex_normals(places, faces), faces, rest)
    corner = surface(np.array([[-a + 14.0, b - 3.0]]))[0]
    loop = bezier([(-10.0, -4.0), (-16.0, 46.0), (18.0, 46.0), (9.0, -4.0)], 120) + corner[:2]
    pieces = [Piece(mesh, "linen", True), Piece(_ribbon(loop, 4.0, corner[2] + 0.6, 1.2), "canvas")]
    return Textile(pieces, surface, cut, high / 700.0)


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


def _settle(cloth: Cloth, steps: int, gravity: float, bend: float, pressure: float = 0.0) -> None:
    """Let a rumpled cloth come to rest; friction holds its corners."""
    low, high = cloth.rest.min(0), cloth.rest.max(0)
    corners = np.array([low, high, (low[0], high[1]), (high[0], low[1])])
    held = np.array([int(np.linalg.norm(cloth.rest - c, axis=1).argmin()) for c in corners])
    places = cloth.points[held] * (1, 1, 0)
    sim = Simulator(cloth, stretch=60.0, bend=bend, pins=held)
    for k in range(steps):
        puff = pressure if k < steps * 0.6 else pressure * 0.25
        sim.step(Forces(gravity=gravity, pressure=puff, damping=0.85), places, rounds=6)


def _ribbon(line: Floats, half: float, level: float, arch: float) -> Mesh:
    """A strip of tape along a curve on the table, rounded across."""
    way = np.gradient(line, axis=0)
    way /= np.linalg.norm(way, axis=1, keepdims=True)
    side = np.stack([-way[:, 1], way[:, 0]], 1)
    across = np.linspace(-1, 1, 21)
    flat = line[:, None] + side[:, None] * (across * half)[None, :, None]
    up = level + arch * (1 - across**6)
    points = np.concatenate([flat, np.broadcast_to(up[None, :, None], (*flat.shape[:2], 1))], 2)
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


def tote_bag(wide: float = 380.0, high: float = 420.0) -> Textile:
    """A canvas bag lying flat with its handles up."""
    a, b = wide / 2, high / 2
    cut = np.array([[-a, -b], [a, -b], [a, b], [-a, b]])
    cloth = double(cut, 6.0, 31, lambda p: p[:, 1] < b - 1)
    _waved(cloth, 32, squeeze=(0.985, 0.99), height=7.0, wave=90.0)
    _settle(cloth, 70, gravity=0.035, bend=7.0, pressure=0.0018)

    def hem(rest: Floats) -> Floats:
        top = _stitched(rest, b - rest[:, 1], 32.0, 1.3)
        box = np.maximum(np.abs(np.abs(rest[:, 0]) - 82.0) - 15.0, np.abs(rest[:, 1] - (b - 18.0)) - 15.0)
        return top + 1.4 / (1 + np.exp(box / 0.6)) - 0.6 * np.exp(-(((box + 2.5) / 0.7) ** 2))

    mesh, smooth = _above(*fine_sheet(cloth, cloth.faces[cloth.front], cut, 1.5, hem, 33), 1.4)
    top = float(smooth(np.array([[0.0, b - 4]]))[0, 2])
    pieces = [Piece(mesh, "canvas", True), _back(cloth, lambda p: p + LINING, "canvas")]
    for lift, level, lean in ((262.0, 0.4, 13.0), (244.0, top + 1.6, -4.0)):
        pieces.append(Piece(_ribbon(_handle(82.0, b - 6.0, lift, lean), 12.5, level, 2.0), "tape"))
    return Textile(pieces, smooth, cut, 660.0 / 700.0)


def _handle(half: float, low: float, lift: float, lean: float) -> Floats:
    turn = np.linspace(np.pi, 0, 400)
    x, y = np.cos(turn), np.sin(turn)
    x = np.sign(x) * np.abs(x) ** 0.8 * half
    y = np.abs(y) ** 0.62
    return np.stack([x + lean * y, low + lift * y], 1)


SHIRT_HIGH = 720.0


def shirt_outline() -> Floats:
    """The front of a size M shirt laid flat, 530 mm wide, y 0 at the hem: outline from the neck round."""
    neck = bezier([(92, 716), (80, 640), (48, 606), (0, 606)], 40)[::-1]
    right = np.concatenate([
        neck,
        bezier([(92, 716), (140, 700), (185, 686), (222, 672)], 20)[1:],
        bezier([(222, 672), (262, 656), (330, 590), (396, 512)], 30)[1:],
        bezier([(396, 512), (366, 466), (336, 420), (306, 374)], 24)[1:],
        bezier([(306, 374), (292, 402), (276, 432), (262, 446)], 14)[1:],
        bezier([(262, 446), (256, 400), (254, 280), (258, 150)], 30)[1:],
        bezier([(258, 150), (260, 90), (264, 40), (265, 0)], 14)[1:],
    ])  # fmt: skip
    left = right[::-1] * (-1, 1)
    return np.concatenate([right, left[:-1]])


def _sewn_shirt(points: Floats) -> NDArray[np.bool_]:
    x, y = np.abs(points[:, 0]), points[:, 1]
    neck = (y > 600) & (x < 91)
    cuff = (x > 307) & (y < 511 + (x - 396) * 1.533 + 6)
    return ~(neck | cuff | (y < 1))


def t_shirt() -> Textile:
    """A shirt laid flat, sleeves drawn down a little so that cloth gathers at the armpits."""
    cut = shirt_outline()
    cloth = double(cut, 8.0, 41, _sewn_shirt)
    rng = np.random.default_rng(42)
    cloth.points[:, 2] += np.abs(gaussian_filter(rng.normal(size=len(cloth.points)), 1.0)) * 0.6
    x, y = np.abs(cloth.rest[:, 0]), cloth.rest[:, 1]
    cuffs = (x > 300) & (y < 514 + (x - 396) * 1.533)
    hold = np.flatnonzero((y > 690) | cuffs | ((y < 14) & (x > 225)))
    start = cloth.points[hold].copy()
    sim = Simulator(cloth, stretch=60.0, bend=5.0, pins=hold)
    for k in range(90):
        share = min(1.0, k / 45)
        puff = 0.0022 * (1 - share)
        sim.step(Forces(gravity=0.03, pressure=puff, damping=0.85), _drawn(start, share), rounds=6)
    neck = _neckline()

    def seams(rest: Floats) -> Floats:
        x, y = np.abs(rest[:, 0]), rest[:, 1]
        rib = _distance(rest, neck)
        collar = 1.3 / (1 + np.exp((rib - 19.0) / 0.6)) * (1 - 0.7 * np.exp(-((rib / 2.5) ** 2)))
        collar -= 0.35 * np.exp(-(((rib - 22.5) / 0.6) ** 2))
        cuff = _distance(rest, np.stack([np.linspace(306, 396, 200), np.linspace(374, 512, 200)], 1))
        cuff = np.where(x > 250, cuff, 99.0)
        drop = np.clip((672 - y) / 226, 0, 1)
        sleeve = np.abs(x - 224 + 26 * np.sin(np.pi * drop * 0.8) - 38 * drop**4)
        armhole = np.where((y > 447) & (y < 676), 0.8 * np.exp(-((sleeve / 1.6) ** 2)), 0)
        return collar + _stitched(rest, y, 22.0, 0.8) + _stitched(rest, cuff, 20.0, 0.8) - armhole

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
    """Where the pinned points go: sleeves turned down about the shoulders, hem corners drawn in."""
    moved = start.copy()
    for side in (-1, 1):
        arm = (start[:, 0] * side > 280) & (start[:, 1] > 200)
        hinge = np.array([side * 215.0, 665.0])
        turn = -side * np.radians(4.5) * share
        away = start[arm, :2] - hinge
        c, s = np.cos(turn), np.sin(turn)
        moved[arm, :2] = hinge + away @ np.array([[c, s], [-s, c]])
    low = start[:, 1] < 14
    moved[low, 0] *= 1 - 0.015 * share
    return moved


def _neckline() -> Floats:
    right = bezier([(0, 606), (48, 606), (80, 640), (92, 716)], 200)
    return np.concatenate([right[::-1] * (-1, 1), right])


def _distance(points: Floats, line: Floats) -> Floats:
    return np.asarray(cKDTree(line).query(points)[0])


def _nape() -> Mesh:
    """The inside of the back seen through the neck, with the collar's rib along its upper edge."""
    upper = bezier([(-94, 714), (-60, 690), (60, 690), (94, 714)], 80)
    lower = bezier([(98, 690), (92, 540), (-92, 540), (-98, 690)], 80)
    ring = np.concatenate([upper, lower])
    rest, faces, _ = triangulated(ring, 1.6, 44)
    rib = _distance(rest, bezier([(-94, 714), (-60, 690), (60, 690), (94, 714)], 400))
    rise = 1.2 + 1.6 / (1 + np.exp((rib - 17.0) / 0.6)) * (1 - 0.6 * np.exp(-((rib / 2.5) ** 2)))
    points = np.column_stack([rest, rise])
    normals = vertex_normals(points, faces)
    if normals[:, 2].mean() < 0:
        faces, normals = faces[:, ::-1], -normals
    return Mesh(points, normals, faces, rest)


TEXTILES: dict[str, Callable[[], Textile]] = {
    "cushion": cushion, "tea-towel": tea_towel, "tote-bag": tote_bag, "t-shirt": t_shirt,
}  # fmt: skip
