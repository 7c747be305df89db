"""The one caution about decoration near a drinking rim."""

from hundredfold.catalogue.blanks import Blank
from hundredfold.kernel.findings import Finding, Severity
from hundredfold.placement.layout import Layout

# The lip-and-rim test is made on the outside within 20 mm of the rim: Canada, SOR/2016-175, schedule,
# method 2, quoting ASTM C927-80. It is a test method's band, not a ban on decoration.
RIM_BAND_MM = 20.0


def rim_caution(blank: Blank, layouts: tuple[Layout, ...]) -> Finding | None:
    """One caution a blank when any of its layouts puts decoration within the band, else None.

    Blanks that are not drinkware, or do not say how far the area is from the rim, give none.
    """
    clearance = blank.body.rim_clearance_mm
    if not blank.drinkware or clearance is None or not layouts:
        return None
    nearest = clearance + min(layout.top_mm for layout in layouts)
    if nearest >= RIM_BAND_MM:
        return None
    return Finding(
        check="placement/near-drinking-rim",
        code="within-band",
        severity=Severity.WARN,
        item=blank.code,
        what=f"decoration comes within {nearest:.0f} mm of the drinking rim; lip-and-rim tests look at "
        f"the outer {RIM_BAND_MM:.0f} mm",
        fix="ask your partner how the coating and inks were tested, and follow the rules where you sell; "
        "the rim keep-out keeps this band free",
        numbers={"nearest_mm": round(nearest, 1), "band_mm": RIM_BAND_MM},
    )
