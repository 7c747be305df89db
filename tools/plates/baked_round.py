"""Bake drinkware: turned to the view, lit, rendered, its printable side found by where rays land."""

import json
from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tools.plates import layers, stage, vessels
from tools.plates.baker import Baker
from tools.plates.solids import Mesh
from tools.plates.views import ROUND, View

Floats = NDArray[np.float64]


def turned(mesh: Mesh, degrees: float) -> Mesh:
    """The mesh turned about the upright axis."""
    c, s = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    spin = np.array([[c, s, 0], [-s, c, 0], [0, 0, 1]])
    return Mesh(mesh.points @ spin, mesh.normals @ spin, mesh.faces, mesh.uv)


def bake_round(baker: Baker, name: str, views: list[View]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Raw renders of one vessel, one a view."""
    kind, measures = ROUND[name]
    goods = getattr(vessels, kind)(*measures)
    for view in views:
        yield view.name, _plate(baker, name, goods, view)


def framing(goods: vessels.Goods, view: View) -> tuple[list[Mesh], Any]:
    """The turned meshes and the camera of a view."""
    meshes = [turned(part.mesh, view.turn_deg) for part in goods.parts]
    points = np.concatenate([m.points for m in meshes])
    tall = max(float(np.ptp(points[:, 2])), 60.0)
    camera = stage.framed(
        points[:: max(1, len(points) // 40000)], view.azimuth_deg, view.elevation_deg, 8.5 * tall, view.share
    )
    return meshes, camera


def _plate(baker: Baker, name: str, goods: vessels.Goods, view: View) -> dict[str, Any]:
    meshes, camera = framing(goods, view)
    lights = lights_of(goods)

    def scene(body: vessels.Triple, second: vessels.Triple) -> dict[str, Any]:
        shapes = {
            f"part{k}": stage.shape(m, vessels.painted(p, body, second), f"part{k}")
            for k, (m, p) in enumerate(zip(meshes, goods.parts, strict=True))
        }
        return {**lights, **shapes}

    black = (0.0, 0.0, 0.0)
    raw: dict[str, Any] = {"render": baker.render(scene(layers.BODY_ALBEDOS, layers.BODY_ALBEDOS), camera)}
    raw["mirror"] = baker.render({**scene(black, black), "table": mirrored(goods)}, camera)
    raw["clear"] = any(part.paint == "glass" for part in goods.parts)
    raw["empty"] = baker.render(lights, camera, share=0.3)
    if any(part.paint in ("split", "second") for part in goods.parts):
        raw["body"] = baker.render(scene(layers.BODY_ALBEDOS, black), camera)
        raw["second"] = baker.render(scene(black, layers.BODY_ALBEDOS), camera)
    told = {
        f"part{k}": stage.shape(m, vessels.told_apart(p), f"part{k}")
        for k, (m, p) in enumerate(zip(meshes, goods.parts, strict=True))
    }
    raw["shares"], raw["normals"] = baker.shares(told, camera)
    raw["printable"] = _printable(baker, goods, meshes, camera)
    meta = {
        "name": name, "view": view.name, "size_px": baker.size, "camera": asdict(camera),
        "side": {**goods.side, "middle_deg": middle_deg(goods, view)}, "made": baker.made(),
    }  # fmt: skip
    return {**raw, "meta": json.dumps(meta)}


def lights_of(goods: vessels.Goods) -> dict[str, Any]:
    """Lights and the white table."""
    return stage.vessel_lights(goods.scale, goods.side["foot_mm"] + goods.side["height_mm"] / 2)


def mirrored(goods: vessels.Goods) -> dict[str, Any]:
    """What takes the table's place where gloss is rendered."""
    return stage.plinth(1.5 * goods.side["bottom_mm"])


def middle_deg(goods: vessels.Goods, view: View) -> float:
    """Where the layout's middle lies: opposite the handle, else facing the camera."""
    return (180.0 + view.turn_deg) % 360 if goods.handle else 270.0


def _printable(baker: Baker, goods: vessels.Goods, meshes: list[Mesh], camera: Any) -> Any:
    """The printed side's share of each pixel."""
    grey = {"type": "twosided", "inner": {"type": "diffuse"}}
    parts = {f"part{k}": stage.shape(m, grey, f"part{k}") for k, m in enumerate(meshes)}
    side = goods.side
    prints = []
    for hit in baker.places(parts, camera):
        x, y, z = (hit[..., k] for k in range(3))
        r = np.hypot(x, y)
        up = (z - side["foot_mm"]) / side["height_mm"]
        wall = side["bottom_mm"] + (side["top_mm"] - side["bottom_mm"]) * up
        away = x * (x - camera.eye[0]) + y * (y - camera.eye[1])
        prints.append(baker.share((np.abs(r - wall) < 0.06) & (up >= 0) & (up <= 1) & (away < 0)))
    return np.mean(prints, axis=0)
