"""What every contender is asked for: the same areas, sizes and settings."""

from dataclasses import dataclass
from decimal import Decimal

from hundredfold.catalogue.blanks import (
    Blank,
    BlankColour,
    BlankVariant,
    Body,
    FileKind,
    Orientation,
    PrintArea,
)
from hundredfold.catalogue.channels import PictureRules
from hundredfold.catalogue.forms import Form
from hundredfold.catalogue.processes import Material, Process
from hundredfold.designs.facts import Box
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.money import Money
from hundredfold.placement.layout import AreaLayout
from hundredfold.placement.place import Placement

DPI = 300
PICTURE_PX = 1500
SHIRT = PrintArea("front", 3600, 4500, DPI)
AREAS = (
    SHIRT,
    PrintArea("mug wrap", 2700, 1050, DPI),
    PrintArea("cushion", 4800, 4800, DPI, transparent=False, file_kind=FileKind.JPEG),
    PrintArea("tote", 3000, 3600, DPI),
    PrintArea("tumbler wrap", 2790, 2460, DPI),
)
COLOURS = (
    BlankColour("white", "White", Srgb(250, 250, 248)),
    BlankColour("navy", "Navy", Srgb(27, 42, 78), underbase=True),
    BlankColour("red", "Red", Srgb(170, 30, 40), underbase=True),
    BlankColour("black", "Black", Srgb(20, 20, 22), underbase=True),
    BlankColour("sky", "Sky", Srgb(150, 195, 225)),
    BlankColour("sand", "Sand", Srgb(214, 197, 160)),
)

COST = Money(Decimal("5.00"), "GBP")
TEE = Blank(
    code="TEE",
    name="T-shirt",
    form=Form.T_SHIRT,
    material=Material.COTTON,
    process=Process.DTG,
    orientation=Orientation.PORTRAIT,
    areas=(SHIRT,),
    colours=COLOURS,
    variants=tuple(BlankVariant(colour.code, "", colour.code, COST) for colour in COLOURS),
    postage=COST,
    body=Body(width_mm=530, height_mm=720),
)
RULES = PictureRules(PICTURE_PX, PICTURE_PX, 5_000_000, 6)


@dataclass(frozen=True)
class Task:
    """Print files, then pictures of the first of them."""

    name: str
    areas: tuple[PrintArea, ...]
    colours: tuple[BlankColour, ...] = ()


TASKS = {
    task.name: task
    for task in (
        Task("one print file", (SHIRT,)),
        Task("five areas", AREAS),
        Task("print file and six pictures", (SHIRT,), COLOURS),
    )
}


def laid(area: PrintArea, width: int, height: int) -> AreaLayout:
    """``placed`` as the layout of the area."""
    return AreaLayout(area, (placed(area, width, height),))


def placed(area: PrintArea, width: int, height: int) -> Placement:
    """The whole sheet on five sixths of the area, centred."""
    scale = min(area.width_px * 5 / 6 / width, area.height_px * 5 / 6 / height)
    across, down = round(width * scale), round(height * scale)
    left, top = (area.width_px - across) // 2, (area.height_px - down) // 2
    return Placement(area, Box(0, 0, width, height), left, top, across, down, DPI / scale)
