"""Art moved and made smaller by the seller's wish, kept where it may lie."""

from dataclasses import replace

from hundredfold.catalogue.blanks import Blank
from hundredfold.designs.nudge import Nudge
from hundredfold.kernel.units import mm_to_px
from hundredfold.placement.area import NONE, safe_box
from hundredfold.placement.layout import AreaLayout, usual_wish
from hundredfold.placement.onto_cone import lies_on_side
from hundredfold.placement.place import Placement

SMALLEST = 0.2  # of the usual width: below, art is a stamp (our choice)


def nudged(usual: AreaLayout, blank: Blank, nudge: Nudge) -> AreaLayout:
    """The usual layout with every placement made smaller and moved, kept inside the safe area.

    On a handled mug the two faces mirror each other: art moved towards the handle on one is on the other.
    """
    area = usual.area
    clearance = blank.body.rim_clearance_mm or 0.0
    keep = replace(usual_wish(blank).keep, rim_mm=max(NONE.rim_mm, blank.rim_keep_out_mm))
    safe = safe_box(area, keep, clearance)
    scale = min(1.0, max(SMALLEST, nudge.scale))
    moved = []
    for placed in usual.placements:
        width, height = max(1, round(placed.width_px * scale)), max(1, round(placed.height_px * scale))
        left = placed.left_px + (placed.width_px - width) / 2 + mm_to_px(nudge.right_mm, area.dpi)
        top = placed.top_px + (placed.height_px - height) / 2 + mm_to_px(nudge.down_mm, area.dpi)
        fresh = replace(
            placed,
            left_px=round(min(max(left, safe.left), safe.right - width)),
            top_px=round(min(max(top, safe.top), safe.bottom - height)),
            width_px=width,
            height_px=height,
            effective_dpi=placed.effective_dpi / scale,
        )
        moved.append(_on_side(placed, fresh, max(0.0, keep.rim_mm - clearance)))
    return AreaLayout(area, tuple(moved))


def _on_side(usual: Placement, fresh: Placement, band_mm: float) -> Placement:
    """On a tapered side, back towards the usual middle until all of it lies on the side."""
    if usual.area.cone is None:
        return fresh
    middle = (
        usual.left_px + (usual.width_px - fresh.width_px) / 2,
        usual.top_px + (usual.height_px - fresh.height_px) / 2,
    )
    for back in (0.0, 0.25, 0.5, 0.75, 1.0):
        left = round(fresh.left_px + (middle[0] - fresh.left_px) * back)
        top = round(fresh.top_px + (middle[1] - fresh.top_px) * back)
        if lies_on_side((left, top, fresh.width_px, fresh.height_px), usual.area, band_mm):
            return replace(fresh, left_px=left, top_px=top)
    return replace(fresh, left_px=round(middle[0]), top_px=round(middle[1]))
