from decimal import Decimal

import pytest
from goods import gbp
from hypothesis import given, settings
from hypothesis import strategies as st

from hundredfold.catalogue.channels import Fees
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Finding
from hundredfold.kernel.money import Money
from hundredfold.pricing.price import Price, Target, price_for, rounded_up


def fees(rate: str, minimum: str = "0.00", fixed: str = "0.00") -> Fees:
    return Fees(Decimal(rate), gbp(minimum), gbp(fixed))


def answer(target: Target, base: str, postage: str, what: Fees, ending: str = "", **more: Money) -> Price:
    found = price_for(target, gbp(base), gbp(postage), what, ending, **more)  # type: ignore[arg-type]
    assert isinstance(found, Price), found
    return found


def test_the_working_can_be_read() -> None:
    found = answer(Target(gbp("3.00")), "4.20", "3.10", fees("0.15", "0.30", "0.20"), "95")
    assert found.price == gbp("12.95")
    assert found.working == (
        "price 12.95 GBP",
        "- base cost 4.20",
        "- postage 3.10",
        "- fee 1.94 (15 % of 12.95)",
        "- fixed fee 0.20",
        "= profit 3.51, wanted 3.00",
        "least price before the ending 12.36",
    )


def test_postage_the_buyer_pays_lowers_the_price_but_pays_its_fee() -> None:
    with_it = answer(Target(gbp("3.00")), "4.20", "3.10", fees("0.15"), "", postage_charged=gbp("3.10"))
    without = answer(Target(gbp("3.00")), "4.20", "3.10", fees("0.15"))
    assert without.price.amount - with_it.price.amount == Decimal("3.10")
    assert with_it.fee == without.fee


def test_no_price_can_answer_a_share_and_fee_that_leave_nothing() -> None:
    found = price_for(Target(gbp("0.00"), Decimal("0.90")), gbp("4.00"), gbp("0.00"), fees("0.15"), "95")
    assert isinstance(found, Finding)
    assert (found.check, found.code) == ("pricing/no-price", "no-solution")


def test_a_price_above_the_ceiling_is_a_finding() -> None:
    found = price_for(
        Target(gbp("30.00")), gbp("4.00"), gbp("0.00"), fees("0.15"), "95", max_price=gbp("20.00"), item="MUG"
    )
    assert isinstance(found, Finding)
    assert found.code == "above-ceiling"
    assert "20.00 GBP" in found.what


def test_currencies_do_not_mix() -> None:
    with pytest.raises(ShopError) as caught:
        price_for(Target(gbp("3.00")), Money.parse("4.00", "USD"), gbp("1.00"), fees("0.15"), "95")
    assert caught.value.slug == "mixed-currencies"


@pytest.mark.parametrize("ending", ["x", "-5", "12345", "٩٥"])
def test_an_ending_must_be_digits(ending: str) -> None:
    with pytest.raises(ShopError) as caught:
        price_for(Target(gbp("3.00")), gbp("4.00"), gbp("1.00"), fees("0.15"), ending)
    assert caught.value.slug == "bad-ending"


def test_costs_from_another_currency_are_rounded_up() -> None:
    assert rounded_up(Money(Decimal("5.3341"), "USD")).plain() == "5.34"
    assert rounded_up(Money(Decimal("5.33"), "USD")).plain() == "5.33"


def test_currencies_without_minor_units_have_endings_too() -> None:
    def yen(amount: int) -> Money:
        return Money(Decimal(amount), "JPY")

    charge = Fees(Decimal("0.10"), yen(30), yen(0))
    found = price_for(Target(yen(400)), yen(900), yen(300), charge, "80")
    assert isinstance(found, Price)
    assert found.price == yen(1780)


cents = st.integers(0, 3000)


@settings(max_examples=300, deadline=None)
@given(
    target=cents, share=st.integers(0, 40), base=cents, postage=st.integers(0, 900), rate=st.integers(0, 45),
    minimum=st.integers(0, 300), fixed=st.integers(0, 100), charged=st.integers(0, 500),
    ending=st.sampled_from(["", "9", "95", "99", "00"]),
)  # fmt: skip
def test_every_price_below_fails_and_this_one_meets(
    target: int,
    share: int,
    base: int,
    postage: int,
    rate: int,
    minimum: int,
    fixed: int,
    charged: int,
    ending: str,
) -> None:
    """Against every cent from one upwards, in whole hundredths of a cent: no Decimal, no closed form."""
    found = price_for(
        Target(Money.parse(target, "GBP"), Decimal(share) / 100), Money.parse(base, "GBP"),
        Money.parse(postage, "GBP"),
        Fees(Decimal(rate) / 100, Money.parse(minimum, "GBP"), Money.parse(fixed, "GBP")),
        ending, postage_charged=Money.parse(charged, "GBP"),
    )  # fmt: skip
    assert isinstance(found, Price)
    got = int(found.price.amount * 100)

    def meets(price: int) -> bool:
        paid = price + charged
        fee = (max(minimum * 100, rate * paid) + 50) // 100 + fixed
        return (paid - base - postage - fee) * 100 >= target * 100 + share * paid

    step = 10 ** len(ending)
    candidates = (p for p in range(1, got + 1) if p % step == int(ending or 0) % step)
    assert next(p for p in candidates if meets(p)) == got
