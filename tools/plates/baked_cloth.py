"""Bake cloth goods, lit so that folds and weave show; the map from pixels to cloth is stored."""

import json
from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

import cv2
import mitsuba as mi
import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CloughTocher2DInterpolator, NearestNDInterpolator

from tools.plates import layers, shirt, stage, textiles, weave
from tools.plates.baker import Baker
from tools.plates.sewn import Piece, Textile
from tools.plates.solids import Mesh
from tools.plates.views import View

Floats = NDArray[np.float64]
STRIDE = 4  # pixels between stored places of the cloth map
FUZZ = {  # fibre ends scatter a little light before it is dyed: black cloth still shows its folds
    "type": "roughplastic", "distribution": "ggx", "alpha": 0.55, "int_ior": 1.20, "nonlinear": False,
}  # fmt: skip
ANCHOR: dict[str, dict[str, Any]] = {  # the print area's middle (x) and top or middle (y) in rest coordinates
    "cushion": {"x_mm": 0.0, "y_mm": 0.0, "from": "middle"},
    "tea-towel": {"x_mm": 0.0, "y_mm": 0.0, "from": "middle"},
    "tote-bag": {"x_mm": 0.0, "y_mm": -6.0, "from": "middle"},
    "t-shirt": {"x_mm": 0.0, "y_mm": shirt.PRINT_TOP, "from": "top"},
}


def bake_textile(baker: Baker, name: str, views: list[View]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Raw renders of one cloth good, one a view."""
    goods = textiles.TEXTILES[name]()
    for view in views:
        yield view.name, _plate(baker, name, goods, view)


def cloth_camera(goods: Textile, view: View) -> Any:
    """The camera of a view."""
    points = np.concatenate([p.mesh.points for p in goods.pieces])
    up = (0.0, 0.0, 1.0) if goods.standing or view.elevation_deg < 89 else (0.0, 1.0, 0.0)
    return stage.framed(
        points[:: max(1, len(points) // 40000)], view.azimuth_deg, view.elevation_deg, 3400.0, view.share, up
    )


def lights_of(goods: Textile) -> dict[str, Any]:
    """The lights that a cloth good is pictured under."""
    if goods.standing:
        return stage.cushion_lights(goods.scale, 225.0)
    return (stage.overhead_lights if goods.worn else stage.lying_lights)(goods.scale)


def _plate(baker: Baker, name: str, goods: Textile, view: View) -> dict[str, Any]:
    camera = cloth_camera(goods, view)
    lights = lights_of(goods)
    weaves = weave.textures()
    shapes = {
        f"part{k}": stage.shape(
            piece.mesh, cloth_material(weaves[piece.weave], layers.BODY_ALBEDOS), f"part{k}"
        )
        for k, piece in enumerate(goods.pieces)
    }
    raw: dict[str, Any] = {"render": baker.render({**lights, **shapes}, camera)}
    raw["empty"] = baker.render(lights, camera, share=0.3)
    told = {f"part{k}": stage.shape(p.mesh, _told_apart(p), f"part{k}") for k, p in enumerate(goods.pieces)}
    raw["shares"], raw["normals"] = baker.shares(told, camera, share=3.0)  # the outline's smoothness
    shown = shown_cloth(baker, goods, camera)
    raw["warp"], frame = cloth_map(goods, camera, baker.size, shown)
    raw["printable"] = raw["shares"][..., 1] * agrees(raw["warp"], frame, shown)
    raw["probe"] = _probe(goods, name)
    meta = {
        "name": name, "view": view.name, "size_px": baker.size, "camera": asdict(camera),
        "cloth": {**frame, "anchor": ANCHOR[name]}, "made": baker.made(),
    }  # fmt: skip
    if goods.worn or goods.standing:
        meta["look"] = layers.LOOK["shaped"]
    return {**raw, "meta": json.dumps(meta)}


def _probe(goods: Textile, name: str) -> Floats:
    """200 places of the printed cloth: rest x, y and where they are in space; tests project them."""
    rng = np.random.default_rng(200)
    low, high = goods.outline.min(0), goods.outline.max(0)
    middle = np.array(
        [ANCHOR[name]["x_mm"], ANCHOR[name]["y_mm"] - (200 if ANCHOR[name]["from"] == "top" else 0)]
    )
    half = np.minimum((high - low) / 2 - 45, 190)
    rest = middle + rng.uniform(-1, 1, (200, 2)) * half
    return np.column_stack([rest, goods.surface(rest)])


def cloth_material(woven: weave.Weave, albedos: tuple[float, float, float]) -> dict[str, Any]:
    """A weave's bumps and shades, with an albedo for each of the three channels."""

    def tiled(plane: Floats, values: tuple[float, float, float]) -> dict[str, Any]:
        tile = mi.ScalarTransform4f().scale([1 / weave.TILE_MM, 1 / weave.TILE_MM, 1])
        return {**stage.picture(plane[..., None] * np.array(values), "repeat"), "to_uv": tile}

    inner = {**FUZZ, "diffuse_reflectance": tiled(woven.shade, albedos)}
    return {"type": "twosided", "inner": {
        "type": "bumpmap", "arbitrary": tiled(woven.height, (1.0, 1.0, 1.0)), "bsdf": inner,
    }}  # fmt: skip


def _told_apart(piece: Piece) -> dict[str, Any]:
    """A material for shares of a pixel: red 1 on all cloth, green on the printed sheet."""
    colour = {"type": "rgb", "value": [1.0, float(piece.printed), 0.0]}
    return {"type": "twosided", "inner": {"type": "diffuse", "reflectance": colour}}


def shown_cloth(baker: Baker, goods: Textile, camera: Any) -> Floats:
    """The rest point that one ray through each pixel meets."""
    (hit,) = baker.places(_marked(goods), camera, per_side=1, passes=1)
    return np.asarray(hit[..., 3:5], np.float64)


def _marked(goods: Textile) -> dict[str, Any]:
    """Plain shapes whose uv tell the printed sheet (rest coordinates) from all else (far away)."""
    grey = {"type": "twosided", "inner": {"type": "diffuse"}}
    parts = {}
    for k, piece in enumerate(goods.pieces):
        mesh = piece.mesh
        assert mesh.uv is not None
        marked = Mesh(mesh.points, mesh.normals, mesh.faces, mesh.uv + (0 if piece.printed else 1e5))
        parts[f"part{k}"] = stage.shape(marked, grey, f"part{k}")
    return parts


def agrees(warp: NDArray[np.uint16], frame: dict[str, Any], shown: Floats) -> NDArray[np.bool_]:
    """Pixels whose stored place is the cloth a ray meets there (within 2 mm), or lies beyond all cloth.

    Where cloth turns under, the map is extrapolated, and art would reappear at the outline.
    """
    size, stride = len(shown), frame["stride"]
    corners = np.arange(len(warp) // 2) * float(stride)
    x, y = np.meshgrid(corners, corners)
    trend = np.stack([x, y, np.ones_like(x), x * x, x * y, y * y], -1) @ np.array(frame["trend"])
    rise = np.stack(np.split(warp, 2), -1) / 65535.0 * frame["span"] + frame["base"]
    to_corners = np.array([[1 / stride, 0, 0.5 / stride], [0, 1 / stride, 0.5 / stride]])
    flags = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    places = cv2.warpAffine(
        (trend + rise).astype(np.float32), to_corners, (size, size), None, flags, cv2.BORDER_REPLICATE
    )
    off = np.linalg.norm(places - shown, axis=2)
    other = (np.abs(shown).sum(2) < 1e-9) | (np.abs(shown) > 5e4).any(2)  # the table, or other pieces
    return cv2.erode((other | (off < 2.0)).astype(np.uint8), np.ones((3, 3), np.uint8)) > 0


def cloth_map(
    goods: Textile, camera: Any, size: int, shown: Floats
) -> tuple[NDArray[np.uint16], dict[str, Any]]:
    """Rest coordinates at every ``STRIDE``-th pixel corner, 16 bits each; outside the cloth, extrapolated.

    The smooth surface without hems is used: print areas lie inside them. ``shown`` (rest coordinates a
    ray found in each pixel) tells which of its points no fold hides.
    """
    low, high = goods.outline.min(0), goods.outline.max(0)
    rest = np.stack(np.meshgrid(np.arange(low[0], high[0], 1.25), np.arange(low[1], high[1], 1.25)), -1)
    places = goods.surface(rest.reshape(-1, 2)).reshape(*rest.shape[:2], 3)
    outward = np.cross(np.gradient(places, axis=1), np.gradient(places, axis=0))
    facing = (outward * (np.asarray(camera.eye) - places)).sum(2) > 0
    x, y = camera.project(places, size)
    with np.errstate(invalid="ignore"):
        near = facing & (x > -60) & (x < size + 60) & (y > -60) & (y < size + 60)
    rest, x, y = rest[near], x[near], y[near]
    column, row = (np.clip(v, 0, size - 1).astype(int) for v in (x, y))
    off = np.linalg.norm(shown[row, column] - rest, axis=1)
    inside = (x >= 0) & (x < size) & (y >= 0) & (y < size)
    open_to_view = ~inside | (off < 5.0)
    rest, x, y = rest[open_to_view], x[open_to_view], y[open_to_view]
    fit = np.column_stack([x, y, np.ones(len(x)), x * x, x * y, y * y])
    plane, *_ = np.linalg.lstsq(fit, rest, rcond=None)
    corners = np.arange(0, size + 1, STRIDE, dtype=float)
    gx, gy = np.meshgrid(corners, corners)
    known = np.column_stack([x, y]), rest - fit @ plane
    left = CloughTocher2DInterpolator(*known)(gx, gy)
    value = np.where(np.isnan(left), NearestNDInterpolator(*known)(gx, gy), left)
    # Stored against the trend, and no further than the cloth itself goes (at turned edges the surface through
    # its points overshoots by metres), so 16 bits reach 0.001 mm over folds of tens of millimetres.
    rise = np.clip(value, known[1].min(0), known[1].max(0))
    base, span = float(rise.min()), float(max(np.ptp(rise), 1e-3))
    coded = np.round((rise - base) / span * 65535).astype(np.uint16)
    stacked = np.concatenate([coded[..., 0], coded[..., 1]], 0)
    return stacked, {"stride": STRIDE, "base": base, "span": span, "trend": plane.tolist()}
