"""Word lists: CSV or workbooks, a row a design, read with every mistake named by file, row and cell."""

from dataclasses import dataclass
from pathlib import Path

from hundredfold.designs.layouts.layout import Layout
from hundredfold.designs.layouts.pattern import column_key
from hundredfold.designs.layouts.rows import RESERVED, Row
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.findings import Finding
from hundredfold.kernel.grid import cell_text
from hundredfold.workshop.shop.checks import COLUMNS
from hundredfold.workshop.shop.spreadsheet import read_spreadsheet

ENDINGS = (".csv", ".tsv", ".xlsx", ".xls", ".ods")


@dataclass(frozen=True)
class WordList:
    """A list: its headers as written, and its rows."""

    file: str
    headers: tuple[str, ...]
    rows: tuple[Row, ...]

    def keys(self) -> frozenset[str]:
        """The headers as they are compared."""
        return frozenset(column_key(header) for header in self.headers)


def read_word_list(path: Path) -> WordList:
    """The first sheet of a list; its first row names the columns. Empty rows are passed over.

    Raises ShopError as ``read_spreadsheet``, and ``bad-word-list`` when no row names columns or two columns
    have one name.
    """
    grid = read_spreadsheet(path)[0]
    where = Where(path.name, row=1)
    if not grid.rows or not any(map(cell_text, grid.rows[0])):
        fix = "write the names of the columns into its first row"
        raise ShopError("bad-word-list", "its first row names no columns", fix, where)
    headers = tuple(map(cell_text, grid.rows[0]))
    keys = [column_key(header) for header in headers]
    for index, key in enumerate(keys):
        if key and key in keys[:index]:
            what = f"two columns are called “{headers[index]}”"
            raise ShopError("bad-word-list", what, "give each column a name of its own", where)
    rows = []
    for number, cells in enumerate(grid.rows[1:], start=2):
        # A line break inside a cell is kept: it is judged with the row.
        texts = [cell.strip(" \t\u00a0") if isinstance(cell, str) else cell_text(cell) for cell in cells]
        texts += [""] * (len(keys) - len(texts))
        if any(texts):
            filled = {key: text for key, text in zip(keys, texts, strict=False) if key}
            rows.append(Row(path.name, number, filled))
    return WordList(path.name, tuple(header for header in headers if header), tuple(rows))


def pair_findings(layout: Layout, words: WordList) -> tuple[Finding, ...]:
    """Columns without a slot, and slots without a column; the latter stop the pair."""
    asked = {column_key(name): name for name in layout.columns()}
    have = words.keys()
    item = f"{words.file} with {layout.name}"
    findings = []
    optional = layout.optional()
    for key, name in asked.items():
        if key not in have and key not in optional:
            what = f"the layout asks for “{name}”, and the list has no such column"
            fix = f"add the column “{name}”, or take the slot out; the list has: {', '.join(words.headers)}"
            findings.append(COLUMNS.finds("slot-without-column", item, what, fix))
    for header in words.headers:
        if column_key(header) not in asked and column_key(header) not in RESERVED:
            what = f"the column “{header}” is in no slot of the layout"
            fix = "nothing, if another layout uses it; else check how it is spelt"
            findings.append(COLUMNS.finds("column-without-slot", item, what, fix))
    return tuple(findings)
