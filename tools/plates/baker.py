"""Renders one blank's views with Mitsuba, passes with fixed seeds averaged."""

from collections.abc import Sequence
from typing import Any

import mitsuba as mi
import numpy as np
from numpy.typing import NDArray

from tools.plates import stage

Floats = NDArray[np.float32]


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
        return np.asarray(test.reshape(self.size, n, self.size, n).mean((1, 3)), np.float32)


def _loaded(scene: dict[str, Any]) -> Any:
    """A scene with its lights in the order given: merged, their order changes, and the noise with it."""
    return mi.load_dict({"type": "scene", **scene}, optimize=False)
