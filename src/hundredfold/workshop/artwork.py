"""One design, decoded once, made into everything wanted of it. Runs in a worker process."""

import hashlib
from dataclasses import dataclass, field
from functools import cached_property
from importlib.metadata import version
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from hundredfold.build.svgchild import rasterise_svg, svg_size
from hundredfold.catalogue.blanks import BlankColour
from hundredfold.catalogue.processes import Process
from hundredfold.designs.decode import Picture, decode
from hundredfold.designs.header import kind_by_name, kind_of
from hundredfold.designs.measure import facts_as_json, measure
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.mockups.flat import Ink, art_size, flat_preview
from hundredfold.placement.place import Placement
from hundredfold.placement.printfile import placed_art, print_file_of, resized
from hundredfold.workshop.memory import keep_freed_memory

Bytes = NDArray[np.uint8]

VECTOR_LONG_SIDE_PX = 3000  # an SVG is measured at this size; its print files are drawn at theirs


@dataclass(frozen=True)
class FactsWanted:
    """The design's facts, as the JSON of ``designs.measure``."""


@dataclass(frozen=True)
class PrintWanted:
    """The print file of one placement."""

    placement: Placement


@dataclass(frozen=True)
class PreviewWanted:
    """A flat preview, JPEG, of one placement in one blank colour."""

    placement: Placement
    colour: BlankColour
    process: Process
    width_px: int
    height_px: int


Wanted = FactsWanted | PrintWanted | PreviewWanted


@dataclass(frozen=True)
class ArtworkWork:
    """What to make of one art file. ``digest`` is the sha256 its bytes must still have."""

    path: str
    digest: str
    outputs: tuple[Wanted, ...]
    name: str = ""  # what messages call it; the path when empty


def produce(work: ArtworkWork) -> tuple[bytes, ...]:
    """The wanted outputs as bytes, in order; the same bytes every time.

    Raises ShopError ``art-changed`` when the file is no longer the one planned, ``art-missing`` when it
    cannot be read, and what decoding, drawing and encoding raise.
    """
    name = work.name or work.path
    data = _read(work.path, name)
    if hashlib.sha256(data).hexdigest() != work.digest:
        raise ShopError(
            "art-changed", "the file changed while the run was using it", "run the command again", Where(name)
        )
    keep_freed_memory()
    art = _Art(data, name)
    return tuple(art.make(wanted) for wanted in work.outputs)


def read_picture(data: bytes, name: str) -> Picture:
    """The pixels of any art file we take; an SVG is drawn 3,000 pixels on its longer side."""
    if kind_of(data) != "svg":
        return decode(data, name)
    width, height = svg_size(data, name)
    scale = VECTOR_LONG_SIDE_PX / max(width, height)
    size = max(1, round(width * scale)), max(1, round(height * scale))
    promised = kind_by_name(name)
    remarks = () if promised in ("svg", "") else (f"its name says {promised.upper()}, but it is SVG",)
    return Picture(
        pixels=rasterise_svg(data, *size, name=name),
        file_format="svg",
        bits=8,
        profile="",
        dpi=None,
        has_alpha=True,
        vector=True,
        remarks=remarks,
    )


def versions() -> dict[str, str]:
    """The libraries that touch the pixels, for a recipe's ``engines``."""
    names = ("numpy", "opencv-python-headless", "pillow", "pyvips-binary")
    return {name: version(name) for name in names}


@dataclass
class _Art:
    """The decoded art and what was already made of it."""

    data: bytes
    name: str
    _inks: dict[tuple[object, int, int], Ink] = field(default_factory=dict)

    @cached_property
    def picture(self) -> Picture:
        return read_picture(self.data, self.name)

    def make(self, wanted: Wanted) -> bytes:
        if isinstance(wanted, FactsWanted):
            digest = hashlib.sha256(self.data).hexdigest()
            return facts_as_json(measure(self.picture, digest, len(self.data)))
        if isinstance(wanted, PrintWanted):
            return self._print(wanted.placement)
        return self._preview(wanted)

    def _print(self, placement: Placement) -> bytes:
        art = self._drawn(placement) if self._is_svg else placed_art(self.picture, placement)
        try:
            return print_file_of(art, placement.area, placement.left_px, placement.top_px)
        except ShopError as error:
            raise ShopError(error.slug, error.what, error.fix, Where(self.name), error.exit_code) from None

    @property
    def _is_svg(self) -> bool:
        return kind_of(self.data) == "svg"

    def _drawn(self, placement: Placement) -> Bytes:
        """A vector design drawn at the printed size: no resizing, no softness."""
        width, height = svg_size(self.data, self.name)
        scale = VECTOR_LONG_SIDE_PX / max(width, height)
        across, down = max(1, round(width * scale)), max(1, round(height * scale))
        crop = placement.crop
        shares = (crop.left / across, crop.top / down, crop.right / across, crop.bottom / down)
        return rasterise_svg(self.data, placement.width_px, placement.height_px, shares, self.name)

    def _preview(self, wanted: PreviewWanted) -> bytes:
        placement = wanted.placement
        size = art_size(placement, wanted.width_px, wanted.height_px)
        key = (placement.crop, *size)
        if key not in self._inks:
            crop = placement.crop
            art = self.picture.pixels[crop.top : crop.bottom, crop.left : crop.right]
            self._inks[key] = Ink.of(resized(art, *size))
        return flat_preview(
            self._inks[key], placement, wanted.colour, wanted.width_px, wanted.height_px, wanted.process
        )


def _read(path: str, name: str) -> bytes:
    try:
        return Path(path).read_bytes()
    except OSError as error:
        raise ShopError(
            "art-missing",
            f"the file cannot be read ({error.strerror})",
            "put it back, or take the design out of the plan",
            Where(name),
        ) from None
