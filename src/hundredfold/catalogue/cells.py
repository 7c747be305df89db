"""What a partner writes into the cells of a price list, read exactly or refused with a reason.

Each reader raises ShopError without a place; the caller knows row and column.
"""

import re
from decimal import Decimal, InvalidOperation
from enum import StrEnum

from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.money import Money, minor_digits

# The currency of a sign where it has only one, else what it may stand for.
SIGNS = {"£": ("GBP",), "€": ("EUR",), "$": ("USD", "CAD", "AUD", "NZD", "SGD"), "zł": ("PLN",), "kr": ()}
_YES = frozenset({"yes", "y", "true", "1", "x", "ja", "oui"})
_NO = frozenset({"no", "n", "false", "0", "nein", "non"})
_IN = frozenset({"in stock", "available", "active", "in", "low", "low stock", "ok"})
_OUT = frozenset({"out of stock", "out", "none", "inactive", "sold out", "unavailable", "not available"})
_ENDED = frozenset({"discontinued", "ended", "end of line", "deleted", "withdrawn"})


class Stock(StrEnum):
    """What a list says of a variant's availability."""

    IN = "in stock"
    OUT = "out of stock"
    ENDED = "discontinued"


def read_amount(text: str, currency: str) -> Money:
    """An amount with or without a currency sign, with a decimal point or comma; never rounded.

    ``1,234`` could be either and is refused. Raises ShopError ``bad-amount`` or ``negative-amount``.
    """
    digits = text
    for sign, currencies in (*SIGNS.items(), (currency, (currency,))):
        if sign in digits:
            if currencies and currency not in currencies:
                fix = f"give the list's amounts in {currency}, or set the blank's currency"
                raise ShopError("bad-amount", f'"{text}" is not in {currency}', fix)
            digits = digits.replace(sign, "")
    digits = re.sub(r"[\s\u00a0'\u2019]", "", digits)
    money = Money.parse(_with_point(digits, text, currency), currency)
    if money.amount < 0:
        raise ShopError("negative-amount", f'"{text}" is less than nothing', "remove the minus sign")
    return money


def _with_point(digits: str, text: str, currency: str) -> str:
    comma, point = digits.rfind(","), digits.rfind(".")
    if comma > point:
        after = len(digits) - comma - 1
        if point < 0 and digits.count(",") == 1 and after == 3 and minor_digits(currency) != 3:
            fix = f'write "{digits.replace(",", "")}.00" or "{digits.replace(",", ".")}"'
            raise ShopError("bad-amount", f'"{text}" may mean thousands or decimals', fix)
        if digits.count(",") > 1:
            return digits.replace(",", "") if point < 0 else text
        return digits.replace(".", "").replace(",", ".")
    return digits.replace(",", "")


def read_stock(text: str) -> Stock:
    """A count, a yes or no, or the usual words. Raises ShopError ``unknown-value``."""
    word = " ".join(text.casefold().replace("-", " ").split())
    if word in _ENDED:
        return Stock.ENDED
    if word in _IN or word in _YES:
        return Stock.IN
    if word in _OUT or word in _NO:
        return Stock.OUT
    try:
        return Stock.IN if Decimal(word.removesuffix("+").replace(",", "")) > 0 else Stock.OUT
    except InvalidOperation:
        fix = 'write a count, "in stock", "out of stock" or "discontinued"'
        raise ShopError("unknown-value", f'"{text}" says nothing about stock', fix) from None


def read_flag(text: str) -> bool:
    """Yes or no. Raises ShopError ``unknown-value``."""
    word = text.casefold()
    if word in _YES or word in _NO:
        return word in _YES
    raise ShopError("unknown-value", f'"{text}" is neither yes nor no', "write yes or no")


def read_hex(text: str) -> Srgb:
    """``#rrggbb``, with or without the sign. Raises ShopError ``bad-colour``."""
    if text.isdecimal():
        text = text.zfill(6)  # a workbook drops the zeros in front of what looks like a number
    return Srgb.parse(f"#{text.removeprefix('#')}")


def read_measure(text: str) -> Decimal:
    """A length or volume above nothing; a unit after it is left out. Raises ShopError ``wrong-type``."""
    digits = re.sub(r"\s*(px|mm|ml|dpi)\.?$", "", text.strip(), flags=re.IGNORECASE).replace(",", ".")
    try:
        value = Decimal(digits)
    except InvalidOperation:
        value = Decimal("NaN")
    if not value.is_finite() or value <= 0:
        raise ShopError("wrong-type", f'"{text}" is not a measure', "write a number above 0, like 82.5")
    return value
