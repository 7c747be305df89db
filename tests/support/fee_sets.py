"""Random fee sets: what each says is a whole number, so that nothing needs to be read or rounded."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

HIGHEST = 50_000  # cents
LOWEST = 50


@dataclass(frozen=True)
class Drawn:
    """One random set as whole numbers; shares in thousandths unless the name says otherwise."""

    bases: tuple[int, ...]  # by size, smallest first: cents of the blank's currency, as the next four
    postage: tuple[int, ...]  # by destination
    side: int
    sides: int
    packaging: int
    cost_tax: int
    cost_tax_inside: bool
    rate: int  # ten-thousandths; 0: the same currency
    forward: bool  # the rate is written from the blank's currency to the channel's
    spread: int
    registered: bool
    target: int  # cents of the blank's currency
    share: int
    tiers: tuple[tuple[int, int], ...]  # up to (cents, 0: no end), rate in ten-thousandths
    by_whole: bool
    minimum: int
    fixed: int
    on_postage: bool
    on_tax: bool
    fee_tax: int
    pay_rate: int  # ten-thousandths
    pay_fixed: int
    pay_on_tax: bool
    listing: tuple[int, int, int, int, int]  # fee, renewal, renew days, kept days, tenths of expected sales
    advert_amount: int
    advert_share: int
    advert_on: int  # hundredths
    returns: tuple[
        tuple[int, int, int, int, int, bool], ...
    ]  # sales; refund, fee back, recovered (hundredths)
    destinations: tuple[tuple[int, bool, str, int], ...]  # tax, inside, collected by, postage charged
    ending: str
    floor: int  # cents, 0: none
    ruled: tuple[bool, bool, bool, bool, bool] | None  # what the rule names that sets the target, if one does


class Dice:
    """Random whole numbers, out of a block of uniform ones drawn at once."""

    def __init__(self, seed: int) -> None:
        self._rng = np.random.default_rng(seed)
        self._block: list[float] = []

    def part(self) -> float:
        """From 0 to under 1."""
        if not self._block:
            self._block = self._rng.random(1 << 14).tolist()
        return self._block.pop()

    def between(self, low: int, high: float) -> int:
        """A whole number, both ends included."""
        return low + int(self.part() * (max(low, int(high)) - low + 1))

    def yes(self, chance: float = 0.5) -> bool:
        """True, so often."""
        return self.part() < chance

    def maybe(self, low: int, high: float, chance: float = 0.5) -> int:
        """A whole number or nothing."""
        return self.between(low, high) if self.yes(chance) else 0

    def one_of(self, words: Sequence[str]) -> str:
        """One of them."""
        return words[self.between(0, len(words) - 1)]


def draw(dice: Dice) -> Drawn:
    """Every feature on or off by chance, and how dear it all is from pence to hundreds."""
    size = 10 ** (1.3 + 3.05 * dice.part())  # what it all costs, about 20 to 22,000 cents
    places = dice.between(1, 3)
    return Drawn(
        bases=tuple(1 + dice.between(0, size) for _ in range(1 + dice.yes(0.15))),
        postage=tuple(dice.between(0, size / 3) for _ in range(places)),
        side=dice.between(0, size / 4),
        sides=dice.between(1, 3),
        packaging=dice.maybe(0, size / 20),
        cost_tax=dice.maybe(1, 279),
        cost_tax_inside=dice.yes(),
        rate=dice.maybe(2000, 30_000),
        forward=dice.yes(),
        spread=dice.maybe(1, 59),
        registered=dice.yes(),
        target=dice.maybe(0, size / 2, 0.9),
        share=dice.maybe(1, 300, 0.4),
        tiers=_tiers(dice, size),
        by_whole=dice.yes(),
        minimum=dice.maybe(0, size / 5),
        fixed=dice.maybe(0, 60),
        on_postage=dice.yes(),
        on_tax=dice.yes(),
        fee_tax=dice.maybe(1, 279),
        pay_rate=dice.maybe(1, 500),
        pay_fixed=dice.maybe(0, 40),
        pay_on_tax=dice.yes(),
        listing=_listing(dice),
        advert_amount=dice.maybe(0, size / 8),
        advert_share=dice.maybe(1, 250),
        advert_on=dice.between(1, 100),
        returns=tuple(_return(dice, size) for _ in range(dice.between(0, 3))),
        destinations=tuple(_place(dice, size) for _ in range(places)),
        ending=dice.one_of(("", "", "9", "95", "99", "00", "49", "995")),
        floor=dice.maybe(0, size, 0.2),
        ruled=(dice.yes(), dice.yes(), dice.yes(), dice.yes(), dice.yes()) if dice.yes() else None,
    )


def _tiers(dice: Dice, size: float) -> tuple[tuple[int, int], ...]:
    bounds = sorted({dice.between(1, size * 3) for _ in range(dice.between(0, 3))})
    return tuple((upto, dice.between(0, 3000)) for upto in (*bounds, 0))


def _listing(dice: Dice) -> tuple[int, int, int, int, int]:
    if dice.yes():
        return 0, 0, 0, 0, 10
    fee, renewal, days, kept = (dice.between(0, high) for high in (100, 100, 200, 700))
    return fee, renewal, days, kept, dice.between(1, 200)


def _return(dice: Dice, size: float) -> tuple[int, int, int, int, int, bool]:
    shares = (0, 100, dice.between(0, 100))
    refund, back, recovered = (shares[dice.between(0, 2)] for _ in range(3))
    return dice.between(1, 60), refund, back, recovered, dice.between(0, size / 4), dice.yes()


def _place(dice: Dice, size: float) -> tuple[int, bool, str, int]:
    who = dice.one_of(("seller", "channel", "buyer"))
    return dice.maybe(1, 279, 0.7), dice.yes(), who, dice.maybe(0, size / 3)
