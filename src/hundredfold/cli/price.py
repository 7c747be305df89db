"""`hundredfold price`: what each blank must cost, and why."""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_findings, print_json, print_table, say, say_list
from hundredfold.kernel.errors import ExitCode
from hundredfold.kernel.findings import Finding

if TYPE_CHECKING:
    from hundredfold.catalogue.settings import ShopSettings
    from hundredfold.kernel.money import Money
    from hundredfold.workshop.listing.prices import Priced


def run(
    blank: Annotated[
        str,
        typer.Argument(metavar="BLANK", help="A blank's code: shows its sums.", show_default=False),
    ] = "",
    channel: Annotated[
        str, typer.Option("--channel", metavar="CODE", help="Only this channel.", show_default=False)
    ] = "",
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Show what each blank must cost in each channel to earn your target, and the sums behind it.

    Example, all blanks:  hundredfold price

    Example, the sums of one:  hundredfold price MUG-325 --channel northfold
    """
    from hundredfold.workshop.listing.prices import price_all  # lazily: loads numpy
    from hundredfold.workshop.records.shape import as_json as document
    from hundredfold.workshop.shop.folder import open_shop
    from hundredfold.workshop.views.prices import prices_of

    opened = open_shop(shop)
    blanks = (opened.blank(blank),) if blank else opened.blanks
    channels = (opened.channel(channel),) if channel else opened.channels
    priced = tuple(price_all(opened.settings, blanks, channels))
    findings = [each.answer for each in priced if isinstance(each.answer, Finding)]
    if as_json:
        print_json(document(prices_of(priced)))
    elif not priced:
        say("nothing to price: no channel of this shop sells a blank that is in stock")
    elif blank:
        _show_sums(opened.settings, priced)
    else:
        _show_all(priced)
    if not as_json:
        print_findings(findings)
    return ExitCode.PROBLEMS if findings else ExitCode.DONE


def _show_all(priced: Iterable["Priced"]) -> None:
    """One row a blank and channel: from the cheapest variant to the dearest."""
    groups: dict[tuple[str, str], list[Priced]] = {}
    for each in priced:
        groups.setdefault((each.blank.code, each.channel.code), []).append(each)
    rows = []
    for (code, channel), group in groups.items():
        answers = [each.answer for each in group if not isinstance(each.answer, Finding)]
        currency = group[0].channel.currency
        rows.append(
            (
                code,
                channel,
                _range([each.variant.base_cost for each in group]),
                _range([answer.price for answer in answers]) + f" {currency}",
                _range([answer.profit for answer in answers]),
            )
        )
    print_table(("Blank", "Channel", "Base cost", "Price", "Profit"), rows, right="llrrr")


def _show_sums(settings: "ShopSettings", priced: Sequence["Priced"]) -> None:
    """The working once for each channel and base cost, with the variants it is for."""
    groups: dict[tuple[str, str], list[Priced]] = {}
    for each in priced:
        groups.setdefault((each.channel.code, str(each.variant.base_cost)), []).append(each)
    for (channel, cost), group in groups.items():
        rate = settings.rate(group[0].variant.base_cost.currency, group[0].channel.currency)
        at = f" (at a rate of {rate})" if rate != 1 else ""
        say("", f"{group[0].blank.code} in {channel}, base cost {cost}{at}")
        for sizes, colours in _sizes_and_colours(group).items():
            say_list(f"  {sizes}" if sizes else "  colours", colours)
        answer = group[0].answer
        if not isinstance(answer, Finding):
            say(*(f"    {line}" for line in answer.working))


def _sizes_and_colours(group: Iterable["Priced"]) -> dict[str, tuple[str, ...]]:
    """Which colours there are in which sizes; sizes that come in the same colours together."""
    by_size: dict[str, tuple[str, ...]] = {}
    for each in group:
        by_size[each.variant.size] = (*by_size.get(each.variant.size, ()), each.variant.colour)
    together: dict[tuple[str, ...], list[str]] = {}
    for size, colours in by_size.items():
        together.setdefault(colours, []).append(size)
    return {", ".join(sizes): colours for colours, sizes in together.items()}


def _range(amounts: Sequence["Money"]) -> str:
    """The least and the greatest amount; one where they are the same, a dash where there are none."""
    if not amounts:
        return "-"
    low, high = min(amounts), max(amounts)
    return low.plain() if low == high else f"{low.plain()} to {high.plain()}"
