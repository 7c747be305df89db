"""What-if grids on a terminal: a channel's prices for every pair of values tried."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from hundredfold.cli.printing import print_json, print_table
from hundredfold.kernel.errors import ExitCode, ShopError
from hundredfold.kernel.findings import Finding

if TYPE_CHECKING:
    from hundredfold.catalogue.blanks import Blank
    from hundredfold.catalogue.channels import Channel
    from hundredfold.catalogue.settings import ShopSettings
    from hundredfold.kernel.money import Money
    from hundredfold.workshop.listing.pricegrid import TriedPrices


def show_grids(
    settings: "ShopSettings",
    blank: "Blank",
    channels: Sequence["Channel"],
    what_if: Sequence[str],
    as_json: bool,
) -> ExitCode:
    """A grid for each channel: the first amount down, the second across."""
    from hundredfold.pricing.whatif import Axis
    from hundredfold.workshop.listing.pricegrid import price_grid

    axes = [Axis.parse(text) for text in what_if]
    if len(axes) > 2:
        raise ShopError("bad-what-if", f"{len(axes)} amounts to try at once", "try one or two of them")
    documents = []
    for channel in channels:
        if channel.blanks and blank.code not in channel.blanks:
            continue
        cells = list(price_grid(settings, blank, channel, axes))
        across = len(axes[1].values) if len(axes) > 1 else 1
        documents += [
            {
                "channel": channel.code,
                **dict(zip((axis.name for axis in axes), cell.values, strict=True)),
                "prices": [price.as_json() for price in cell.prices],
                "findings": [answer.as_json() for answer in cell.answers if isinstance(answer, Finding)],
            }
            for cell in cells
        ]
        if not as_json:
            tops = [value.text for value in axes[1].values] if len(axes) > 1 else ["price"]
            side = axes[0].name + (f" / {axes[1].name}" if len(axes) > 1 else "")
            lines = [cells[start : start + across] for start in range(0, len(cells), across)]
            rows = [(line[0].values[0], *map(_cell, line)) for line in lines]
            title = f"{blank.code} in {channel.code}, {channel.currency}"
            print_table((side, *tops), rows, title=title, right="l" + "r" * across)
    if as_json:
        print_json({"grid": documents})
    return ExitCode.DONE


def _cell(cell: "TriedPrices") -> str:
    return amount_range([price.price for price in cell.prices]) if cell.prices else "no price"


def amount_range(amounts: Sequence["Money"]) -> str:
    """The least and the greatest amount; one where they are the same, a dash where there are none."""
    if not amounts:
        return "-"
    low, high = min(amounts), max(amounts)
    return low.plain() if low == high else f"{low.plain()} to {high.plain()}"
