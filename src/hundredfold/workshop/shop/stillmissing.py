"""What a shop that is only begun still lacks, in a sentence each, so that an empty month explains itself."""

from collections.abc import Iterator

from hundredfold.kernel.findings import Finding
from hundredfold.workshop.shop.checks import NOTHING_TO_LIST
from hundredfold.workshop.shop.folder import Shop


def still_missing(shop: Shop, designs: int) -> Iterator[Finding]:
    """A finding for each kind of thing without which nothing can be listed."""
    parts = (
        (not shop.blanks, "blanks", "no blank is described", 'copy one from "examples/blanks" and edit it'),
        (
            not shop.channels,
            "channels",
            "no channel is described",
            'copy one from "examples/channels" and edit it',
        ),
        (
            not designs,
            "designs",
            "there is no design that can be used",
            "put finished art there: PNG, JPEG, WebP, TIFF or SVG; or make some: hundredfold typeset",
        ),
    )
    for missing, item, what, fix in parts:
        if missing:
            yield NOTHING_TO_LIST.finds(f"no-{item}", item, what, fix)
