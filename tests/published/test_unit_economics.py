"""Prices and margins against figures from outside the project.

Fee with a minimum: for profit p, cost c, rate r, minimum m, the price is a = (c + p) / (1 - r) where
a r >= m, else c + p + m; worked by hand, the third case exactly at the kink m / r. Margin and markup: the
definitions margin = profit / price, markup = profit / cost of business-course pages (50 % markup is a
33.33 % margin; cost 40 sold at 100 is 150 % and 60 %; cost 60 at 100 is 66.67 % and 40 %; 80 at 100 is
25 % and 20 %). One page read claims that cost 12 at price 30 is a 60 % markup; it is a 60 % margin.
"""

from decimal import Decimal

import pytest

from hundredfold.catalogue.channels import Fees
from hundredfold.kernel.money import Money
from hundredfold.pricing.price import Price, Target, price_for


def pounds(text: str) -> Money:
    return Money.parse(text, "GBP")


@pytest.mark.parametrize(
    ("cost", "profit", "price", "fee"),
    [("6.00", "3.00", "10.59", "1.59"), ("0.50", "0.50", "1.30", "0.30"), ("1.20", "0.50", "2.00", "0.30")],
)
def test_fee_with_minimum(cost: str, profit: str, price: str, fee: str) -> None:
    """15 % with a minimum of 0.30: 10.588235, 1.30 and 2.00, rounded up to the penny."""
    fees = Fees(Decimal("0.15"), pounds("0.30"), pounds("0.00"))
    found = price_for(Target(pounds(profit)), pounds(cost), pounds("0.00"), fees, "")
    assert isinstance(found, Price)
    assert (found.price, found.fee) == (pounds(price), pounds(fee))
    assert pounds(profit) <= found.profit


@pytest.mark.parametrize(
    ("cost", "price", "markup", "margin"),
    [
        ("40.00", "60.00", "0.5", "0.3333"),
        ("40.00", "100.00", "1.5", "0.6"),
        ("60.00", "100.00", "0.6667", "0.4"),
        ("80.00", "100.00", "0.25", "0.2"),
        ("12.00", "30.00", "1.5", "0.6"),
    ],
)
def test_margin_and_markup(cost: str, price: str, markup: str, margin: str) -> None:
    """Without fees, the target that is price - cost gives back the price, its margin and its markup."""
    free = Fees(Decimal(0), pounds("0.00"), pounds("0.00"))
    target = Target(pounds(price) - pounds(cost))
    found = price_for(target, pounds(cost), pounds("0.00"), free, "")
    assert isinstance(found, Price)
    assert found.price == pounds(price)
    assert round(found.margin, 4) == Decimal(margin)
    assert round(found.markup, 4) == Decimal(markup)
    by_share = price_for(Target(pounds("0.00"), Decimal(margin)), pounds(cost), pounds("0.00"), free, "")
    assert isinstance(by_share, Price)
    assert abs(by_share.price.amount - found.price.amount) <= Decimal("0.01")
