"""An invented partner's workbook: welcome sheet, groups, notes, lists on a hidden sheet, an example."""

import io

from openpyxl import Workbook
from openpyxl.comments import Comment
from openpyxl.styles import Font, PatternFill
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation

HEADERS = (
    ("Row action", "Product"), ("Seller SKU *", "Product"), ("Title", "Product"), ("Description", "Product"),
    ("Colour", "Variant"), ("Size", "Variant"), ("Price", "Offer"), ("Main image", "Pictures"),
    ("Image 2", "Pictures"), ("Name", "Manufacturer"), ("Address", "Manufacturer"), ("Cost centre", ""),
)  # fmt: skip


def partner_book(example: bool = True) -> bytes:
    """A template: rows 1 and 2 a title and groups, 3 headings, 4 notes, 5 an example."""
    book = Workbook()
    welcome = book.active
    assert welcome is not None
    welcome.title = "Read me first"
    welcome["A1"] = "Welcome to Kiteworks"
    welcome["A2"] = "Fill in one row for each variant on the sheet Products."
    page = book.create_sheet("Products")
    lists = book.create_sheet("Lists")
    page["A1"] = "Kiteworks product sheet, form 3"
    page.merge_cells("A1:L1")
    page["A1"].font = Font(bold=True, size=16)
    start = 1
    for index, (header, group) in enumerate(HEADERS, start=1):
        page.cell(3, index, header).fill = PatternFill("solid", fgColor="FFD9EAD3")
        if index == len(HEADERS) or HEADERS[index][1] != group:
            if group:
                page.cell(2, start, group)
                page.merge_cells(start_row=2, end_row=2, start_column=start, end_column=index)
            start = index + 1
    page["B4"] = "Required. Max. 40 characters"
    page["C4"] = "Required, up to 80 characters"
    page["D4"] = "Optional"
    page["E4"] = "Choose from the list"
    page["F4"] = "Optional"
    page["G4"] = "Required"
    if example:
        values = (
            "add",
            "KW-1",
            "Bee mug",
            "A mug for bees",
            "Red",
            "",
            12.5,
            "a.jpg",
            "b.jpg",
            "Kite",
            "1 Lane",
            "",
        )
        for index, value in enumerate(values, start=1):
            page.cell(5, index, value)
    for at, colour in enumerate(("Black", "White", "Navy", "Red"), start=1):
        lists.cell(at, 1, colour)
    for at, action in enumerate(("add", "amend", "remove"), start=1):
        lists.cell(at, 2, action)
    lists.sheet_state = "hidden"
    book.defined_names["Colours"] = DefinedName("Colours", attr_text="Lists!$A$1:$A$4")
    colours = DataValidation("list", formula1="Colours", allow_blank=True)
    colours.promptTitle, colours.prompt = "Colour", "One of our colours"
    colours.add("E5:E500")
    actions = DataValidation("list", formula1="Lists!$B$1:$B$3")
    actions.add("A5:A500")
    page.add_data_validation(colours)
    page.add_data_validation(actions)
    page["L3"].comment = Comment("For our books only", "Kiteworks")
    page.column_dimensions["L"].hidden = True
    page.freeze_panes = "A5"
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()
