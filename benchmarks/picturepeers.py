"""Two other ways to the same picture: plain floats, and a direct render of the decorated goods."""

import time
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import BlankColour, Body, PrintArea
from hundredfold.designs.facts import Box
from hundredfold.kernel.colour import from_linear, to_linear
from hundredfold.mockups.compose import Base, albedo_of, still_and_light
from hundredfold.mockups.plate import Plate
from hundredfold.placement.place import Placement

Bytes = NDArray[np.uint8]
Floats = NDArray[np.float32]
SAMPLES = 2  # a side in each pixel of the plain way


@dataclass(frozen=True)
class Plain:
    """What the plain way, too, may keep for a view: its maps, and its planes as floats."""

    plate: Plate
    box: Box
    x: Floats
    y: Floats
    planes: dict[str, Floats]


def plain_view(plate: Plate, area: PrintArea, body: Body, box: Box) -> Plain:
    """Exact maps of four samples a pixel, and linear planes."""
    x, y = plate.area_map(area, body, box, SAMPLES)
    left, top = box.left - plate.box.left, box.top - plate.box.top
    part = np.s_[top : top + box.height, left : left + box.width]
    planes = {name: plate.linear(name)[part] for name in plate.planes if name not in ("shade", "glow")}
    return Plain(plate, box, x.astype(np.float32), y.astype(np.float32), planes)


def plain_art(art: Bytes) -> Floats:
    """Premultiplied linear light."""
    alpha = art[..., 3:].astype(np.float32) / 255
    return np.concatenate([to_linear(art[..., :3] / 255).astype(np.float32) * alpha, alpha], -1)


def plain_picture(view: Plain, base: Base, colour: BlankColour, ink: Floats, placed: Placement) -> Bytes:
    """Whole-box float arithmetic, written as one would write it down; sublimation ink."""
    crop = placed.crop
    ink = ink[crop.top : crop.bottom, crop.left : crop.right]
    x = (view.x - placed.left_px) * (ink.shape[1] / placed.width_px) - 0.5
    y = (view.y - placed.top_px) * (ink.shape[0] / placed.height_px) - 0.5
    samples = cv2.remap(ink, x.astype(np.float32), y.astype(np.float32), cv2.INTER_LINEAR)
    seen = cv2.resize(samples, (view.box.width, view.box.height), interpolation=cv2.INTER_AREA)
    body, second = albedo_of(colour.srgb), albedo_of(colour.second or colour.srgb)
    still, light = still_and_light(view.planes, body, second)
    plate, box = view.plate, view.box
    left, top = box.left - plate.box.left, box.top - plate.box.top
    part = np.s_[top : top + box.height, left : left + box.width]
    share = plate.planes["printable"][part][..., None] / np.float32(255)
    albedo = body * (1 - share * (seen[..., 3:] - seen[..., :3]))
    linear = still + light * albedo
    toned = np.where(linear < 0.8, linear, 0.8 + 0.2 * (1 - np.exp(-(linear - 0.8) / 0.2)))
    shown = np.round(from_linear(toned) * 255).astype(np.uint8)
    picture = base.picture.copy()
    target = picture[box.top : box.bottom, box.left : box.right]
    whole = plate.planes["cover"][part] == 255
    target[whole] = shown[whole]
    return picture


@dataclass(frozen=True)
class Render:
    """A direct render on the processor: seconds a million samples, and its noise against a composite."""

    seconds_a_million: float
    samples: int
    psnr_db: float

    def samples_for(self, psnr_db: float) -> float:
        """Samples a pixel until noise is down to this; its variance falls as one over their number."""
        return float(self.samples * 10 ** ((psnr_db - self.psnr_db) / 10))


def rendered(size_px: int, samples: int) -> Render | None:
    """The bare white 445 ml mug by Mitsuba's scalar renderer; None where Mitsuba is not installed.

    Noise is that between two renders of other seeds, halved: no other picture comes in.
    """
    try:
        import mitsuba
    except ImportError:
        return None
    mitsuba.set_variant("scalar_rgb")
    from tools.plates import stage, vessels
    from tools.plates.baked_round import framing
    from tools.plates.views import ROUND, VIEWS

    goods = vessels.mug(*ROUND["mug-445"][1])
    (mesh,), camera = framing(goods, VIEWS["mug-445"][0])
    skin = {**vessels.glaze(), "diffuse_reflectance": stage.neutral(0.8)}
    scene = mitsuba.load_dict(
        {
            "type": "scene",
            "integrator": {"type": "path", "max_depth": 14, "rr_depth": 8, "hide_emitters": True},
            "sensor": stage.sensor(camera, size_px, samples, "box"),
            **stage.vessel_lights(goods.scale, goods.side["foot_mm"] + goods.side["height_mm"] / 2),
            "mug": stage.shape(mesh, {"type": "twosided", "inner": skin}, "mug"),
        }
    )
    start = time.process_time()
    first = np.array(mitsuba.render(scene, spp=samples, seed=1))[..., :3]
    second = np.array(mitsuba.render(scene, spp=samples, seed=2))[..., :3]
    spent = time.process_time() - start
    one, other = (from_linear(np.clip(image / 1.28, 0, 1)) for image in (first, second))
    noise = float(((one - other) ** 2).mean()) / 2
    return Render(spent / (2 * size_px**2 * samples / 1e6), samples, float(-10 * np.log10(noise)))
