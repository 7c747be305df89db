"""How many rows a listing takes."""

from collections.abc import Container

from hundredfold.catalogue.blanks import Blank, BlankVariant
from hundredfold.catalogue.channels import Channel


def variants_of(blank: Blank, colours: Container[str]) -> tuple[BlankVariant, ...]:
    """The variants a listing offers: in stock, in these colours, in the blank file's order."""
    return tuple(variant for variant in blank.offered() if variant.colour in colours)


def resting_of(blank: Blank, colours: Container[str]) -> tuple[BlankVariant, ...]:
    """Variants in these colours that are out of stock for now: they are not offered, and end nothing."""
    return tuple(v for v in blank.variants if v.colour in colours and not v.in_stock and not v.discontinued)


def rows_needed(blank: Blank, colours: Container[str], channel: Channel) -> int:
    """Table rows of a listing in these colours: one a variant, and one for a family head."""
    return len(variants_of(blank, colours)) + (1 if channel.sheet.families else 0)
