"""What one piece was reckoned to earn: the price's own sum, part by part, in ten-thousandths of a unit."""

from dataclasses import dataclass
from decimal import Decimal, localcontext

from hundredfold.kernel.money import minor_digits
from hundredfold.pricing.sale import EXACT, ZERO, Sums
from hundredfold.results.amounts import PLACES

# What a sale pays for, in the order of a statement.
PARTS = ("fee", "payment", "adverts", "returns", "listing", "goods", "delivery", "other")


@dataclass(frozen=True)
class Piece:
    """One piece at one price as planned.

    ``costs`` are the PARTS; together with profit they are the income.
    """

    paid: Decimal
    postage: Decimal
    tax: Decimal  # inside what is paid
    costs: tuple[Decimal, ...]
    profit: Decimal

    @property
    def income(self) -> Decimal:
        """What is left of what the buyer pays when the tax inside it is taken out."""
        return self.paid + self.postage - self.tax


def piece_of(sums: Sums, price: int) -> Piece:
    """The plan of one piece sold at a price in coins. Costs are rounded up once, as the price was made;
    what that adds is part of the goods.
    """
    with localcontext(EXACT):
        scale = Decimal(10) ** (PLACES - minor_digits(sums.currency))
        split, fixed = sums.split(price), dict(sums.parts)
        rounded = sums.costs - sum(fixed.values(), ZERO)
        goods = sum((fixed.get(name, ZERO) for name in ("base cost", "extra sides", "packaging")), rounded)
        costs = (
            split.fee + split.fee_tax,
            split.payment,
            split.adverts + fixed.get("adverts", ZERO),
            split.returns + fixed.get("returns", ZERO),
            fixed.get("listing fee", ZERO),
            goods,
            fixed.get("postage", ZERO),
            ZERO,
        )
        inside = split.tax if sums.included else ZERO
        return Piece(
            price * scale,
            sums.charged * scale,
            inside * scale,
            tuple(cost * scale for cost in costs),
            split.profit * scale,
        )
