"""Fees, tax, adverts, returns and making costs out of TOML tables."""

from decimal import Decimal

from hundredfold.catalogue.charges import (
    Adverts,
    Charges,
    CollectedBy,
    Destination,
    Fees,
    ListingFee,
    MakingCosts,
    Payment,
    ReturnCause,
    Tier,
    TiersBy,
)
from hundredfold.catalogue.toml_table import Table
from hundredfold.kernel.money import Money


def read_fees(table: Table, currency: str) -> Fees:
    """``[fees]`` of a channel: a rate, or tiers of rates."""
    tiers = tuple(_tier(inner, currency) for inner in table.array("tiers"))
    _check_tiers(table, tiers)
    rate = table.share("rate", "0" if tiers else None)
    if tiers and rate:
        table.wrong("unknown-value", "rate", "the fee has a rate and tiers of rates", "remove one of the two")
    fees = Fees(
        rate=rate,
        minimum=table.money("minimum", currency, "0"),
        fixed=table.money("fixed", currency, "0"),
        tiers=tiers,
        tiers_by=table.choice("tiers_by", TiersBy, TiersBy.PART),
        on_postage=table.flag("on_postage", True),
        on_tax=table.flag("on_tax", True),
        tax=table.share("tax", "0"),
    )
    table.done()
    return fees


def _tier(table: Table, currency: str) -> Tier:
    upto = table.money("upto", currency) if "upto" in table else None
    table.ask("upto")
    tier = Tier(upto, table.share("rate"))
    table.done()
    return tier


def _check_tiers(table: Table, tiers: tuple[Tier, ...]) -> None:
    bounds = [tier.upto.amount for tier in tiers[:-1] if tier.upto is not None]
    rising = bounds == sorted(set(bounds)) and len(bounds) == max(len(tiers) - 1, 0) and 0 not in bounds
    if not rising or (tiers and tiers[-1].upto is not None):
        fix = 'smallest first, the last without upto: [ { upto = "10.00", rate = "12%" }, { rate = "9%" } ]'
        table.wrong("out-of-range", "tiers", "the tiers do not rise to one that has no end", fix)


def read_charges(table: Table, currency: str) -> Charges:
    """What else a channel's table says of money: postage charged, payment, listing, adverts, returns, tax."""
    destinations = tuple(_destination(code, inner, currency) for code, inner in table.named("destinations"))
    return Charges(
        postage_charged=_maybe(table, "postage_charged", currency),
        payment=_payment(table.table("payment"), currency),
        listing=_listing(table.table("listing"), currency),
        adverts=_adverts(table.table("adverts"), currency),
        returns=_returns(table, currency),
        destinations=destinations or (Destination(),),
    )


def _maybe(table: Table, key: str, currency: str) -> Money | None:
    table.ask(key)
    return table.money(key, currency) if key in table else None


def _payment(table: Table, currency: str) -> Payment:
    payment = Payment(
        rate=table.share("rate", "0"),
        fixed=_maybe(table, "fixed", currency),
        on_tax=table.flag("on_tax", True),
    )
    table.done()
    return payment


def _listing(table: Table, currency: str) -> ListingFee:
    sales = table.exact("expected_sales", "1")
    listing = ListingFee(
        fee=_maybe(table, "fee", currency),
        renewal=_maybe(table, "renewal", currency),
        renew_days=table.integer("renew_days", 0, high=3660),
        kept_days=table.integer("kept_days", 0, high=3660),
        expected_sales=Decimal(1) if sales is None else sales,
    )
    if sales is not None and sales <= 0:
        fix = 'write how many you expect to sell while it is listed, like "4"'
        table.wrong("out-of-range", "expected_sales", f"expected_sales is {sales}", fix)
    if listing.renewal and not (listing.renew_days and listing.kept_days):
        fix = "write renew_days = 120 and kept_days = 365, say: renewed each 120 days, kept for a year"
        table.wrong("missing-key", "renewal", "a renewal without renew_days and kept_days", fix)
    table.done()
    return listing


def _adverts(table: Table, currency: str) -> Adverts:
    adverts = Adverts(
        amount=_maybe(table, "amount", currency),
        share=table.share("share", "0"),
        on_sales=table.portion("on_sales", "1"),
    )
    table.done()
    return adverts


def _returns(table: Table, currency: str) -> tuple[ReturnCause, ...]:
    causes = tuple(_cause(name, inner, currency) for name, inner in table.named("returns"))
    if sum(cause.sales for cause in causes) >= 1:
        fix = 'write how many of all sales each cause is, like sales = "2%"'
        table.wrong("out-of-range", "returns", "more comes back than is sold", fix)
    return causes


def _cause(name: str, table: Table, currency: str) -> ReturnCause:
    cause = ReturnCause(
        name=name,
        sales=table.share("sales"),
        refund=table.portion("refund", "1"),
        fee_back=table.portion("fee_back", "0"),
        recovered=table.portion("recovered", "0"),
        postage_back=_maybe(table, "postage_back", currency),
        replaced=table.flag("replaced", False),
    )
    table.done()
    return cause


def _destination(code: str, table: Table, currency: str) -> Destination:
    table.check_code(code)
    destination = Destination(
        code=code,
        tax=table.share("tax", "0"),
        tax_included=table.flag("tax_included", True),
        collected_by=table.choice("collected_by", CollectedBy, CollectedBy.SELLER),
        postage_charged=_maybe(table, "postage_charged", currency),
    )
    table.done()
    return destination


def read_making(table: Table, currency: str) -> MakingCosts:
    """What a blank's table says of money besides base cost and postage."""
    postage_to = table.table("postage_to")
    return MakingCosts(
        side=_maybe(table, "side_cost", currency),
        sides=table.integer("sides", 1, low=1, high=20),
        packaging=_maybe(table, "packaging", currency),
        postage_to={name: postage_to.money(name, currency) for name in postage_to.names()},
        tax=table.share("tax", "0"),
        tax_included=table.flag("tax_included", False),
    )
