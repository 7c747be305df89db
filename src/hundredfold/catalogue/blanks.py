"""A blank: an undecorated product as the partner sells it."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Any

from hundredfold.catalogue.charges import NO_EXTRAS, MakingCosts
from hundredfold.catalogue.forms import Form, PlateSet
from hundredfold.catalogue.processes import Material, Process
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.money import Money
from hundredfold.kernel.units import px_to_mm

Pairs = tuple[tuple[str, str], ...]  # names and values; a blank must stay hashable


class Orientation(StrEnum):
    """Which way art should stand to suit the blank."""

    PORTRAIT = "portrait"
    LANDSCAPE = "landscape"
    ANY = "any"


class FileKind(StrEnum):
    """A file format a partner takes for print files."""

    PNG = "png"
    JPEG = "jpeg"
    TIFF = "tiff"


@dataclass(frozen=True)
class Cone:
    """A tapered side, unrolled to an annular sector. Diameters and height in millimetres."""

    top_diameter_mm: float
    bottom_diameter_mm: float
    height_mm: float
    file: str = "sector"  # "sector": the flat sector; "rectangle": pre-warped to a rectangle


@dataclass(frozen=True)
class PrintArea:
    """Where the partner prints. Pixels are authoritative, millimetres are derived from them."""

    name: str
    width_px: int
    height_px: int
    dpi: int
    file_kind: FileKind = FileKind.PNG
    transparent: bool = True
    mirrored: bool = False
    max_bytes: int | None = None
    bleed_mm: float = 0.0
    safe_margin_mm: float = 0.0
    cone: Cone | None = None
    for_sizes: tuple[str, ...] = ()  # empty: every size

    @property
    def width_mm(self) -> float:
        """Printed width, bleed included."""
        return px_to_mm(self.width_px, self.dpi)

    @property
    def height_mm(self) -> float:
        """Printed height, bleed included."""
        return px_to_mm(self.height_px, self.dpi)


@dataclass(frozen=True)
class BlankColour:
    """A colour a blank comes in. ``second`` is the inside and handle of a two-tone mug."""

    code: str
    name: str
    srgb: Srgb
    second: Srgb | None = None
    underbase: bool = False  # opaque white printed below the art on this colour
    values: Pairs = ()  # what is true of this colour only; see catalogue/values.py


@dataclass(frozen=True)
class BlankVariant:
    """One colour and size as the partner sells it."""

    colour: str  # BlankColour.code
    size: str  # "" for goods of one size
    partner_code: str
    base_cost: Money
    in_stock: bool = True
    discontinued: bool = False
    values: Pairs = ()
    codes: Pairs = ()  # destination country -> the partner's code there


@dataclass(frozen=True)
class Body:
    """Measures of the real object, millimetres; None where they do not apply."""

    diameter_mm: float | None = None
    height_mm: float | None = None
    width_mm: float | None = None
    visible_width_mm: float | None = None  # of a curved face, seen from the front
    rim_clearance_mm: float | None = None  # from the drinking rim to the top of the print area
    capacity_ml: float | None = None
    size: str = ""  # which size these are of, where the blank has sizes


# The body's measures by their names in a blank's file.
MEASURES = (
    "diameter_mm", "height_mm", "width_mm", "visible_width_mm", "rim_clearance_mm", "capacity_ml",
)  # fmt: skip


@dataclass(frozen=True)
class SizeMeasures:
    """What one size measures, millimetres; None where it does not apply."""

    size: str
    diameter_mm: float | None = None
    width_mm: float | None = None
    height_mm: float | None = None
    values: Pairs = ()
    capacity_ml: float | None = None


@dataclass(frozen=True)
class Stated:
    """What the partner states of a blank, told to buyers as it stands; "" where it states nothing."""

    care: str = ""
    arrives: str = ""  # what is in the parcel
    material: str = ""  # in buyers' words, like "100% ring-spun cotton"
    working_days: tuple[int, int] | None = None  # from the order to the post, least and most
    source: str = ""  # where the partner states it


@dataclass(frozen=True)
class Blank:
    """An undecorated product with its variants, material, process, print areas and body."""

    code: str
    name: str
    form: Form
    material: Material
    process: Process
    orientation: Orientation
    areas: tuple[PrintArea, ...]
    colours: tuple[BlankColour, ...]
    variants: tuple[BlankVariant, ...]
    postage: Money
    body: Body = Body()
    borrowed: tuple[str, ...] = ()  # the body's measures that were taken from a like blank, not measured
    sizes: tuple[SizeMeasures, ...] = ()  # smallest first; those whose measures are known
    drinkware: bool = False
    rim_keep_out_mm: float = 0.0  # so much below the drinking rim stays free of art
    words: tuple[str, ...] = ()  # search words the blank brings to a listing
    note: str = ""
    making: MakingCosts = NO_EXTRAS
    values: Pairs = ()  # weight, origin, category… of every colour and size
    stated: Stated = Stated()
    plate: PlateSet | None = None  # its own, from the shop folder, instead of its form's
    claims: Mapping[str, str] = field(default_factory=dict, hash=False)  # claim -> where it is proved

    def colour(self, code: str) -> BlankColour:
        """The colour with this code. Raises KeyError when the blank has none."""
        for colour in self.colours:
            if colour.code == code:
                return colour
        raise KeyError(code)

    def code_at(self, variant: BlankVariant, destination: str) -> str:
        """The partner's code of a variant for goods that go to this country."""
        return dict(variant.codes).get(destination, variant.partner_code)

    def offered(self) -> tuple[BlankVariant, ...]:
        """Variants that can be sold now: in stock and not discontinued."""
        return tuple(v for v in self.variants if v.in_stock and not v.discontinued)

    def offered_sizes(self) -> tuple[str, ...]:
        """Sizes that can be sold now, in the order of the variants; ``("",)`` for goods of one size."""
        return tuple(dict.fromkeys(variant.size for variant in self.offered()))

    def measured(self) -> "Blank":
        """The blank with only those measures that are its own: what buyers may be told."""
        if not self.borrowed:
            return self
        unknown: dict[str, Any] = dict.fromkeys(self.borrowed)
        of_sizes: dict[str, Any] = {n: None for n in unknown if n in SizeMeasures.__dataclass_fields__}
        sizes = tuple(replace(one, **of_sizes) for one in self.sizes)
        return replace(self, body=replace(self.body, **unknown), sizes=sizes)

    def areas_for(self, size: str) -> tuple[PrintArea, ...]:
        """The print areas of one size."""
        return tuple(a for a in self.areas if not a.for_sizes or size in a.for_sizes)
