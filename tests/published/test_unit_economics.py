"""Prices, margins, taxes and break-even against figures from outside the project, each with its source.

Official guides: HM Revenue & Customs (United Kingdom) and Inland Revenue (New Zealand) on prices with tax.
Text books: OpenStax, Principles of Accounting, volume 2, 3.2; Hermanson, Edwards and Maher, Accounting
Principles: A Business Perspective, chapter on cost-volume-profit analysis; Garrison, Noreen and Brewer,
Managerial Accounting, chapter on cost-volume-profit relationships; REA, The Business, Accounting & Finance
Problem Solver. A university: Math Central, University of Regina.

"Read": the figures were read at the source; "worked": its answer was worked from its question; "memory":
they are quoted from memory.
"""

from dataclasses import replace
from decimal import Decimal

import pytest

from hundredfold.catalogue.charges import Charges, Destination, Fees, ListingFee
from hundredfold.kernel.money import Money
from hundredfold.pricing.price import Price, PriceRequest, price_at, price_for
from hundredfold.pricing.sale import Costs, Sale, Target


def money(text: str) -> Money:
    return Money.parse(text, "GBP")


NONE = money("0.00")
FREE = Fees(Decimal(0), NONE, NONE)


def sale(cost: str, profit: str, share: str = "0", fees: Fees = FREE) -> Sale:
    return Sale(Target(money(profit), Decimal(share)), Costs(money(cost), NONE), fees)


def least(one: Sale) -> Price:
    found = price_for(PriceRequest((one,)))
    assert isinstance(found, Price)
    return found


@pytest.mark.parametrize(
    ("cost", "profit", "price", "fee"),
    [("6.00", "3.00", "10.59", "1.59"), ("0.50", "0.50", "1.30", "0.30"), ("1.20", "0.50", "2.00", "0.30")],
)
def test_fee_with_minimum(cost: str, profit: str, price: str, fee: str) -> None:
    """15 % with a minimum of 0.30, worked by hand: a = (c + p) / (1 - r) where a r >= m, else c + p + m.

    10.588235, 1.30, and 2.00 exactly at the kink m / r; rounded up to the penny.
    """
    found = least(sale(cost, profit, fees=Fees(Decimal("0.15"), money("0.30"), NONE)))
    assert (found.price, found.fee) == (money(price), money(fee))
    assert money(profit) <= found.profit


MARGINS = [
    # Course and finance pages, read: 50 % mark-up is a 33.33 % margin, and four more.
    ("40.00", "60.00", "0.5", "0.3333"),
    ("40.00", "100.00", "1.5", "0.6"),
    ("60.00", "100.00", "0.6667", "0.4"),
    ("80.00", "100.00", "0.25", "0.2"),
    # One page claims that 12 sold at 30 is a 60 % mark-up; that is its margin.
    ("12.00", "30.00", "1.5", "0.6"),
    # A business problem book (REA, in a set of exam questions), read: a record at 3.24 with 35 % on its
    # selling price costs 2.11 (2.106).
    ("2.11", "3.24", "0.5355", "0.3488"),
    # The same book, worked: a coat that costs 40, 20 % margin on the selling price.
    ("40.00", "50.00", "0.25", "0.2"),
    # A school maths answer, read: bought at 100 and sold at 125 is 25 % mark-up on cost.
    ("100.00", "125.00", "0.25", "0.2"),
]


@pytest.mark.parametrize(("cost", "price", "markup", "margin"), MARGINS)
def test_margin_and_markup(cost: str, price: str, markup: str, margin: str) -> None:
    """Without fees, the target that is price - cost gives back the price, its margin and its mark-up."""
    profit = (money(price) - money(cost)).plain()
    found = least(sale(cost, profit))
    assert found.price == money(price)
    assert round(found.margin, 4) == Decimal(margin)
    assert round(found.markup, 4) == Decimal(markup)
    by_share = least(sale(cost, "0.00", margin))
    assert abs(by_share.price.amount - found.price.amount) <= Decimal("0.01")


TAXES = [
    # HM Revenue & Customs, "Calculating VAT for VAT-inclusive and VAT-exclusive prices", read:
    # hmrc.gov.uk/vat/forms-rates/rates/calculating.htm
    ("100.00", "0.20", "20.00", "120.00"),
    ("100.00", "0.05", "5.00", "105.00"),
    # Inland Revenue (New Zealand), "Calculating GST", read: 1,500 and 15 % is 1,725, and 3/23 of that is 225.
    # ird.govt.nz/changes-2010/gst/businesses/calculating
    ("1500.00", "0.15", "225.00", "1725.00"),
    # A New Zealand firm's tax page, read: the tax in 100 at 15 % is 3/23 of it, 13.04.
    ("86.96", "0.15", "13.04", "100.00"),
    # Irish tax guide, read: 1,000 at 23 % is 230; 1,135 at 13.5 % holds 135.
    ("1000.00", "0.23", "230.00", "1230.00"),
    ("1000.00", "0.135", "135.00", "1135.00"),
    # Irish school book, section on VAT, worked: a bill of 215.65 with 13.5 % was 190.00.
    ("190.00", "0.135", "25.65", "215.65"),
    # Math Central, University of Regina, "Price including GST", read: 120 and 10 % is 132.
    # mathcentral.uregina.ca/QQ/database/QQ.09.08/h/chris2.html
    ("120.00", "0.10", "12.00", "132.00"),
    # Worked: 20 % of 12.00 is 2.00; 19.99 holds 3.33; 19 % in 119 is 19.
    ("10.00", "0.20", "2.00", "12.00"),
    ("16.66", "0.20", "3.33", "19.99"),
    ("100.00", "0.19", "19.00", "119.00"),
]


@pytest.mark.parametrize(("net", "rate", "tax", "gross"), TAXES)
def test_tax_inside_and_on_top(net: str, rate: str, tax: str, gross: str) -> None:
    """A sale that must leave its whole price without tax costs the buyer the same, tax inside or on top."""
    home = Destination("home", Decimal(rate))
    one = replace(sale(net, "0.00"), destination=home, registered=True)
    inside, _ = price_at(PriceRequest((one,)), money(gross))
    split = inside.sums.split(inside.coins)
    assert (split.tax, split.income) == (money(tax).amount * 100, money(net).amount * 100)
    assert least(one).price <= money(gross)
    on_top = least(replace(one, destination=replace(home, tax_included=False)))
    assert on_top.price == money(net)
    assert on_top.sums.split(on_top.coins).tax == money(tax).amount * 100


BREAK_EVEN = [
    # price, variable cost, fixed costs, units
    # Finance page, read: 1000 units, and 1250 for a profit of 5000.
    ("25.00", "5.00", "20000.00", 1000, "0.00"),
    ("25.00", "5.00", "20000.00", 1250, "4.00"),
    # Accounting text book's exercise (Elrod Inc.), worked: 1600 units at 75, 960 at 95.
    ("75.00", "45.00", "48000.00", 1600, "0.00"),
    ("95.00", "45.00", "48000.00", 960, "0.00"),
    # Hermanson, Edwards and Maher, Accounting Principles: A Business Perspective, cost-volume-profit
    # analysis, exercise on M. J. Orth's cookbooks (the book's name from memory, the question read at
    # tutorsglobe.com, question 51291136), worked: 96,000 books.
    ("26.90", "14.40", "1200000.00", 96000, "0.00"),
    # Garrison, Noreen and Brewer, Managerial Accounting, cost-volume-profit relationships, exercise on
    # stoves, read with its solution: 6000 stoves.
    ("50.00", "32.00", "108000.00", 6000, "0.00"),
    # OpenStax, Principles of Accounting 2, 3.2 (Hicks Manufacturing), memory: 225 birdbaths.
    # openstax.org/books/principles-managerial-accounting, page 3-2-calculate-a-break-even-point-in-units-…
    ("100.00", "20.00", "18000.00", 225, "0.00"),
]


@pytest.mark.parametrize(("price", "variable", "fixed", "units", "profit"), BREAK_EVEN)
def test_break_even(price: str, variable: str, fixed: str, units: int, profit: str) -> None:
    """Fixed costs shared by the units of the break-even point: the least price is the book's own."""
    shared = Charges(listing=ListingFee(fee=money(fixed), expected_sales=Decimal(units)))
    found = least(replace(sale(variable, profit), charges=shared))
    assert found.price == money(price)
    assert found.profit == money(profit)
    without = replace(sale(variable, profit))
    margin, _ = price_at(PriceRequest((without,)), money(price))
    assert margin.profit.amount == money(price).amount - money(variable).amount  # contribution
    if profit == "0.00":
        fewer = replace(shared, listing=replace(shared.listing, expected_sales=Decimal(units - 1)))
        assert found.price < least(replace(sale(variable, profit), charges=fewer)).price


@pytest.mark.parametrize(
    ("rate", "price", "fee"), [("0.125", "0.20", "0.03"), ("0.05", "20.10", "1.01"), ("0.1", "23.45", "2.35")]
)
def test_fees_are_rounded_half_up(rate: str, price: str, fee: str) -> None:
    """0.025, 1.005 and 2.345 of a coin's hundred: ISO 80000-1, annex B, rule B (memory), not half to even."""
    one = sale("0.01", "0.00", fees=Fees(Decimal(rate), NONE, NONE))
    found, _ = price_at(PriceRequest((one,)), money(price))
    assert found.fee == money(fee)


def test_costs_are_rounded_up_once_in_their_sum() -> None:
    """Three parts of 0.3341 each and 1.0023 together: 1.01, where each rounded up would be 1.02."""
    third = Money(Decimal("0.3341"), "GBP")
    one = Sale(Target(NONE), Costs(third, third, packaging=third), FREE)
    assert least(one).price == money("1.01")
