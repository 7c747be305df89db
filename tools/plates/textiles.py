"""Cloth goods: cushion, tea towel, tote bag and T-shirt, simulated from their flat cut. Millimetres.

Rest coordinates are the cloth's own: x to the right, y up, as the piece lies on a cutting table. They are
what print areas are measured in, so art follows every fold exactly.
"""

from collections.abc import Callable, Sequence

import numpy as np
from cloth import Cloth, Forces, Simulator, depth, double, fine_sheet, triangulated, vertex_normals
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline
from scipy.ndimage import gaussian_filter
from scipy.spatial import cKDTree
from sewn import Piece, Smooth, Textile, ribbon, stitched
from solids import Mesh, bezier

Floats = NDArray[np.float64]


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


def _tapered(half: float, taper: float) -> Floats:
    """A square whose sides curve in towards the corners by ``taper``, as covers are cut against dog-ears."""
    t = np.linspace(-1, 1, 81)[:-1]
    inset = taper * np.abs(t) ** 3
    side = np.stack([(half - taper) * t, -(half - inset)], 1)
    turns = [np.array([[0, 1], [-1, 0]]), np.array([[-1, 0], [0, -1]]), np.array([[0, -1], [1, 0]])]
    return np.concatenate([side, *(side @ turn for turn in turns)])


def cushion(size: float = 450.0, thick: float = 135.0) -> Textile:
    """A knife-edge cushion: two tapered squares sewn all round, filled, standing on its lower edge."""
    square = _tapered(size / 2, 15.0)
    cloth = double(square, 5.0, 11, lambda p: np.ones(len(p), bool))
    sim = Simulator(cloth, stretch=60.0, bend=1.8)
    for _ in range(150):
        fill = max(0.0, 1 - np.ptp(cloth.points[:, 2]) / thick)
        sim.step(Forces(pressure=0.02 * fill, table=False), rounds=6)
    low = np.percentile(_upright(cloth.points[cloth.rest[:, 1] < -size / 2 + 20], 9.0)[:, 2], 45)

    def place(points: Floats) -> Floats:
        stood = _upright(points, 9.0) - (0, 0, low)
        stood[:, 2] = 4.0 * np.logaddexp(
            0.0, np.nan_to_num(stood[:, 2]) / 4.0
        )  # what would sink is pressed flat
        return stood

    def seam(rest: Floats) -> Floats:
        edge = depth(square, rest)
        return -0.8 * np.exp(-((edge / 2.0) ** 2)) * np.clip(edge / 1.5, 0, 1)

    pieces = []
    for half in (cloth.front, np.arange(len(cloth.front), len(cloth.faces))):
        mesh, smooth = fine_sheet(cloth, cloth.faces[half], square, 1.6, seam, 12)
        mesh.points = place(mesh.points)
        mesh.normals = vertex_normals(mesh.points, mesh.faces)
        if not pieces:
            surface = smooth
        pieces.append(Piece(mesh, "linen", not pieces))
    return Textile(pieces, lambda rest: place(surface(rest)), square, size / 100.0, standing=True)


def _ridged(
    low: float, high: float, ridges: Sequence[tuple[float, float, float]]
) -> Callable[[Floats], tuple[Floats, Floats]]:
    """Soft ridges across a sheet as a curve of unit speed: (along, up) of a length on the cloth."""
    t = np.linspace(low, high, 6001)
    up = np.zeros_like(t)
    for at, tall, wide in ridges:
        up += tall * np.exp(-(((t - at) / wide) ** 2))
    slope = np.gradient(up, t)
    along = np.concatenate([[0], np.cumsum(np.sqrt(1 - ((slope[1:] + slope[:-1]) / 2) ** 2) * np.diff(t))])
    along -= np.interp(0.0, t, along)
    return lambda s: (CubicSpline(t, along)(s), CubicSpline(t, up)(s))


TOWEL_RIDGES = ((-205, 7.5, 40), (-92, 10.0, 58), (38, 6.0, 46), (121, 11.5, 52), (226, 6.5, 34))


def tea_towel(wide: float = 500.0, high: float = 700.0) -> Textile:
    """A towel laid on the table in soft ridges, hemmed all round, with a hanging loop.

    Bent only one way, so the cloth is neither stretched nor squeezed anywhere.
    """
    a, b = wide / 2, high / 2
    cut = np.array([[-a, -b], [a, -b], [a, b], [-a, b]])
    lean = np.radians(8.0)
    way, cross = np.array([np.cos(lean), -np.sin(lean)]), np.array([np.sin(lean), np.cos(lean)])
    curve = _ridged(-a - b, a + b, TOWEL_RIDGES)

    def surface(rest: Floats) -> Floats:
        along, up = curve(rest @ way)
        return np.column_stack([along[:, None] * way + (rest @ cross)[:, None] * cross, up + 1.0])

    rest, faces, _ = triangulated(cut, 1.6, 23)
    places = surface(rest)
    edge = np.minimum(a - np.abs(rest[:, 0]), b - np.abs(rest[:, 1]))
    places = places + vertex_normals(places, faces) * stitched(rest, edge, 12.0, 0.9)[:, None]
    mesh = Mesh(places, vertex_normals(places, faces), faces, rest)
    corner = surface(np.array([[-a + 14.0, b - 3.0]]))[0]
    loop = bezier([(-10.0, -4.0), (-16.0, 46.0), (18.0, 46.0), (9.0, -4.0)], 120) + corner[:2]
    pieces = [Piece(mesh, "linen", True), Piece(ribbon(loop, 4.0, corner[2] + 0.6, 1.2), "canvas")]
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


TOTE_RIDGES = (
    (-190, 4.0, 46), (-118, 6.5, 38), (-30, 3.0, 50), (44, 7.0, 44), (132, 4.0, 34), (205, 6.0, 48),
)  # fmt: skip


def tote_bag(wide: float = 380.0, high: float = 420.0) -> Textile:
    """A canvas bag lying flat in soft ridges, its handles up and sewn over the rim."""
    a, b = wide / 2, high / 2
    cut = np.array([[-a, -b], [a, -b], [a, b], [-a, b]])
    lean = np.radians(-13.0)
    way, cross = np.array([np.cos(lean), -np.sin(lean)]), np.array([np.sin(lean), np.cos(lean)])
    curve = _ridged(-a - b, a + b, TOTE_RIDGES)

    def surface(rest: Floats) -> Floats:
        along, up = curve(rest @ way)
        return np.column_stack([along[:, None] * way + (rest @ cross)[:, None] * cross, up + 4.0])

    def hem(rest: Floats) -> Floats:
        seam = np.minimum(a - np.abs(rest[:, 0]), rest[:, 1] + b)
        return stitched(rest, b - rest[:, 1], 32.0, 1.3) - 2.6 * np.exp(-((seam / 3.2) ** 2))

    rest, faces, _ = triangulated(cut, 1.5, 33)
    places = surface(rest)
    places = places + vertex_normals(places, faces) * hem(rest)[:, None]
    mesh = Mesh(places, vertex_normals(places, faces), faces, rest)
    under = Mesh(places * (1, 1, 0.3), mesh.normals, faces, rest)
    pieces = [Piece(mesh, "canvas", True), Piece(under, "canvas")]
    for lift, lean_mm, front in ((262.0, 13.0, False), (244.0, -4.0, True)):
        line = _handle(82.0, b - (30.0 if front else 4.0), lift, lean_mm)
        flat = surface(np.column_stack([line[:, 0], np.minimum(line[:, 1], b)]))
        on = 1 / (1 + np.exp((line[:, 1] - b - 14.0) / 7.0))  # 1 on the bag, falling to the table above it
        level = on * (flat[:, 2] + 1.5) + (1 - on) * 1.6 if front else np.full(len(line), 0.4)
        pieces.append(Piece(ribbon(line, 12.5, level, 1.7), "tape"))
    return Textile(pieces, surface, cut, 660.0 / 700.0)


def _handle(half: float, low: float, lift: float, lean: float) -> Floats:
    """A strap's middle: straight up from where it is sewn, then round in an arch."""
    turn = np.linspace(np.pi, 0, 400)
    x, y = np.cos(turn), np.sin(turn)
    x = np.sign(x) * np.abs(x) ** 0.8 * half
    y = np.abs(y) ** 0.62
    return np.stack([x + lean * y, low + lift * y], 1)


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
