"""One design, decoded once, made into everything wanted of it. Runs in a worker process."""

import hashlib
from dataclasses import dataclass, field
from functools import cached_property
from importlib.metadata import version
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.decode import Picture, decode
from hundredfold.designs.facts import Box
from hundredfold.designs.header import kind_by_name, kind_of
from hundredfold.designs.measure import alpha_of, facts_as_json, ink_box, measure
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.placement.layout import AreaLayout
from hundredfold.placement.printfile import cropped, print_bytes_of, print_file_of
from hundredfold.placement.sheet import ArtAt, sheet_of
from hundredfold.proofing.art.packing import measure_for_proof
from hundredfold.runner.allocator import keep_freed_memory
from hundredfold.runner.svgchild import rasterise_svg, svg_size
from hundredfold.workshop.steps.readingtrees import reading_trees
from hundredfold.workshop.steps.smallart import small_art

Bytes = NDArray[np.uint8]

LARGE_PX = 4_000_000
VECTOR_LONG_SIDE_PX = 3000  # an SVG is measured at this size; its print files are drawn at theirs


@dataclass(frozen=True)
class FactsWanted:
    """The design's facts, as the JSON of ``designs.measure``."""


@dataclass(frozen=True)
class PrintWanted:
    """The print file of one layout."""

    layout: AreaLayout


@dataclass(frozen=True)
class PrintBytesWanted:
    """How many bytes the print file of one layout has, in decimal digits; too many are no failure."""

    layout: AreaLayout


@dataclass(frozen=True)
class ProofFactsWanted:
    """What proofing measures beyond the facts, as ``proofing.art.packing`` packs it."""


@dataclass(frozen=True)
class SmallArtWanted:
    """The small copy that pictures are made from."""


Wanted = FactsWanted | ProofFactsWanted | SmallArtWanted | PrintBytesWanted | PrintWanted


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
    art = _Art(data, work.digest, name)
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
    digest: str
    name: str
    _drawn: dict[tuple[Box, int, int], Bytes] = field(default_factory=dict)

    @cached_property
    def picture(self) -> Picture:
        return read_picture(self.data, self.name)

    def make(self, wanted: Wanted) -> bytes:
        if isinstance(wanted, FactsWanted):
            return facts_as_json(measure(self.picture, self.digest, len(self.data)))
        if isinstance(wanted, ProofFactsWanted):
            pixels = self.picture.pixels
            return measure_for_proof(pixels, ink_box(alpha_of(pixels)), reading_trees())
        if isinstance(wanted, SmallArtWanted):
            return small_art(self.picture.pixels)
        return self._print(wanted)

    def _print(self, wanted: PrintWanted | PrintBytesWanted) -> bytes:
        layout, art_at = wanted.layout, self._vector if self._is_svg else self._cropped
        try:
            if isinstance(wanted, PrintBytesWanted):
                return str(print_bytes_of(sheet_of(layout, art_at), layout.area)).encode()
            return print_file_of(sheet_of(layout, art_at), layout.area)
        except ShopError as error:
            raise ShopError(error.slug, error.what, error.fix, Where(self.name), error.exit_code) from None

    @cached_property
    def _is_svg(self) -> bool:
        return kind_of(self.data) == "svg"

    @cached_property
    def _crops(self) -> ArtAt:
        return cropped(self.picture)

    def _cropped(self, crop: Box, width_px: int, height_px: int) -> Bytes:
        return self._once(self._crops, crop, width_px, height_px)

    def _vector(self, crop: Box, width_px: int, height_px: int) -> Bytes:
        return self._once(self._vector_at, crop, width_px, height_px)

    def _once(self, art_at: ArtAt, crop: Box, width_px: int, height_px: int) -> Bytes:
        """Art at a size it was wanted at before; large ones are not kept, memory being dear."""
        if width_px * height_px > LARGE_PX:
            return art_at(crop, width_px, height_px)
        key = (crop, width_px, height_px)
        if key not in self._drawn:
            self._drawn[key] = art_at(crop, width_px, height_px)
        return self._drawn[key]

    def _vector_at(self, crop: Box, width_px: int, height_px: int) -> Bytes:
        """A vector design drawn at the printed size: no resizing, no softness."""
        width, height = svg_size(self.data, self.name)
        scale = VECTOR_LONG_SIDE_PX / max(width, height)
        across, down = max(1, round(width * scale)), max(1, round(height * scale))
        shares = (crop.left / across, crop.top / down, crop.right / across, crop.bottom / down)
        return rasterise_svg(self.data, width_px, height_px, shares, self.name)


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
