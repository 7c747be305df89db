"""A plate that the seller brings: nothing of it is believed before it was looked at."""

import io
import json
import zipfile
from typing import Any

import cv2
import numpy as np
from PIL import Image

from hundredfold.catalogue.forms import Form
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.mockups.plate import Plate, read_plate
from hundredfold.mockups.surface import Side

PLANES = ("cover", "printable", "response", "bounce", "gloss", "shade", "glow")
_WHOLE_FRAME = ("shade", "glow")  # these cover the shade's box
_LARGEST_PX, _SMALLEST_PX = 4000, 200
_MOST_BYTES = 64 << 20  # of all members unpacked
_FIX = "put a whole copy of the plate there, or take [plate] out of the blank's file"
# What reading wrong bytes raises in zipfile, json, NumPy, OpenCV and Pillow, and in the records made of it.
_WRONG = (
    zipfile.BadZipFile, KeyError, ValueError, TypeError, IndexError, AttributeError, OverflowError,
    RecursionError, NotImplementedError, RuntimeError, OSError, EOFError, cv2.error,
    Image.DecompressionBombError,
)  # fmt: skip


def read_own_plate(data: bytes, file: str, form: Form, view: str) -> Plate:
    """A plate of the shop folder for a form's view; ``file`` is its name there.

    Raises ShopError ``bad-plate``: damaged, of another view, or of goods of another kind.
    """
    try:
        _look(data, view)
        plate = read_plate(data, file)
        _finite(plate)
    except ShopError as problem:
        raise _bad(file, f"it is no whole plate ({problem.__cause__ or problem.what})") from problem
    except _WRONG as problem:
        raise _bad(file, f"it is no whole plate ({problem or type(problem).__name__})") from problem
    if isinstance(plate.surface, Side) is not form.traits.drinkware:
        held = "a round side" if isinstance(plate.surface, Side) else "cloth"
        raise _bad(file, f"it shows {held}, which a {form.value} has not")
    return plate


def _bad(file: str, what: str) -> ShopError:
    return ShopError("bad-plate", " ".join(what.split())[:300], _FIX, Where(file))


def _look(data: bytes, view: str) -> None:
    """Sizes as they are declared, before anything is unpacked. Raises ValueError and its kin."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        if sum(member.file_size for member in archive.infolist()) > _MOST_BYTES:
            raise ValueError(f"it unpacks to more than {_MOST_BYTES >> 20} MB")
        meta = json.loads(archive.read("meta.json"))
        if meta["view"] != view:
            raise ValueError(f"it is of the view {str(meta['view'])[:40]!r}, and {view!r} is wanted")
        size = meta["size_px"]
        if not isinstance(size, int) or not _SMALLEST_PX <= size <= _LARGEST_PX:
            raise ValueError(f"its frame is not {_SMALLEST_PX} to {_LARGEST_PX} pixels wide")
        boxes = {False: _box(meta["box"], size), True: _box(meta["shade_box"], size)}
        names = {name[:-5] for name in archive.namelist() if name.endswith(".webp")}
        if missing := sorted(set(PLANES) - names):
            raise ValueError(f"the plane {missing[0]} is missing")
        for name in sorted(names):
            with Image.open(io.BytesIO(archive.read(f"{name}.webp"))) as picture:
                if picture.size != boxes[name in _WHOLE_FRAME]:
                    raise ValueError(f"the plane {name} has another size than its box")
        if "cloth" in meta:
            _look_at_map(archive.read("warp.png"), meta["cloth"]["stride"], size)


def _look_at_map(data: bytes, stride: object, size: int) -> None:
    with Image.open(io.BytesIO(data)) as picture:
        wide, high = picture.size
    if not isinstance(stride, int) or not 1 <= stride <= 64 or high != 2 * wide:
        raise ValueError("its cloth map has another shape")
    if not size <= (wide - 1) * stride < size + 2 * stride:
        raise ValueError("its cloth map does not cover the frame")


def _box(value: Any, size: int) -> tuple[int, int]:
    left, top, right, bottom = value
    if not all(isinstance(edge, int) for edge in value):
        raise ValueError("a box is not of whole pixels")
    if not (0 <= left < right <= size and 0 <= top < bottom <= size):
        raise ValueError("a box lies outside the frame")
    return right - left, bottom - top


def _finite(plate: Plate) -> None:
    """Every number of the geometry and of the light is one. Raises ValueError."""
    camera, surface = plate.camera, plate.surface
    numbers = [*camera.eye, *camera.target, *camera.up, camera.fov_deg, *plate.peaks.values()]
    if isinstance(surface, Side):
        numbers += [surface.top_mm, surface.bottom_mm, surface.height_mm, surface.foot_mm, surface.middle_deg]
        if min(surface.top_mm, surface.bottom_mm, surface.height_mm) <= 0:
            raise ValueError("its side has no size")
    if not np.isfinite(np.asarray(numbers, np.float64)).all() or not 0 < camera.fov_deg < 180:
        raise ValueError("a number of its geometry is none")
