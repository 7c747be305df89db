"""Drinkware: mugs as signed distances, tumblers and glasses as lathe profiles. Millimetres."""

from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tools.plates.solids import Mesh, Strap, bezier, cut, drum, lathe, mesh_of, smooth_profile, union
from tools.plates.stage import neutral, picture

Floats = NDArray[np.float64]
Triple = tuple[float, float, float]
POWDER, MATT = 1.34, 1.24  # such coats mirror less than glaze, so dark ones stay dark


@dataclass
class Part:
    """A mesh and how it takes colour: the body's, the second's, split between both, or its own grey.

    A backed coat is the body's colour seen from both sides, through glass on its inner one.
    """

    mesh: Mesh
    paint: str  # "body", "backed", "second", "split", "own" or "glass"
    finish: dict[str, Any] = field(default_factory=dict)
    grey: float = 0.0


@dataclass
class Goods:
    """Everything a bake needs of one blank: parts and the printable side."""

    parts: list[Part]
    side: dict[str, float]  # top_mm, bottom_mm, height_mm, foot_mm of the printable side of revolution
    scale: float
    handle: bool = False


def glaze(alpha: float = 0.035, int_ior: float = 1.5) -> dict[str, Any]:
    """Glossy coating over a diffuse body; ``nonlinear`` off keeps the response linear in albedo."""
    return {
        "type": "roughplastic", "distribution": "ggx", "alpha": alpha, "int_ior": int_ior, "nonlinear": False,
    }  # fmt: skip


def steel(alpha_u: float, alpha_v: float) -> dict[str, Any]:
    """Stainless steel, brushed where the two roughnesses differ; grey, since the stage is neutral."""
    return {
        "type": "roughconductor", "distribution": "ggx", "alpha_u": alpha_u, "alpha_v": alpha_v,
        "eta": neutral(2.76), "k": neutral(3.54), "specular_reflectance": neutral(0.92),
    }  # fmt: skip


def painted(part: Part, body: Triple, second: Triple) -> dict[str, Any]:
    """The part's material with this triple of albedos for the body and for the second colour."""
    if part.paint == "glass":
        return dict(part.finish)
    if part.paint == "own":
        finish = dict(part.finish)
        if finish["type"] in ("roughplastic", "diffuse"):
            key = "diffuse_reflectance" if finish["type"] == "roughplastic" else "reflectance"
            finish[key] = neutral(part.grey)
        return {"type": "twosided", "inner": finish}
    colour: dict[str, Any] = {"type": "rgb", "value": list(second if part.paint == "second" else body)}
    if part.paint == "split":
        colour = picture(_step(body, second))
    outer = {**part.finish, "diffuse_reflectance": colour}
    if part.paint == "backed":
        return {"type": "twosided", "1_outer": outer, "2_inner": {"type": "diffuse", "reflectance": colour}}
    return {"type": "twosided", "inner": outer}


def told_apart(part: Part) -> dict[str, Any]:
    """A material for shares of a pixel: red 1 on goods, green on the second colour, blue where none is.

    The blue is for the denoiser, which then sees where steel, lids and glass begin.
    """
    body, second = (1.0, 0.0, 0.0), (1.0, 1.0, 0.0)
    colour: dict[str, Any] = {"type": "rgb", "value": list(second if part.paint == "second" else body)}
    if part.paint in ("glass", "own"):
        colour["value"] = [1.0, 0.0, 1.0]
    if part.paint == "split":
        colour = picture(_step(body, second))
    return {"type": "twosided", "inner": {"type": "diffuse", "reflectance": colour}}


def _step(body: Triple, second: Triple, cells: int = 256) -> Floats:
    values = np.empty((2, cells, 3))
    values[:, : cells // 2], values[:, cells // 2 :] = body, second
    return values


def mug(radius: float, high: float, wall: float = 3.6) -> Goods:
    """A straight ceramic mug with a D handle at +x; inside and handle can take the second colour."""
    k = high / 95.0
    grip = bezier(
        [(radius - 4, 79 * k), (radius + 12, 84 * k), (radius + 29, 80 * k), (radius + 29.5, 58 * k)]
    )
    low = bezier(
        [(radius + 29.5, 58 * k), (radius + 30, 39 * k), (radius + 17, 23 * k), (radius - 4, 19 * k)]
    )
    strap = Strap(np.concatenate([grip, low[1:]]), 6.2, 4.0, 2.6, 3.4)

    def outer(r: Floats, z: Floats) -> Floats:
        return drum(r, z, radius, 0, high, 4.0, 1.7)

    def body(x: Floats, y: Floats, z: Floats) -> Floats:
        r = np.hypot(x, y)
        whole = union(outer(r, z), strap(x, y, z), 9.0)
        inner = drum(r, z, radius - wall, 5.5, high + 60, 9.0, 1.0)
        foot = drum(r, z, radius - 7.0, -10, 1.4, 1.0, 1.0)
        return cut(cut(whole, -inner, 2.4), -foot, 1.5)

    mesh = mesh_of(body, (-radius - 2, -radius - 2, -1.5), (radius + 38, radius + 2, high + 2), 0.8)
    x, y, z = mesh.points.T
    r = np.hypot(x, y)
    # Where the second colour begins: distances in mm, positive on it; a sharp edge between vertices.
    inside = np.where(z > 3, (radius - wall * 0.55) - r, -5.0)
    handle = np.where(r > radius - 0.6, outer(r, z) - strap(x, y, z) + 1.5, -5.0)
    second = np.maximum(inside, handle)
    mesh.uv = np.stack([np.clip(0.5 + second / 16, 0, 1), np.full_like(second, 0.5)], 1)
    side = {"top_mm": radius, "bottom_mm": radius, "height_mm": high - 10.0, "foot_mm": 6.0}
    return Goods([Part(mesh, "split", glaze())], side, high / 95.0, handle=True)


def enamel_mug(radius: float, high: float) -> Goods:
    """A pressed-steel mug: thin wall, rolled rim in the second colour, flat strap handle."""
    grip = bezier([(radius - 1, 64), (radius + 13, 68), (radius + 27, 67), (radius + 27.5, 47)])
    low = bezier([(radius + 27.5, 47), (radius + 28, 30), (radius + 15, 15), (radius - 1, 15)])
    strap = Strap(np.concatenate([grip, low[1:]]), 8.2, 1.5, 1.6, 1.2)

    def body(x: Floats, y: Floats, z: Floats) -> Floats:
        r = np.hypot(x, y)
        outer = drum(r, z, radius, 0, high - 0.4, 5.0, 0.3)
        inner = drum(r, z, radius - 1.2, 1.4, high + 60, 5.0, 0.3)
        return cut(union(outer, strap(x, y, z), 4.0), -inner, 0.3)

    mesh = mesh_of(body, (-radius - 2, -radius - 2, -1), (radius + 33, radius + 2, high + 2), 0.5)
    mesh.uv = np.tile([0.1, 0.5], (len(mesh.points), 1))
    ring = np.linspace(0, 2 * np.pi, 97)
    bead = np.stack([radius - 1.3 + 1.75 * np.cos(ring), high + 1.55 * np.sin(ring)], 1)
    side = {"top_mm": radius, "bottom_mm": radius, "height_mm": high - 8.0, "foot_mm": 5.5}
    parts = [Part(mesh, "split", glaze(0.05)), Part(lathe(bead), "second", glaze(0.05))]
    return Goods(parts, side, high / 90.0, handle=True)


def _foot(radius: float, up: float, edge: float, wall: tuple[float, float]) -> Floats:
    """A profile from the axis to where the wall begins, on a smaller ring: the edge casts a shadow."""
    return smooth_profile([
        (0, 0, 0), (radius - 2.4, 0, 0.3), (radius - 2.0, up, 0.3), (radius, up, edge), (*wall, 0),
    ])  # fmt: skip


def tumbler(top: float, bottom: float, high: float, clearance: float, lip: float) -> Goods:
    """A tapered insulated tumbler: coated side, brushed-steel lip and inside. Radii at the side's ends."""
    foot_mm = high - clearance - lip
    slope = (top - bottom) / lip
    rim = top + slope * (clearance - 1.0)
    # The printable side must be exactly the cone: put its straight run in by hand.
    straight = np.stack([np.linspace(bottom, top, 120), np.linspace(foot_mm, foot_mm + lip, 120)], 1)
    low = bottom - slope * (foot_mm - 0.8)
    below = _foot(low, 0.8, 0.4 * foot_mm, (bottom, foot_mm))
    coat = np.concatenate([below[:-1], straight, [[top - 0.35, foot_mm + lip + 0.05]]])
    edge = high - clearance
    neck = smooth_profile([
        (top - 0.5, edge - 1.0, 0), (top - 0.45, edge + 0.3, 0), (rim - 0.3, high, 1.1),
        (rim - 2.2, high, 1.0), (top - 3.2, edge - 2, 6), (bottom - 4.2, 10, 9), (0, 8, 0),
    ])  # fmt: skip
    side = {"top_mm": top, "bottom_mm": bottom, "height_mm": lip, "foot_mm": foot_mm}
    parts = [
        Part(lathe(coat), "body", glaze(0.16, POWDER)),
        Part(lathe(neck), "own", steel(0.07, 0.22)),  # brushed round: streaks run up and down
    ]
    return Goods(parts, side, high / 105.0)


def shot_glass(top: float, bottom: float, lip: float, high: float, clearance: float) -> Goods:
    """A tapered glass with a heavy bottom, coated outside; inside and rim show the coat through glass."""
    foot_mm = high - clearance - lip
    slope = (top - bottom) / lip
    at = {z: bottom + slope * (z - foot_mm) for z in (0.0, foot_mm, high)}
    end = high - 1.3  # of the coat; above it the glass is fire-polished
    edge = at[high] - slope * 1.3
    straight = np.stack([np.linspace(at[0.0] + slope * 2.4, edge, 240), np.linspace(2.4, end, 240)], 1)
    below = _foot(at[0.0] + slope * 0.7, 0.7, 0.9, (at[0.0] + slope * 2.4, 2.4))
    glass = smooth_profile([
        (edge, end, 0), (at[high], high, 1.25), (at[high] - 2.6, high, 1.25), (at[high] - 3.2, high - 8, 4),
        (at[foot_mm] - 4.0, 11.5, 6), (0, 10.5, 0),
    ])  # fmt: skip
    side = {"top_mm": top, "bottom_mm": bottom, "height_mm": lip, "foot_mm": foot_mm}
    clear = {"type": "dielectric", "int_ior": 1.5}
    coat = lathe(np.concatenate([below[:-1], straight]))
    return Goods([Part(coat, "backed", glaze(0.03)), Part(lathe(glass), "glass", clear)], side, high / 78.0)


def travel_mug(radius: float, high: float) -> Goods:
    """A powder-coated steel mug without a handle: tapered foot, steel collar, dark lid with a spout."""
    coat_top = high - 24.0
    low = 46.0
    rise = np.linspace(1.6, low, 160)
    swell = np.clip((rise - 6) / (low - 6), 0, 1)
    foot = np.stack([radius - 7.5 * (1 - swell * swell * (3 - 2 * swell)), rise], 1)
    below = _foot(radius - 7.5, 0.8, 0.6, (radius - 7.5, 1.6))
    straight = np.stack([np.full(120, radius), np.linspace(low + 0.5, coat_top - 1.0, 120)], 1)
    coat = np.concatenate([below[:-1], foot, straight])
    coat = np.concatenate([coat, smooth_profile([(radius, coat_top - 1, 0), (radius, coat_top, 0.9),
                                                 (radius - 2.0, coat_top, 0)])[1:]])  # fmt: skip
    collar = smooth_profile([
        (radius - 1.6, coat_top - 2, 0), (radius - 1.6, coat_top + 3.4, 0.6), (radius - 4, coat_top + 3.4, 0),
    ])  # fmt: skip
    lid = smooth_profile([
        (radius - 1.6, coat_top + 3.2, 0), (radius - 0.2, coat_top + 3.6, 0.5), (radius - 1.2, high, 2.9),
        (radius - 7.0, high, 1.6), (radius - 8.6, high - 6.5, 2.5), (0, high - 8.0, 0),
    ])  # fmt: skip
    spout = mesh_of(
        lambda x, y, z: drum(np.hypot(x / 1.9, y), z, 7.0, high - 12, high - 5.6, 0.8, 1.2),
        (-15, -9, high - 13), (15, 9, high - 4), 0.4,
    )  # fmt: skip
    knob = Mesh(spout.points + np.array([0, 16.0, 0]), spout.normals, spout.faces)
    side = {"top_mm": radius, "bottom_mm": radius, "height_mm": coat_top - low - 2.0, "foot_mm": low + 0.6}
    black = glaze(0.22, MATT)
    parts = [
        Part(lathe(coat), "body", glaze(0.28, MATT)),
        Part(lathe(collar), "own", steel(0.08, 0.22)),
        Part(lathe(lid), "own", black, 0.018),
        Part(knob, "own", black, 0.014),
    ]
    return Goods(parts, side, high / 105.0)
