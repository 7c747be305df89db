"""What the shop's main pictures show of its print areas: the art's width in a thumbnail comes from there."""

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache

from hundredfold.catalogue.blanks import Blank, PrintArea
from hundredfold.mockups.fitting import shown_areas
from hundredfold.mockups.sight import Sight, sight_of
from hundredfold.workshop.steps.plates import Shot, View, view_for


def sights_of(blanks: Iterable[Blank]) -> dict[tuple[str, PrintArea], Sight]:
    """The sight of every print area of these blanks, whatever its sizes. Raises ShopError ``bad-plate``."""
    found = {}
    for blank in blanks:
        # Of areas alike but for their sizes, the one that pictures show has the last word.
        for area in (*blank.areas, *shown_areas(blank)):
            seen = _sight(view_for(Shot(blank, area, blank.colours[0])))
            found[blank.code, replace(area, for_sizes=())] = seen
    return found


@lru_cache(maxsize=256)
def _sight(view: View) -> Sight:
    return sight_of(view.plate(), view.area, view.body)
