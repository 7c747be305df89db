"""Values to try: how they are read, and what of the shop's records they change."""

from dataclasses import replace
from decimal import Decimal

import pytest
from goods import SETTINGS, channel, gbp, shirt

from hundredfold.catalogue.charges import Adverts, Charges, Fees, MakingCosts, Tier
from hundredfold.kernel.errors import ShopError
from hundredfold.pricing.whatif import Amount, Axis, World

BLANK = replace(shirt(), making=MakingCosts(postage_to={"away": gbp("6.00")}))
WORLD = World(SETTINGS, BLANK, channel())


def tried(text: str, world: World = WORLD) -> World:
    axis = Axis.parse(text)
    (value,) = axis.values
    return axis.changed(world, value)


@pytest.mark.parametrize(
    ("text", "money", "share"),
    [
        ("3.50", "3.50", "3.50"),
        ("15%", "0.60", "0.15"),
        ("+0.50", "4.50", "0.70"),
        ("-0.50", "3.50", "0"),
        ("+5%", "4.20", "0.25"),
        ("-10%", "3.60", "0.10"),
        ("-100%", "0.00", "0"),
        ("-9", "0.00", "0"),
        (" 15 % ", "0.60", "0.15"),
        ("0", "0.00", "0"),
        ("0.123456", "0.123456", "0.123456"),
    ],
)
def test_a_value_stands_for_itself_or_adds(text: str, money: str, share: str) -> None:
    value = Amount.parse(text)
    assert value.text == text.strip()
    assert value.of_money(gbp("4.00")).amount == Decimal(money)
    assert value.of_money(gbp("4.00")).currency == "GBP"
    assert value.of_share(Decimal("0.20")) == Decimal(share)


@pytest.mark.parametrize(
    "text", ["", "dear", "1.", ".5", "1,5", "++1", "1e3", "0.1234567", "1234567890", "5 GBP"]
)
def test_what_is_no_value_is_said(text: str) -> None:
    with pytest.raises(ShopError, match="is not a value to try") as caught:
        Amount.parse(text)
    assert caught.value.slug == "bad-what-if"
    assert caught.value.fix == "write an amount or a change, like 3.50, 15%, +0.50 or +5%"


def test_an_axis_is_a_name_and_its_values() -> None:
    axis = Axis.parse(" target = 2.50,3.00, +5%")
    assert (axis.name, [value.text for value in axis.values]) == ("target", ["2.50", "3.00", "+5%"])
    for text, told in (
        ("target", '"target" has no values'),
        ("targt=3", '"targt" is nothing that can be tried'),
        ("target=", '"" is not a value to try'),
    ):
        with pytest.raises(ShopError) as caught:
            Axis.parse(text)
        assert caught.value.slug == "bad-what-if"
        assert told in str(caught.value)


def test_only_the_amount_named_changes() -> None:
    assert tried("target=4") == replace(WORLD, settings=replace(SETTINGS, target_profit=gbp("4")))
    postage = replace(
        BLANK, postage=gbp("3.90"), making=replace(BLANK.making, postage_to={"away": gbp("7.00")})
    )
    assert tried("postage=+1") == replace(WORLD, blank=postage)
    costs = [variant.base_cost.amount for variant in tried("cost=+10%").blank.variants]
    assert costs == [Decimal("5.50"), Decimal("6.05")]
    assert tried("cost=+10%").blank.postage == BLANK.postage


def test_a_fee_tried_is_one_rate_for_the_whole_sum() -> None:
    assert tried("fee=10%").channel.fees == replace(channel().fees, rate=Decimal("0.10"))
    assert tried("fee=+5%").channel.fees.rate == Decimal("0.20")
    tiers = (Tier(gbp("10"), Decimal("0.3")), Tier(None, Decimal("0.08")))
    tiered = replace(WORLD, channel=channel(fees=Fees(Decimal("0.5"), gbp("0"), gbp("0"), tiers)))
    found = tried("fee=+2%", tiered).channel.fees
    assert (found.rate, found.tiers) == (Decimal("0.10"), ())
    assert tried("fee=0").channel.fees.rate == 0
    for text in ("fee=1", "fee=100%", "fee=120%"):
        with pytest.raises(ShopError, match="takes all of a price or more") as caught:
            tried(text)
        assert caught.value.slug == "bad-what-if"


def test_adverts_tried_where_there_were_none_and_where_there_were() -> None:
    assert tried("adverts=0.50").channel.charges.adverts == Adverts(gbp("0.50"))
    old = Charges(adverts=Adverts(gbp("1.00"), Decimal("0.1"), Decimal("0.5")))
    found = tried("adverts=+0.50", replace(WORLD, channel=channel(charges=old))).channel.charges
    assert found == replace(old, adverts=replace(old.adverts, amount=gbp("1.50")))
