"""The report of what was earned, as a record. It only looks: no lock is taken."""

from collections.abc import Iterable
from contextlib import closing
from decimal import Decimal
from pathlib import Path

from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Finding
from hundredfold.kernel.money import Money
from hundredfold.kernel.nearest import did_you_mean
from hundredfold.ledger.fold import fold
from hundredfold.results.amounts import PLACES
from hundredfold.results.checks import RATE
from hundredfold.results.drift import Drift, drift_findings, drifts
from hundredfold.results.earned import Earned, EarnedGroup, earned_of, grouped
from hundredfold.results.piece import PARTS
from hundredfold.workshop.earning.whose import BY, Whose, whose
from hundredfold.workshop.records.common import finding_records
from hundredfold.workshop.records.earned import DifferenceRecord, DriftRecord, EarnedRecord, SalesView
from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.shop.record import open_record


def sales_view(folder: Path, by: str = "listing", first: str = "", last: str = "9999-12") -> SalesView:
    """What was earned, grouped under one of ``BY``.

    Raises ShopError ``wrong-use``, and what opening raises.
    """
    if by not in BY:
        raise ShopError("wrong-use", f"results are not grouped by {by}", did_you_mean(by, BY))
    shop = open_shop(folder)
    with closing(open_record(shop.paths)) as store:
        events = store.events()
        look = whose(shop, store, fold(events), events)
        sums = store.sales.sums(first, last)
    results, missing = earned_of(sums, look.sums, look.convert)
    currency = shop.settings.currency
    lines = grouped(results, look.names(by), currency, look.convert)
    total = grouped(results, lambda _: "all", currency, look.convert)
    found = drifts(results, lambda sku: key.blank if (key := look.key(sku)) else "")
    findings = (*_no_rates(results, missing, look, currency), *drift_findings(found))
    months = [one.month for one in results]
    return SalesView(
        first or min(months, default=""),
        max(months, default="") if last.startswith("9999") else last,
        by,
        currency,
        tuple(_record(one) for one in lines),
        _record(total[0]) if total else None,
        _untied(results, look),
        tuple(_drift(one) for one in found),
        finding_records(findings),
    )


def _no_rates(
    results: Iterable[Earned], missing: Iterable[str], look: Whose, currency: str
) -> Iterable[Finding]:
    foreign = {
        one.currency for one in results if one.currency and look.convert(one.currency, currency) is None
    }
    for code in sorted({*foreign, *missing}):
        what = f"nothing that was paid in {code} is in these sums: there is no rate from {code} to {currency}"
        yield RATE.finds("missing", code, what, f"write one in shop.toml under [rates], as {code}-{currency}")


def _untied(results: Iterable[Earned], look: Whose) -> tuple[tuple[str, int], ...]:
    found: dict[str, int] = {}
    for one in results:
        if one.sku and look.key(one.sku) is None:
            found[one.sku] = found.get(one.sku, 0) + one.units
    return tuple(sorted(found.items(), key=lambda each: (-each[1], each[0])))


def _record(one: EarnedGroup) -> EarnedRecord:
    def plain(amount: Decimal) -> str:
        return Money(amount.scaleb(-PLACES), one.currency).plain()

    return EarnedRecord(
        one.name,
        one.units,
        one.returned,
        plain(one.income),
        {part: plain(cost) for part, cost in zip(PARTS, one.costs, strict=True) if cost},
        plain(one.profit),
        plain(one.planned),
        tuple(DifferenceRecord(part, plain(by)) for part, by in one.differs if plain(by).strip("-0.")),
        tuple(part for part in PARTS if part in one.estimated),
        one.views,
        one.clicks,
    )


def _drift(one: Drift) -> DriftRecord:
    planned, charged = (Money(amount, one.currency).plain() for amount in (one.planned, one.charged))
    return DriftRecord(one.what, one.about, one.month, one.currency, one.pieces, planned, charged)
