"""How wide the art is in a listing's picture."""

from math import pi, sin

from hundredfold.catalogue.blanks import Blank
from hundredfold.mockups.sight import Sight
from hundredfold.placement.layout import AreaLayout

# Without a picture, by the goods' own measures. Common practice, no source: pictures of goods leave about
# an eighth of air on each side.
FILLS = 0.84  # of the frame, by the goods' longer side


def art_share(blank: Blank, layout: AreaLayout, sight: Sight | None = None) -> float:
    """The art's share of a square picture's width, 0-1: as ``sight`` shows it, else seen straight on.

    A blank without measures is taken to be a third wider than its print area.
    """
    if sight is not None:
        return min(1.0, sight.widest(layout.placements))
    body, area, goods = blank.body, layout.area, blank.form.traits
    width = max(place.width_mm for place in layout.placements)
    if body.diameter_mm is not None:
        across = body.diameter_mm * goods.outline_wide
        # A band round the body hides the more of itself the wider it is; beyond half the girth all of it.
        seen = body.diameter_mm * sin(min(width / body.diameter_mm, pi / 2))
    else:
        # A width given as such is the whole outline, a handle and all.
        across = (body.width_mm or area.width_mm * 1.33) * (1.0 if goods.handled else goods.outline_wide)
        seen = min(width, across)
    tall = (body.height_mm or area.height_mm) * goods.outline_high
    return min(1.0, seen * FILLS / max(across, tall))


def art_px(blank: Blank, layout: AreaLayout, picture_px: int, sight: Sight | None = None) -> int:
    """Width of the art in a square thumbnail of so many pixels; at least 1."""
    return max(1, round(art_share(blank, layout, sight) * picture_px))
