"""The [sheet] of a channel, its further tables and its file names: TOML to records."""

from dataclasses import replace

from hundredfold.catalogue.sheets import CellKind, Column, Cut, FileNames, RowsOf, Sheet, TableKind, TextForm
from hundredfold.catalogue.toml_table import Table
from hundredfold.kernel.measures import UNITS
from hundredfold.kernel.nearest import did_you_mean
from hundredfold.kernel.written import DAYS, NUMBERS

SHEET_CELL_CHARS = 32_767  # the most characters an XLSX cell holds (ECMA-376 practice, from memory)
MOST_COLUMNS = 16_384  # of a worksheet
SEPARATORS = {",": ",", ";": ";", "tab": "\t", "|": "|"}
ENCODINGS = (
    "utf-8",
    "cp1252",
    "cp1250",
    "iso-8859-1",
    "iso-8859-15",
    "utf-16-le",
    "utf-16-be",
    "ascii",
    "mac-roman",
)
LINE_ENDS = {"windows": "\r\n", "unix": "\n"}
ROW_WORDS = ("head", "member", "single", "new", "change", "end")
ROW_FIELDS = ("blank", "colour", "size", "design", "niche", "occasion", "form", "process", "material")


def read_sheet(table: Table) -> Sheet:
    """One table; mistakes are collected."""
    form = table.text("form", "")
    sheet = Sheet(
        kind=table.choice("kind", TableKind),
        columns=tuple(each for inner in table.array("columns") for each in _columns(inner)),
        byte_order_mark=table.flag("byte_order_mark", False),
        worksheet=table.text("worksheet", "Listings"),
        lines_above=table.text_rows("lines_above"),
        max_rows=table.maybe_integer("max_rows", low=2),
        max_bytes=table.maybe_integer("max_bytes", low=1000),
        max_archive_bytes=table.maybe_integer("max_archive_bytes", low=1000),
        families=table.flag("families", False),
        lines_below=table.text_rows("lines_below"),
        separator=SEPARATORS[table.one_of("separator", tuple(SEPARATORS), ",")],
        encoding=table.one_of("encoding", ENCODINGS, "utf-8"),
        line_end=LINE_ENDS[table.one_of("line_ends", tuple(LINE_ENDS), "windows")],
        quote_all=table.flag("quote_all", False),
        numbers_written=table.one_of("numbers_written", ("", *NUMBERS), ""),
        days_written=table.one_of("days_written", ("", *DAYS), ""),
        form=form,
        first_row=table.integer("first_row", 0 if not form else None, low=2 if form else 0),
        rows=table.choice("rows", RowsOf, RowsOf.VARIANTS),
        only_for=_row_words(table, "only_for"),
        name=table.text("name", "listings"),
    )
    _check(sheet, table)
    table.done()
    return sheet


def _check(sheet: Sheet, table: Table) -> None:
    if not sheet.columns:
        fix = 'list them in order: columns = [ { header = "Title", fill = "{title}" }, ]'
        table.wrong("missing-key", "columns", "the sheet has no columns", fix)
    if len(sheet.columns) > MOST_COLUMNS:
        what = f"{len(sheet.columns)} columns, and a table has {MOST_COLUMNS} at most"
        table.wrong("too-wide", "columns", what, "leave out those that are empty")
    if len(sheet.worksheet) > 31 or set(sheet.worksheet) & set("[]:*?/\\"):
        fix = "use at most 31 characters and none of [ ] : * ? / \\"
        table.wrong("out-of-range", "worksheet", f'"{sheet.worksheet}" cannot name a worksheet', fix)
    if sheet.form and (sheet.form.startswith("/") or ".." in sheet.form.split("/") or "\\" in sheet.form):
        fix = 'name it from the shop folder, like "channels/forms/northfold.xlsx"'
        table.wrong("out-of-range", "form", f'"{sheet.form}" does not lie in the shop folder', fix)
    if set(sheet.name) & set('/\\:*?"<>|') or not sheet.name.strip():
        fix = 'use letters that a file\'s name may have, like "stock-{date}"'
        table.wrong("out-of-range", "name", f'"{sheet.name}" cannot name a file', fix)


def _columns(table: Table) -> list[Column]:
    """One column, or with ``times`` as many as it says: # in its header and fill is their number."""
    times = table.maybe_integer("times")
    column = _column(table)
    if times is None:
        return [column]
    return [
        replace(
            column,
            header=column.header.replace("#", str(number)),
            fill=column.fill.replace("#", str(number)),
        )
        for number in range(1, min(times, MOST_COLUMNS) + 1)
    ]


def _column(table: Table) -> Column:
    column = Column(
        header=table.text("header", "" if "header" in table else None),
        fill=table.text("fill", ""),
        required=table.flag("required", False),
        max_chars=table.maybe_integer("max_chars"),
        only_for=_row_words(table, "only_for"),
        required_for=_row_words(table, "required_for"),
        their_words=table.text("their_words", ""),
        if_empty=table.text("if_empty", ""),
        join=table.text("join", "") if "join" in table else None,
        prefix=table.text("prefix", ""),
        items=table.maybe_integer("items"),
        item_chars=table.maybe_integer("item_chars"),
        written=table.one_of("written", ("", *NUMBERS, *DAYS), ""),
        unit=table.one_of("unit", ("", *UNITS), ""),
        decimals=table.integer("decimals", high=6) if "decimals" in table else None,
        text=table.choice("text", TextForm, TextForm.PLAIN),
        cut=table.choice("cut", Cut, Cut.NEVER),
        max_bytes=table.maybe_integer("max_bytes"),
        cell=table.choice("cell", CellKind) if "cell" in table else None,
    )
    for key in ("join", "decimals", "cell"):
        table.ask(key)
    if (column.max_chars or 0) > SHEET_CELL_CHARS:
        what = f"max_chars is {column.max_chars}, but a cell holds {SHEET_CELL_CHARS}"
        table.wrong("out-of-range", "max_chars", what, f"write {SHEET_CELL_CHARS} or less")
    if column.cut is not Cut.NEVER and column.max_chars is None:
        fix = "write the channel's max_chars beside it"
        table.wrong("missing-key", "cut", "nothing says how long the text may be", fix)
    table.done()
    return column


def _row_words(table: Table, key: str) -> tuple[str, ...]:
    """Row words: one text or a list of them."""
    raw = table.raw(key)
    words = (raw,) if isinstance(raw, str) and raw else table.texts(key) if raw not in (None, "") else ()
    for word in words:
        field, _, value = word.partition(" ")
        if word not in ROW_WORDS and not (field in ROW_FIELDS and value):
            hint = did_you_mean(word, [*ROW_WORDS, *(f"{field} …" for field in ROW_FIELDS)])
            table.wrong("unknown-value", key, f'"{word}" speaks of no rows', hint)
    return tuple(words)


def read_file_names(table: Table) -> FileNames:
    """How files are named."""
    names = FileNames(
        artwork=table.text("artwork", "artwork"),
        pictures=table.text("pictures", "pictures"),
        print_file=table.text("print_file", ""),
        picture=table.text("picture", ""),
        loose=table.flag("loose", False),
    )
    for key in ("artwork", "pictures", "print_file", "picture"):
        if set(getattr(names, key)) & set('/\\:*?"<>|'):
            table.wrong("out-of-range", key, f"{key} holds a sign no file's name may have", "leave it out")
    table.done()
    return names
