"""Which plates there are, for which goods, and which view serves which picture of a listing."""

from dataclasses import dataclass
from enum import StrEnum
from math import log

from hundredfold.catalogue.blanks import Blank, PrintArea
from hundredfold.catalogue.forms import Form
from hundredfold.kernel.errors import ShopError


class Role(StrEnum):
    """What a picture is for. MAIN is pure white with no text; SIZE has millimetres drawn on."""

    MAIN = "main"
    OTHER_SIDE = "other side"
    CLOSE_UP = "close-up"
    SIZE = "size"


@dataclass(frozen=True)
class PlateEntry:
    """A set of plates of one body; ``wide_mm``, ``high_mm`` and ``low_mm`` are the body it was made of."""

    name: str
    form: Form
    wide_mm: float
    high_mm: float
    views: tuple[str, ...]
    low_mm: float | None = None  # the lower diameter, where it tapers


PLATES = tuple(
    PlateEntry(one.name, form, one.wide_mm, one.high_mm, form.traits.views, one.low_mm)
    for form in Form
    for one in form.traits.plates
)


def plate_for(blank: Blank, area: PrintArea) -> PlateEntry:
    """The plates nearest to a blank's form and size; a tapered area speaks for its own size.

    Raises ShopError ``no-plate`` for a form without plates.
    """
    wide = blank.body.diameter_mm or blank.body.width_mm or 1.0
    high = blank.body.height_mm or 1.0
    if area.cone is not None and blank.form.traits.cone_measures:
        wide, high = area.cone.top_diameter_mm, area.cone.height_mm
    fitting = [entry for entry in PLATES if entry.form is blank.form]
    if not fitting:
        raise ShopError(
            "no-plate",
            f"there is no picture plate for {blank.form.value} ({blank.code})",
            "use the flat preview for this blank",
        )
    return min(fitting, key=lambda e: (abs(log(wide / e.wide_mm)) + abs(log(high / e.high_mm)), e.name))


def view_of(entry: PlateEntry, role: Role) -> str:
    """The view that serves a role. A close-up is the first seen nearer: a slanting look squashes art."""
    return entry.views[1 if role is Role.OTHER_SIDE and entry.form.traits.handled else 0]


def roles_of(entry: PlateEntry) -> tuple[Role, ...]:
    """The pictures that make sense of a body, main first: the other side only where a handle gives it one."""
    if entry.form.traits.handled:
        return (Role.MAIN, Role.OTHER_SIDE, Role.CLOSE_UP, Role.SIZE)
    return (Role.MAIN, Role.CLOSE_UP, Role.SIZE)
