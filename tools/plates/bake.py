"""Render plates: ``python tools/plates/bake.py OUT --size 1500 --spp 1536 --variant cuda_ad_rgb [NAME ...]``.

Variants: ``scalar_rgb`` (any machine), ``llvm_ad_rgb`` (CPU, LLVM 16 or newer), ``cuda_ad_rgb`` (NVIDIA).
Seeds are fixed; the same variant, sizes and versions give the same plates. OUT gets raw renders; finish.py
makes plates of them. See README.md here.
"""

import argparse
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import mitsuba as mi
import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float32]


@dataclass(frozen=True)
class View:
    """One picture of one blank: which way it is turned, from where, how large in the frame."""

    name: str
    turn_deg: float = 0.0  # the goods' own turn about the upright axis
    elevation_deg: float = 13.0
    azimuth_deg: float = 0.0
    share: float = 0.84


ROUND = {
    "mug-325": ("mug", (41.0, 95.0)),
    "mug-445": ("mug", (43.5, 118.0)),
    "enamel-mug": ("enamel_mug", (43.0, 80.0)),
    "tumbler-600": ("tumbler", (44.0, 36.0, 178.0, 12.0, 165.0)),
    "tumbler-880": ("tumbler", (49.0, 38.0, 206.0, 12.0, 190.0)),
    "shot-glass": ("shot_glass", (29.857, 24.5, 50.0, 58.0, 2.0)),
    "travel-mug": ("travel_mug", (40.0, 170.0)),
}
HANDLED = (View("handle-right", 0.0), View("handle-left", 180.0))
UPRIGHT = (View("front", 90.0, 9.0),)
VIEWS: dict[str, tuple[View, ...]] = {
    "mug-325": HANDLED, "mug-445": HANDLED, "enamel-mug": HANDLED,
    "tumbler-600": UPRIGHT, "tumbler-880": UPRIGHT, "travel-mug": UPRIGHT,
    "shot-glass": (View("front", 90.0, 15.0),),
    "cushion": (View("front", elevation_deg=8.0),),
    "tea-towel": (View("front", elevation_deg=89.99),),
    "tote-bag": (View("front", elevation_deg=89.99),),
    "t-shirt": (View("front", elevation_deg=89.99),),
}  # fmt: skip


class Baker:
    """Renders one blank's views with fixed seeds."""

    def __init__(self, size: int, spp: int) -> None:
        self.size, self.spp = size, spp

    def render(
        self, scene: dict[str, Any], camera: Any, share: float = 1.0, box: Sequence[int] | None = None
    ) -> Floats:
        """The scene's linear radiance, averaged over passes with seeds 0, 1, 2...

        ``box`` (left, top, right, bottom) renders that part of the frame alone.
        """
        path = {"type": "path", "max_depth": 14, "rr_depth": 8, "hide_emitters": True}
        return self._averaged(path, scene, camera, share, box)[..., :3]

    def _averaged(
        self, integrator: dict[str, Any], scene: dict[str, Any], camera: Any, share: float = 1.0,
        box: Sequence[int] | None = None,
    ) -> Floats:  # fmt: skip
        import stage

        left, top, right, bottom = box or (0, 0, self.size, self.size)
        sensor = stage.sensor(camera, self.size, 64, "box")
        sensor["film"].update(
            crop_offset_x=left, crop_offset_y=top, crop_width=right - left, crop_height=bottom - top
        )
        loaded = _loaded({"sensor": sensor, "integrator": integrator, **scene})
        spp = max(8, int(self.spp * share))
        each = max(1, min(spp, 64, 36_000_000 // self.size**2))
        passes = max(1, spp // each)
        total: Any = 0.0
        for seed in range(passes):
            total = total + np.array(mi.render(loaded, spp=each, seed=seed), np.float64)
        return np.asarray(total / passes, np.float32)

    def shares(self, parts: dict[str, Any], camera: Any, share: float = 1.0) -> tuple[Floats, Floats]:
        """Mean diffuse reflectance and normal of what pixels see, by the very samples of ``render``."""
        aov = self._averaged({"type": "aov", "aovs": "a:albedo,n:sh_normal"}, parts, camera, share)
        return aov[..., -6:-3], aov[..., -3:]

    def places(self, parts: dict[str, Any], camera: Any, per_side: int = 4, passes: int = 2) -> list[Floats]:
        """First hits on a grid of subpixels: (x, y, z, u, v, hit) arrays, one a pass."""
        import stage

        sensor = stage.sensor(camera, self.size * per_side, 1, "box")
        aov = {"type": "aov", "aovs": "p:position,t:uv"}
        loaded = _loaded({"sensor": sensor, "integrator": aov, **parts})
        return [np.array(mi.render(loaded, spp=1, seed=900 + k))[..., -5:] for k in range(passes)]

    def made(self) -> dict[str, Any]:
        """How a plate was rendered, for its meta."""
        return {"mitsuba": mi.__version__, "variant": mi.variant(), "samples": self.spp}

    def share(self, test: NDArray[np.bool_]) -> Floats:
        """Share of each pixel's subpixels that pass."""
        n = test.shape[0] // self.size
        return test.reshape(self.size, n, self.size, n).mean((1, 3)).astype(np.float32)


def _loaded(scene: dict[str, Any]) -> Any:
    """A scene with its lights in the order given: merged, their order changes, and the noise with it."""
    return mi.load_dict({"type": "scene", **scene}, optimize=False)


def main() -> None:
    """Parse and bake."""
    parser = argparse.ArgumentParser()
    parser.add_argument("out", type=Path)
    parser.add_argument("names", nargs="*")
    parser.add_argument("--size", type=int, default=1500)
    parser.add_argument("--spp", type=int, default=1024)
    parser.add_argument("--variant", default="scalar_rgb")
    asked = parser.parse_intermixed_args()
    mi.set_variant(asked.variant)
    from baked_cloth import bake_textile
    from baked_round import bake_round

    asked.out.mkdir(parents=True, exist_ok=True)
    baker = Baker(asked.size, asked.spp)
    for wanted in asked.names or list(VIEWS):
        name, _, only = wanted.partition("/")
        bake = bake_round if name in ROUND else bake_textile
        begin = time.perf_counter()
        for view, raw in bake(baker, name, [v for v in VIEWS[name] if only in ("", v.name)]):
            np.savez(asked.out / f"{name}.{view}.npz", **raw)
            print(f"{name} {view}: {time.perf_counter() - begin:.1f} s", flush=True)


if __name__ == "__main__":
    main()
