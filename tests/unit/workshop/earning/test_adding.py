"""Reports as they come: read once, whatever their order, overlap, dates, totals, headings and compression."""

import gzip
from pathlib import Path

import pytest
import xlsxwriter
from soldshop import sold_shop, write_report

from hundredfold.kernel.errors import ShopError
from hundredfold.results.dates import DateOrder
from hundredfold.results.entries import SalesSum
from hundredfold.workshop.earning.adding import AS_IT_IS, Added, ReportHints, add_report
from hundredfold.workshop.shop.desk import desk
from hundredfold.workshop.shop.newshop import new_shop

Row = dict[str, object]
BUYER = {
    "Buyer name": "Wilhelmina Quillfeather",
    "Buyer email": "quillfeather@post.example",
    "Ship to street": "17 Otter Rise",
}


@pytest.fixture
def root(tmp_path: Path) -> Path:
    new_shop(tmp_path / "shop", sample=True)
    return tmp_path / "shop"


def add(root: Path, path: Path, channel: str = "northfold", asked: ReportHints = AS_IT_IS) -> Added:
    with desk(root, "sales add") as opened:
        return add_report(opened, path, channel, asked)


def sums(root: Path) -> tuple[SalesSum, ...]:
    with desk(root, "") as opened:
        return opened.store.sales.sums()


def total(root: Path, name: str) -> int:
    return sum(getattr(one, name) or 0 for one in sums(root))


def orders(count: int, first: int = 0, **more: object) -> list[Row]:
    return [
        {
            "Order": f"A{n}", "Order date": f"2027-01-{1 + n % 28:02d}", "SKU": f"PG-{n % 3}",
            "Qty": 1 + n % 2,
            "Item total": f"{(1 + n % 2) * 14.95:.2f}", "Postage": "3.45", "Fee": "2.10", **BUYER, **more,
        }
        for n in range(first, first + count)
    ]  # fmt: skip


def paid(rows: list[Row]) -> int:
    return sum(round(float(str(row["Item total"])) * 10_000) for row in rows)


def test_a_report_is_read_and_reading_it_again_changes_nothing(root: Path, tmp_path: Path) -> None:
    rows = orders(40)
    path = write_report(tmp_path / "r.csv", rows)
    found = add(root, path)
    assert (found.form, found.new, found.changed, found.known, found.unusable) == ("orders", 40, 0, 0, 0)
    assert total(root, "paid") == paid(rows)
    assert (total(root, "postage"), total(root, "fee"), total(root, "units")) == (40 * 34500, 40 * 21000, 60)
    before = sums(root)
    assert add(root, path).seen_before
    copy = write_report(tmp_path / "copy.csv", [*rows[20:], *rows[:20]])
    again = add(root, copy)
    assert (again.new, again.changed, again.known) == (0, 0, 40)
    assert sums(root) == before


def test_two_files_that_overlap_count_once_and_the_later_correction_wins(root: Path, tmp_path: Path) -> None:
    rows = orders(30)
    add(root, write_report(tmp_path / "one.csv", rows[:20]))
    rows[12]["Item total"] = "10.00"
    found = add(root, write_report(tmp_path / "two.csv", rows[10:]))
    assert (found.new, found.changed, found.known) == (10, 1, 9)
    assert total(root, "paid") == paid(rows)


def test_a_report_in_another_order_of_columns_and_another_language(root: Path, tmp_path: Path) -> None:
    rows = orders(6)
    german = [
        {
            "Gebühr": str(row["Fee"]).replace(".", ","), "Käufer": row["Buyer name"],
            "Gesamtpreis": str(row["Item total"]).replace(".", ","), "Menge": row["Qty"], "SKU": row["SKU"],
            "Bestelldatum": "15.01.2027", "Versandkosten": "1.003,45", "Bestellnummer": row["Order"],
        }
        for row in rows
    ]  # fmt: skip
    found = add(root, write_report(tmp_path / "r.csv", german, ";"))
    assert found.unusable == 0
    assert (total(root, "paid"), total(root, "postage"), total(root, "fee")) == (
        paid(rows),
        6 * 10034500,
        6 * 21000,
    )


def test_no_byte_of_the_shop_tells_who_bought(root: Path, tmp_path: Path) -> None:
    rows = orders(5)
    rows[3]["Order date"] = "32 January"
    found = add(root, write_report(tmp_path / "r.csv", rows))
    said = " ".join(f"{one.item} {one.what} {one.fix}" for one in found.findings)
    everything = b"".join(path.read_bytes() for path in root.rglob("*") if path.is_file())
    for secret in ("Wilhelmina", "Quillfeather", "quillfeather@post.example", "Otter Rise"):
        assert secret.encode() not in everything
        assert secret.encode("utf-16-le") not in everything
        assert secret not in said
    assert b"PG-1" in everything, "what was sold is kept"


def test_an_unlikely_date_is_told_and_the_other_rows_are_done(root: Path, tmp_path: Path) -> None:
    rows = orders(5)
    rows[3]["Order date"] = "2027-02-31"
    found = add(root, write_report(tmp_path / "r.csv", rows))
    assert (found.new, found.unusable) == (4, 1)
    assert [(one.check, one.code, one.item) for one in found.findings] == [
        ("sales/row", "unusable", "r.csv, row 5")
    ]


def test_day_first_taken_month_first_is_found_by_its_contradictions(root: Path, tmp_path: Path) -> None:
    rows = orders(20)
    for n, row in enumerate(rows):
        row["Order date"] = f"{n + 1:02d}/01/2027"
    found = add(root, write_report(tmp_path / "r.csv", rows), "quayside")  # an American channel: month first
    assert (found.unusable, [one.code for one in found.findings]) == (0, [])
    assert {one.month for one in sums(root)} == {"2027-01"}
    rows[0]["Order date"] = "01/25/2027"
    odd = add(root, write_report(tmp_path / "two.csv", rows), "quayside")
    assert {one.code for one in odd.findings} == {"contradiction", "unusable"}


def test_dates_that_do_not_tell_are_told_and_remembered(root: Path, tmp_path: Path) -> None:
    rows = orders(2)
    for row in rows:
        row["Order date"] = "03/04/2027"
    found = add(root, write_report(tmp_path / "r.csv", rows))
    assert [one.code for one in found.findings] == ["guessed"]
    rows[0]["Order date"] = "05/04/2027"
    said = add(root, write_report(tmp_path / "s.csv", rows), asked=ReportHints(order=DateOrder.MONTH_FIRST))
    assert (said.findings, {one.month for one in sums(root)}) == ((), {"2027-03", "2027-05"})
    rows[0]["Order date"] = "05/06/2027"
    assert add(root, write_report(tmp_path / "t.csv", rows)).findings == (), "as it was said before"


def test_totals_are_left_out_and_told(root: Path, tmp_path: Path) -> None:
    rows = orders(5)
    sum_row = dict.fromkeys(rows[0], "") | {"Order": "Total", "Item total": "104.65", "Postage": "17.25"}
    found = add(root, write_report(tmp_path / "r.csv", [*rows, sum_row]))
    assert [one.code for one in found.findings] == ["totals-left-out"]
    assert total(root, "paid") == paid(rows)


def test_headings_that_change_in_mid_file(root: Path, tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    path.write_text(
        "Order,Date,SKU,Qty,Item total\nA1,2027-01-02,PG-1,1,10.00\n\n"
        "Date,Order,Item total,Fee,SKU,Qty\n2027-02-03,A2,20.00,1.50,PG-1,1\n"
    )
    found = add(root, path)
    assert [one.code for one in found.findings] == ["headings-again"]
    assert (total(root, "paid"), total(root, "fee"), found.unusable) == (300_000, 15_000, 0)


def test_an_item_told_twice_counts_once(root: Path, tmp_path: Path) -> None:
    rows = orders(3)
    rows.append({**rows[0], "Item total": "5.00"})
    found = add(root, write_report(tmp_path / "r.csv", rows))
    assert [one.code for one in found.findings] == ["item-again"]
    rows[0] = rows.pop()
    assert total(root, "paid") == paid(rows)


def test_a_compressed_report_that_is_cut_short_leaves_nothing(root: Path, tmp_path: Path) -> None:
    rows = orders(3000)
    plain = write_report(tmp_path / "r.csv", rows).read_bytes()
    whole = gzip.compress(plain)
    path = tmp_path / "r.csv.gz"
    path.write_bytes(whole[: -20_000 if len(whole) > 40_000 else -9])
    with pytest.raises(ShopError) as caught:
        add(root, path)
    assert caught.value.slug == "report-cut-short"
    assert sums(root) == ()
    path.write_bytes(whole)
    assert add(root, path).new == 3000


def test_a_workbook(root: Path, tmp_path: Path) -> None:
    path = tmp_path / "r.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("Sales")
        sheet.write_row(0, 0, ["Sales of January"])
        sheet.write_row(2, 0, ["Order", "Date", "SKU", "Qty", "Item total"])
        sheet.write_row(3, 0, ["A1", "2027-01-05", "PG-1", 2, 29.9])
    assert add(root, path).new == 1
    assert (total(root, "paid"), total(root, "units")) == (299_000, 2)


@pytest.mark.parametrize(("several", "wanted"), [("44.85", 44.85), ("14.95", 44.85)])
def test_what_a_price_is_of_is_told_by_a_sku_sold_in_ones_and_in_several(
    root: Path, tmp_path: Path, several: str, wanted: float
) -> None:
    path = tmp_path / "r.csv"
    path.write_text(f"Order,Date,SKU,Qty,Price\nA1,2027-01-02,PG-1,1,14.95\nA2,2027-01-02,PG-1,3,{several}\n")
    found = add(root, path)
    assert [one.code for one in found.findings] == []
    assert total(root, "paid") == round((14.95 + wanted) * 10_000)
    path.write_text("Order,Date,SKU,Qty,Price\nB1,2027-01-02,PG-1,3,14.95\n")
    assert [one.code for one in add(root, path).findings] == ["price-guessed"]


def test_two_decimal_marks_are_told(root: Path, tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    path.write_text(
        'Order,Date,SKU,Item total\nA1,2027-01-02,PG-1,"1,234.50"\nA2,2027-01-02,PG-1,"1.234,50"\n'
    )
    assert "marks" in {one.code for one in add(root, path).findings}


MOVEMENTS = """Date,Type,Order,SKU,Qty,Description,Amount
2027-01-02,Order,A1,PG-1,1,Item price,14.95
2027-01-02,Order,A1,PG-1,1,Shipping,3.45
2027-01-02,Order,A1,PG-1,1,Commission,-2.24
2027-01-02,Order,A1,PG-1,1,Payment processing fee,-0.45
2027-01-09,Refund,A1,PG-1,1,Item price,(14.95)
2027-01-09,Refund,A1,PG-1,1,Commission,2.24
2027-01-31,Advertising,,,,Promoted listings,-6.10
2027-01-31,Subscription fee,,,,Subscription fee,-10.00
2027-01-31,Payout,,,,Payout to bank,-100.00
"""


def test_a_settlement_of_movements(root: Path, tmp_path: Path) -> None:
    path = tmp_path / "settled.csv"
    path.write_text(MOVEMENTS)
    found = add(root, path)
    assert (found.form, found.moved, found.unusable) == ("money", 1, 0)
    named = ("paid", "postage", "fee", "payment", "refund", "advert", "units", "refund_units")
    assert [total(root, name) for name in named] == [149500, 34500, 100000, 4500, 149500, 61000, 1, 1]
    assert add(root, path).seen_before


def test_a_settlement_of_orders_that_were_read_before_counts_nothing_twice(
    root: Path, tmp_path: Path
) -> None:
    rows = [
        {"Order": "A1", "Date": "2026-12-31", "SKU": "PG-1", "Qty": 1, "Item total": "14.95", "Fee": "2.24"}
    ]
    add(root, write_report(tmp_path / "orders.csv", rows))
    (tmp_path / "settled.csv").write_text(MOVEMENTS)
    add(root, tmp_path / "settled.csv")
    assert [total(root, name) for name in ("paid", "postage", "fee", "units")] == [149500, 34500, 100000, 1]
    december = [one for one in sums(root) if one.month == "2026-12"]
    assert december[0].paid == 149500, "a sale stays in the month of its order"


def test_costs_count_the_same_with_either_sign(root: Path, tmp_path: Path) -> None:
    rows = [{**row, "Fee": "-2.10", "Refund": "-1.00"} for row in orders(4)]
    add(root, write_report(tmp_path / "r.csv", rows))
    assert (total(root, "fee"), total(root, "refund")) == (84_000, 40_000)


def test_a_cancelled_order_is_taken_back(root: Path, tmp_path: Path) -> None:
    rows = orders(3, Status="Completed")
    add(root, write_report(tmp_path / "r.csv", rows))
    rows[0]["Status"] = "Cancelled"
    add(root, write_report(tmp_path / "s.csv", rows))
    assert (total(root, "paid"), total(root, "units")) == (paid(rows[1:]), 3)


def test_a_word_of_the_channels_own_is_told_once(root: Path, tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    path.write_text(MOVEMENTS.replace("Commission", "Pitch toll").replace("Order,A1", "Toll,A1"))
    found = add(root, path)
    assert {one.code for one in found.findings} == {"unusable"}
    asked = ReportHints(words={"toll": "sale", "pitch toll": "fee"})
    assert add(root, path, asked=asked).unusable == 0
    assert total(root, "fee") == 100_000
    with pytest.raises(ShopError) as caught:
        add(root, path, asked=ReportHints(words={"toll": "fees"}))
    assert caught.value.slug == "bad-column"


def test_columns_that_cannot_be_told(root: Path, tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    path.write_text("Order,Booked,SKU,Takings thing\nA1,2027-01-02,PG-1,10.00\n")
    asked = ReportHints({"paid": "Takings thing", "date": "Booked"})
    assert add(root, path, asked=asked).new == 1
    path.write_text("Order,Booked,SKU,Takings thing\nA2,2027-01-02,PG-1,11.00\n")
    assert add(root, path).new == 1, "remembered"
    path.write_text("Order,SKU,Item total\nA1,PG-1,10.00\n")
    with pytest.raises(ShopError) as caught:
        add(root, path)
    assert caught.value.slug == "no-such-column"
    assert add(root, path, asked=ReportHints(day="2027-01-31")).changed == 1
    with pytest.raises(ShopError) as caught:
        add(root, path, asked=ReportHints({"payed": "Item total"}))
    assert caught.value.slug == "bad-column"


def test_headings_that_nobody_knows_are_found_by_what_the_seller_says(root: Path, tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    path.write_text('"","Form","Zahl"\n"1","PG-1",7\n"2","PG-2",9\n')
    with pytest.raises(ShopError) as caught:
        add(root, path)
    assert caught.value.slug == "missing-column"
    said = ReportHints({"paid": "Zahl", "sku": "Form"}, day="2027-01-31")
    assert add(root, path, asked=said).new == 2
    assert total(root, "paid") == 160_000


def test_views_and_numbers_of_the_channels_own(root: Path, tmp_path: Path) -> None:
    path = tmp_path / "v.csv"
    path.write_text("Date,Listing ID,Views,Clicks\n2027-01-02,77,120,4\n2027-01-03,77,30,1\n")
    assert add(root, path).form == "views"
    assert [(one.sku, one.views, one.clicks) for one in sums(root)] == [("77", 150, 5)]


def test_skus_of_the_shop_are_found_whatever_the_heading(tmp_path: Path) -> None:
    root = tmp_path / "shop"
    sku = next(iter(sold_shop(root)))
    path = tmp_path / "r.csv"
    path.write_text(f"Order,Date,Thing sold,Item total\nA1,2027-01-02,{sku},10.00\n")
    assert [one.field for one in add(root, path).columns] == ["order", "date", "sku", "paid"]
