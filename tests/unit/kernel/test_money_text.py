"""Amounts are read exactly or refused."""

from decimal import Decimal

import pytest

from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.money import Money


@pytest.mark.parametrize(
    ("given", "currency", "amount"),
    [("14.95", "GBP", "14.95"), (" 4 ", "GBP", "4"), (1495, "GBP", "14.95"), (1495, "JPY", "1495"),
     (5, "KWD", "0.005")],
)  # fmt: skip
def test_amounts(given: str | int, currency: str, amount: str) -> None:
    assert Money.parse(given, currency).amount == Decimal(amount)


@pytest.mark.parametrize(
    "given",
    ["1e2", "1_000", "٣", "0x10", "NaN", "Infinity", "1e999999", "9" * 40, "", "4.105", 10**40, True, 4.1]
)  # fmt: skip
def test_everything_else_is_refused(given: object) -> None:
    with pytest.raises(ShopError) as caught:
        Money.parse(given, "GBP")  # type: ignore[arg-type]
    assert caught.value.slug == "bad-amount"
