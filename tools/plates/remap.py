"""Make the cloth maps of finished plates anew: ``python -m tools.plates.remap PLATES [NAME ...]``.

Nothing is rendered. What a map does not speak for (cloth turned away) is taken out of the printable
plane, too.

Cloth is shaped with fixed seeds, so the same cloth comes out; each plate's own probe points prove it
before its map is replaced.
"""

import argparse
import io
import json
import zipfile
from pathlib import Path

import cv2
import mitsuba as mi
import numpy as np
from numpy.typing import NDArray

from hundredfold.mockups.camera import Camera
from tools.plates import baked_cloth, layers, textiles
from tools.plates.baker import Baker


def main() -> None:
    """Parse, shape, prove, replace."""
    parser = argparse.ArgumentParser()
    parser.add_argument("plates", type=Path)
    parser.add_argument("names", nargs="*")
    parser.add_argument("--variant", default="scalar_rgb")
    asked = parser.parse_args()
    mi.set_variant(asked.variant)
    for name in asked.names or list(textiles.TEXTILES):
        goods = textiles.TEXTILES[name]()
        for path in sorted(asked.plates.glob(f"{name}.*.plate")):
            with zipfile.ZipFile(path) as archive:
                members = {m: archive.read(m) for m in archive.namelist()}
            meta = json.loads(members["meta.json"])
            probe = np.array(meta["probe"])
            if np.abs(goods.surface(probe[:, :2]) - probe[:, 2:]).max() > 2e-3:
                raise SystemExit(f"{path.name}: this is not the cloth that was rendered")
            eye, target, up = (tuple(meta["camera"][key]) for key in ("eye", "target", "up"))
            camera = Camera(eye, target, meta["camera"]["fov_deg"], up)
            shown = baked_cloth.shown_cloth(Baker(meta["size_px"], 1), goods, camera)
            warp, frame = baked_cloth.cloth_map(goods, camera, meta["size_px"], shown)
            meta["cloth"] = {**frame, "anchor": meta["cloth"]["anchor"]}
            members["printable.webp"] = _masked(
                members["printable.webp"], meta["box"], baked_cloth.agrees(warp, frame, shown)
            )
            members["meta.json"] = json.dumps(meta, sort_keys=True).encode()
            members["warp.png"] = cv2.imencode(".png", warp, [cv2.IMWRITE_PNG_COMPRESSION, 9])[1].tobytes()
            buffer = io.BytesIO()
            with zipfile.ZipFile(buffer, "w", zipfile.ZIP_STORED) as archive:
                for member, data in members.items():
                    layers.add_member(archive, member, data)
            path.write_bytes(buffer.getvalue())
            print(f"{path.name}: map of {len(members['warp.png']) / 1e3:.0f} kB", flush=True)


def _masked(plane: bytes, box: list[int], agreeing: NDArray[np.bool_]) -> bytes:
    """The printable plane without the pixels that the map does not speak for."""
    printable = cv2.imdecode(np.frombuffer(plane, np.uint8), cv2.IMREAD_COLOR)
    assert printable is not None
    left, top, right, bottom = box
    return layers.webp(np.asarray(printable[..., 0] * agreeing[top:bottom, left:right], np.uint8))


if __name__ == "__main__":
    main()
