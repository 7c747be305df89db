"""Checks of a blank with everything that is laid on it: said once a blank, not once a design."""

from collections.abc import Iterator

from hundredfold.kernel.findings import Severity
from hundredfold.proofing.registry import Hit, check
from hundredfold.proofing.subjects import Decorated


@check(
    "blank/drinking-rim",
    subject=Decorated,
    codes={"within-band": Severity.WARN},
    limits=("rim_band_mm",),
    why="What lips touch is tested more strictly: in many places decoration near a drinking rim must show "
    "that it gives off next to no lead and cadmium. This is the usual caution and no legal advice; local "
    "rules and your partner's test reports have the last word.",
    example="A wrap that begins 8 mm below the rim of a mug, with art up to its upper edge.",
    fix="Ask the partner how coating and inks were tested. Or keep the band free: `rim_keep_out_mm = 20` in "
    "the blank's file makes the art smaller and lower.",
    known_limits="Needs `drinkware` and `body.rim_clearance_mm` in the blank's file. Looks at where art may "
    "lie, not at what the ink is made of; says nothing of the inside of a cup.",
    source="Canada, SOR/2016-175, schedule, method 2, quoting ASTM C927-80: the lip-and-rim test looks at "
    "decoration on the outside within 20 mm of the rim",
)
def drinking_rim(decorated: Decorated) -> Iterator[Hit]:
    """Art on drinkware stays clear of the drinking rim."""
    nearest, band = decorated.nearest_to_rim_mm, decorated.limits.rim_band_mm
    if nearest is not None and nearest < band:
        yield Hit(
            "within-band",
            f"art comes within {nearest:.0f} mm of the drinking rim; lip-and-rim tests look at the outer "
            f"{band:g} mm",
            "ask your partner how it was tested and follow the rules where you sell, or write "
            f"rim_keep_out_mm = {band:g} in the blank's file",
            {"nearest_mm": round(nearest, 1), "band_mm": band},
        )
