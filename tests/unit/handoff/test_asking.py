"""Into which of a channel's tables a row goes, and which channels cannot say an end or a change."""

from dataclasses import replace

import pytest
from goods import channel, sheet
from test_cells_exactly import ROW, col

from hundredfold.catalogue.channels import Asks, Channel
from hundredfold.catalogue.sheets import RowsOf, Sheet, TableKind
from hundredfold.handoff.asking import BY_HAND, cannot_ask, in_first, in_table, tables_of
from hundredfold.planning.listings import Action

NEW, CHANGE, END = (replace(ROW, action=action) for action in (Action.NEW, Action.CHANGE, Action.END))
ENDS = Sheet(TableKind.CSV, (col("{sku}"),), name="ends", only_for=("end",))
IMAGES = Sheet(TableKind.CSV, (col("{file}"),), name="images", rows=RowsOf.PICTURES)
ALL = Sheet(TableKind.CSV, (col("{sku}"),), name="all")
FILE = "c.toml"


def to(ends: Asks = Asks.ROWS, changes: Asks = Asks.ROWS, **more: object) -> Channel:
    return replace(channel(**more), ends=ends, changes=changes)


@pytest.mark.parametrize("way", list(Asks))
def test_ends_and_changes_leave_the_first_table_where_they_have_one_of_their_own(way: Asks) -> None:
    apart = way in (Asks.TABLE, Asks.BY_HAND)
    assert [in_first(row, to(ends=way)) for row in (NEW, CHANGE, END)] == [True, True, not apart]
    assert [in_first(row, to(changes=way)) for row in (NEW, CHANGE, END)] == [True, not apart, True]


def test_the_first_table_keeps_to_its_row_words() -> None:
    heads = to(sheet=sheet(only_for=("head",)))
    assert not in_first(NEW, heads)  # the row is a member
    assert not in_first(END, replace(heads, ends=Asks.STOCK))


@pytest.mark.parametrize("way", list(Asks))
def test_what_is_done_by_hand_stands_in_a_list_of_its_own(way: Asks) -> None:
    by_hand = way is Asks.BY_HAND
    for asks in (to(ends=way), to(changes=way)):
        assert tables_of(replace(asks, more_tables=(ALL,))) == ((ALL, BY_HAND) if by_hand else (ALL,))
    assert [in_table(row, BY_HAND, to(ends=way)) for row in (NEW, CHANGE, END)] == [False, False, by_hand]
    assert [in_table(row, BY_HAND, to(changes=way)) for row in (NEW, CHANGE, END)] == [False, by_hand, False]
    assert [column.fill for column in BY_HAND.columns] == [
        "{action}", "{sku}", "{title}", "{colour name}", "{size}", "{price}", "{currency}",
    ]  # fmt: skip


def test_an_end_has_no_pictures_and_stands_where_it_is_asked_for() -> None:
    for table, rows in (
        (ALL, [True, True, True]),
        (ENDS, [False, False, True]),
        (IMAGES, [True, True, False]),
        (replace(IMAGES, only_for=("end", "new")), [True, False, True]),
        (replace(ALL, only_for=("head",)), [False, False, False]),
        (replace(ALL, rows=RowsOf.LISTINGS), [True, True, False]),
    ):
        assert [in_table(row, table, to()) for row in (NEW, CHANGE, END)] == rows, table


SILENT = sheet(columns=(col("{sku}"),))
STOCK = sheet(columns=(col("{sku}"), col("", if_empty="{stock}")))


@pytest.mark.parametrize(
    ("asks", "codes"),
    [
        (to(), []),
        (to(sheet=SILENT), ["no-end", "no-change"]),
        (to(sheet=STOCK, ends=Asks.STOCK), ["no-change"]),
        (to(ends=Asks.STOCK), ["no-end"]),
        (to(sheet=STOCK, ends=Asks.BY_HAND, changes=Asks.STOCK), ["no-change"]),
        (to(sheet=SILENT, ends=Asks.BY_HAND, changes=Asks.BY_HAND), []),
        (to(sheet=SILENT, ends=Asks.TABLE, changes=Asks.BY_HAND), ["no-end"]),
        (to(sheet=SILENT, ends=Asks.TABLE, changes=Asks.BY_HAND, more_tables=(IMAGES, ENDS)), []),
        (to(sheet=SILENT, ends=Asks.BY_HAND, changes=Asks.TABLE, more_tables=(ENDS,)), ["no-change"]),
        (
            to(ends=Asks.TABLE, changes=Asks.TABLE, more_tables=(replace(ENDS, only_for=("change", "end")),)),
            [],
        ),
    ],
)
def test_which_channels_cannot_say_it(asks: Channel, codes: list[str]) -> None:
    found = list(cannot_ask(asks, FILE))
    assert [finding.code for finding in found] == codes
    assert [finding.item for finding in found] == [
        f"north-print: {'end' if code == 'no-end' else 'change'}" for code in codes
    ]


@pytest.mark.parametrize(
    ("asks", "what", "fix"),
    [
        (
            to(sheet=SILENT, changes=Asks.BY_HAND),
            "no column says what a row is for, so that a row to end a listing would look like a new one",
            'give a column fill = "{action}", or write ends = "by hand" in c.toml; '
            "then a list tells you what to do yourself",
        ),
        (
            to(sheet=SILENT, ends=Asks.BY_HAND),
            "no column says what a row is for, so that a row to change a listing would look like a new one",
            'give a column fill = "{action}", or write changes = "by hand" in c.toml; '
            "then a list tells you what to do yourself",
        ),
        (
            to(ends=Asks.STOCK),
            "nothing in stock is to mean the end, and no column holds the stock",
            'give a column fill = "{stock}"',
        ),
        (to(changes=Asks.STOCK), "a change cannot be said by stock", 'write changes = "rows" or "by hand"'),
        (
            to(ends=Asks.TABLE),
            "no further table is for ends",
            'add [[more_tables]] with only_for = "end" in c.toml',
        ),
        (
            to(changes=Asks.TABLE),
            "no further table is for changes",
            'add [[more_tables]] with only_for = "change" in c.toml',
        ),
    ],
)
def test_what_the_seller_is_told_to_write(asks: Channel, what: str, fix: str) -> None:
    (found,) = cannot_ask(asks, FILE)
    assert (found.what, found.fix) == (what, fix)
