"""What keeps a filled row out of a table, and which fills of a channel's file are none."""

from dataclasses import replace
from typing import Any

import pytest
from test_cells_exactly import CONTEXT, ROW, TO, WRONG, col

from hundredfold.catalogue.sheets import Column, RowsOf, Sheet, TableKind
from hundredfold.handoff.fields import known_names
from hundredfold.handoff.rows import PackRow
from hundredfold.handoff.sheets import Filler, check_sheet, expand, fields_in
from hundredfold.kernel.errors import ShopError
from hundredfold.planning.listings import Action


def problems(column: Column, row: PackRow = ROW, kind: TableKind = TableKind.CSV, **more: Any) -> list[Any]:
    filler = Filler(TO, Sheet(kind, (column,), **more))
    cells = filler.row(replace(CONTEXT, row=row))
    return [(f.code, f.item, f.what, dict(f.numbers)) for f in filler.problems(row, cells)]


HERE = "PG-1, column H"


def test_what_keeps_a_row_out() -> None:
    assert problems(col("{sku}", max_chars=4, max_bytes=4, required=True)) == []
    assert problems(col("{sku}", max_chars=3)) == [
        ("too-long", HERE, "4 characters where 3 are allowed", {"chars": 4, "max_chars": 3})
    ]
    assert problems(col("é{sku}", max_chars=5, max_bytes=5)) == [
        ("too-long", HERE, "6 bytes where 5 are allowed", {"bytes": 6, "max_bytes": 5})
    ]
    risky = replace(ROW, sku="=1+1")
    assert [told[0] for told in problems(col("{sku}", max_chars=4), risky)] == ["too-long"]
    assert problems(col("{sku}", max_chars=4), risky, TableKind.XLSX) == []
    (wrong,) = problems(WRONG[0][0])
    assert wrong == ("cannot-say", HERE, WRONG[0][1], {})
    assert problems(col("→"), encoding="cp1252") == [
        ("no-such-sign", HERE, 'the channel\'s cp1252 has no sign for "→" (U+2192)', {})
    ]


def test_what_is_required() -> None:
    empty: Any = ("required-empty", HERE, "a required cell is empty", {})
    need = col("{niche}", required=True)
    assert problems(need) == [empty]
    for row in (replace(ROW, action=Action.END), replace(ROW, in_stock=False)):
        assert problems(need, row) == []
        assert problems(col("{niche}", required_for=("member",)), row) == [empty]
    assert problems(replace(need, only_for=("head",))) == []
    assert problems(replace(need, required_for=("head",))) == []
    assert problems(col("{niche}")) == []
    assert problems(col("{niche}", required_for=("colour navy",))) == [empty]


def test_a_word_that_a_list_does_not_have() -> None:
    sheet = Sheet(TableKind.XLSX, (col("{sku}"), col("{colour name}", their_words="colour"), col("{niche}")))
    filler = Filler(TO, sheet, {1: frozenset({"Marina", "b", "c", "d", "e"}), 2: frozenset({"x"})})
    (told,) = filler.problems(ROW, filler.row(CONTEXT))
    assert (told.code, told.item) == ("not-a-choice", "PG-1, column B (H)")
    assert told.what == '"Marine" is not among the form\'s choices (Marina, b, c, d, …)'
    assert told.fix.endswith(
        'under [their_words.colour] and their_words = "colour" in the column; nearest: "Marina"'
    )
    few = Filler(TO, sheet, {0: frozenset({"q", "r", "s", "t"}), 1: frozenset({"Marine"})})
    (told,) = few.problems(ROW, few.row(CONTEXT))
    assert told.what == '"PG-1" is not among the form\'s choices (q, r, s, t)'
    assert told.fix.endswith('under [their_words.NAME] and their_words = "NAME" in the column')


@pytest.mark.parametrize(
    ("fill", "slug", "hint"),
    [
        ("{titel}", "unknown-field", 'did you mean "title"?'),
        ("{extra noet}", "unknown-field", 'did you mean "extra note"?'),
        ("{description}", "unknown-field", "it is called story now: "),
        ("{bullet 3}", "unknown-field", "it is called point now: "),
        ("{point 0}", "unknown-field", "did you mean"),
        ("{price in eur}", "unknown-field", "did you mean"),
        ("{price in EURO}", "unknown-field", "did you mean"),
        ("{artwork }", "", ""),
        ("a } b", "bad-fill", "close every { with }"),
        ("{sku", "bad-fill", "close every { with }"),
    ],
)
def test_a_fill_that_is_none_is_told_with_its_column(fill: str, slug: str, hint: str) -> None:
    for column in (col(fill), col("{sku}", if_empty=fill)):
        for to in (
            replace(TO, sheet=Sheet(TableKind.CSV, (col("{sku}"), column))),
            replace(TO, sheet=Sheet(TableKind.CSV, ()), more_tables=(Sheet(TableKind.CSV, (column,)),)),
        ):
            if not slug:
                check_sheet(to)
                continue
            with pytest.raises(ShopError) as caught:
                check_sheet(to, "c.toml")
            assert caught.value.slug == slug
            assert caught.value.fix.startswith(hint)
            where = caught.value.where
            assert where is not None
            assert (where.file, where.field) == ("c.toml", "H")


def test_their_words_must_be_a_table_of_the_channel() -> None:
    column = col("{colour}", their_words="colours")
    with pytest.raises(ShopError) as caught:
        check_sheet(replace(TO, sheet=Sheet(TableKind.CSV, (column,))), "c.toml")
    assert (caught.value.slug, caught.value.fix) == ("unknown-field", 'did you mean "colour"?')
    assert caught.value.what == "there is no table [their_words.colours]"


def test_the_fields_of_a_column_and_the_names_that_are_known() -> None:
    assert fields_in(col("{sku} of { shop }, {{x}}", if_empty="{price}")) == ("sku", "shop", "price")
    names = known_names({"note": "x"})
    assert {"extra note", "point 1", "picture 9", "title", "sku", "price without tax"} <= set(names)
    assert names == sorted(names)
    assert "point 10" not in names


def test_the_lines_that_a_row_takes_in_a_table() -> None:
    bare = replace(CONTEXT, file="", file_role="", file_number=0)
    for rows, lines in (
        (RowsOf.VARIANTS, [("", "", 0)]),
        (RowsOf.LISTINGS, [("", "", 0)]),
        (RowsOf.PICTURES, [("m.jpg", "main", 1), ("n.jpg", "more", 2), ("oo.jpg", "more", 3)]),
        (RowsOf.PRINT_FILES, [("b.png", "back", 1), ("a.png", "front", 2), ("a.png", "hem", 3)]),
    ):
        told = list(expand(bare, rows))
        assert [(one.file, one.file_role, one.file_number) for one in told] == lines
        assert {(one.row.sku, one.day) for one in told} == {("PG-1", CONTEXT.day)}


def test_a_row_word_of_a_field_that_is_no_text_fits_nothing() -> None:
    empty = replace(ROW, fields={**ROW.fields, "occasion": ("spring",)})
    for row, fits in ((ROW, 1), (empty, 0)):
        column = col("{sku}", only_for=("occasion spring",))
        (cell,) = Filler(TO, Sheet(TableKind.CSV, (column,))).row(replace(CONTEXT, row=row))
        assert bool(cell.text) is bool(fits)
