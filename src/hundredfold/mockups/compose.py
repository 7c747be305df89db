"""The picture of the decorated blank: plate x colour x art, in linear light.

``I = C + a R`` for every pixel: C is gloss and whatever the second colour adds, R the light that falls on
the body (both fixed for a view and a colour), a the albedo there: the bare blank's or the ink's.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import BlankColour
from hundredfold.catalogue.processes import Process
from hundredfold.designs.facts import Box
from hundredfold.kernel.colour import Srgb, from_linear, linear_of
from hundredfold.mockups.plate import PLANES, Plate
from hundredfold.mockups.warp import Fetch, SeenArt

Bytes = NDArray[np.uint8]
Single = NDArray[np.float32]

COMPOSE_VERSION = 2
WHITEST = 0.86  # diffuse reflectance a full-white coat or underbase reaches
_STEPS = 8192  # of the tone table over 0..2 in linear light


def _tone(value: NDArray[np.float64]) -> NDArray[np.float64]:
    """A soft shoulder: linear to 0.8, then towards 1, so that highlights on white keep their shape."""
    return np.where(value < 0.8, value, 0.8 + 0.2 * (1 - np.exp(-(value - 0.8) / 0.2)))


_TONE = _tone(np.arange(_STEPS) / _STEPS * 2).astype(np.float32)
_TONE_SRGB = np.round(from_linear(_TONE.astype(np.float64)) * 255).astype(np.uint8)
_SRGB = np.round(from_linear(np.arange(_STEPS) / (_STEPS - 1)) * 255).astype(np.uint8)


@dataclass(frozen=True)
class Base:
    """A plate in one colour: the finished bare blank, and the albedos of body and second colour."""

    plate: Plate
    colour: BlankColour
    picture: Bytes
    body: Single
    second: Single


def albedo_of(colour: Srgb) -> Single:
    """Diffuse reflectance of a coat of this colour, linear RGB."""
    return (linear_of(colour) * WHITEST).astype(np.float32)


def still_and_light(planes: Mapping[str, Single], body: Single, second: Single) -> tuple[Single, Single]:
    """C and R of every pixel, RGB, for these albedos of body and second colour."""
    still = np.repeat(planes["gloss"][..., None], 3, 2)
    light = planes["response"][..., None] + planes["bounce"][..., None] * body
    if "second_response" in planes:
        still += second * planes["second_response"][..., None]
        still += second * second * planes["second_bounce"][..., None]
        light += planes["cross"][..., None] * second
    return still, light


def base_of(plate: Plate, colour: BlankColour) -> Base:
    """The bare blank in a colour; keep it for all designs of that view and colour."""
    body, second = albedo_of(colour.srgb), albedo_of(colour.second or colour.srgb)
    planes = {name: plate.linear(name) for name in PLANES if name in plate.planes}
    still, light = still_and_light(planes, body, second)
    cover = plate.planes["cover"].astype(np.float32)[..., None] / np.float32(255)
    seen = _TONE[_step(still + body * light)] * cover + _backdrop(plate, body) * (1 - cover)
    frame = np.full((plate.size_px, plate.size_px, 3), 255, np.uint8)
    _put(frame, plate.shade_box, _encoded(_shade(plate, body)))
    _put(frame, plate.box, _encoded(seen))
    return Base(plate, colour, frame, body, second)


def _shade(plate: Plate, body: Single) -> Single:
    """The table round the goods, 1 where it is pure white."""
    dark = (plate.planes["shade"].astype(np.float32) / np.float32(255)) ** 2
    table = (np.arange(256, dtype=np.float64) / 255) ** 2 * plate.peaks["glow"]
    glow = table.astype(np.float32)[plate.planes["glow"]]
    return np.minimum(dark[..., None] + glow[..., None] * body, 1).astype(np.float32)


def _backdrop(plate: Plate, body: Single) -> Single:
    """The shade on the plate's own box."""
    shade, inner, outer = _shade(plate, body), plate.box, plate.shade_box
    whole = np.ones((plate.size_px, plate.size_px, 3), np.float32)
    whole[outer.top : outer.bottom, outer.left : outer.right] = shade
    return whole[inner.top : inner.bottom, inner.left : inner.right]


def _step(linear: Single) -> NDArray[np.int32]:
    return np.asarray(np.clip(linear * np.float32(_STEPS / 2), 0, _STEPS - 1), np.int32)


def _encoded(linear: Single) -> Bytes:
    level = np.clip(linear * np.float32(_STEPS - 1) + np.float32(0.5), 0, _STEPS - 1)
    return np.asarray(_SRGB[level.astype(np.int32)], np.uint8)


def _put(frame: Bytes, box: Box, part: Bytes) -> None:
    frame[box.top : box.bottom, box.left : box.right] = part


def inked_albedo(words: NDArray[np.uint16], base: Base, process: Process) -> Single:
    """Albedo where the art lies: the ink's arithmetic of the process on the blank's own colour.

    Sublimation, and other inks without an underbase, only filter the blank: white art is bare blank.
    An underbase or a film hides the cloth; a laser shows bright metal.
    """
    ink = words.astype(np.float32)
    ink *= np.float32(1 / 65535)
    colour, alpha = ink[..., :3], ink[..., 3:]
    if process is Process.ENGRAVING:
        return np.asarray(base.body * (1 - alpha) + np.float32(0.58) * alpha)
    if process is Process.DTF or base.colour.underbase:
        return np.asarray(base.body * (1 - alpha) + np.float32(WHITEST) * colour)
    return np.asarray(base.body * (1 - alpha + colour))


def mock_up(base: Base, seen: SeenArt, fetch: Fetch, process: Process) -> Bytes:
    """The finished picture, RGB, sRGB-encoded, at the plate's size; only pixels under ink are worked on."""
    picture = base.picture.copy()
    touched = (seen.ink[..., 3] > 0) & (fetch.printable > 0)
    x, y, wide, high = cv2.boundingRect(touched.view(np.uint8))
    if not wide:
        return picture
    within = np.s_[y : y + high, x : x + wide]
    left, top = seen.box.left + x, seen.box.top + y
    part = np.s_[
        top - base.plate.box.top : top - base.plate.box.top + high,
        left - base.plate.box.left : left - base.plate.box.left + wide,
    ]
    albedo = inked_albedo(seen.ink[within], base, process)
    printed = fetch.printable[within]
    if printed.min() < 1:
        albedo = base.body + (albedo - base.body) * printed[..., None]
    still, light = still_and_light(
        {name: plane[within] for name, plane in fetch.planes.items()}, base.body, base.second
    )
    albedo *= light
    albedo += still
    fresh = _TONE_SRGB[_step(albedo)]
    whole = base.plate.planes["cover"][part] == 255
    target = picture[top : top + high, left : left + wide]
    cv2.copyTo(fresh, (touched[within] & whole).view(np.uint8), target)
    edge = touched[within] & ~whole
    if edge.any():
        target[edge] = _edges(base, albedo, part, edge)
    return picture


def _edges(base: Base, linear: Single, part: tuple[slice, slice], edge: NDArray[np.bool_]) -> Bytes:
    """Outline pixels: goods and backdrop mixed by the goods' share."""
    share = base.plate.planes["cover"][part][edge].astype(np.float32)[:, None] / np.float32(255)
    behind = _backdrop(base.plate, base.body)[part][edge]
    return _encoded(_TONE[_step(linear[edge])] * share + behind * (1 - share))
