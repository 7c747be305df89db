"""Numbers and days as a channel writes them, shown by an example: "1.234,50", "31.12.2026"."""

from datetime import date
from decimal import Decimal

# The example of each style -> the mark of thousands, the mark of decimals.
NUMBERS: dict[str, tuple[str, str]] = {
    "1234.50": ("", "."),
    "1234,50": ("", ","),
    "1,234.50": (",", "."),
    "1.234,50": (".", ","),
    "1 234,50": (" ", ","),
    "1'234.50": ("'", "."),
    "1234": ("", ""),  # whole numbers only
}
DAYS: dict[str, str] = {
    "2026-12-31": "{0:04}-{1:02}-{2:02}",
    "31.12.2026": "{2:02}.{1:02}.{0:04}",
    "31/12/2026": "{2:02}/{1:02}/{0:04}",
    "31-12-2026": "{2:02}-{1:02}-{0:04}",
    "12/31/2026": "{1:02}/{2:02}/{0:04}",
    "20261231": "{0:04}{1:02}{2:02}",
}


def number_text(number: Decimal, style: str = "") -> str | None:
    """The number in a style; None where it cannot be written so (pence in whole numbers)."""
    thousands, point = NUMBERS.get(style, ("", "."))
    if not point:
        return format(number.to_integral_value(), "f") if number == number.to_integral_value() else None
    text = format(number, ",f") if thousands else format(number, "f")
    if thousands in ("", ",") and point == ".":
        return text
    return text.replace(",", "\0").replace(".", point).replace("\0", thousands)


def day_text(day: date, style: str = "") -> str:
    """The day in a style; ISO 8601 without one."""
    return DAYS.get(style, DAYS["2026-12-31"]).format(day.year, day.month, day.day)
