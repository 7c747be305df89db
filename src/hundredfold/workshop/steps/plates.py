"""Plates from the package's files, and the pictures made with them. One process keeps what it loaded."""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import Blank, BlankColour, Body, PrintArea
from hundredfold.catalogue.channels import LengthUnit, PictureRules
from hundredfold.catalogue.processes import Process
from hundredfold.kernel.errors import ShopError
from hundredfold.mockups.compose import Base, base_of, mock_up
from hundredfold.mockups.contact import side_by_side
from hundredfold.mockups.files import as_jpeg
from hundredfold.mockups.fitting import pictured_body
from hundredfold.mockups.ink import Ink
from hundredfold.mockups.nearness import close_up
from hundredfold.mockups.plate import Plate, read_plate
from hundredfold.mockups.registry import PLATES, Role, plate_for, view_of
from hundredfold.mockups.rules import fitted
from hundredfold.mockups.sizing import Sizing, size_picture, sizing_of
from hundredfold.mockups.warp import Fetch, SeenArt, fetch_for, seen_art
from hundredfold.placement.place import Placement
from hundredfold.workshop.shop.ownplates import held
from hundredfold.workshop.shop.typefaces import find_font

Bytes = NDArray[np.uint8]

BASES_HELD = 6  # colours of a view ready at a time, some 30 MB each


@dataclass(frozen=True)
class OwnPlate:
    """A plate of the seller's: the sha256 of its file, and the whole body it was made of, in mm."""

    digest: str
    wide_mm: float
    high_mm: float


@lru_cache(maxsize=1)
def load_plate(name: str, view: str, own: OwnPlate | None = None) -> Plate:
    """A plate of the package, or the seller's ``own``, which this process holds.

    Raises ShopError ``no-plate`` (there is none) or ``bad-plate`` (damaged).
    """
    plate = read_plate(held(own.digest) if own else _plate_bytes(name, view), f"{name} {view}")
    made_of = own or next((entry for entry in PLATES if entry.name == name), None)
    if made_of is None:
        return plate
    surface = replace(plate.surface, wide_mm=made_of.wide_mm, high_mm=made_of.high_mm)
    return replace(plate, surface=surface)


@cache
def plate_digest(name: str, view: str) -> str:
    """sha256 of a plate's file, for a recipe's inputs."""
    return hashlib.sha256(_plate_bytes(name, view)).hexdigest()


def _plate_bytes(name: str, view: str) -> bytes:
    file = files("hundredfold") / "plates" / f"{name}.{view}.plate"
    if not file.is_file():
        raise ShopError("no-plate", f"there is no picture plate {name} {view}", "install hundredfold again")
    return file.read_bytes()


@dataclass(frozen=True)
class Shot:
    """What a picture shows: which blank in which colour, on which area, for which role; ``together`` are the
    colours of a picture of several."""

    blank: Blank
    area: PrintArea
    colour: BlankColour
    role: Role = Role.MAIN
    together: tuple[BlankColour, ...] = ()


def plate_of(shot: Shot) -> dict[str, str]:
    """The digest of a shot's plate, as a recipe's input. Raises ShopError ``no-plate``."""
    view = view_for(shot)
    return {"own plate": view.own.digest} if view.own else {"plate": plate_digest(view.name, view.view)}


@dataclass(frozen=True)
class View:
    """What a plate is mapped for once: its view, whether nearer, and the print area of a body."""

    name: str
    view: str
    close: bool
    area: PrintArea
    body: Body
    own: OwnPlate | None = None

    def plate(self) -> Plate:
        """Its plate. Raises as ``load_plate``."""
        return load_plate(self.name, self.view, self.own)


def view_for(shot: Shot) -> View:
    """The view a shot is taken with. Raises ShopError ``no-plate``."""
    entry = plate_for(shot.blank, shot.area)
    close = shot.role is Role.CLOSE_UP
    view, body = view_of(entry, shot.role), pictured_body(shot.blank, shot.area)
    digest = dict(entry.files).get(view)
    own = OwnPlate(digest, entry.wide_mm, entry.high_mm) if digest else None
    return View(entry.name, view, close, shot.area, body, own)


@lru_cache(maxsize=2)
def _mapped(view: View) -> tuple[Plate, Fetch]:
    plate = view.plate()
    fetch = fetch_for(plate, view.area, view.body)
    if view.close:
        plate = plate.closer(*close_up(plate, fetch.box))
        fetch = fetch_for(plate, view.area, view.body)
    return plate, fetch


@lru_cache(maxsize=BASES_HELD)
def _base(view: View, colour: BlankColour, process: Process) -> Base:
    return base_of(_mapped(view)[0], colour, process)


@lru_cache(maxsize=2)
def _sizing(view: View, blank: Blank, unit: LengthUnit) -> Sizing:
    return sizing_of(_mapped(view)[0], blank, view.area, (find_font("Oswald"),), unit)


def let_go() -> bool:
    """Forget plates, maps and bases: other work needs their memory. Whether there was anything to forget."""
    caches = (_base, _sizing, _mapped, load_plate)
    held = any(each.cache_info().currsize for each in caches)
    for each in caches:
        each.cache_clear()
    return held


class Pictures:
    """Pictures of one design: its art is fetched once a view and reused for every colour.

    The last mock-up is kept: another channel's size and the size picture are made from it.
    """

    def __init__(self, art: Bytes) -> None:
        """``art``: the whole design, RGBA, straight alpha, sRGB-encoded."""
        self._ink = Ink(art)
        self._seen: tuple[object, SeenArt] | None = None
        self._made: tuple[object, Bytes] | None = None

    def picture(self, shot: Shot, placements: Sequence[Placement], unit: LengthUnit = LengthUnit.MM) -> Bytes:
        """The picture at the plate's size, RGB, to be left as it is; a size picture's lengths in ``unit``.

        Raises ShopError ``no-plate`` or ``bad-plate``.
        """
        view = view_for(shot)
        if shot.together:
            each = [
                self._mock_up(view, replace(shot, colour=one), tuple(placements)) for one in shot.together
            ]
            return side_by_side(each, load_plate(view.name, view.view).box)
        made = self._mock_up(view, shot, tuple(placements))
        if shot.role is Role.SIZE:
            return size_picture(made, _sizing(view, shot.blank, unit))
        return made

    def _mock_up(self, view: View, shot: Shot, placements: tuple[Placement, ...]) -> Bytes:
        wanted = (view, placements, shot.colour, shot.blank.process)
        if self._made is None or self._made[0] != wanted:
            if self._seen is None or self._seen[0] != (view, placements):
                self._seen = (view, placements), seen_art(self._ink, placements, _mapped(view)[1])
            base = _base(view, shot.colour, shot.blank.process)
            self._made = wanted, mock_up(base, self._seen[1])
        return self._made[1]


def picture(art: Bytes, shot: Shot, placements: Sequence[Placement], rules: PictureRules) -> bytes:
    """One finished JPEG for a channel: its size, its bytes. For many of one design use ``Pictures``."""
    return as_file(Pictures(art).picture(shot, placements, rules.lengths), rules)


def as_file(made: Bytes, rules: PictureRules) -> bytes:
    """A picture as the channel takes it."""
    return as_jpeg(fitted(made, rules), max_bytes=rules.max_bytes)
