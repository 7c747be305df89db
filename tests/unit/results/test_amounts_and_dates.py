"""Amounts and dates as reports write them.

The forms of amounts: Unicode CLDR number patterns (de 1.234,56; fr 1 234,56; de-CH 1'234.50; en-GB
1,234.50), and accountants' brackets for less than nothing.
"""

from datetime import date
from decimal import Decimal

import pytest
from babel.dates import format_date
from babel.numbers import format_currency, format_decimal
from hypothesis import given
from hypothesis import strategies as st

from hundredfold.results.amounts import MarkVotes, amount_of, exact, held
from hundredfold.results.dates import DateOrder, DateVotes, day_of


@pytest.mark.parametrize(
    ("text", "mark", "amount"),
    [
        ("1.234,56", ",", "1234.56"),
        ("(12.30)", ".", "-12.30"),
        ("(1.234,56)", ",", "-1234.56"),
        ("12,30-", ",", "-12.30"),
        ("−12.30", ".", "-12.30"),
        ("£1,234.50", ".", "1234.50"),
        ("US$ 3.20", ".", "3.20"),
        ("-$4.10", ".", "-4.10"),
        ("1 234,56 EUR", ",", "1234.56"),
        ("CHF 1'234.50", ".", "1234.50"),
        (".5", ".", "0.5"),
        ("0.3625", ".", "0.3625"),
    ],
)
def test_amounts(text: str, mark: str, amount: str) -> None:
    read = amount_of(text, mark)
    assert read is not None
    assert exact(read) == Decimal(amount)


@pytest.mark.parametrize("text", ["", "abc", "12.34567", "1.2.3", "12/05", "5 pieces", "99999999999999"])
def test_no_amounts(text: str) -> None:
    assert amount_of(text, ".") is None


@given(
    st.decimals(-99999, 99999, places=2),
    st.sampled_from(["en_GB", "de_DE", "fr_FR", "it_IT", "es_ES", "de_CH"]),
)
def test_what_babel_writes_is_read_back(amount: Decimal, locale: str) -> None:
    mark = "." if locale in ("en_GB", "de_CH") else ","
    for text in (format_currency(amount, "EUR", locale=locale), format_decimal(amount, locale=locale)):
        read = amount_of(text, mark)
        assert read is not None, text
        assert exact(read) == amount


def test_more_decimals_than_are_kept_are_refused() -> None:
    assert held(Decimal("1.2345")) == 12345
    with pytest.raises(ValueError, match="more than 4 decimals"):
        held(Decimal("1.23456"))


def test_marks_are_told_by_the_amounts_together() -> None:
    votes = MarkVotes()
    for text in ("1.234", "12", "7,50", "1.234,56", "1.000.000"):
        votes.see(text)
    assert (votes.mark(), votes.both) == (",", False)
    votes.see("1,234.50")
    assert votes.both
    assert MarkVotes().mark(",") == ","


@given(
    st.dates(date(2000, 1, 1), date(2030, 12, 31)),
    st.sampled_from(["en_GB", "de_DE", "fr_FR", "it_IT", "es_ES"]),
)
def test_dates_that_babel_writes_are_read_back(day: date, locale: str) -> None:
    for form in ("short", "medium", "long"):
        text = format_date(day, form, locale=locale)
        assert day_of(text, DateOrder.DAY_FIRST) == day.isoformat(), text
    assert day_of(format_date(day, "short", locale="en_US"), DateOrder.MONTH_FIRST) == day.isoformat()
    assert day_of(format_date(day, "full", locale="en_US"), DateOrder.DAY_FIRST) == day.isoformat()


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2027-01-05T23:59:59+00:00", "2027-01-05"),
        ("20270105", "2027-01-05"),
        ("05/01/2027 10:11", "2027-01-05"),
        ("1st February 2027", "2027-02-01"),
        ("32/01/2027", None),
        ("31.02.2027", None),
        ("soon", None),
        ("", None),
    ],
)
def test_days(text: str, day: str | None) -> None:
    assert day_of(text) == day


def votes_of(*texts: str) -> DateVotes:
    votes = DateVotes()
    for text in texts:
        votes.see(text)
    return votes


def test_one_date_tells_the_order_of_all() -> None:
    assert votes_of("03/04/2027", "31/01/2027").order(DateOrder.MONTH_FIRST) is DateOrder.DAY_FIRST
    assert votes_of("03/04/2027", "01/31/2027").order(DateOrder.DAY_FIRST) is DateOrder.MONTH_FIRST
    assert votes_of("31/01/2027", "01/31/2027").both


def test_dates_that_do_not_tell_put_nothing_into_the_future() -> None:
    votes = votes_of("01/09/2027", "01/11/2027")
    assert votes.unsure
    assert votes.order(DateOrder.DAY_FIRST, date(2027, 1, 31)) is DateOrder.MONTH_FIRST


def test_dates_that_do_not_tell_keep_a_report_short() -> None:
    votes = votes_of("01/01/2027", "01/02/2027", "01/03/2027", "01/05/2027", "01/12/2027")
    assert votes.order(DateOrder.DAY_FIRST) is DateOrder.MONTH_FIRST
    assert votes_of("02/03/2027").order(DateOrder.DAY_FIRST) is DateOrder.DAY_FIRST
