"""What if: the shop's records with one of their amounts changed, to be priced again."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.settings import ShopSettings
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.money import Money
from hundredfold.kernel.nearest import did_you_mean

_VALUE = re.compile(r"([+-]?)([0-9]{1,9}(?:\.[0-9]{1,6})?)\s*(%?)")


@dataclass(frozen=True)
class World:
    """What a price follows from."""

    settings: ShopSettings
    blank: Blank
    channel: Channel


@dataclass(frozen=True)
class Amount:
    """A value to try: an amount or a share as it is, or added to what there is (``+0.50``, ``+5%``)."""

    text: str
    sign: str
    number: Decimal
    percent: bool

    @classmethod
    def parse(cls, text: str) -> "Amount":
        """Read ``3.50``, ``15%``, ``+0.50`` or ``-10%``. Raises ShopError ``bad-what-if``."""
        match = _VALUE.fullmatch(text.strip())
        if match is None:
            what = f'"{text}" is not a value to try'
            raise ShopError("bad-what-if", what, "write an amount or a change, like 3.50, 15%, +0.50 or +5%")
        return cls(text.strip(), match[1], Decimal(match[2]), bool(match[3]))

    def of_money(self, old: Money) -> Money:
        """The amount that takes the place of ``old``, never below nothing."""
        step = -self.number if self.sign == "-" else self.number
        if self.percent:
            new = old.amount * (1 + step / 100) if self.sign else old.amount * step / 100
        else:
            new = old.amount + step if self.sign else step
        return Money(max(new, Decimal(0)), old.currency)

    def of_share(self, old: Decimal) -> Decimal:
        """The share that takes the place of ``old``: ``15%`` is 0.15, ``+2%`` adds 0.02."""
        step = self.number / 100 if self.percent else self.number
        if not self.sign:
            return step
        return max(old + (step if self.sign == "+" else -step), Decimal(0))


def _target(world: World, value: Amount) -> World:
    settings = world.settings
    rules = tuple(replace(rule, profit=None) for rule in settings.targets if rule.share is not None)
    profit = value.of_money(settings.target_profit)
    return replace(world, settings=replace(settings, target_profit=profit, targets=rules))


def _fee(world: World, value: Amount) -> World:
    fees = world.channel.fees
    rate = value.of_share(fees.tiers[-1].rate if fees.tiers else fees.rate)
    if not 0 <= rate < 1:
        what = f"a fee of {value.text} takes all of a price or more"
        raise ShopError("bad-what-if", what, "try a share under 100%, like 15%")
    return replace(world, channel=replace(world.channel, fees=replace(fees, rate=rate, tiers=())))


def _postage(world: World, value: Amount) -> World:
    blank = world.blank
    to = {name: value.of_money(money) for name, money in blank.making.postage_to.items()}
    making = replace(blank.making, postage_to=to)
    return replace(world, blank=replace(blank, postage=value.of_money(blank.postage), making=making))


def _cost(world: World, value: Amount) -> World:
    variants = tuple(
        replace(variant, base_cost=value.of_money(variant.base_cost)) for variant in world.blank.variants
    )
    return replace(world, blank=replace(world.blank, variants=variants))


def _adverts(world: World, value: Amount) -> World:
    charges = world.channel.charges
    amount = value.of_money(charges.adverts.amount or Money(Decimal(0), world.channel.currency))
    charges = replace(charges, adverts=replace(charges.adverts, amount=amount))
    return replace(world, channel=replace(world.channel, charges=charges))


CHANGES: Mapping[str, Callable[[World, Amount], World]] = {
    "target": _target,
    "fee": _fee,
    "postage": _postage,
    "cost": _cost,
    "adverts": _adverts,
}


def changed(world: World, name: str, value: Amount) -> World:
    """The world with one amount in place. Raises ShopError ``bad-what-if``."""
    if name not in CHANGES:
        raise ShopError("bad-what-if", f'"{name}" is nothing that can be tried', did_you_mean(name, CHANGES))
    return CHANGES[name](world, value)


@dataclass(frozen=True)
class Axis:
    """One amount and the values tried for it."""

    name: str
    values: tuple[Amount, ...]

    @classmethod
    def parse(cls, text: str) -> "Axis":
        """Read ``target=2.50,3.00,3.50``. Raises ShopError ``bad-what-if``."""
        name, found, values = text.partition("=")
        if name.strip() not in CHANGES:
            what = f'"{name.strip()}" is nothing that can be tried'
            raise ShopError("bad-what-if", what, did_you_mean(name.strip(), CHANGES))
        if not found:
            raise ShopError("bad-what-if", f'"{text}" has no values', f"write {name}=2.50,3.00 say")
        return cls(name.strip(), tuple(Amount.parse(value) for value in values.split(",")))

    def changed(self, world: World, value: Amount) -> World:
        """The world with the value in place. Raises ShopError ``bad-what-if``."""
        return CHANGES[self.name](world, value)
