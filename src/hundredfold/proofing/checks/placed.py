"""Checks of a blank, and of a design laid on its print area, whatever the blank's colour."""

from collections.abc import Iterator

from hundredfold.catalogue.blanks import Orientation
from hundredfold.catalogue.processes import material_takes
from hundredfold.kernel.findings import Severity
from hundredfold.proofing.profile import COMMON
from hundredfold.proofing.registry import Hit, check
from hundredfold.proofing.subjects import Bare, Placed


@check(
    "suits/material",
    subject=Bare,
    codes={"cannot-mark": Severity.STOP},
    why="Dye sublimation bonds to polyester and polyester coatings only, a laser marks coats and metal "
    "only. On any "
    "other material the print washes out or never appears.",
    example="A cotton tote bag entered with the process sublimation.",
    fix="Correct the process or the material in the blank's file.",
    known_limits="Goes by the names of material and process in the blank's file; it cannot see the goods.",
    source=COMMON,
)
def material(bare: Bare) -> Iterator[Hit]:
    """The blank's material can take its process."""
    blank = bare.blank
    if not material_takes(blank.process, blank.material):
        yield Hit(
            "cannot-mark",
            f"{blank.process} cannot mark {blank.material}",
            f"correct process or material of {blank.code}, or ask the partner how it is decorated",
            {"process": str(blank.process), "material": str(blank.material)},
        )


@check(
    "prints/too-few-pixels",
    subject=Placed,
    codes={"below-floor": Severity.STOP, "below-target": Severity.WARN},
    limits=("dpi_floor", "dpi_target"),
    why="Art enlarged past its pixels prints soft: edges blur and small words fill in. The buyer holds it "
    "at reading "
    "distance.",
    example="Art of 900 px laid 220 mm wide is 104 dpi.",
    fix="Export the master larger, or lay the art smaller on the print area.",
    known_limits="Counts the file's pixels; art that was enlarged before it was saved still looks soft. "
    "Vector art is "
    "drawn at the size it needs and never reported.",
    source="common practice, no source; at 250 dpi a pixel is 0.1 mm, about 1 arc minute at 350 mm (20/20 "
    "acuity)",
)
def too_few_pixels(placed: Placed) -> Iterator[Hit]:
    """The art has enough pixels for its printed size."""
    dpi, limits = placed.placement.effective_dpi, placed.limits
    if placed.facts.vector or dpi >= limits.dpi_target:
        return
    floor = dpi < limits.dpi_floor
    wanted = limits.dpi_target / dpi
    numbers = {
        "effective_dpi": round(dpi, 1),
        "limit": limits.dpi_floor if floor else limits.dpi_target,
        "width_mm": round(placed.placement.width_mm, 1),
    }
    yield Hit(
        "below-floor" if floor else "below-target",
        f"{dpi:.0f} dpi at {placed.placement.width_mm:.0f} mm wide ({numbers['limit']:g} dpi wanted)",
        f"export the art {wanted:.1f} times as large, or print it at most "
        f"{placed.placement.width_mm / wanted:.0f} mm wide",
        numbers,
    )


@check(
    "suits/orientation",
    subject=Placed,
    codes={"upright-on-wide": Severity.WARN, "wide-on-upright": Severity.WARN},
    limits=("orientation_ratio", "orientation_fill"),
    why="Upright art on a wide print area, or the reverse, is shrunk until it fits and leaves most of the "
    "product "
    "bare. It looks like a stamp and sells like one.",
    example="A poster of 1:2 on a mug wrap of 200 x 90 mm prints 45 mm wide.",
    fix="Use the other arrangement of the art, or leave this blank out for it.",
    known_limits="Looks at the outline box of the art only.",
    source=COMMON,
)
def orientation(placed: Placed) -> Iterator[Hit]:
    """The art stands the way the blank wants it."""
    wants, limits = placed.blank.orientation, placed.limits
    place, area = placed.placement, placed.placement.area
    tall = place.height_px / place.width_px
    empty_across = 1 - place.width_px / area.width_px
    empty_down = 1 - place.height_px / area.height_px
    if (
        wants is Orientation.LANDSCAPE
        and tall >= limits.orientation_ratio
        and empty_across > limits.orientation_fill
    ):
        code, empty, words = "upright-on-wide", empty_across, ("upright", "wide", "width")
    elif (
        wants is Orientation.PORTRAIT
        and 1 / tall >= limits.orientation_ratio
        and empty_down > limits.orientation_fill
    ):
        code, empty, words = "wide-on-upright", empty_down, ("wide", "upright", "height")
    else:
        return
    yield Hit(
        code,
        f"{words[0]} art on a {words[1]} blank: {place.width_mm:.0f} x {place.height_mm:.0f} mm, "
        f"{empty:.0%} of the {words[2]} stays bare",
        f"arrange the art {words[1]}, or leave {placed.blank.code} out for it",
        {"bare_share": round(empty, 3), "limit": limits.orientation_fill, "height_to_width": round(tall, 3)},
    )
