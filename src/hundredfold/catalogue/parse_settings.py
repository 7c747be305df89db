"""shop.toml to ShopSettings."""

from datetime import date, datetime
from decimal import Decimal

from babel.numbers import is_currency

from hundredfold.catalogue.read_values import read_values
from hundredfold.catalogue.settings import Rate, ShopSettings, TargetRule
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
        price_ending=read_ending(table, currency, ""),
        tax_registered=table.flag("tax_registered", False),
        targets=tuple(_rule(inner, currency) for inner in table.array("targets")),
        month_days=month.integer("days", 30, low=1, high=92),
        month_start=_day(month, "start"),
        colours_to_list=table.integer("colours_to_list", 0),
        checks_profile=table.text("checks_profile", ""),
        database=table.text("database", ""),
        delivery_folder=table.text("delivery_folder", "delivered"),
        rates=_rates(table),
        values=dict(read_values(table)),
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


def read_ending(table: Table, currency: str, default: str) -> str:
    """The last digits of a price, or empty: up to two more than the currency's decimals (``995``: 9.95)."""
    value = table.text("price_ending", default)
    if not fits(value, currency):
        digits = minor_digits(currency)
        fix = f'write up to {digits + 2} digits, like "{"9" * max(digits, 1)}", or "" for no ending'
        table.wrong("out-of-range", "price_ending", f'a {currency} price cannot end in "{value}"', fix)
        return ""
    return value


def fits(ending: str, currency: str) -> bool:
    """Whether a price of the currency can end so."""
    plain = ending.isascii() and ending.isdecimal() and len(ending) <= minor_digits(currency) + 2
    return plain or not ending


def _is_currency(value: str) -> bool:
    return value.isupper() and is_currency(value)


def _day(table: Table, key: str) -> date | None:
    value = table.raw(key)
    if value is None or (isinstance(value, date) and not isinstance(value, datetime)):
        return value
    fix = "write a date without quotes, like 2026-12-01, or leave it out"
    table.wrong("wrong-type", key, f"{value!r} is not a date", fix)
    return None


def _rule(table: Table, currency: str) -> TargetRule:
    rule = TargetRule(
        channel=table.text("channel", ""),
        blank=table.text("blank", ""),
        size=table.text("size", ""),
        niche=table.text("niche", ""),
        design=table.text("design", ""),
        profit=table.money("profit", currency) if "profit" in table else None,
        share=table.share("share") if "share" in table else None,
    )
    table.ask("profit")
    table.ask("share")
    if rule.profit is None and rule.share is None:
        fix = 'write profit = "4.00", share = "20%", or both'
        table.wrong("missing-key", None, "the rule says neither profit nor share", fix)
    if not any(rule.rank):
        fix = "name a channel, blank, size, niche or design; the target of all is target_profit"
        table.wrong("missing-key", None, "the rule is for everything", fix)
    table.done()
    return rule


def _rates(table: Table) -> dict[tuple[str, str], Rate]:
    rates = table.table("rates")
    found: dict[tuple[str, str], Rate] = {}
    for name in rates.names():
        source, _, target = name.partition("-")
        rate = _rate(rates, name)
        if not (_is_currency(source) and _is_currency(target)) or source == target:
            fix = "name it after the two currencies, GBP-USD say: what one GBP buys of USD"
            rates.wrong("unknown-key", name, f'"{name}" is not a pair of currencies', fix)
        elif rate is not None:
            found[source, target] = rate
    return found


def _rate(rates: Table, name: str) -> Rate | None:
    """A number in quotes, or a table of it with its date and the spread."""
    raw = rates.raw(name)
    if not isinstance(raw, dict):
        value = rates.exact(name)
        if value is not None and value <= 0:
            rates.wrong("out-of-range", name, f"the rate is {value}", "write a rate above 0")
            return None
        return None if value is None else Rate(value)
    inner = rates.entry(name)
    value = inner.exact("rate")
    rate = Rate(Decimal(1) if value is None else value, _day(inner, "date"), inner.share("spread", "0"))
    inner.done()
    if rate.value <= 0:
        inner.wrong("out-of-range", "rate", f"the rate is {rate.value}", "write a rate above 0")
        return None
    return rate
