"""What stands in a cell, worked out by hand from docs/channels.md, by the writer and by the judge of a table.

The two share no code; where the manifest does not tell the judge what must stand there, it says nothing.
"""

from dataclasses import fields, replace
from datetime import date
from decimal import Decimal
from types import SimpleNamespace
from typing import Any

import pytest
from goods import channel, gbp

from hundredfold.catalogue.sheets import CellKind, Column, Cut, Sheet, TableKind, TextForm
from hundredfold.handoff.fields import RowContext
from hundredfold.handoff.judge_cells import applies, field_of, known_of, wanted
from hundredfold.handoff.manifest_shape import ColumnEntry, RowEntry, SheetEntry
from hundredfold.handoff.rows import PackRow, RowPicture, RowRole
from hundredfold.handoff.sheets import Filler, meant_for
from hundredfold.handoff.terms import _sheet as as_frozen
from hundredfold.kernel.measures import Measure
from hundredfold.ledger.keys import ListingKey
from hundredfold.planning.listings import Action

ROW = PackRow(
    action=Action.CHANGE, revision=3, sku="PG-1", listing=ListingKey("north", "D1", "TEE"), colour="navy",
    size="M", price=gbp("1234.50"), artwork={"back": "b.png", "front": "a.png", "hem": "a.png"},
    pictures=(RowPicture("main", "m.jpg"), RowPicture("more", "n.jpg"), RowPicture("more", "oo.jpg")),
    role=RowRole.MEMBER,
    fields={
        "title": "Bees & Honey", "story": "One.\n \nTwo <3.", "points": ("Soft", "", "Made to order", "Warm"),
        "search words": ("bee", "apiary", "gift"), "keywords": ("hive",), "colour name": "Navy",
        "niche": "", "occasion": "spring", "shop": "Puddlewick", "barcode": "0501", "form": "t-shirt",
        "partner code": "1e5",
    },
    values={"weight": "180 g", "count": " 12.50 ", "odd": "many", "made": "2026-12-31"},
    measures={"width": Measure(Decimal("127"), "mm"), "capacity": Measure(Decimal(500), "ml")},
)  # fmt: skip
WORDS = {
    "colour": {"Navy": "Marine", "*": "Bunt"},
    "action": {"new": "Create", "CHANGE": "Amend"},
    "points": {"": "", "Soft": "weich", "Warm": "warm", "Made to order": ""},
    "size": {"S": "small"},
    "none": {"": "ohne", "0501": "x"},
    "files": {"m.jpg": "eins", "n.jpg": "zwei", "oo.jpg": "drei"},
}
TO = replace(channel(), stock=7, destination="DE", their_words=WORDS, extra={"note": "hello", "void": ""})
RATES = {("GBP", "EUR"): Decimal("1.2"), ("USD", "GBP"): Decimal("0.8"), ("GBP", "JPY"): Decimal(190)}
CONTEXT = RowContext(ROW, TO, date(2026, 2, 1), "PG-0", RATES, Decimal("0.2"), "f.jpg", "more", 2)
HTML, NUMBER, DATE = TextForm.HTML, CellKind.NUMBER, CellKind.DATE
SAYS_NOTHING = object()  # the manifest does not tell


def col(fill: str, **options: Any) -> Column:
    return Column("H", fill, **options)


# the column, what the writer puts, what the judge says must stand there (left out: the same)
CELLS: tuple[tuple[Any, ...], ...] = (
    (col(""), "", SAYS_NOTHING),
    (col("fixed, {{kept}}"), "fixed, {kept}", SAYS_NOTHING),
    (col("{sku}"), "PG-1"),
    (col(" { sku } "), "PG-1"),
    (col("{family sku}"), "PG-0", SAYS_NOTHING),
    (col("{role}"), "member"),
    (col("{action}"), "change"),
    (col("{revision}"), "3"),
    (col("{design}"), "D1"),
    (col("{blank}"), "TEE"),
    (col("{colour}"), "navy"),
    (col("{size}"), "M"),
    (col("{currency}"), "GBP"),
    (col("{language}"), "en-GB", SAYS_NOTHING),
    (col("{destination}"), "DE", SAYS_NOTHING),
    (col("{stock}"), "7", SAYS_NOTHING),
    (col("{title}"), "Bees & Honey", SAYS_NOTHING),
    (col("{story}"), "One. Two <3.", SAYS_NOTHING),
    (col("{story}", text=HTML), "<p>One.</p><p>Two &lt;3.</p>", SAYS_NOTHING),
    (col("{points}"), "Soft Made to order Warm", SAYS_NOTHING),
    (col("{points}", text=HTML), "<ul><li>Soft</li><li>Made to order</li><li>Warm</li></ul>", SAYS_NOTHING),
    (col("{points}", text=HTML, items=1), "<ul><li>Soft</li></ul>", SAYS_NOTHING),
    (col("{points}", join="|", items=2), "Soft|Made to order", SAYS_NOTHING),
    (col("{points}", join="|", item_chars=4), "Soft|Warm", SAYS_NOTHING),
    (col("{points}", join="|", prefix="-"), "-Soft|-Made to order|-Warm", SAYS_NOTHING),
    (col("{point 1}"), "Soft", SAYS_NOTHING),
    (col("{point 4}"), "Warm", SAYS_NOTHING),
    (col("{point 5}"), "", SAYS_NOTHING),
    (col("{search words}"), "bee apiary gift", SAYS_NOTHING),
    (col("{search word 2}"), "apiary", SAYS_NOTHING),
    (col("{keywords}", join="+"), "hive", SAYS_NOTHING),
    (col("{keyword 1}"), "hive", SAYS_NOTHING),
    (col("{niche}"), "", SAYS_NOTHING),
    (col("{niche}", prefix="n: "), "", SAYS_NOTHING),
    (col("{occasion}", prefix="o: "), "o: spring", SAYS_NOTHING),
    (col("{niche}", if_empty="none of {blank}"), "none of TEE", SAYS_NOTHING),
    (col("{niche} {occasion}"), "spring", SAYS_NOTHING),
    (col("{niche}{blank name}", if_empty="x"), "x", SAYS_NOTHING),
    (col("{{{sku}}} of {shop}"), "{PG-1} of Puddlewick", SAYS_NOTHING),
    (col("{artwork}"), "a.png;b.png"),
    (col("{areas}"), "back;front;hem"),
    (col("{areas}", join=" + ", items=2), "back + front"),
    (col("{artwork hem}"), "a.png"),
    (col("{artwork sleeve}"), "", SAYS_NOTHING),
    (col("{pictures}"), "m.jpg;n.jpg;oo.jpg"),
    (col("{pictures}", item_chars=5, prefix="/p/"), "/p/m.jpg;/p/n.jpg"),
    (col("{other pictures}"), "n.jpg;oo.jpg"),
    (col("{other pictures}", items=1), "n.jpg"),
    (col("{pictures}", their_words="files", join="+"), "eins+zwei+drei"),
    (col("{picture 1}"), "m.jpg"),
    (col("{picture 3}"), "oo.jpg"),
    (col("{picture 3}", prefix="u/"), "u/oo.jpg"),
    (col("{picture 4}"), ""),
    (col("{picture 4}", if_empty="none"), "none", SAYS_NOTHING),
    (col("{file}"), "f.jpg", SAYS_NOTHING),
    (col("{file role}"), "more", SAYS_NOTHING),
    (col("{file number}"), "2", SAYS_NOTHING),
    (col("{extra note}"), "hello", SAYS_NOTHING),
    (col("{price}"), "1234.50"),
    (col("{price}", written="1234,50"), "1234,50"),
    (col("{price}", written="1,234.50"), "1,234.50"),
    (col("{price}", written="1.234,50"), "1.234,50"),
    (col("{price}", written="1 234,50"), "1 234,50"),
    (col("{price}", written="1'234.50"), "1'234.50"),
    (col("{price}", decimals=1), "1234.5"),
    (col("{price}", decimals=0), "1234"),
    (col("{price}", decimals=0, written="1234"), "1234"),
    (col("{price}", prefix="£"), "£1234.50"),
    (col("from {price}"), "from 1234.50", SAYS_NOTHING),
    (col("{price in EUR}"), "1481.40", SAYS_NOTHING),
    (col("{price in USD}"), "1543.13", SAYS_NOTHING),  # 1234.50 / 0.8 = 1543.125, up
    (col("{price in JPY}"), "234555", SAYS_NOTHING),
    (col("{price in GBP}"), "1234.50", SAYS_NOTHING),
    (col("{price in CHF}"), "", SAYS_NOTHING),
    (col("{price without tax}"), "1028.75", SAYS_NOTHING),
    (col("{date}"), "2026-02-01"),
    (col("{date}", written="31.12.2026"), "01.02.2026"),
    (col("{date}", written="31/12/2026"), "01/02/2026"),
    (col("{date}", written="31-12-2026"), "01-02-2026"),
    (col("{date}", written="12/31/2026"), "02/01/2026"),
    (col("{date}", written="20261231"), "20260201"),
    (col("{width}"), "127 mm", SAYS_NOTHING),
    (col("{width}", unit="in"), "5", SAYS_NOTHING),
    (col("{width}", unit="in", decimals=2), "5.00", SAYS_NOTHING),
    (col("{capacity}", unit="cl"), "50", SAYS_NOTHING),
    (col("{height}", unit="cm"), "", SAYS_NOTHING),
    (col("{value weight}"), "180 g", SAYS_NOTHING),
    (col("{value weight}", unit="kg"), "0.18", SAYS_NOTHING),
    (col("{value odd}", unit="kg"), "many", SAYS_NOTHING),
    (col("{value nothing}"), "", SAYS_NOTHING),
    (col("{colour name}", their_words="colour"), "Marine", SAYS_NOTHING),
    (col("{size}", their_words="colour"), "Bunt"),
    (col("{action}", their_words="action"), "Amend"),
    (col("{action}", their_words="action", prefix="to "), "to Amend", "Amend"),
    (col("{niche}", their_words="none"), "ohne", SAYS_NOTHING),
    (col("{picture 4}", their_words="none"), "ohne", SAYS_NOTHING),
    (col("{points}", their_words="points", join="+"), "weich+warm", SAYS_NOTHING),
    (col("Of {blank name}", their_words="none"), "", SAYS_NOTHING),
    (col("{colour name}", only_for=("head",)), "", ""),
    (col("{sku}", only_for=("member", "new")), "", ""),
    (col("{sku}", only_for=("member", "change")), "PG-1"),
    (col("{sku}", only_for=("colour navy", "colour red", "size M")), "PG-1"),
    (col("{sku}", only_for=("colour navy", "size S")), "", ""),
    (col("{sku}", only_for=("form t-shirt",)), "PG-1", SAYS_NOTHING),
    (col("{sku}", only_for=("form mug",)), "", SAYS_NOTHING),
    (col("{title}", cut=Cut.WORD, max_chars=7), "Bees", SAYS_NOTHING),
    (col("{sku}", cut=Cut.WORD, max_chars=7), "PG-1", SAYS_NOTHING),
)  # fmt: skip
WRONG = (
    (col("{size}", their_words="size"), 'the channel has no word for "M" in [their_words.size]'),
    (col("{price}", written="1234"), "1234.50 cannot be written like 1234"),
    (col("at {price}", written="1234"), "1234.50 cannot be written like 1234"),
    (col("{width}", unit="kg"), "127 mm cannot be given in kg"),
    (col("{value odd}", cell=NUMBER), '"many" is not a number'),
    (col("{pictures}", their_words="size"), 'the channel has no word for "m.jpg" in [their_words.size]'),
)


def columns_of(table: Any) -> tuple[Column, ...]:
    return tuple(entry[0] for entry in table)


def row_entry(**changes: Any) -> RowEntry:
    told = {
        "action": "change", "in_stock": True, "revision": 3, "sku": "PG-1", "role": "member", "design": "D1",
        "blank": "TEE", "colour": "navy", "size": "M", "price": "1234.50", "currency": "GBP",
        "artwork": dict(ROW.artwork), "pictures": [{"role": p.role, "file": p.file} for p in ROW.pictures],
        "part": 1, "line": 2, "lines": 1, "cells": "0" * 64,
    }  # fmt: skip
    return RowEntry.model_validate({**told, **changes})


MANIFEST: Any = SimpleNamespace(date="2026-02-01", terms=SimpleNamespace(their_words=WORDS))


def frozen(sheet: Sheet) -> SheetEntry:
    return SheetEntry.model_validate(as_frozen(sheet))


def test_every_cell_of_the_writer() -> None:
    cells = Filler(TO, Sheet(TableKind.CSV, columns_of(CELLS))).row(CONTEXT)
    told = [(entry[0].fill, entry[0], cell.text) for entry, cell in zip(CELLS, cells, strict=True)]
    assert told == [(entry[0].fill, entry[0], entry[1]) for entry in CELLS]
    assert {cell.wrong for cell in cells} == {""}


def test_what_cannot_be_said_is_told_with_the_value() -> None:
    cells = Filler(TO, Sheet(TableKind.CSV, columns_of(WRONG))).row(CONTEXT)
    assert [(cell.text, cell.wrong) for cell in cells] == [("", why) for _, why in WRONG]
    spare = replace(WRONG[0][0], if_empty="{sku}")
    (kept,) = Filler(TO, Sheet(TableKind.CSV, (spare,))).row(CONTEXT)
    assert kept.wrong  # a spare fill is for what is empty, not for what is wrong


@pytest.mark.parametrize("entry", CELLS, ids=[f"{n} {entry[0].fill}" for n, entry in enumerate(CELLS)])
def test_every_cell_of_the_judge(entry: tuple[Any, ...]) -> None:
    sheet = frozen(Sheet(TableKind.CSV, (entry[0],)))
    row = row_entry()
    must = wanted(sheet.columns[0], row, known_of(row, MANIFEST), MANIFEST, sheet)
    expected = entry[-1]
    assert must == (None if expected is SAYS_NOTHING else expected)


def test_how_numbers_and_days_are_written_where_the_column_does_not_say() -> None:
    columns = (col("{price}"), col("{date}"), col("{price}", written="1234.50"))
    sheet = Sheet(TableKind.CSV, columns, numbers_written="1.234,50", days_written="31.12.2026")
    said = ["1.234,50", "01.02.2026", "1234.50"]
    assert [cell.text for cell in Filler(TO, sheet).row(CONTEXT)] == said
    row, entry = row_entry(), frozen(sheet)
    known = known_of(row, MANIFEST)
    assert [wanted(each, row, known, MANIFEST, entry) for each in entry.columns] == said
    for amount, written in (("12345678.90", "12.345.678,90"), ("999.00", "999,00"), ("5", "5")):
        one = row_entry(price=amount)
        assert wanted(entry.columns[0], one, known_of(one, MANIFEST), MANIFEST, entry) == written


def test_what_a_workbook_holds() -> None:
    columns = (
        col("{price}"), col("{price}", cell=CellKind.TEXT), col("{price}", written="1.234,50"),
        col("{value count}", cell=NUMBER), col("{value count}"), col("{date}", cell=DATE), col("{date}"),
        col("{stock}", cell=NUMBER), col("{width}", unit="in", cell=NUMBER), col("{width}", cell=NUMBER),
        col("{sku}", cell=NUMBER, only_for=("head",)), col("{price in EUR}", cell=NUMBER, decimals=1),
        col("{file number}"), col("{extra note}", cell=DATE), col("{niche}", cell=NUMBER),
    )  # fmt: skip
    sheet = Sheet(TableKind.XLSX, columns)
    cells = Filler(TO, sheet).row(CONTEXT)
    day = date(2026, 2, 1)
    assert [(cell.number, cell.day) for cell in cells] == [
        (Decimal("1234.50"), None), (None, None), (Decimal("1234.50"), None), (Decimal("12.50"), None),
        (None, None), (None, day), (None, None), (Decimal(7), None), (Decimal(5), None),
        (Decimal(127), None), (None, None), (Decimal("1481.40"), None), (None, None), (None, None),
        (None, None),
    ]  # fmt: skip
    assert [cell.as_read(TableKind.XLSX) for cell in cells[:9]] == [
        "1234.5", "1234.50", "1234.5", "12.5", "12.50", "2026-02-01", "2026-02-01", "7", "5",
    ]  # fmt: skip
    row, entry = row_entry(), frozen(sheet)
    known = known_of(row, MANIFEST)
    said = [wanted(each, row, known, MANIFEST, entry) for each in entry.columns]
    assert said[:3] == ["1234.5", "1234.50", "1234.5"]
    assert said[5:7] == ["2026-02-01", "2026-02-01"]
    styled = frozen(replace(sheet, days_written="31.12.2026"))
    assert [wanted(each, row, known, MANIFEST, styled) for each in styled.columns[5:7]] == [
        "2026-02-01",  # a day in a workbook has no style
        "01.02.2026",
    ]


def test_where_the_judge_has_no_words_for_what_it_sees() -> None:
    for column in (col("{sku}", text=HTML), col("{sku}", cut=Cut.WORD), col("{picture 51}")):
        sheet = frozen(Sheet(TableKind.CSV, (column,)))
        row = row_entry()
        assert wanted(sheet.columns[0], row, known_of(row, MANIFEST), MANIFEST, sheet) is None
    fifty = row_entry(pictures=[{"role": "more", "file": f"{n}.jpg"} for n in range(1, 51)])
    assert known_of(fifty, MANIFEST)["picture 50"] == "50.jpg"
    assert known_of(row_entry(pictures=[]), MANIFEST)["picture 50"] == ""
    assert known_of(row_entry(pictures=[]), MANIFEST)["picture 1"] == ""


def test_a_number_in_a_csv_is_written_in_the_columns_style() -> None:
    sheet = frozen(Sheet(TableKind.CSV, (col("{price}", cell=NUMBER, written="1,234.50"),)))
    row = row_entry()
    assert wanted(sheet.columns[0], row, known_of(row, MANIFEST), MANIFEST, sheet) == "1,234.50"
    book = frozen(Sheet(TableKind.XLSX, (col("{price}", cell=NUMBER),)))
    assert wanted(book.columns[0], row, known_of(row, MANIFEST), MANIFEST, book) == "1234.5"


def test_a_formula_is_a_text_in_a_csv() -> None:
    row = replace(ROW, sku="=1+1", fields={**ROW.fields, "title": "-5"})
    columns = (col("{sku}"), col("{title}"), col("{price}"))
    for kind, texts in (
        (TableKind.CSV, ["'=1+1", "-5", "1234.50"]),
        (TableKind.XLSX, ["=1+1", "-5", "1234.5"]),
    ):
        cells = Filler(TO, Sheet(kind, columns)).row(replace(CONTEXT, row=row))
        assert [cell.as_read(kind) for cell in cells] == texts


def test_a_row_without_price_stock_or_files_gives_nothing() -> None:
    bare = replace(ROW, action=Action.END, price=None, artwork={}, pictures=())
    names = (
        "price",
        "price in EUR",
        "price without tax",
        "currency",
        "artwork",
        "pictures",
        "other pictures",
    )
    columns = (*(col(f"{{{name}}}") for name in names), col("{stock}"), col("{picture 1}"))
    cells = Filler(TO, Sheet(TableKind.CSV, columns)).row(replace(CONTEXT, row=bare))
    assert [cell.text for cell in cells] == [*[""] * len(names), "0", ""]
    gone = replace(CONTEXT, row=replace(ROW, in_stock=False))
    assert Filler(TO, Sheet(TableKind.CSV, columns)).row(gone)[-2].text == "0"
    untaxed = replace(CONTEXT, tax=None, rates=None, file="", file_number=0)
    texts = [col(f"{{{name}}}") for name in ("price without tax", "price in EUR", "file", "file number")]
    assert [cell.text for cell in Filler(TO, Sheet(TableKind.CSV, tuple(texts))).row(untaxed)] == [""] * 4


@pytest.mark.parametrize(
    ("changes", "stock"),
    [({}, None), ({"action": "end"}, "0"), ({"in_stock": False}, "0")],
)
def test_the_judge_knows_the_stock_of_what_is_gone(changes: dict[str, object], stock: str | None) -> None:
    assert known_of(row_entry(**changes), MANIFEST).get("stock") == stock


@pytest.mark.parametrize(
    ("fill", "field"),
    [
        ("{sku}", "sku"), (" { price } ", "price"), ("{sku}{price}", ""), ("x{sku}", ""), ("{sku", ""),
        ("sku}", ""), ("{{sku}}", ""), ("{sk{u}", ""), ("{sk}u}", ""), ("", ""),
    ],
)  # fmt: skip
def test_the_judge_reads_a_fill_of_one_field(fill: str, field: str) -> None:
    assert field_of(frozen(Sheet(TableKind.CSV, (col(fill),))).columns[0]) == field


ROW_WORDS = (
    ((), True, True),
    (("member",), True, True),
    (("head",), False, False),
    (("head", "member"), True, True),
    (("change",), True, True),
    (("new", "end"), False, False),
    (("blank TEE",), True, True),
    (("blank MUG",), False, False),
    (("design D1", "size M"), True, True),
    (("design D1", "size S"), False, False),
    (("occasion spring",), True, None),  # the manifest holds no occasions
    (("occasion winter",), False, None),
    (("points Soft",), False, None),  # a list is no word
    (("occasion winter", "size S"), False, False),
)


@pytest.mark.parametrize(("words", "writer", "judge"), ROW_WORDS, ids=[str(each[0]) for each in ROW_WORDS])
def test_which_rows_words_speak_of(words: tuple[str, ...], writer: bool, judge: bool | None) -> None:
    assert meant_for(words, ROW) is writer
    assert applies(list(words), row_entry()) is judge


def test_a_row_without_family_is_head_and_member_in_one() -> None:
    single = replace(ROW, role=RowRole.SINGLE)
    for words in (("head",), ("member",), ("single",)):
        assert meant_for(words, single)
        assert applies(list(words), row_entry(role="single")) is True


def test_every_option_of_a_column_is_frozen() -> None:
    assert set(ColumnEntry.model_fields) == {each.name for each in fields(Column)}
    assert set(SheetEntry.model_fields) == {each.name for each in fields(Sheet)}
