"""Direct renders with the art as a texture, to judge composites by: ``truth.py OUT ART.png --size 1500``.

ART.png is the whole print area of the 445 ml mug, straight alpha; ink is opaque. One linear render a colour
is written as OUT/COLOUR.npy; "albedos" is the bare mug at three albedos no plate was made from. No code is
shared with the compositor: uv come from the mesh's own vertices.
"""

import argparse
from pathlib import Path
from typing import Any

import cv2
import mitsuba as mi
import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
COLOURS = {"white": "f7f6f2", "black": "1d1d1f", "red": "b3282d", "teal": "1f6f78", "mustard": "d6a02c"}
UNSEEN = (0.2, 0.6, 0.86)
RADIUS, AREA_WIDE, AREA_HIGH, AREA_TOP = 43.5, 2693 * 25.4 / 300, 1181 * 25.4 / 300, 108.0
WHITEST = 0.86


def linear(values: Floats) -> Floats:
    """IEC 61966-2-1."""
    return np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4)


def albedo(art: NDArray[np.uint8], colour: str) -> tuple[Floats, Floats]:
    """The wall's texture and the bare body, for one colour."""
    if colour == "albedos":
        return np.broadcast_to(np.array(UNSEEN), (4, 4, 3)).copy(), np.array(UNSEEN)
    body = linear(np.array([int(colour[k : k + 2], 16) for k in (0, 2, 4)]) / 255) * WHITEST
    share = art[..., 3:] / 255.0
    return body * (1 - share) + linear(art[..., :3] / 255.0) * WHITEST * share, body


def split_wall(mesh: Any, middle_deg: float) -> tuple[Any, Any]:
    """The printable wall with its own uv, and everything else."""
    from solids import Mesh

    x, y, z = mesh.points.T
    angle = np.mod(np.arctan2(y, x) - np.radians(middle_deg) + np.pi, 2 * np.pi) - np.pi
    on = (np.abs(np.hypot(x, y) - RADIUS) < 0.01) & (z > 7.4) & (z < 109) & (np.abs(angle) < 2.75)
    wall = on[mesh.faces].all(1)
    uv = np.stack([angle * RADIUS / AREA_WIDE + 0.5, (AREA_TOP - z) / AREA_HIGH], 1)
    return (
        Mesh(mesh.points, mesh.normals, mesh.faces[wall], uv),
        Mesh(mesh.points, mesh.normals, mesh.faces[~wall], None),
    )


def main() -> None:
    """Parse and render."""
    parser = argparse.ArgumentParser()
    parser.add_argument("out", type=Path)
    parser.add_argument("art", type=Path)
    parser.add_argument("colours", nargs="*")
    parser.add_argument("--size", type=int, default=1500)
    parser.add_argument("--spp", type=int, default=1536)
    parser.add_argument("--variant", default="scalar_rgb")
    asked = parser.parse_intermixed_args()
    mi.set_variant(asked.variant)
    import stage
    import vessels
    from bake import ROUND, VIEWS, Baker
    from baked_round import framing

    goods = vessels.mug(*ROUND["mug-445"][1])
    view = VIEWS["mug-445"][0]
    (mesh,), camera = framing(goods, view)
    wall, rest = split_wall(mesh, 180.0 + view.turn_deg)
    art = cv2.cvtColor(cv2.imread(str(asked.art), cv2.IMREAD_UNCHANGED), cv2.COLOR_BGRA2RGBA)
    lights = stage.standing_lights(goods.scale, goods.side["foot_mm"] + goods.side["height_mm"] / 2)
    asked.out.mkdir(parents=True, exist_ok=True)
    for name in asked.colours or [*COLOURS, "albedos"]:
        texture, body = albedo(art, COLOURS.get(name, name))
        texture[:, [0, -1]] = body  # clamped beyond the area: bare body
        texture[[0, -1]] = body
        skin = {**vessels.glaze(), "diffuse_reflectance": stage.picture(texture)}
        bare = {**vessels.glaze(), "diffuse_reflectance": {"type": "rgb", "value": body.tolist()}}
        scene = {
            **lights,
            "wall": stage.shape(wall, {"type": "twosided", "inner": skin}, "wall"),
            "rest": stage.shape(rest, {"type": "twosided", "inner": bare}, "rest"),
        }
        np.save(asked.out / f"{name}.npy", Baker(asked.size, asked.spp).render(scene, camera))
        print(name, flush=True)


if __name__ == "__main__":
    main()
