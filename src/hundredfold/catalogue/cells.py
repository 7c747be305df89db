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
# To mm, ml, pixels. The inch and the US fluid ounce: NIST Handbook 44, appendix C.
_PER_UNIT = {
    "mm": Decimal(1), "cm": Decimal(10), "m": Decimal(1000), "in": Decimal("25.4"), "inch": Decimal("25.4"),
    "ml": Decimal(1), "cl": Decimal(10), "l": Decimal(1000), "oz": Decimal("29.5735295625"),
    "fl oz": Decimal("29.5735295625"), "px": Decimal(1), "pixel": Decimal(1), "pixels": Decimal(1),
    "dpi": Decimal(1), "ppi": Decimal(1),
}  # fmt: skip
_YES = frozenset({"yes", "y", "true", "1", "x", "ja", "oui", "si", "sí", "sì", "vrai", "wahr"})
_NO = frozenset({"no", "n", "false", "0", "nein", "non"})
_IN = frozenset(
    {"in stock", "available", "active", "in", "low", "low stock", "ok", "auf lager", "lieferbar", "verfügbar",
     "en stock", "disponible", "disponibile", "en existencia", "in magazzino"}
)  # fmt: skip
_OUT = frozenset(
    {"out of stock", "out", "none", "inactive", "sold out", "unavailable", "not available", "ausverkauft",
     "nicht lieferbar", "nicht auf lager", "nicht verfügbar", "épuisé", "en rupture", "rupture de stock",
     "indisponible", "agotado", "sin existencias", "no disponible", "esaurito", "non disponibile"}
)  # fmt: skip
_ENDED = frozenset(
    {"discontinued", "ended", "end of line", "deleted", "withdrawn", "auslaufend",
     "ausgelaufen", "eingestellt",
     "arrêté", "supprimé", "descatalogado",
     "fuori produzione", "fuori catalogo"}
)  # fmt: skip


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


def told_currency(text: str) -> str:
    """The currency that an amount's own sign or code states (``£4.10``, ``EUR 4,10``); "" where none does."""
    for code in re.findall(r"[A-Z]{3}", text):
        return str(code)
    for sign, currencies in SIGNS.items():
        if sign in text and len(currencies) == 1:
            return currencies[0]
    return ""


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


def read_measure(text: str, unit: str = "") -> Decimal:
    """A length in mm, a volume in ml or a number of pixels, above nothing.

    The unit is the one after the number, else ``unit``, else those. Ounces are US fluid ounces. Raises
    ShopError ``wrong-type``.
    """
    found = re.fullmatch(r"([\d.,]+)\s*([a-z ]*|\")\.?", text.strip(), flags=re.IGNORECASE)
    name = (found[2].casefold().replace('"', "in") if found else "") or unit or "mm"
    per = _PER_UNIT.get(name)
    try:
        value = Decimal(found[1].replace(",", ".")) * per if found and per else Decimal("NaN")
    except InvalidOperation:
        value = Decimal("NaN")
    if not value.is_finite() or value <= 0:
        fix = "write a number above 0, like 82.5; units may be mm, cm, in, ml, cl, l, oz"
        raise ShopError("wrong-type", f'"{text}" is not a measure', fix)
    return value
