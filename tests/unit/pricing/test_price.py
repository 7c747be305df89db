"""Prices: the sum in words, bounds, destinations, what eats a price, and a price of the seller's own."""

from decimal import Decimal

import pytest
from goods import gbp
from hypothesis import given, settings
from hypothesis import strategies as st

from hundredfold.catalogue.charges import Adverts, Charges, Destination, Fees, Payment
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Finding, Severity
from hundredfold.kernel.money import Money
from hundredfold.pricing.price import Price, PriceRequest, price_at, price_for
from hundredfold.pricing.sale import Costs, Sale, Target


def fees(rate: str, minimum: str = "0.00", fixed: str = "0.00") -> Fees:
    return Fees(Decimal(rate), gbp(minimum), gbp(fixed))


def sale(target: str = "3.00", base: str = "4.20", postage: str = "3.10", **more: object) -> Sale:
    rest: dict[str, object] = {"fees": fees("0.15", "0.30", "0.20"), **more}
    return Sale(Target(gbp(target)), Costs(gbp(base), gbp(postage)), **rest)  # type: ignore[arg-type]


def answer(one: Sale, ending: str = "", **bounds: Money) -> Price:
    found = price_for(PriceRequest((one,), ending, **bounds))  # type: ignore[arg-type]
    assert isinstance(found, Price), found
    return found


def test_the_working_can_be_read() -> None:
    assert answer(sale(), "95").working == (
        "price 12.95 GBP",
        "- base cost 4.20",
        "- postage 3.10",
        "- fee 1.94 (15 % of 12.95)",
        "- fixed fee 0.20",
        "= profit 3.51, wanted 3.00",
        "least price before the ending 12.35",
    )


def test_every_part_has_its_line_and_they_add_up() -> None:
    charges = Charges(
        postage_charged=gbp("2.00"),
        payment=Payment(Decimal("0.019"), gbp("0.20")),
        adverts=Adverts(gbp("0.25"), Decimal("0.12"), Decimal("0.3")),
    )
    found = answer(sale(charges=charges, destination=Destination("home", Decimal("0.2")), registered=True))
    names = [part.name for part in found.parts]
    assert names == [
        "tax", "base cost", "postage", "fee", "fixed fee", "payment fee", "adverts", "profit"
    ]  # fmt: skip
    total = sum((part.amount.amount for part in found.parts), Decimal(0))
    assert total == found.price.amount + Decimal("2.00")
    assert found.advert_break_even.amount > found.profit.amount
    assert found.as_json()["destination"] == "home"


def test_postage_the_buyer_pays_lowers_the_price_but_pays_its_fee() -> None:
    with_it = answer(sale(charges=Charges(gbp("3.10"))))
    without = answer(sale())
    assert without.price.amount - with_it.price.amount == Decimal("3.10")
    assert with_it.fee == without.fee


def test_a_price_is_right_for_every_destination() -> None:
    home = sale()
    away = sale(postage="6.00")
    found = price_for(PriceRequest((home, away), "95"))
    assert isinstance(found, Price)
    assert found.price == answer(away, "95").price > answer(home, "95").price


def test_a_share_and_a_fee_that_leave_nothing_are_told_with_what_takes_most() -> None:
    greedy = Sale(Target(gbp("0.00"), Decimal("0.90")), Costs(gbp("4.00"), gbp("0.00")), fees("0.15"))
    found = price_for(PriceRequest((greedy,), "95"))
    assert isinstance(found, Finding)
    assert (found.check, found.code, found.severity) == ("pricing/no-price", "no-solution", Severity.STOP)
    assert "the channel's fee 15 %, the target share 90 %" in found.what
    assert found.fix.startswith("lower the target share")


def test_a_price_above_the_ceiling_says_which_cost_eats_it() -> None:
    found = price_for(PriceRequest((sale("3.00", "9.00"),), "95", ceiling=gbp("14.00"), item="MUG"))
    assert isinstance(found, Finding)
    assert found.code == "above-ceiling"
    assert found.what == (
        "the target needs 18.95 GBP, above this channel's ceiling of 14.00 GBP; "
        "at 13.95 it leaves -0.44 of 3.00, and most goes to base cost (9.00) and postage (3.10)"
    )


def test_a_price_equal_to_the_ceiling_or_the_floor_is_allowed() -> None:
    least = answer(sale()).price
    assert answer(sale(), ceiling=least).price == least
    assert answer(sale(), floor=least).price == least
    penny = Money(Decimal("0.01"), "GBP")
    assert isinstance(price_for(PriceRequest((sale(),), ceiling=least - penny)), Finding)
    assert answer(sale(), floor=least + penny).price == least + penny


def test_below_cost_is_a_stop_and_below_the_target_a_warning() -> None:
    asked = PriceRequest((sale(),), item="MUG")
    found, told = price_at(asked, gbp("8.00"))
    assert told is not None
    assert (told.code, told.severity) == ("below-cost", Severity.STOP)
    assert "each sale loses 0.70" in told.what
    assert found.profit == Money(Decimal("-0.70"), "GBP")
    _, told = price_at(asked, gbp("11.00"))
    assert told is not None
    assert (told.code, told.severity) == ("below-target", Severity.WARN)
    assert price_at(asked, gbp("12.35"))[1] is None


def test_currencies_do_not_mix() -> None:
    dollars = Costs(Money.parse("4.00", "USD"), gbp("1.00"))
    with pytest.raises(ShopError) as caught:
        price_for(PriceRequest((Sale(Target(gbp("3.00")), dollars, fees("0.15")),)))
    assert caught.value.slug == "mixed-currencies"


@pytest.mark.parametrize("ending", ["x", "-5", "12345", "٩٥"])
def test_an_ending_must_be_digits(ending: str) -> None:
    with pytest.raises(ShopError) as caught:
        price_for(PriceRequest((sale(),), ending))
    assert caught.value.slug == "bad-ending"


def test_currencies_without_minor_units_have_endings_too() -> None:
    def yen(amount: int) -> Money:
        return Money(Decimal(amount), "JPY")

    charge = Fees(Decimal("0.10"), yen(30), yen(0))
    found = price_for(PriceRequest((Sale(Target(yen(400)), Costs(yen(900), yen(300)), charge),), "80"))
    assert isinstance(found, Price)
    assert found.price == yen(1780)


@settings(max_examples=60, deadline=None)
@given(
    base=st.integers(0, 5000),
    target=st.integers(0, 2000),
    ending=st.sampled_from(["", "9", "95", "99", "00", "49"]),
)
def test_with_no_other_costs_the_price_is_base_cost_and_target_raised_to_the_ending(
    base: int, target: int, ending: str
) -> None:
    """Common practice (no source)."""
    one = Sale(Target(Money.parse(target, "GBP")), Costs(Money.parse(base, "GBP"), gbp("0.00")), fees("0.00"))
    got = answer(one, ending).coins
    wanted = max(base + target, 1)
    while ending and not str(wanted).zfill(4).endswith(ending):
        wanted += 1
    assert got == wanted
