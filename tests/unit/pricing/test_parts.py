"""Where each penny goes, held to sums done by hand on paper (no source but arithmetic)."""

from dataclasses import replace
from decimal import Decimal

from goods import gbp

from hundredfold.catalogue.charges import (
    Adverts,
    Charges,
    CollectedBy,
    Destination,
    Fees,
    ListingFee,
    Payment,
    ReturnCause,
    Tier,
    TiersBy,
)  # fmt: skip
from hundredfold.kernel.money import Money
from hundredfold.pricing.explain import eaten_by, parts_of, percent, shares_of_more
from hundredfold.pricing.price import PriceRequest, price_at
from hundredfold.pricing.sale import Costs, Sale, Target

HOME = Destination("home", Decimal("0.2"), collected_by=CollectedBy.CHANNEL)
WHOLE = Sale(
    Target(gbp("1.00"), Decimal("0.05")),
    Costs(gbp("4.20"), gbp("3.10"), gbp("1.00"), gbp("0.50")),
    Fees(Decimal("0.15"), gbp("0.30"), gbp("0.20"), tax=Decimal("0.2")),
    Charges(
        postage_charged=gbp("2.00"),
        payment=Payment(Decimal("0.02"), gbp("0.20")),
        listing=ListingFee(gbp("0.20"), gbp("0.10"), 30, 90, Decimal(4)),
        adverts=Adverts(gbp("0.25"), Decimal("0.12"), Decimal("0.5")),
        returns=(
            ReturnCause(
                "unwanted", Decimal("0.05"), Decimal(1), Decimal("0.5"), Decimal("0.25"), gbp("3.00")
            ),
        ),
    ),
    HOME,
)


def test_every_part_of_a_sale_with_everything_in_it() -> None:
    """At 20.00 and 2.00 postage; the odd penny goes to adverts, which have the largest remainder.

    Listing: (0.20 + 2 x 0.10) x 1.2 / 4. Adverts: 0.25 x 1.2 + 7.2 % of 22.00.
    Returns: 5 % of (18.33 + 3.00 - 5.70 / 4 - 4.20 / 2).
    """
    found, told = price_at(PriceRequest((WHOLE,)), gbp("20.00"))
    assert [(part.name, part.kind, part.amount.plain(), part.how) for part in found.parts] == [
        ("tax", "tax", "3.67", "20 % inside what is paid"),
        ("base cost", "goods", "4.20", ""),
        ("extra sides", "goods", "1.00", ""),
        ("packaging", "goods", "0.50", ""),
        ("postage", "postage", "3.10", ""),
        ("fee", "fees", "3.30", "15 % of 22.00"),
        ("fixed fee", "fees", "0.20", ""),
        ("tax on fees", "fees", "0.70", ""),
        ("payment fee", "fees", "0.64", ""),
        ("listing fee", "fees", "0.12", ""),
        ("adverts", "adverts", "1.89", "7.2 % of 22.00 on average"),
        ("returns", "returns", "0.89", ""),
        ("profit", "profit", "1.79", ""),
    ]
    assert found.profit.amount == Decimal("1.7945")
    assert found.wanted.amount == Decimal("1.9165")
    assert found.fee == gbp("3.50")
    assert found.margin == Decimal("179.45") / Decimal(1833)
    assert found.markup == Decimal("179.45") / Decimal("1653.55")
    assert found.advert_break_even.amount == Decimal("3.6785")
    assert found.working[:3] == (
        "price 20.00 GBP",
        "+ postage charged 2.00",
        "- tax 3.67 (20 % inside what is paid)",
    )
    assert told is not None
    assert (told.code, told.what) == ("below-target", "20.00 GBP leaves 1.79 where 1.92 is wanted")


def test_what_takes_most_comes_first_and_profit_is_none_of_it() -> None:
    eaters = [part.name for part in eaten_by(WHOLE.sums, 2000)]
    assert eaters[:5] == ["base cost", "tax", "fee", "postage", "adverts"]
    assert "profit" not in eaters


def test_what_each_further_penny_is_shared_among() -> None:
    net = Decimal(1) / Decimal("1.2")
    inside = dict(shares_of_more(WHOLE.sums))
    wanted = {
        "the tax": 1 - net, "the channel's fee": Decimal("0.1755"), "the payment fee": Decimal("0.02"),
        "adverts": Decimal("0.072"), "returns": Decimal("0.05") * net,
        "the target share": Decimal("0.05") * net,
    }  # fmt: skip
    assert {name: round(share, 20) for name, share in inside.items()} == {
        name: round(share, 20) for name, share in wanted.items()
    }
    on_top = replace(WHOLE, destination=replace(HOME, tax_included=False))
    assert dict(shares_of_more(on_top.sums)) == {
        "the tax": 0, "the channel's fee": Decimal("0.2106"), "the payment fee": Decimal("0.024"),
        "adverts": Decimal("0.072"), "returns": Decimal("0.05"), "the target share": Decimal("0.05"),
    }  # fmt: skip


def fee_of(**fees: object) -> tuple[str, str]:
    sale = replace(WHOLE, fees=replace(WHOLE.fees, **fees))  # type: ignore[arg-type]
    (part,) = (part for part in parts_of(sale.sums, 2000) if part.name == "fee")
    return part.amount.plain(), part.how


def test_what_a_fee_is_taken_from() -> None:
    assert fee_of(on_postage=False) == ("3.00", "15 % of 20.00")
    assert fee_of(on_tax=False) == ("2.75", "15 % of 18.33")  # 18.33 x 0.15 = 2.7495
    assert fee_of(minimum=gbp("5.00")) == ("5.00", "the minimum, more than 15 %")
    assert fee_of(minimum=gbp("3.30")) == ("3.30", "15 % of 22.00")
    tiers = (
        Tier(gbp("10.00"), Decimal("0.1")),
        Tier(gbp("22.00"), Decimal("0.05")),
        Tier(None, Decimal("0.01")),
    )
    assert fee_of(tiers=tiers) == ("1.60", "in tiers, of 22.00")
    assert fee_of(tiers=tiers, tiers_by=TiersBy.WHOLE) == (
        "1.10",
        "in tiers, of 22.00",
    )  # 22.00 belongs to it
    last = (
        Tier(gbp("10.00"), Decimal("0.1")),
        Tier(gbp("21.99"), Decimal("0.05")),
        Tier(None, Decimal("0.01")),
    )
    assert fee_of(tiers=last, tiers_by=TiersBy.WHOLE) == ("0.30", "in tiers, of 22.00")  # the least
    assert fee_of(tiers=last) == ("1.60", "in tiers, of 22.00")


def test_tax_on_top_is_no_part_of_what_is_shown() -> None:
    sale = replace(WHOLE, destination=replace(HOME, tax=Decimal("0.1"), tax_included=False))
    found, _ = price_at(PriceRequest((sale,)), gbp("20.00"))
    names = [part.name for part in found.parts]
    assert "tax" not in names
    assert sum((part.amount.amount for part in found.parts), Decimal(0)) == Decimal("22.00")
    assert "on top, tax 2.20" in found.working
    assert found.fee == gbp("3.83")  # 15 % of 24.20, and 0.20


def test_who_pays_tax_over() -> None:
    def tax(collected: CollectedBy, registered: bool) -> str:
        sale = replace(WHOLE, destination=replace(HOME, collected_by=collected), registered=registered)
        return Money(sale.sums.split(2000).tax / 100, "GBP").plain()

    assert [tax(who, r) for who in CollectedBy for r in (True, False)] == [
        "3.67" if who is CollectedBy.CHANNEL or (who is CollectedBy.SELLER and r) else "0.00"
        for who in CollectedBy
        for r in (True, False)
    ]
    registered = replace(WHOLE, registered=True).sums
    assert (registered.fee_tax, registered.advert_amount) == (Decimal(0), Decimal(25))  # reclaimed


def test_what_is_replaced_is_made_and_sent_again() -> None:
    broken = ReturnCause("broken", Decimal("0.1"), Decimal(0), replaced=True)
    sale = replace(WHOLE, charges=replace(WHOLE.charges, returns=(broken,)))
    assert dict(sale.sums.parts)["returns"] == Decimal("88.0")  # a tenth of 5.70 and 3.10
    assert dict(WHOLE.sums.parts)["returns"] == Decimal("7.875")
    assert WHOLE.sums.costs == 930  # 929.875 rounded up once


def test_shares_in_words() -> None:
    assert [percent(Decimal(share)) for share in ("0.15", "0.072", "0.12345", "1", "0")] == [
        "15 %", "7.2 %", "12.34 %", "100 %", "0 %",
    ]  # fmt: skip
