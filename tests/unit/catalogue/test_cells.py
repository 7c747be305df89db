"""Cells as partners write them: read exactly, or refused with a reason, never guessed."""

from decimal import Decimal

import pytest

from hundredfold.catalogue.cells import Stock, read_amount, read_flag, read_hex, read_measure, read_stock
from hundredfold.catalogue.codes import code_from, is_code
from hundredfold.kernel.errors import ShopError


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("4.10", "4.10"), ("4.1", "4.1"), ("4", "4"), ("£4.10", "4.10"), ("GBP 4.10", "4.10"),
        ("4,10 £", "4.10"),
        ("1,234.50", "1234.50"), ("1.234,50", "1234.50"), ("1 234,50", "1234.50"), ("1,234,567", "1234567"),
        ("1'234.50", "1234.50"), ("0", "0"), ("4,1", "4.1"),
    ],
)  # fmt: skip
def test_amounts(text: str, amount: str) -> None:
    assert read_amount(text, "GBP").amount == Decimal(amount)


@pytest.mark.parametrize(
    ("text", "currency", "slug"),
    [
        ("-4.10", "GBP", "negative-amount"),
        ("4.105", "GBP", "bad-amount"),
        ("1,234", "GBP", "bad-amount"),
        ("$4.10", "GBP", "bad-amount"),
        ("€4", "USD", "bad-amount"),
        ("ask us", "GBP", "bad-amount"),
        ("4.10.2026", "GBP", "bad-amount"),
        ("1,2,3.4,5", "GBP", "bad-amount"),
        ("4.5", "JPY", "bad-amount"),
        ("NaN", "GBP", "bad-amount"),
        ("", "GBP", "bad-amount"),
    ],
)
def test_amounts_that_are_refused(text: str, currency: str, slug: str) -> None:
    with pytest.raises(ShopError) as caught:
        read_amount(text, currency)
    assert caught.value.slug == slug


def test_a_comma_is_no_riddle_where_the_currency_has_three_decimals() -> None:
    assert read_amount("1,234", "KWD").amount == Decimal("1.234")


@pytest.mark.parametrize(
    ("text", "stock"),
    [
        ("0", Stock.OUT), ("12", Stock.IN), ("100+", Stock.IN), ("1,200", Stock.IN), ("In stock", Stock.IN),
        ("out-of-stock", Stock.OUT), ("Discontinued", Stock.ENDED), ("no", Stock.OUT), ("TRUE", Stock.IN),
    ],
)  # fmt: skip
def test_stock(text: str, stock: Stock) -> None:
    assert read_stock(text) is stock


@pytest.mark.parametrize(
    ("text", "hex_"), [("#1B2a4E", "#1b2a4e"), ("1b2a4e", "#1b2a4e"), ("0", "#000000"), ("1234", "#001234")]
)
def test_hex(text: str, hex_: str) -> None:
    assert read_hex(text).hex == hex_


def test_measures_and_flags() -> None:
    assert read_measure("82,5 mm") == Decimal("82.5")
    assert read_measure("2480px") == Decimal(2480)
    assert read_flag("Yes")
    assert not read_flag("no")


@pytest.mark.parametrize(
    ("read", "text", "slug"),
    [
        (read_stock, "soon", "unknown-value"),
        (read_flag, "maybe", "unknown-value"),
        (read_hex, "navy", "bad-colour"),
        (read_hex, "#12345", "bad-colour"),
        (read_measure, "0", "wrong-type"),
        (read_measure, "big", "wrong-type"),
    ],
)
def test_cells_that_are_refused(read: object, text: str, slug: str) -> None:
    assert callable(read)
    with pytest.raises(ShopError) as caught:
        read(text)
    assert caught.value.slug == slug


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("Heather grey", "heather-grey"),
        ("Café Crème", "cafe-creme"),
        ("  ", ""),
        ("白", ""),
        ("x" * 50, "x" * 40),
    ],
)
def test_codes_from_names(name: str, code: str) -> None:
    assert code_from(name) == code


def test_codes() -> None:
    assert is_code("MUG-325")
    assert not any(map(is_code, ("", "-a", "a b", "Nul", "com1", "a/b", "x" * 41)))
