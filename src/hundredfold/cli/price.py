"""`hundredfold price`: what each blank must cost, where each penny of it goes, and what if."""

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.pricebars import show_bars
from hundredfold.cli.pricegrids import amount_range, show_grids
from hundredfold.cli.printing import print_findings, print_json, print_table, say, say_list
from hundredfold.kernel.errors import ExitCode, ShopError
from hundredfold.kernel.findings import Finding, Severity

if TYPE_CHECKING:
    from decimal import Decimal

    from hundredfold.catalogue.blanks import Blank
    from hundredfold.catalogue.channels import Channel
    from hundredfold.catalogue.settings import ShopSettings
    from hundredfold.pricing.price import Price
    from hundredfold.workshop.listing.prices import Priced


def run(
    blank: Annotated[
        str,
        typer.Argument(metavar="BLANK", help="A blank's code: shows its sums.", show_default=False),
    ] = "",
    channel: Annotated[
        str, typer.Option("--channel", metavar="CODE", help="Only this channel.", show_default=False)
    ] = "",
    at: Annotated[
        str,
        typer.Option("--at", metavar="AMOUNT", help="What this price would leave.", show_default=False),
    ] = "",
    what_if: Annotated[
        list[str] | None,
        typer.Option(
            "--if",
            metavar="WHAT=VALUES",
            help="Try values of target, fee, postage, cost or adverts; twice for a grid.",
            show_default=False,
        ),
    ] = None,
    svg: Annotated[
        Path | None,
        typer.Option("--svg", metavar="FILE", help="Draw the prices into a file.", show_default=False),
    ] = None,
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Show what each blank must cost in each channel to earn your target, and where each penny goes.

    Example, all blanks:  hundredfold price

    Example, the sums of one:  hundredfold price MUG-325 --channel northfold

    Example, what a price of your own leaves:  hundredfold price MUG-325 --at 11.95

    Example, what if:  hundredfold price MUG-325 --if target=2.50,3.00 --if fee=12%,+2%
    """
    from hundredfold.workshop.shop.folder import open_shop  # lazily: loads numpy

    if (at or what_if) and not blank:
        asked = "--at" if at else "--if"
        raise ShopError(
            "bad-what-if", f"{asked} needs a blank", f"name one: hundredfold price MUG-325 {asked} …"
        )
    opened = open_shop(shop)
    blanks = (opened.blank(blank),) if blank else opened.blanks
    channels = (opened.channel(channel),) if channel else opened.channels
    if what_if:
        return show_grids(opened.settings, blanks[0], channels, what_if, as_json)
    priced, findings = _priced(opened.settings, blanks, channels, at)
    if svg is not None:
        _draw(priced, svg)
    if as_json:
        _as_document(priced, findings if at else ())
    else:
        _show(opened.settings, priced, findings, sums=bool(blank))
    return ExitCode.PROBLEMS if any(f.severity is Severity.STOP for f in findings) else ExitCode.DONE


def _priced(
    settings: "ShopSettings", blanks: "Sequence[Blank]", channels: "Sequence[Channel]", at: str
) -> "tuple[Sequence[Priced], list[Finding]]":
    """The prices, or what a price of the seller's own leaves, and what is to be said of them."""
    from hundredfold.workshop.listing.prices import price_all, price_all_at

    if at:
        return price_all_at(settings, blanks[0], channels, at)
    priced = tuple(price_all(settings, blanks, channels))
    return priced, [each.answer for each in priced if isinstance(each.answer, Finding)]


def _as_document(priced: "Sequence[Priced]", findings: Sequence[Finding]) -> None:
    from hundredfold.workshop.records.shape import as_json
    from hundredfold.workshop.views.prices import prices_of

    print_json(as_json(prices_of(priced, findings)))


def _show(
    settings: "ShopSettings", priced: "Sequence[Priced]", findings: Sequence[Finding], sums: bool
) -> None:
    if not priced:
        say("nothing to price: no channel of this shop sells a blank that is in stock")
    elif sums:
        _show_sums(settings, priced)
    else:
        _show_all(priced)
    print_findings(findings)


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
                amount_range([each.variant.base_cost for each in group]),
                amount_range([answer.price for answer in answers]) + f" {currency}",
                amount_range([answer.profit for answer in answers]),
            )
        )
    print_table(("Blank", "Channel", "Base cost", "Price", "Profit"), rows, right="llrrr")
    first = {key: group[0].answer for key, group in groups.items()}
    show_bars(
        [(f"{code} {to}", price) for (code, to), price in first.items() if not isinstance(price, Finding)]
    )


def _show_sums(settings: "ShopSettings", priced: Sequence["Priced"]) -> None:
    """The working once for each channel, base cost and price, with the variants it is for; then the bars."""
    groups: dict[tuple[str, str, str], list[Priced]] = {}
    for each in priced:
        price = "" if isinstance(each.answer, Finding) else str(each.answer.price)
        groups.setdefault((each.channel.code, str(each.variant.base_cost), price), []).append(each)
    shown: list[tuple[str, Price]] = []
    for (channel, cost, _), group in groups.items():
        rate = settings.rate(group[0].variant.base_cost.currency, group[0].channel.currency)
        at = f" (at a rate of {rate.normalize():f})" if rate != 1 else ""
        say("", f"{group[0].blank.code} in {channel}, base cost {cost}{at}")
        for sizes, colours in _sizes_and_colours(group).items():
            say_list(f"  {sizes}" if sizes else "  colours", colours)
        answer = group[0].answer
        if not isinstance(answer, Finding):
            where = [f"in {answer.destination}, where least is left"] if answer.destination else []
            say(*(f"    {line}" for line in [*where, *answer.working]))
            say(f"    margin {_percent(answer.margin)}, mark-up {_percent(answer.markup)}")
            if answer.profit.amount > 0:
                spend = answer.advert_break_even.plain()
                say(f"    adverts may cost up to {spend} a sale before nothing is left")
            sizes = ",".join(dict.fromkeys(each.variant.size for each in group if each.variant.size))
            what = f"{sizes} at {group[0].variant.base_cost.plain()}" if sizes else ""
            shown.append((f"{channel} {what}".strip(), answer))
    if shown:
        say("")
        show_bars(shown)
    if len({each.channel.code for each in priced}) > 1:
        _compare(shown)


def _compare(shown: Iterable[tuple[str, "Price"]]) -> None:
    """Channels side by side."""
    rows = []
    for label, price in shown:
        kinds = {kind: _sum_of(price, kind) for kind in ("goods", "postage", "fees")}
        profit = price.parts[-1].amount.plain()
        rows.append((label, str(price.price), *kinds.values(), profit, _percent(price.margin)))
    print_table(("Channel", "Price", "Blank", "Postage", "Fees", "Profit", "Margin"), rows, right="lrrrrrr")


def _sum_of(price: "Price", kind: str) -> str:
    amounts = [part.amount for part in price.parts if part.kind == kind]
    return sum(amounts[1:], amounts[0]).plain() if amounts else "-"


def _percent(share: "Decimal") -> str:
    return f"{share * 100:.1f} %"


def _draw(priced: Iterable["Priced"], file: Path) -> None:
    """One bar a blank, channel and price."""
    from hundredfold.pricing.drawing import Bar, draw_bars
    from hundredfold.runner.atomic import write_whole

    bars: dict[tuple[str, str, str], Bar] = {}
    for each in priced:
        if not isinstance(each.answer, Finding):
            price = str(each.answer.price)
            label = f"{each.channel.name}, {price}"
            key = (each.blank.code, each.channel.code, price)
            bars.setdefault(key, Bar(each.blank.name, label, each.answer))
    if not bars:
        raise ShopError("nothing-to-draw", "no blank has a price here", "see what hundredfold price says")
    write_whole(file, draw_bars(list(bars.values()), "Where each price goes").encode())
    say(f"drawn into {file}")


def _sizes_and_colours(group: Iterable["Priced"]) -> dict[str, tuple[str, ...]]:
    """Which colours there are in which sizes; sizes that come in the same colours together."""
    by_size: dict[str, tuple[str, ...]] = {}
    for each in group:
        by_size[each.variant.size] = (*by_size.get(each.variant.size, ()), each.variant.colour)
    together: dict[tuple[str, ...], list[str]] = {}
    for size, colours in by_size.items():
        together.setdefault(colours, []).append(size)
    return {", ".join(sizes): colours for colours, sizes in together.items()}
