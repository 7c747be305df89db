"""An ODS as its sheets are seen (OpenDocument 1.3 part 3: 9.1 tables, 9.4 content validations)."""

import re
from collections.abc import Mapping

from lxml import etree

from hundredfold.learning.addresses import area_of
from hundredfold.learning.packages import Package
from hundredfold.learning.sheet import Seen
from hundredfold.learning.workbook import MAX_CHOICES, ROWS

_TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
_OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
_REPEAT, _ROW_REPEAT = f"{_TABLE}number-columns-repeated", f"{_TABLE}number-rows-repeated"
_TEXT = 2_000
_WIDE = 16_384


def see(file: str, data: bytes) -> tuple[Seen, ...]:
    """Every sheet. Raises ShopError ``not-a-spreadsheet``, ``file-too-large``."""
    tree = Package(file, data).tree("content.xml")
    tables = list(tree.iter(f"{_TABLE}table"))
    hidden_styles = {
        style.get("{urn:oasis:names:tc:opendocument:xmlns:style:1.0}name")
        for style in tree.iter("{*}style")
        if any(p.get(f"{_TABLE}display") == "false" for p in style.iter("{*}table-properties"))
    }
    conditions = {
        rule.get(f"{_TABLE}name") or "": rule.get(f"{_TABLE}condition") or ""
        for rule in tree.iter(f"{_TABLE}content-validation")
    }
    rows = {table.get(f"{_TABLE}name") or "": _rows(table) for table in tables}
    named = {
        (each.get(f"{_TABLE}name") or "").casefold(): each.get(f"{_TABLE}cell-range-address") or ""
        for each in tree.iter(f"{_TABLE}named-range")
    }
    lists = {name: _choices(condition, rows, named) for name, condition in conditions.items()}
    found = []
    for table in tables:
        name = table.get(f"{_TABLE}name") or ""
        hidden = table.get(f"{_TABLE}style-name") in hidden_styles
        allowed = {at: lists[rule] for at, rule in _rules(table).items() if lists.get(rule)}
        last = max((at for at, cells in enumerate(rows[name]) if cells), default=-1)
        found.append(Seen(file, name, rows[name], last, allowed, {}, _hidden_columns(table), hidden))
    return tuple(found)


def _rows(table: etree._Element) -> tuple[dict[int, str], ...]:
    found: list[dict[int, str]] = []
    for row in table.iter(f"{_TABLE}table-row"):
        repeat = int(row.get(_ROW_REPEAT) or 1)
        cells = _cells(row)
        for _ in range(min(repeat, MAX_CHOICES - len(found))):
            found.append(dict(cells))
        if len(found) >= MAX_CHOICES:
            break
    while found and not found[-1]:
        found.pop()
    return tuple(found)


def _cells(row: etree._Element) -> dict[int, str]:
    cells: dict[int, str] = {}
    at = 0
    for cell in row:
        repeat = int(cell.get(_REPEAT) or 1)
        said = "\n".join("".join(map(str, p.itertext())) for p in cell if str(p.tag).endswith("}p")).strip()
        text = said or cell.get(f"{_OFFICE}value") or ""
        for _ in range(min(repeat, _WIDE - at) if text else 0):
            cells[at] = text[:_TEXT]
            at += 1
        at += 0 if text else repeat
    return cells


def _rules(table: etree._Element) -> dict[int, str]:
    """The content validation of each column, by the first cell that has one."""
    found: dict[int, str] = {}
    for number, row in enumerate(table.iter(f"{_TABLE}table-row")):
        at = 0
        for cell in row:
            repeat = int(cell.get(_REPEAT) or 1)
            rule = cell.get(f"{_TABLE}content-validation-name")
            for column in range(at, min(at + repeat, at + 200)) if rule else ():
                found.setdefault(column, rule or "")
            at += repeat
        if number > ROWS:
            break
    return found


def _choices(
    condition: str, rows: Mapping[str, tuple[dict[int, str], ...]], named: Mapping[str, str]
) -> tuple[str, ...]:
    found = re.search(r"cell-content-is-in-list\((.*)\)", condition)
    if found is None:
        return ()
    if found[1].startswith('"'):
        return tuple(re.findall(r'"((?:[^"]|"")*)"', found[1]))
    area = area_of(_excel_like(named.get(found[1].casefold(), found[1])))
    if area is None or area.sheet not in rows:
        return ()
    lines = rows[area.sheet][area.top : min(area.bottom + 1, area.top + MAX_CHOICES)]
    texts = (cells.get(at, "") for cells in lines for at in range(area.left, area.right + 1))
    return tuple(dict.fromkeys(text for text in texts if text))


def _excel_like(reference: str) -> str:
    """``[$Lists.$A$1:.$A$9]`` as ``Lists!$A$1:$A$9``."""
    sheet, _, cells = reference.strip("[]").partition(".")
    return f"{sheet.lstrip('$')}!{re.sub(r':[^.]*[.]', ':', cells)}"


def _hidden_columns(table: etree._Element) -> frozenset[int]:
    hidden: set[int] = set()
    at = 0
    for column in table.iter(f"{_TABLE}table-column"):
        repeat = int(column.get(_REPEAT) or 1)
        if column.get(f"{_TABLE}visibility") in ("collapse", "filter"):
            hidden |= set(range(at, min(at + repeat, _WIDE)))
        at += repeat
    return frozenset(hidden)
