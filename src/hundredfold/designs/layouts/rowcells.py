"""The cells of a row, judged before anything is set."""

import unicodedata

from hundredfold.designs.checks import ROW
from hundredfold.designs.layouts.cells import complaint_about
from hundredfold.designs.layouts.layout import Layout
from hundredfold.designs.layouts.letters import composed, nothing_visible
from hundredfold.designs.layouts.pattern import column_key
from hundredfold.designs.layouts.rows import Row
from hundredfold.kernel.findings import Finding


def judge_cells(layout: Layout, row: Row) -> list[Finding]:
    """What is wrong with a row before it is set."""
    findings = []
    optional = layout.optional()
    for name in layout.columns():
        key = column_key(name)
        text = row.cells.get(key, "")
        if nothing_visible(text):
            if key not in optional:
                what = f"the cell “{name}” is empty"
                fix = "fill it, or mark the slot in the layout as optional: {" + name + "?}"
                findings.append(ROW.finds("empty-cell", item_of(layout, row), what, fix))
            continue
        complaint = complaint_about(composed(text))
        if complaint is not None:
            what = f"{complaint.what}, in “{name}”"
            findings.append(
                ROW.finds(complaint.code, item_of(layout, row), what, complaint.fix, complaint.numbers)
            )
    return findings


def item_of(layout: Layout, row: Row) -> str:
    """A row and its layout, as findings name them."""
    return f"{row.file}, row {row.number}, with {layout.name}"


def sign_name(char: str) -> str:
    """A sign's name; a letter speaks for itself."""
    return "" if char.isalpha() else f", {unicodedata.name(char, 'a sign without a name').lower()}"
