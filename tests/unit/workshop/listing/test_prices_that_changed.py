"""What a changed cost or fee does to what is live: what changes, and what each sale loses till then."""

from dataclasses import replace
from decimal import Decimal

from goods import SETTINGS, channel, design, gbp, mug, shirt, words_of

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.charges import Fees
from hundredfold.catalogue.settings import ShopSettings, TargetRule
from hundredfold.ledger.keys import ListingKey
from hundredfold.pricing.price import Price
from hundredfold.workshop.listing.offers import Offer, Proof
from hundredfold.workshop.listing.prices import ChannelPrices, split_answers


def offer(blank: Blank, to: Channel, settings: ShopSettings = SETTINGS) -> Offer:
    colours = tuple(colour.code for colour in blank.colours)
    prices, findings = split_answers(ChannelPrices(settings, to).of(blank, colours, design()))
    assert not findings
    key = ListingKey(to.code, design().id, blank.code)
    return Offer(key, Proof(design(), blank, {}), to, colours, words_of(design(), blank, to), prices)


def dearer(blank: Blank, by: str) -> Blank:
    variants = tuple(replace(one, base_cost=one.base_cost + gbp(by)) for one in blank.variants)
    return replace(blank, variants=variants)


def test_a_dearer_cost_changes_the_price_alone_and_tells_what_is_lost() -> None:
    before, after = offer(mug(), channel()), offer(dearer(mug(), "1.60"), channel())
    different = {name for name, text in after.content.items() if before.content[name] != text}
    assert different == {"price"}
    assert after.candidate({}).losing == 0.0
    assert after.candidate(before.content).losing > 0.0
    assert after.candidate(after.content).losing == 0.0
    much = offer(dearer(mug(), "4.60"), channel())
    assert much.candidate(before.content).losing > after.candidate(before.content).losing


def test_one_that_became_cheaper_loses_nothing() -> None:
    before, after = offer(dearer(mug(), "3.00"), channel()), offer(mug(), channel())
    assert after.content["price"] != before.content["price"]
    assert after.candidate(before.content).losing == 0.0


def test_several_prices_keep_their_lowest() -> None:
    before = offer(shirt(), channel(price_ending=""))
    after = offer(dearer(shirt(), "2.00"), channel(price_ending=""))
    assert before.content["lowest price"] == min(price.price for price in before.prices.values()).plain()
    assert round(after.candidate(before.content).losing) in range(199, 202)
    assert after.candidate({"price": "5f" * 32}).losing == 0.0


def test_one_fee_changes_the_prices_of_its_channel_only() -> None:
    north, quay = channel(), channel(code="quay")
    raised = replace(north, fees=Fees(Decimal("0.30"), gbp("0.30"), gbp("0.20")))
    for blank in (mug(), shirt()):
        was, now = offer(blank, north), offer(blank, raised)
        different = {name for name, text in now.content.items() if was.content.get(name) != text}
        assert different - {"lowest price"} == {"price"}
        assert offer(blank, quay).prices == was.prices


def test_targets_follow_niche_and_design_and_are_worked_out_once() -> None:
    rules = (
        TargetRule(niche="beekeeping", profit=gbp("5.00")),
        TargetRule(design="proud-*", profit=gbp("7.00")),
    )
    book = ChannelPrices(replace(SETTINGS, targets=rules), channel(price_ending=""))
    bees, plain = design(), replace(design(), path="designs/other.png", niche="")
    wanted = [
        book.targets(mug(), one)[""].amount.plain()
        for one in (bees, replace(bees, path="designs/other.png"), plain)
    ]
    assert wanted == ["7.00", "5.00", "3.00"]
    colours = [colour.code for colour in mug().colours]
    first, again = (book.of(mug(), colours, one) for one in (bees, replace(bees, id="another")))
    assert all(isinstance(answer, Price) for answer in first.values())
    assert all(first[pair] is again[pair] for pair in first)


def test_a_larger_size_is_never_cheaper() -> None:
    small, large = shirt().variants
    upside_down = replace(
        shirt(), variants=(replace(small, base_cost=gbp("9.00")), replace(large, base_cost=gbp("5.00")))
    )
    prices = offer(upside_down, channel()).prices
    assert prices["black", "L"].price == prices["black", "S"].price
    assert prices["black", "L"].profit > prices["black", "S"].profit
