"""Money: an exact Decimal amount in a stated currency. Never a float."""

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal, InvalidOperation

from babel.numbers import get_currency_precision

from hundredfold.kernel.errors import ShopError


def minor_digits(currency: str) -> int:
    """Digits after the decimal point in this ISO 4217 currency (CLDR, through Babel)."""
    return get_currency_precision(currency)


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
            raise ShopError("bad-amount", f"{text!r} is not an amount", 'write it as text, like "14.95"')
        if isinstance(text, int):
            return cls(Decimal(text).scaleb(-digits), currency)
        try:
            amount = Decimal(text.strip())
        except InvalidOperation:
            amount = Decimal("NaN")
        if not amount.is_finite():
            raise ShopError("bad-amount", f"{text!r} is not an amount", 'write it as text, like "14.95"')
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

    def rounded_up(self) -> "Money":
        """To the next minor unit that is not less."""
        step = Decimal(1).scaleb(-minor_digits(self.currency))
        return Money(self.amount.quantize(step, rounding=ROUND_CEILING), self.currency)

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
