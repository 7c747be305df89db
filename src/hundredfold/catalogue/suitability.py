"""What a person should know about a blank as it is described: findings, never errors."""

from collections.abc import Callable, Iterator
from math import pi

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.checks import (
    BARE_MATERIAL,
    BORROWED_MEASURES,
    CAPACITY_AND_BODY,
    MEASURES_OF_SIZES,
    NOTHING_TO_SELL,
    PROCESS_AND_MATERIAL,
    WRAP_AND_GIRTH,
)
from hundredfold.catalogue.processes import TAKES, material_takes
from hundredfold.kernel.checks import CheckRecord
from hundredfold.kernel.counting import counted
from hundredfold.kernel.findings import Finding

# Words of a colour's name that mean the material itself, which pictures cannot show.
_BARE_WORDS = frozenset({"clear", "transparent", "stainless", "frosted", "chrome", "brushed", "uncoated"})

# An opening for the handle, and the print of a full wrap may overlap at the seam by a little.
WRAP_OVERLAP_MM = 6.0  # common practice, no source


def blank_findings(blank: Blank) -> Iterator[Finding]:
    """Everything odd in the description of one blank."""
    for _, find in BLANK_CHECKS:
        yield from find(blank)


def _process_and_material(blank: Blank) -> Iterator[Finding]:
    """The blank's material cannot be marked by its process."""
    if material_takes(blank.process, blank.material):
        return
    others = [process.value for process, materials in TAKES.items() if blank.material in materials]
    yield PROCESS_AND_MATERIAL.finds(
        "cannot-take",
        blank.code,
        f"{blank.process.value} does not mark {blank.material.value}",
        f"ask the partner which process it uses; {blank.material.value} takes {' or '.join(others)}",
        {"process": blank.process.value, "material": blank.material.value},
    )


def _nothing_to_sell(blank: Blank) -> Iterator[Finding]:
    """Every variant is out of stock or discontinued."""
    if blank.offered():
        return
    yield NOTHING_TO_SELL.finds(
        "none-offered",
        blank.code,
        f"none of its {counted(len(blank.variants), 'variant')} is in stock",
        "import the partner's newest list with `blanks add`, or take the blank out of the channel",
        {"variants": len(blank.variants)},
    )


def _wrap_and_girth(blank: Blank) -> Iterator[Finding]:
    """A print area is wider than the way round the body."""
    if blank.body.diameter_mm is None:
        return
    girth = pi * blank.body.diameter_mm
    for area in blank.areas:
        printed = area.width_mm - 2 * area.bleed_mm
        if area.cone is None and printed > girth + WRAP_OVERLAP_MM:
            yield WRAP_AND_GIRTH.finds(
                "wider-than-round",
                f"{blank.code} {area.name}",
                f"the print area is {printed:.1f} mm wide, the body {girth:.1f} mm round",
                "check width_px and dpi against the partner's sheet, and body.diameter_mm",
                {"area_mm": round(printed, 1), "girth_mm": round(girth, 1)},
            )


def _capacity_and_body(blank: Blank) -> Iterator[Finding]:
    """The stated capacity is more than the outside of the body encloses."""
    body = blank.body
    if body.diameter_mm is None or body.height_mm is None or body.capacity_ml is None:
        return
    outside_ml = pi * body.diameter_mm**2 / 4 * body.height_mm / 1000
    if body.capacity_ml > outside_ml:
        yield CAPACITY_AND_BODY.finds(
            "more-than-outside",
            blank.code,
            f"it cannot hold {body.capacity_ml:.0f} ml: its outside encloses {outside_ml:.0f} ml",
            "check diameter_mm, height_mm and capacity_ml against the partner's sheet",
            {"capacity_ml": body.capacity_ml, "outside_ml": round(outside_ml, 1)},
        )


def _bare_material(blank: Blank) -> Iterator[Finding]:
    """A colour is called after bare glass or metal, and pictures show coats only."""
    bare = [colour for colour in blank.colours if _BARE_WORDS & set(colour.name.lower().split())]
    if bare:
        names = ", ".join(f"{colour.name} ({colour.srgb.hex})" for colour in bare)
        yield BARE_MATERIAL.finds(
            "shown-as-coat",
            blank.code,
            f"pictures show a coat of the colour's value, not bare glass or metal: {names}",
            "look at its pictures before you list it, or use the partner's own for these colours",
            {"colours": len(bare)},
        )


def _measures_of_sizes(blank: Blank) -> Iterator[Finding]:
    """The blank has sizes, and its measures do not say of which."""
    body, known = blank.body, {one.size for one in blank.sizes}
    tapered = any(area.cone is not None for area in blank.areas)
    measured = body.width_mm or body.diameter_mm or body.height_mm
    sizes = blank.offered_sizes()
    if len(sizes) > 1 and measured and not body.size and not known and not tapered:
        yield MEASURES_OF_SIZES.finds(
            "size-unknown",
            blank.code,
            f"it is sold in {len(sizes)} sizes, and its measures do not say of which: "
            "the size picture leaves them out",
            'add size = "M" or the like to [body], and what every size measures to [sizes]',
            {"sizes": len(sizes)},
        )


def _borrowed_measures(blank: Blank) -> Iterator[Finding]:
    """Measures were taken from a like blank."""
    if blank.borrowed:
        names = ", ".join(f"{name} {getattr(blank.body, name) or 0:g}" for name in blank.borrowed)
        yield BORROWED_MEASURES.finds(
            "not-measured",
            blank.code,
            f"not measured, but taken from a like blank: {names}; buyers are not told them",
            "write its own in [body], and take their names out of `borrowed`",
            {"borrowed": len(blank.borrowed)},
        )


# Each check of a blank with its arithmetic, in the order they are run.
BLANK_CHECKS: tuple[tuple[CheckRecord, Callable[[Blank], Iterator[Finding]]], ...] = (
    (PROCESS_AND_MATERIAL, _process_and_material),
    (NOTHING_TO_SELL, _nothing_to_sell),
    (WRAP_AND_GIRTH, _wrap_and_girth),
    (CAPACITY_AND_BODY, _capacity_and_body),
    (BARE_MATERIAL, _bare_material),
    (MEASURES_OF_SIZES, _measures_of_sizes),
    (BORROWED_MEASURES, _borrowed_measures),
)
