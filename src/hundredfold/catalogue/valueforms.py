"""Names of values with a meaning of their own, and the form each must have."""

import re
from decimal import Decimal

from hundredfold.learning.values import is_barcode

_PARTS = re.compile(r"(\d{1,3}(?:[.,]\d)?)\s*%")
# Names with a meaning of their own; a shop may add any other.
KNOWN: dict[str, str] = {
    "maker": "who made the goods: name or registered trade name",
    "maker address": "the maker's postal address",
    "maker contact": "an e-mail or web address of the maker",
    "responsible": "who answers for the goods where they are sold, if the maker is elsewhere",
    "responsible address": "that person's postal address",
    "responsible contact": "that person's e-mail or web address",
    "origin": "the country where the goods were made, as its two letters (ISO 3166)",
    "customs code": "the tariff code, 6 to 10 digits",
    "materials": "what textiles are made of, in percent: 60% cotton, 40% polyester",
    "age": "for whom: adult, or the age from which it is safe",
    "safety": "warnings and safety lines",
    "made by": "how it was made, in words",
    "care": "how to look after it",
    "weight": "of one piece packed, like 340 g",
    "barcode": "a GTIN of 8, 12, 13 or 14 digits",
    "category": "where it belongs in a shop",
}


def wrong_value(name: str, value: str) -> str:
    """What is wrong with a value of a known name, in words; "" where nothing is."""
    if name == "origin" and not re.fullmatch(r"[A-Z]{2}", value):
        return f'"{value}" is not a country\'s two letters, like GB'
    if name == "customs code" and not re.fullmatch(r"\d{6,10}", re.sub(r"[ .]", "", value)):
        return f'"{value}" is not a tariff code of 6 to 10 digits'
    if name == "barcode" and not is_barcode(value):
        return f'"{value}" is no barcode: its last digit does not follow from the others'
    if name == "materials":
        parts = [Decimal(part.replace(",", ".")) for part in _PARTS.findall(value)]
        if sum(parts) != 100:
            return f'the parts of "{value}" make {sum(parts):f}%, not 100%'
    return ""
