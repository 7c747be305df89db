"""Direct renders with the art as a texture, which tests judge composites by.

``truth.py OUT ART.png PLATES [NAME ...] --spp 1024 --variant cuda_ad_rgb``. ART.png has straight alpha; ink
is opaque. Each named goods gives OUT/NAME.COLOUR.webp, the print area's part of the frame at the exposure of
its finished plate in PLATES, and OUT/NAME.json (the tests' about.json holds them together); the mug gives
also albedos.png, bare at three albedos no plate was made from, a quarter of the size. No code is shared with
the compositor: places on the art come from the mesh's own vertices.
"""

import argparse
import json
import zipfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import cv2
import mitsuba as mi
import numpy as np
from numpy.typing import NDArray

from tools.plates import baked_cloth, stage, textiles, vessels, weave
from tools.plates.baked_round import framing, lights_of, middle_deg, mirrored
from tools.plates.baker import Baker
from tools.plates.finish import denoised
from tools.plates.solids import Mesh
from tools.plates.views import ROUND, VIEWS

Floats = NDArray[np.float64]
COLOURS = {"white": "f7f6f2", "black": "1d1d1f", "red": "b3282d", "teal": "1f6f78", "mustard": "d6a02c"}
UNSEEN = (0.2, 0.6, 0.86)
WHITEST = 0.86
PER_MM = 300 / 25.4


@dataclass(frozen=True)
class Subject:
    """Goods, their print area (pixels at 300 dpi) and where on it the art lies: left, top, width, height.

    ``top_mm``: height of the area's upper edge above the table, or on cloth's rest coordinates.
    """

    view: str
    area: tuple[int, int]
    placed: tuple[int, int, int, int]
    top_mm: float = 0.0


SUBJECTS = {
    "mug-445": Subject("handle-right", (2693, 1181), (1717, 186, 874, 809), 108.0),
    "enamel-mug": Subject("handle-right", (2362, 768), (1607, 40, 743, 688), 71.0),
    "tumbler-600": Subject("front", (3253, 2053), (1190, 620, 874, 809)),
    "t-shirt": Subject("front", (3543, 4724), (471, 500, 2600, 2407), 535.0),
}


def linear(values: Floats) -> Floats:
    """IEC 61966-2-1."""
    return np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4)


def encoded(values: Floats) -> NDArray[np.uint8]:
    """The picture's tone (linear to 0.8, then a soft shoulder) in eight bits of IEC 61966-2-1."""
    toned = np.where(values < 0.8, values, 0.8 + 0.2 * (1 - np.exp((0.8 - values) / 0.2)))
    bright = np.where(toned <= 0.0031308, toned * 12.92, 1.055 * np.maximum(toned, 0) ** (1 / 2.4) - 0.055)
    return np.round(np.clip(bright, 0, 1) * 255).astype(np.uint8)


def albedo(art: NDArray[np.uint8], colour: str) -> tuple[Floats, Floats]:
    """The art's texture, bare beyond its border, and the bare body, for one colour."""
    if colour == "albedos":
        return np.broadcast_to(np.array(UNSEEN), (4, 4, 3)).copy(), np.array(UNSEEN)
    code = COLOURS[colour]
    body = linear(np.array([int(code[k : k + 2], 16) for k in (0, 2, 4)]) / 255) * WHITEST
    share = art[..., 3:] / 255.0
    texture = body * (1 - share) + linear(art[..., :3] / 255.0) * WHITEST * share
    texture[:, [0, -1]] = texture[[0, -1]] = body
    return texture, body


def on_art(subject: Subject, x_px: Floats, y_px: Floats) -> Floats:
    """Pixels of the area as shares of the art."""
    left, top, wide, high = subject.placed
    return np.stack([(x_px - left) / wide, (y_px - top) / high], 1)


def wall_uv(subject: Subject, side: dict[str, float], angle: Floats, z: Floats) -> Floats:
    """Places on the art of a wall's points: unrolled, as a rectangle or as the sector of a cone."""
    top, bottom, high = side["top_mm"], side["bottom_mm"], side["height_mm"]
    middle = subject.area[0] / 2
    if top == bottom:
        return on_art(subject, middle + angle * top * PER_MM, (subject.top_mm - z) * PER_MM)
    sine = (top - bottom) / np.hypot(top - bottom, high)
    far = (bottom + (top - bottom) * (z - side["foot_mm"]) / high) / sine  # from the apex
    x, y = far * np.sin(angle * sine), far * np.cos(angle * sine)
    # The sector's box, from the outer arc's middle to the inner arc's ends, is centred in the file.
    box = (top - bottom * np.cos(np.pi * sine)) / sine * PER_MM
    return on_art(subject, middle + x * PER_MM, (top / sine - y) * PER_MM + (subject.area[1] - box) / 2)


def vessel(name: str, subject: Subject) -> tuple[list[tuple[Any, Any]], Any, Any]:
    """Meshes (and whether they take the art), camera, and the goods."""
    kind, measures = ROUND[name]
    goods = getattr(vessels, kind)(*measures)
    view = next(v for v in VIEWS[name] if v.name == subject.view)
    meshes, camera = framing(goods, view)
    side, parts = goods.side, []
    for mesh, part in zip(meshes, goods.parts, strict=True):
        x, y, z = mesh.points.T
        angle = np.mod(np.arctan2(y, x) - np.radians(middle_deg(goods, view)) + np.pi, 2 * np.pi) - np.pi
        up = (z - side["foot_mm"]) / side["height_mm"]
        radius = side["bottom_mm"] + (side["top_mm"] - side["bottom_mm"]) * up
        on = (np.abs(np.hypot(x, y) - radius) < 0.01) & (up >= 0) & (up <= 1) & (np.abs(angle) < 2.75)
        wall = on[mesh.faces].all(1) & (part.paint in ("body", "split"))
        uv = wall_uv(subject, side, angle, z)
        if wall.any():
            parts.append((Mesh(mesh.points, mesh.normals, mesh.faces[wall], uv), "art"))
        parts.append((Mesh(mesh.points, mesh.normals, mesh.faces[~wall], mesh.uv), part))
    return parts, camera, goods


def vessel_scene(name: str, subject: Subject) -> Any:
    """A function from (texture, body) to shapes; camera, lights, the stage gloss mirrors, the art's mesh."""
    parts, camera, goods = vessel(name, subject)
    coat, lights = goods.parts[0].finish, lights_of(goods)

    def shapes(texture: Floats, body: Floats) -> dict[str, Any]:
        skin = {"type": "twosided", "inner": {**coat, "diffuse_reflectance": stage.picture(texture)}}
        triple = tuple(body.tolist())
        made = {}
        for k, (mesh, part) in enumerate(parts):
            material = skin if part == "art" else vessels.painted(part, triple, triple)
            made[f"part{k}"] = stage.shape(mesh, material, f"part{k}")
        return made

    mesh = next(mesh for mesh, part in parts if part == "art")
    return shapes, camera, lights, {**lights, "table": mirrored(goods)}, mesh


def cloth_scene(name: str, subject: Subject) -> Any:
    """The same for cloth: the printed sheet's rest coordinates are its own vertices' uv."""
    goods = textiles.TEXTILES[name]()
    view = next(v for v in VIEWS[name] if v.name == subject.view)
    camera = baked_cloth.cloth_camera(goods, view)
    lights = baked_cloth.lights_of(goods)
    heights = weave.textures()
    left, top, wide, high = subject.placed
    scale = np.diag([PER_MM / wide, -PER_MM / high, 1.0, 1.0])
    scale[:2, 3] = (subject.area[0] / 2 - left) / wide, (subject.top_mm * PER_MM - top) / high
    to_art = mi.ScalarTransform4f(scale)

    def shapes(texture: Floats, body: Floats) -> dict[str, Any]:
        made = {}
        for k, piece in enumerate(goods.pieces):
            cloth = baked_cloth.cloth_material(heights[piece.weave], tuple(body.tolist()))
            if piece.printed:
                cloth["inner"]["bsdf"]["diffuse_reflectance"] = {**stage.picture(texture), "to_uv": to_art}
            made[f"part{k}"] = stage.shape(piece.mesh, cloth, f"part{k}")
        return made

    sheet = next(p.mesh for p in goods.pieces if p.printed)
    assert sheet.uv is not None
    uv = on_art(
        subject, subject.area[0] / 2 + sheet.uv[:, 0] * PER_MM, (subject.top_mm - sheet.uv[:, 1]) * PER_MM
    )
    return shapes, camera, lights, None, Mesh(sheet.points, sheet.normals, sheet.faces, uv)


def seen(baker: Any, camera: Any, lights: dict[str, Any], goods: dict[str, Any], box: Any = None) -> Floats:
    """Linear light, without its last noise."""
    return denoised(baker.render({**lights, **goods}, camera, box=box)).astype(np.float64)


def mirrored_otherwise(baker: Any, made: Any, box: Any = None) -> Floats | float:
    """What it adds to goods to mirror another table than the white one: the difference on black ones."""
    shapes, camera, lights, mirrored, _ = made
    if mirrored is None:
        return 0.0
    black = shapes(np.zeros((4, 4, 3)), np.zeros(3))
    return seen(baker, camera, mirrored, black, box) - seen(baker, camera, lights, black, box)


def seen_box(mesh: Any, camera: Any, size: int, margin: int = 12) -> list[int]:
    """The frame's part that shows the art: left, top, right, bottom."""
    on = ((mesh.uv >= 0) & (mesh.uv <= 1)).all(1)
    x, y = camera.project(mesh.points[on], size)
    return [int(x.min()) - margin, int(y.min()) - margin, int(x.max()) + margin, int(y.max()) + margin]


def main() -> None:
    """Parse and render."""
    parser = argparse.ArgumentParser()
    parser.add_argument("out", type=Path)
    parser.add_argument("art", type=Path)
    parser.add_argument("plates", type=Path)
    parser.add_argument("names", nargs="*")
    parser.add_argument("--size", type=int, default=1500)
    parser.add_argument("--spp", type=int, default=1536)
    parser.add_argument("--variant", default="scalar_rgb")
    asked = parser.parse_intermixed_args()
    mi.set_variant(asked.variant)
    read = cv2.imread(str(asked.art), cv2.IMREAD_UNCHANGED)
    assert read is not None, f"{asked.art} cannot be read"
    art = np.asarray(cv2.cvtColor(read, cv2.COLOR_BGRA2RGBA), np.uint8)
    asked.out.mkdir(parents=True, exist_ok=True)
    for name in asked.names or SUBJECTS:
        subject = SUBJECTS[name]
        with zipfile.ZipFile(asked.plates / f"{name}.{subject.view}.plate") as archive:
            gain = json.loads(archive.read("meta.json"))["gain"]
        made = (vessel_scene if name in ROUND else cloth_scene)(name, subject)
        box = seen_box(made[-1], made[1], asked.size)
        about = {"box": box, "placed": subject.placed, "view": subject.view, "samples": asked.spp}
        shapes, camera, lights = made[:3]
        baker, coarse = Baker(asked.size, asked.spp), Baker(asked.size // 4, asked.spp * 4)
        added = mirrored_otherwise(baker, made, box)
        for colour in COLOURS:
            light = seen(baker, camera, lights, shapes(*albedo(art, colour)), box) + added
            webp = [cv2.IMWRITE_WEBP_QUALITY, 101]
            picture = np.ascontiguousarray(encoded(light * gain)[..., ::-1])
            cv2.imwrite(str(asked.out / f"{name}.{colour}.webp"), picture, webp)
            print(name, colour, flush=True)
        if name == "mug-445":
            bare = seen(coarse, camera, lights, shapes(*albedo(art, "albedos"))) + mirrored_otherwise(
                coarse, made
            )
            coded = np.round(np.sqrt(np.clip(bare[..., ::-1] / 2, 0, 1)) * 65535).astype(np.uint16)
            cv2.imwrite(str(asked.out / "albedos.png"), coded)
        (asked.out / f"{name}.json").write_text(json.dumps(about), encoding="utf-8")


if __name__ == "__main__":
    main()
