"""One design, decoded once, made into everything wanted of it. Runs in a worker process."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import PrintArea
from hundredfold.designs.decode import Picture, decode
from hundredfold.designs.facts import Box
from hundredfold.designs.header import kind_by_name, kind_of
from hundredfold.designs.measure import alpha_of, facts_as_json, ink_box, measure
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.placement.layout import AreaLayout
from hundredfold.placement.printfile import cropped, print_bytes_of, print_file_of
from hundredfold.placement.sheet import ArtAt, sheet_of
from hundredfold.proofing.art.packing import measure_for_proof
from hundredfold.runner.allocator import give_back_memory, keep_freed_memory
from hundredfold.runner.inputs import Inputs
from hundredfold.runner.svgchild import rasterise_svg, svg_size
from hundredfold.runner.tasks import WorkPart
from hundredfold.workshop.steps.plates import let_go
from hundredfold.workshop.steps.readingtrees import reading_trees
from hundredfold.workshop.steps.smallart import small_art

Bytes = NDArray[np.uint8]

LARGE_PX = 4_000_000
VECTOR_LONG_SIDE_PX = 3000  # an SVG is measured at this size; its print files are drawn at theirs


@dataclass(frozen=True)
class ArtWanted:
    """What to make of a design's art: ``name`` is what messages call it, ``layout`` what a print file has."""

    name: str
    layout: AreaLayout | None = None


def make_from_art(parts: Sequence[WorkPart], inputs: Inputs) -> list[bytes]:
    """The outputs of these parts in order, each design decoded once; the same bytes every time.

    Raises ShopError ``art-changed`` when the file is no longer the one planned, ``art-missing`` when it
    cannot be read, and what decoding, drawing and encoding raise.
    """
    if let_go():
        give_back_memory()
    made: list[bytes] = []
    for digest, some in groupby(parts, key=lambda part: part.inputs["design art"]):
        art = None
        for part in some:
            wanted = part.wanted_as(ArtWanted)
            art = art or _opened(inputs, digest, wanted.name)
            made.append(art.make(part.step, wanted.layout))
    return made


def _opened(inputs: Inputs, digest: str, name: str) -> "Art":
    try:
        data = inputs.get(digest)
    except ShopError as error:
        raise ShopError(error.slug, error.what, error.fix, Where(name), error.exit_code) from None
    keep_freed_memory()
    return Art(data, digest, name)


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


@dataclass
class Art:
    """A design's art, decoded once, and what was already made of it. ``digest`` is the sha256 of ``data``."""

    data: bytes
    digest: str
    name: str
    _drawn: dict[tuple[Box, int, int], Bytes] = field(default_factory=dict)

    @cached_property
    def picture(self) -> Picture:
        """The pixels."""
        return read_picture(self.data, self.name)

    def make(self, step: str, layout: AreaLayout | None = None) -> bytes:
        """The output of a step that is made from art. Raises what decoding, drawing and encoding raise."""
        return _MADE[step](self, layout)

    def facts(self, _layout: AreaLayout | None) -> bytes:
        """The design's facts, as the JSON of ``designs.measure``."""
        return facts_as_json(measure(self.picture, self.digest, len(self.data)))

    def proof_facts(self, _layout: AreaLayout | None) -> bytes:
        """What proofing measures beyond the facts, as ``proofing.art.packing`` packs it."""
        pixels = self.picture.pixels
        return measure_for_proof(pixels, ink_box(alpha_of(pixels)), reading_trees())

    def small(self, _layout: AreaLayout | None) -> bytes:
        """The small copy that pictures are made from."""
        return small_art(self.picture.pixels)

    def print_bytes(self, layout: AreaLayout | None) -> bytes:
        """How many bytes the print file has, in decimal digits; too many are no failure."""
        sheet, area = self._sheet(layout)
        return str(print_bytes_of(sheet, area)).encode()

    def print_file(self, layout: AreaLayout | None) -> bytes:
        """The print file of the layout."""
        sheet, area = self._sheet(layout)
        try:
            return print_file_of(sheet, area)
        except ShopError as error:
            raise self._of_this(error) from None

    def _sheet(self, layout: AreaLayout | None) -> tuple[Bytes, PrintArea]:
        assert layout is not None, "a print file has a layout"
        try:
            return sheet_of(layout, self._vector if self._is_svg else self._cropped), layout.area
        except ShopError as error:
            raise self._of_this(error) from None

    def _of_this(self, error: ShopError) -> ShopError:
        return ShopError(error.slug, error.what, error.fix, Where(self.name), error.exit_code)

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


_MADE: Mapping[str, Callable[[Art, AreaLayout | None], bytes]] = {
    "measure": Art.facts,
    "proof-facts": Art.proof_facts,
    "small-art": Art.small,
    "print bytes": Art.print_bytes,
    "print-file": Art.print_file,
}
