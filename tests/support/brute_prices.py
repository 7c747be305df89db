"""The least price of a random fee set, found by trying every cent in whole numbers.

Nothing here knows the pricing room's formulas: costs are whole numbers over one divisor, all else is 64-bit
integers of a hundred-millionth of a cent, and each cent from one upwards is tried until one does.
"""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import numpy as np
from fee_sets import HIGHEST, Drawn
from goods import channel, mug
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import Blank, BlankVariant
from hundredfold.catalogue.channels import Channel
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
from hundredfold.catalogue.settings import Rate, ShopSettings, TargetRule
from hundredfold.kernel.money import Money
from hundredfold.pricing.price import Price
from hundredfold.pricing.sizes import prices_of, targets_for

SCALE = 10**8
MUG, CHANNEL = mug(), channel()
Cents = NDArray[np.int64]
NAMES = ("bees.svg", "beekeeping", "B", "MUG-325", "north-print")  # design, niche, size, blank, channel


def as_records(drawn: Drawn) -> tuple[Blank, ShopSettings, Channel]:
    """The set as the program's own records; one size is called A, a second one B."""
    home = "EUR" if drawn.rate else "GBP"
    gbp = _maker("GBP")
    names = [f"place-{n}" for n in range(len(drawn.destinations))]
    charges = Charges(
        payment=Payment(_share(drawn.pay_rate, 10_000), gbp(drawn.pay_fixed), drawn.pay_on_tax),
        listing=_listing_fee(drawn),
        adverts=Adverts(
            gbp(drawn.advert_amount), _share(drawn.advert_share, 1000), _share(drawn.advert_on, 100)
        ),
        returns=tuple(
            ReturnCause(
                str(n),
                _share(sales, 1000),
                _share(refund, 100),
                _share(back, 100),
                _share(recovered, 100),
                gbp(post),
                again,
            )
            for n, (sales, refund, back, recovered, post, again) in enumerate(drawn.returns)
        ),
        destinations=tuple(
            Destination(name, _share(tax, 1000), inside, CollectedBy(who), gbp(charged))
            for name, (tax, inside, who, charged) in zip(names, drawn.destinations, strict=True)
        ),
    )
    to = replace(
        CHANNEL,
        fees=_fees(drawn),
        charges=charges,
        price_ending=drawn.ending,
        max_price=gbp(HIGHEST),
        min_price=gbp(drawn.floor) if drawn.floor else None,
    )
    assert to.code == NAMES[4]
    return _blank(drawn, names, _maker(home)), _settings(drawn, home, _maker(home)), to


Maker = Callable[[int], Money]


def _blank(drawn: Drawn, names: list[str], money: Maker) -> Blank:
    making = MakingCosts(
        money(drawn.side),
        drawn.sides,
        money(drawn.packaging),
        {name: money(amount) for name, amount in zip(names, drawn.postage, strict=True)},
        _share(drawn.cost_tax, 1000),
        drawn.cost_tax_inside,
    )
    sizes = "AB"[: len(drawn.bases)]
    variants = tuple(
        BlankVariant("white", size, size, money(base)) for size, base in zip(sizes, drawn.bases, strict=True)
    )
    return replace(MUG, code=NAMES[3], variants=variants, postage=money(0), making=making)


def _settings(drawn: Drawn, home: str, money: Maker) -> ShopSettings:
    """The target is the shop's, or a rule's; weaker rules and rules that name others say something else."""
    pair = (home, "GBP") if drawn.forward else ("GBP", home)
    rates = {pair: Rate(_share(drawn.rate, 10_000), None, _share(drawn.spread, 1000))} if drawn.rate else {}
    wanted = money(drawn.target), _share(drawn.share, 1000)
    if drawn.ruled is None:
        return ShopSettings("Brute", home, *wanted, tax_registered=drawn.registered, rates=rates)
    named = dict(zip(("design", "niche", "size", "blank", "channel"), drawn.ruled, strict=True))
    values = dict(zip(named, NAMES, strict=True))
    values["size"] = "AB"[len(drawn.bases) - 1]
    mine = {name: values[name] for name, on in named.items() if on}
    if len(drawn.bases) > 1:
        mine.pop("size", None)  # both sizes of a set want the same
    rules = [TargetRule(**mine, profit=wanted[0], share=wanted[1])]
    for name in mine:
        weaker = {other: value for other, value in mine.items() if other != name}
        rules.append(TargetRule(**weaker, profit=money(drawn.target + 77), share=Decimal("0.01")))
        rules.append(TargetRule(**{**mine, name: "another"}, profit=money(0), share=Decimal(0)))
    return ShopSettings(
        "Brute", home, money(9999), tax_registered=drawn.registered, rates=rates, targets=tuple(rules)
    )


def _fees(drawn: Drawn) -> Fees:
    gbp = _maker("GBP")
    tiers = tuple(Tier(gbp(upto) if upto else None, _share(rate, 10_000)) for upto, rate in drawn.tiers)
    return Fees(
        tiers[-1].rate,
        gbp(drawn.minimum),
        gbp(drawn.fixed),
        tiers if len(tiers) > 1 else (),
        TiersBy.WHOLE if drawn.by_whole else TiersBy.PART,
        drawn.on_postage,
        drawn.on_tax,
        _share(drawn.fee_tax, 1000),
    )


def _listing_fee(drawn: Drawn) -> ListingFee:
    fee, renewal, days, kept, sold = drawn.listing
    gbp = _maker("GBP")
    return ListingFee(gbp(fee), gbp(renewal), days, kept, _share(sold, 10))


def _maker(currency: str) -> Maker:
    return lambda cents: Money(Decimal(cents) / 100, currency)


def _share(value: int, of: int) -> Decimal:
    return Decimal(value) / of


def brute(drawn: Drawn) -> list[int | None]:
    """The least price of each size in cents, or None where none up to HIGHEST does."""
    found: list[int | None] = []
    floor = drawn.floor
    for base in drawn.bases:
        price = _least(drawn, base, floor)
        floor = max(floor, price or 0)
        found.append(price)
    return found


def _least(drawn: Drawn, base: int, floor: int) -> int | None:
    wanted = _up(drawn.target * _exchange(drawn)[0], _exchange(drawn)[1]) * SCALE
    spent = [_costs(drawn, base, number) for number in range(len(drawn.destinations))]
    start, width = 1, 2048
    while start <= HIGHEST:
        prices = np.arange(start, min(start + width, HIGHEST + 1), dtype=np.int64)
        start, width = start + width, width * 2
        prices = prices[prices >= floor]
        if drawn.ending:
            prices = prices[prices % 10 ** len(drawn.ending) == int(drawn.ending)]
        for number, costs in enumerate(spent):
            prices = prices[_left(drawn, number, costs, prices) >= wanted]
        if prices.size:
            return int(prices[0])
    return None


def _up(number: int, over: int) -> int:
    return -(-number // over)


def _exchange(drawn: Drawn) -> tuple[int, int]:
    """What cents of the blank's currency are multiplied and divided by."""
    if not drawn.rate:
        return 1, 1
    kept = 1000 - drawn.spread
    return (drawn.rate, 10 * kept) if drawn.forward else (10_000_000, drawn.rate * kept)


def _fee_tax(drawn: Drawn) -> int:
    return 0 if drawn.registered else drawn.fee_tax


def _costs(drawn: Drawn, base: int, number: int) -> int:
    """All that no price changes, of one destination, over one divisor, rounded up once."""
    times, over = _exchange(drawn)
    if drawn.registered and drawn.cost_tax_inside:
        times, over = times * 1000, over * (1000 + drawn.cost_tax)
    elif not drawn.registered and not drawn.cost_tax_inside:
        times, over = times * (1000 + drawn.cost_tax), over * 1000
    goods = (base + drawn.side * (drawn.sides - 1) + drawn.packaging) * times
    sent = goods + drawn.postage[number] * times
    bought = sent * 100_000  # over 100,000
    charged = drawn.advert_amount * (1000 + _fee_tax(drawn))  # over 1000
    for sales, _, _, recovered, post, again in drawn.returns:
        bought += sales * (100 * sent * again - recovered * goods)
        charged += sales * post
    fee, renewal, days, kept, sold = drawn.listing
    periods = 1
    while days and periods * days < kept:
        periods += 1
    listed = (fee + (periods - 1) * renewal) * (1000 + _fee_tax(drawn))  # over 100 x sold
    total = bought * sold + (listed * 1000 + charged * 100 * sold) * over
    return _up(total, over * sold * 100_000)


def _left(drawn: Drawn, number: int, costs: int, prices: Cents) -> Cents:
    """Profit less the share wanted, in SCALE parts of a cent."""
    tax, inside, who, charged = drawn.destinations[number]
    if who == "buyer" or (who == "seller" and not drawn.registered):
        tax = 0
    paid = prices + charged

    def taxed(amount: Cents) -> Cents | int:
        if not tax:
            return 0
        over = 1000 + tax if inside else 1000
        return (2 * amount * tax + over) // (2 * over)

    def base(amount: Cents, with_tax: bool) -> Cents:
        if inside:
            return amount if with_tax else amount - taxed(amount)
        return amount + taxed(amount) if with_tax else amount

    income = paid - taxed(paid) if inside else paid
    fee = _fee(drawn, base(paid if drawn.on_postage else prices, drawn.on_tax)) + drawn.fixed
    if _fee_tax(drawn):
        fee += (2 * fee * _fee_tax(drawn) + 1000) // 2000
    payment = (drawn.pay_rate * base(paid, drawn.pay_on_tax) + 5000) // 10_000 + drawn.pay_fixed
    adverts = paid * (drawn.advert_share * drawn.advert_on * (1000 + _fee_tax(drawn)))  # 1e-8
    refunded = sum(sales * refund for sales, refund, *_ in drawn.returns)  # 1e-5
    fee_back = sum(sales * back for sales, _, back, *_ in drawn.returns)
    left = income * (SCALE - 1000 * refunded - (SCALE // 1000) * drawn.share)
    left -= fee * (SCALE - 1000 * fee_back)
    return left - payment * SCALE - adverts - costs * SCALE


def _fee(drawn: Drawn, base: Cents) -> Cents:
    """The channel's fee, rounded half up; ten-thousandths of a cent before that."""
    total = np.zeros_like(base)
    below = 0
    for upto, rate in drawn.tiers:
        top = upto or 1 << 40
        if drawn.by_whole:
            total = np.where((base > below) & (base <= top), base * rate, total)
        else:
            total += rate * np.minimum(np.maximum(base - below, 0), top - below)
        below = top
    return (np.maximum(total, drawn.minimum * 10_000) + 5000) // 10_000


def ours(drawn: Drawn) -> list[int | None]:
    """What the program answers."""
    blank, settings, to = as_records(drawn)
    targets = targets_for(settings, to, blank, NAMES[1], NAMES[0])
    answers = prices_of(blank, "white", settings, to, targets).values()
    return [answer.coins if isinstance(answer, Price) else None for answer in answers]
