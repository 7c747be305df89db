"""What the build's outputs are called: by the path, codes and words a person may ask about.

Path, blank and colour stand in a name as the ids they are, so that whose output it is follows from its name.
"""

from collections.abc import Sequence

from hundredfold.catalogue.blanks import PrintArea
from hundredfold.catalogue.channels import PictureRules
from hundredfold.mockups.registry import Role


def on_blank(path: str, blank: str) -> str:
    """How the names of all that is made of a design on a blank begin."""
    return f"{path} on {blank}, "


def in_colour(path: str, blank: str, colour: str) -> str:
    """How the names of its pictures in one colour begin."""
    return f"{on_blank(path, blank)}{colour}, "


def is_of(item: str, path: str) -> bool:
    """Whether an output is of this design: measured from it, or made of it on a blank."""
    return item == path or item.startswith(f"{path} on ")


def print_item(path: str, blank: str, area: PrintArea) -> str:
    """The name of a print file."""
    return f"{on_blank(path, blank)}{area_name(area)}"


def picture_item(
    path: str, blank: str, colour: str, role: Role, rules: PictureRules, together: Sequence[str] = ()
) -> str:
    """The name of a picture of a colour, or of several ``together``. All that one channel may ask otherwise
    than another is in it.
    """
    most = f" of {rules.max_bytes:,} bytes at most" if rules.max_bytes else ""
    lengths = f" in {rules.lengths.value}" if role is Role.SIZE else ""
    size = f"{rules.width_px}x{rules.height_px}"
    start = on_blank(path, blank) if together else in_colour(path, blank, colour)
    shown = f" of {', '.join(together)}" if together else ""
    return f"{start}{role.value} picture {size}{most}{lengths}{shown}"


def area_name(area: PrintArea) -> str:
    """A print area in words: one name may stand for areas of several sizes, and the sizes tell them apart."""
    return " ".join((area.name, *area.for_sizes))
