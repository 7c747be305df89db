"""What the shop's main pictures show of its print areas: the art's width in a thumbnail comes from there."""

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache

from hundredfold.catalogue.blanks import Blank, Body, PrintArea
from hundredfold.mockups.fitting import pictured_body
from hundredfold.mockups.registry import Role, plate_for, view_of
from hundredfold.mockups.sight import Sight, sight_of
from hundredfold.workshop.steps.plates import load_plate


def sights_of(blanks: Iterable[Blank]) -> dict[tuple[str, PrintArea], Sight]:
    """The sight of every print area of these blanks, whatever its sizes. Raises ShopError ``bad-plate``."""
    found = {}
    for blank in blanks:
        for area in dict.fromkeys(replace(area, for_sizes=()) for area in blank.areas):
            entry = plate_for(blank, area)
            body = pictured_body(blank, area)
            found[blank.code, area] = _sight(entry.name, view_of(entry, Role.MAIN), area, body)
    return found


@lru_cache(maxsize=256)
def _sight(name: str, view: str, area: PrintArea, body: Body) -> Sight:
    return sight_of(load_plate(name, view), area, body)
