"""A blank's measures in the units of a country, written as its language writes them (CLDR through Babel)."""

import re
from dataclasses import dataclass
from functools import lru_cache

from babel import Locale, UnknownLocaleError
from babel.numbers import format_decimal
from babel.units import format_unit

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.channels import LengthUnit

# CLDR supplemental data, measurementData: US customary in the United States, Liberia (and, in part, Myanmar);
# metric elsewhere. The United Kingdom sells by the millilitre; a fluid ounce there is another size.
US_CUSTOMARY = frozenset(("US", "LR"))
ML_PER_US_FLUID_OUNCE = 29.5735295625  # NIST Handbook 44, appendix C
MM_PER_INCH = 25.4
_NAMED_ML = {"ml": 1.0, "cl": 10.0, "l": 1000.0, "oz": ML_PER_US_FLUID_OUNCE}
_NAMED = re.compile(r"(?<![\w.,])(\d+(?:[.,]\d+)?)[ -]?(ml|cl|l|oz)\b", re.IGNORECASE)
_NAMED_LENGTH = re.compile(
    r"(?<![\w.,])\d+(?:[.,]\d+)?(?:\s?[x×]\s?\d+(?:[.,]\d+)?)?[ -]?(?:mm|cm|inch|in|m)\b", re.IGNORECASE
)
NEAR = 0.06  # a "15 oz" mug may hold 425 to 450 ml: names round


@dataclass(frozen=True)
class BlankMeasures:
    """What one size of a blank measures; None where it is not known."""

    capacity_ml: float | None = None
    width_mm: float | None = None
    height_mm: float | None = None
    diameter_mm: float | None = None


def measures_of(blank: Blank, size: str) -> BlankMeasures:
    """The measures of this size's rows alone; those of the body only where it is of this size.

    A capacity that the size's or the blank's own name contradicts is left out.
    """
    blank = blank.measured()
    own = next((one for one in blank.sizes if one.size == size), None)
    body = blank.body if blank.body.size == size or not size else None
    of_body = (body.width_mm, body.height_mm, body.diameter_mm) if body else (None, None, None)
    of_size = (own.width_mm, own.height_mm, own.diameter_mm) if own else (None, None, None)
    width, height, diameter = (b if a is None else a for a, b in zip(of_size, of_body, strict=True))
    capacity = (own.capacity_ml if own else None) or (body.capacity_ml if body else None)
    named = named_capacity_ml(size) or (named_capacity_ml(blank.name) if not size else None)
    if named is not None and capacity is not None and abs(named - capacity) > NEAR * named:
        return BlankMeasures()  # the body is another's: blanks added like another keep its measures
    return BlankMeasures(capacity or named, width, height, diameter)


def named_capacity_ml(name: str) -> float | None:
    """The capacity that a name states (``Mug 15 oz``), in millilitres; None where it states none."""
    found = _NAMED.search(name)
    if found is None:
        return None
    return float(found[1].replace(",", ".")) * _NAMED_ML[found[2].casefold()]


@lru_cache(maxsize=4096)
def without_measures(name: str) -> str:
    """A blank's name without the measures in it: they are told apart, in the buyer's units."""
    return " ".join(_NAMED_LENGTH.sub(" ", _NAMED.sub(" ", name)).split()).strip(" ,-–/")


@lru_cache(maxsize=4096)
def capacity(ml: float, language: str) -> str:
    """A capacity as the country tells it: ``325 ml``, ``11 fl oz``."""
    locale = locale_of(language)
    if _is_us(language):
        ounces = ml / ML_PER_US_FLUID_OUNCE
        whole = round(ounces)
        shown = whole if abs(ounces - whole) <= 0.015 * ounces else round(ounces, 1)
        return format_unit(shown, "volume-fluid-ounce", "short", locale=locale)
    return format_unit(round(ml), "volume-milliliter", "short", locale=locale).replace("\u00a0", " ")


@lru_cache(maxsize=4096)
def short_capacity(ml: float, language: str) -> str:
    """A capacity as buyers type it: ``11 oz`` in the United States."""
    return capacity(ml, language).replace("fl oz", "oz") if _is_us(language) else capacity(ml, language)


@lru_cache(maxsize=4096)
def length(mm: float, language: str, unit: LengthUnit | None = None) -> str:
    """A length in inches where the country or the channel measures so, else in centimetres."""
    locale = locale_of(language)
    if unit is LengthUnit.INCH or _is_us(language):
        return format_unit(round(mm / MM_PER_INCH, 1), "length-inch", "short", locale=locale)
    text = format_unit(round(mm / 10, 1), "length-centimeter", "short", locale=locale)
    return text.replace("\u00a0", " ").replace("\u202f", " ")


@lru_cache(maxsize=4096)
def area(width_mm: float, height_mm: float, language: str, unit: LengthUnit | None = None) -> str:
    """Width by height, the unit once: ``45 × 45 cm``."""
    inches = unit is LengthUnit.INCH or _is_us(language)
    per = MM_PER_INCH if inches else 10
    first = format_decimal(round(width_mm / per, 1), locale=locale_of(language))
    return f"{first} × {length(height_mm, language, unit)}"


def _is_us(language: str) -> bool:
    return language.partition("-")[2].upper() in US_CUSTOMARY


def locale_of(language: str) -> Locale:
    """A language tag's locale in the CLDR, or that of its bare language."""
    try:
        return Locale.parse(language, sep="-")
    except (UnknownLocaleError, ValueError):
        return Locale.parse(language.partition("-")[0])
