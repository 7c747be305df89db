"""Lengths, weights and volumes in the unit a channel asks for."""

import re
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

# In millimetres, grams, millilitres. Exact by definition: inch, pound (avoirdupois), US fluid ounce (NIST
# Handbook 44, appendix C; from memory).
UNITS: dict[str, tuple[str, Decimal]] = {
    "mm": ("length", Decimal(1)),
    "cm": ("length", Decimal(10)),
    "m": ("length", Decimal(1000)),
    "in": ("length", Decimal("25.4")),
    "g": ("weight", Decimal(1)),
    "kg": ("weight", Decimal(1000)),
    "oz": ("weight", Decimal("28.349523125")),
    "lb": ("weight", Decimal("453.59237")),
    "ml": ("volume", Decimal(1)),
    "cl": ("volume", Decimal(10)),
    "l": ("volume", Decimal(1000)),
    "fl oz": ("volume", Decimal("29.5735295625")),
}
_MEASURE = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*(mm|cm|m|in|kg|g|oz|lb|ml|cl|l|fl oz)\s*$")
_USUAL_DECIMALS = 2


@dataclass(frozen=True)
class Measure:
    """An amount in its own unit, like 340 g."""

    amount: Decimal
    unit: str

    def within(self, unit: str, decimals: int | None = None) -> Decimal | None:
        """The amount in another unit of its kind, rounded half up; None where the kinds differ.

        Without ``decimals`` at most two are kept and trailing zeros are not.
        """
        kind, size = UNITS[self.unit]
        wanted, other = UNITS[unit]
        if kind != wanted:
            return None
        exact = self.amount * size / other
        places = _USUAL_DECIMALS if decimals is None else decimals
        rounded = exact.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
        return _bare(rounded) if decimals is None else rounded

    def __str__(self) -> str:
        return f"{_bare(self.amount):f} {self.unit}"


def measure_of(text: str) -> Measure | None:
    """``340 g`` or ``82,5 mm``; None where the text is no measure."""
    found = _MEASURE.match(text)
    return Measure(Decimal(found[1].replace(",", ".")), found[2]) if found else None


def _bare(number: Decimal) -> Decimal:
    normal = number.normalize()
    return normal.quantize(Decimal(1)) if normal == normal.to_integral_value() else normal
