"""shop.toml to ShopSettings."""

from datetime import date, datetime
from decimal import Decimal

from babel.numbers import is_currency

from hundredfold.catalogue.settings import ShopSettings
from hundredfold.catalogue.toml_table import Source, Table
from hundredfold.kernel.money import minor_digits

FILE = "shop.toml"


def parse_settings(source: Source) -> ShopSettings:
    """Read a shop's settings; mistakes are collected in the source."""
    table = source.table
    currency = read_currency(table)
    month = table.table("month")
    settings = ShopSettings(
        name=table.text("name"),
        currency=currency,
        target_profit=table.money("target_profit", currency),
        target_share=table.share("target_share", "0"),
        language=read_language(table, "en-GB"),
        sku_prefix=table.code("sku_prefix") if "sku_prefix" in table else table.text("sku_prefix", "HF"),
        price_ending=read_ending(table, currency, default_ending(currency)),
        month_days=month.integer("days", 30, low=1, high=92),
        month_start=_start(month),
        colours_to_list=table.integer("colours_to_list", 0),
        checks_profile=table.text("checks_profile", ""),
        database=table.text("database", ""),
        delivery_folder=table.text("delivery_folder", "delivered"),
        rates=_rates(table),
    )
    month.done()
    table.done()
    return settings


def read_currency(table: Table, default: str | None = None) -> str:
    """An ISO 4217 code: three capital letters."""
    value = table.text("currency", default)
    if value and not _is_currency(value):
        fix = 'write its three-letter code in capitals, like "GBP"'
        table.wrong("unknown-value", "currency", f'"{value}" is not a currency', fix)
        return "GBP"
    return value or "GBP"


def read_language(table: Table, default: str | None = None) -> str:
    """A BCP 47 tag of language and region, such as ``en-GB``."""
    value = table.text("language", default)
    language, _, region = value.partition("-")
    good = language.isalpha() and language.islower() and len(language) in (2, 3)
    if value and not (good and (not region or (region.isupper() and region.isalpha() and len(region) == 2))):
        fix = 'write language and country like "en-GB" or "de-DE"'
        table.wrong("unknown-value", "language", f'"{value}" is not a language', fix)
    return value


def default_ending(currency: str) -> str:
    """The ending used where nobody chose one: 95 in currencies with two decimals, none elsewhere."""
    return "95" if minor_digits(currency) == 2 else ""


def read_ending(table: Table, currency: str, default: str) -> str:
    """The last digits of a price, or empty: up to two more than the currency's decimals (``995``: 9.95)."""
    value = table.text("price_ending", default)
    digits = minor_digits(currency)
    if value and (not value.isascii() or not value.isdecimal() or len(value) > digits + 2):
        fix = f'write up to {digits + 2} digits, like "{"9" * max(digits, 1)}", or "" for no ending'
        table.wrong("out-of-range", "price_ending", f'a {currency} price cannot end in "{value}"', fix)
    return value


def _is_currency(value: str) -> bool:
    return value.isupper() and is_currency(value)


def _start(month: Table) -> date | None:
    value = month.raw("start")
    if value is None or (isinstance(value, date) and not isinstance(value, datetime)):
        return value
    fix = "write a date without quotes, like 2026-12-01, or leave it out"
    month.wrong("wrong-type", "start", f"{value!r} is not a date", fix)
    return None


def _rates(table: Table) -> dict[tuple[str, str], Decimal]:
    rates = table.table("rates")
    found: dict[tuple[str, str], Decimal] = {}
    for name in rates.names():
        source, _, target = name.partition("-")
        rate = rates.exact(name)
        if not (_is_currency(source) and _is_currency(target)) or source == target:
            fix = 'name it after the two currencies: GBP-USD = "1.27" says one GBP buys 1.27 USD'
            rates.wrong("unknown-key", name, f'"{name}" is not a pair of currencies', fix)
        elif rate is not None and rate <= 0:
            rates.wrong("out-of-range", name, f"the rate is {rate}", "write a rate above 0")
        elif rate is not None:
            found[source, target] = rate
    return found
