"""Which plates there are, for which goods, and which view serves which picture of a listing."""

from dataclasses import dataclass
from enum import StrEnum
from math import log

from hundredfold.catalogue.blanks import Blank, PrintArea
from hundredfold.catalogue.forms import Form, PlateSet, PrintedSide
from hundredfold.kernel.errors import ShopError
from hundredfold.mockups.measures import measured


class Role(StrEnum):
    """What a picture is for. MAIN is pure white with no text; SIZE has millimetres drawn on; ALL_COLOURS
    shows main pictures of a listing's colours together."""

    MAIN = "main"
    OTHER_SIDE = "other side"
    CLOSE_UP = "close-up"
    SIZE = "size"
    ALL_COLOURS = "all colours"


@dataclass(frozen=True)
class PlateEntry:
    """A set of plates of one body; ``wide_mm`` and ``high_mm`` are the whole body it was made of."""

    name: str
    form: Form
    wide_mm: float
    high_mm: float
    views: tuple[str, ...]
    side: PrintedSide | None = None  # of a vessel
    files: tuple[tuple[str, str], ...] = ()  # sha256 of the seller's own plates, by view

    @classmethod
    def of(cls, form: Form, one: PlateSet) -> "PlateEntry":
        """A form's set of plates, or a blank's own."""
        return cls(one.name, form, one.wide_mm, one.high_mm, form.traits.views, one.side, one.files)


PLATES = tuple(PlateEntry.of(form, one) for form in Form for one in form.traits.plates)


def plate_for(blank: Blank, area: PrintArea) -> PlateEntry:
    """A blank's own plates, else those nearest to its form and size; a tapered area speaks where no height is
    known.

    Raises ShopError ``no-plate`` for a form without plates.
    """
    if blank.plate is not None:
        return PlateEntry.of(blank.form, blank.plate)
    fitting = [entry for entry in PLATES if entry.form is blank.form]
    if not fitting:
        raise ShopError(
            "no-plate",
            f"there is no picture plate for {blank.form.value} ({blank.code})",
            "take the form that is nearest to it, or leave this blank out",
        )
    own = measured(blank, area)
    wide, high = own.diameter_mm or own.width_mm or 1.0, own.height_mm or 1.0

    def apart(entry: PlateEntry) -> float:
        away = abs(log(wide / entry.wide_mm)) + abs(log(high / entry.high_mm))
        if area.cone is None or entry.side is None or own.height_mm is not None:
            return away
        cone, side = area.cone, entry.side
        return abs(log(cone.top_diameter_mm / side.top_mm)) + abs(log(cone.height_mm / side.height_mm))

    return min(fitting, key=lambda entry: (apart(entry), entry.name))


def view_of(entry: PlateEntry, role: Role) -> str:
    """The view that serves a role. A close-up is the first seen nearer: a slanting look squashes art."""
    return entry.views[1 if role is Role.OTHER_SIDE and entry.form.traits.handled else 0]


def roles_of(entry: PlateEntry) -> tuple[Role, ...]:
    """The pictures that make sense of a body, main first: the other side only where a handle gives it one."""
    if entry.form.traits.handled:
        return (Role.MAIN, Role.OTHER_SIDE, Role.CLOSE_UP, Role.SIZE, Role.ALL_COLOURS)
    return (Role.MAIN, Role.CLOSE_UP, Role.SIZE, Role.ALL_COLOURS)
