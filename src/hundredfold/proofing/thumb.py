"""How wide the art is in a listing's picture: from the goods' own measures and the way they are pictured."""

from math import pi, sin

from hundredfold.catalogue.blanks import Blank, Form
from hundredfold.placement.layout import Layout

# Common practice, no source: pictures of goods leave about an eighth of air on each side.
FILLS = 0.84  # of the frame, by the goods' longer side
HANDLE = 0.42  # of the diameter, beside the body
SLEEVES = 1.54  # a shirt over its sleeves, by the width of its body
_HANDLED = frozenset({Form.MUG, Form.ENAMEL_MUG, Form.TRAVEL_MUG})


def art_share(blank: Blank, layout: Layout) -> float:
    """The art's share of a square picture's width, 0-1, seen straight from the front.

    A blank without measures is taken to be a third wider than its print area.
    """
    body, area = blank.body, layout.area
    width = max(place.width_mm for place in layout.placements)
    if body.diameter_mm is not None:
        across = body.diameter_mm * (1 + HANDLE if blank.form in _HANDLED else 1)
        # A band round the body hides the more of itself the wider it is; beyond half the girth all of it.
        seen = body.diameter_mm * sin(min(width / body.diameter_mm, pi / 2))
    else:
        across = (body.width_mm or area.width_mm * 1.33) * (SLEEVES if blank.form is Form.T_SHIRT else 1)
        seen = min(width, across)
    tall = body.height_mm or area.height_mm
    return min(1.0, seen * FILLS / max(across, tall))


def art_px(blank: Blank, layout: Layout, picture_px: int) -> int:
    """Width of the art in a square thumbnail of so many pixels; at least 1."""
    return max(1, round(art_share(blank, layout) * picture_px))
