"""Money: an exact Decimal amount in a stated currency. Never a float."""

import re
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from babel.numbers import get_currency_precision

from hundredfold.kernel.errors import ShopError


def minor_digits(currency: str) -> int:
    """Digits after the decimal point in this ISO 4217 currency (CLDR, through Babel)."""
    return get_currency_precision(currency)


# Plain digits: Decimal would also read 1e9, 1_000 and the digits of other scripts.
_AMOUNT = re.compile(r"[+-]?[0-9]+(\.[0-9]+)?")
LARGEST = 10**12  # keeps every sum far inside Decimal's 28 digits


@dataclass(frozen=True)
class Money:
    """An amount and its ISO 4217 currency code."""

    amount: Decimal
    currency: str

    @classmethod
    def parse(cls, text: str | int, currency: str) -> "Money":
        """Read ``"14.95"`` (major units as text) or an integer of minor units.

        Raises ShopError ``bad-amount`` for anything else, floats included.
        """
        digits = minor_digits(currency)
        if isinstance(text, bool) or not isinstance(text, str | int):
            raise _not_an_amount(text)
        if isinstance(text, int):
            amount = Decimal(text).scaleb(-digits) if abs(text) < LARGEST else Decimal(LARGEST)
        elif _AMOUNT.fullmatch(text.strip()):
            amount = Decimal(text.strip())
        else:
            raise _not_an_amount(text)
        if abs(amount) >= LARGEST:
            raise ShopError(
                "bad-amount", f"{str(text)[:20]} is more than is reckoned with", "check the amount"
            )
        if amount != round(amount, digits):
            raise ShopError(
                "bad-amount",
                f"{text!r} has more decimals than {currency} uses ({digits})",
                f"round it to {digits} decimals",
            )
        return cls(amount, currency)

    def __add__(self, other: "Money") -> "Money":
        return Money(self.amount + self._same(other), self.currency)

    def __sub__(self, other: "Money") -> "Money":
        return Money(self.amount - self._same(other), self.currency)

    def __lt__(self, other: "Money") -> bool:
        return self.amount < self._same(other)

    def __le__(self, other: "Money") -> bool:
        return self.amount <= self._same(other)

    def rounded(self) -> "Money":
        """Half-up to the currency's minor unit, the commercial rule."""
        step = Decimal(1).scaleb(-minor_digits(self.currency))
        return Money(self.amount.quantize(step, rounding=ROUND_HALF_UP), self.currency)

    def plain(self) -> str:
        """The amount with exactly the currency's decimals, a full stop, and no grouping: ``14.95``."""
        return format(self.rounded().amount, "f")

    def __str__(self) -> str:
        return f"{self.plain()} {self.currency}"

    def _same(self, other: "Money") -> Decimal:
        if other.currency != self.currency:
            raise ShopError(
                "mixed-currencies",
                f"{self.currency} and {other.currency} cannot be added or compared",
                "give a rate for the pair in shop.toml",
            )
        return other.amount


def _not_an_amount(given: object) -> ShopError:
    return ShopError("bad-amount", f"{given!r} is not an amount", 'write it as text, like "14.95"')
