"""The seller's own plates: read when a shop is opened, kept by digest for whoever draws in this process."""

import hashlib
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.forms import Form, PlateSet, PrintedSide
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.mockups.ownplate import read_own_plate
from hundredfold.mockups.surface import Side
from hundredfold.workshop.shop.files import ShopFiles

_held: dict[str, bytes] = {}


def with_plate(files: ShopFiles, folder: Path, blank: Blank, blank_file: str) -> Blank:
    """The blank with its plates' digests, where it names its own.

    Raises ShopError ``no-plate`` (a view's file is missing), ``bad-plate``, ``file-unreadable``.
    """
    if blank.plate is None:
        return blank
    seen, side = [], None
    for view in blank.form.traits.views:
        path = folder / _file(blank.plate, view)
        if not files.is_file(path):
            what = f"there is no plate {files.name(path)}"
            fix = "put it there, or take [plate] out; without it the plate nearest to its form is used"
            raise ShopError("no-plate", what, fix, Where(blank_file, field="plate.name"))
        data = files.read(path)
        side = _side(data, files.name(path), blank.form, view)
        seen.append((view, hold(data)))
    return replace(blank, plate=replace(blank.plate, files=tuple(seen), side=side))


def paths_of(folder: Path, blank: Blank) -> dict[str, Path]:
    """Where a blank's own plates lie, by digest."""
    plate = blank.plate
    return {digest: folder / _file(plate, view) for view, digest in plate.files} if plate else {}


def hold(data: bytes) -> str:
    """Keep a plate's bytes for this process; their sha256."""
    digest = hashlib.sha256(data).hexdigest()
    _held[digest] = data
    return digest


def held(digest: str) -> bytes:
    """A plate's bytes. Raises KeyError for one that was not kept in this process."""
    return _held[digest]


def _file(plate: PlateSet, view: str) -> str:
    return f"{plate.name}.{view}.plate"


@lru_cache(maxsize=64)
def _side(data: bytes, name: str, form: Form, view: str) -> PrintedSide | None:
    """The printed side that a vessel's plate tells; None for cloth."""
    surface = read_own_plate(data, name, form, view).surface
    if not isinstance(surface, Side):
        return None
    return PrintedSide(2 * surface.top_mm, 2 * surface.bottom_mm, surface.height_mm, surface.foot_mm)
