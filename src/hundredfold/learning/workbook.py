"""An XLSX or XLSM as its sheets are seen: first rows, lists, hints, hidden columns. Sparse and bounded.

Only the rows that headings and examples can stand in are read; a cell at the far corner costs nothing, since
cells are kept by address. ECMA-376 part 1, sections 18.2 to 18.4; drop-downs that name another sheet stand in
the extension list (MS-XLSX 2.3.4, from memory).
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from functools import cached_property
from posixpath import join, normpath

from lxml import etree

from hundredfold.kernel.errors import ShopError, Where
from hundredfold.learning.addresses import Area, area_of, cell_at
from hundredfold.learning.packages import Package, events, parse
from hundredfold.learning.sheet import Seen

ROWS = 60
MAX_CHOICES = 5_000
_TEXT = 2_000  # characters of a cell that are looked at
_REL = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
_ROW_NUMBER = re.compile(rb'<(?:\w+:)?row\b[^>]*?\br="(\d+)"')


@dataclass(frozen=True)
class SheetPart:
    """A worksheet's name and the part of the package it lies in."""

    name: str
    part: str
    hidden: bool


class Workbook:
    """A workbook's bytes, read part by part. Raises ShopError where it is damaged, too large or locked."""

    def __init__(self, file: str, data: bytes) -> None:
        self.file = file
        self.package = Package(file, data)
        self._book = self.package.tree("xl/workbook.xml")
        if local(self._book) != "workbook":
            fix = "open it in your spreadsheet program and save it again as XLSX"
            raise ShopError("not-a-spreadsheet", "it is a ZIP, but not a workbook", fix, Where(file))

    @property
    def has_macros(self) -> bool:
        """Whether it carries macros."""
        return any(name.endswith("vbaProject.bin") for name in self.package.names)

    @cached_property
    def sheets(self) -> tuple[SheetPart, ...]:
        """Its worksheets in their order; charts and the like are left out."""
        targets = self._targets("xl/workbook.xml")
        found = []
        for each in self._book.iter("{*}sheet"):
            part = targets.get(each.get(_REL) or "", "")
            if "worksheets/" in part and part in self.package.names:
                found.append(
                    SheetPart(each.get("name") or "", part, each.get("state", "visible") != "visible")
                )
        return tuple(found)

    @cached_property
    def names(self) -> Mapping[str, str]:
        """Named ranges of the workbook, names in lower case."""
        return {(n.get("name") or "").casefold(): n.text or "" for n in self._book.iter("{*}definedName")}

    @cached_property
    def strings(self) -> tuple[str, ...]:
        """The shared strings."""
        data = self.package.read("xl/sharedStrings.xml")
        found = []
        for item in events(data, ("si",), "sharedStrings", self.file) if data else ():
            found.append(string_of(item)[:_TEXT])
            item.clear()
        return tuple(found)

    def seen(self) -> tuple[Seen, ...]:
        """Every worksheet as it is seen."""
        return tuple(self._seen(sheet) for sheet in self.sheets)

    def _targets(self, part: str) -> dict[str, str]:
        folder, _, name = part.rpartition("/")
        links = self.package.tree(f"{folder}/_rels/{name}.rels")
        found = {}
        for link in links.iter("{*}Relationship"):
            target = link.get("Target") or ""
            found[link.get("Id") or ""] = (
                target.lstrip("/") if target.startswith("/") else normpath(join(folder, target))
            )
        return found

    def _seen(self, sheet: SheetPart) -> Seen:
        data = self.package.read(sheet.part)
        rows = self.rows(data, sheet.part, ROWS)
        outer = outer_parts(data, sheet.part, self.file)
        numbers = _last_number(data)
        allowed, notes = self._lists(outer, sheet.name)
        for column, said in self._comments(sheet.part):
            notes[column] = (*notes.get(column, ()), said)
        hidden = set()
        for each in outer.iter("{*}col"):
            low, high = int(each.get("min") or 1), int(each.get("max") or 1)
            if each.get("hidden") in ("1", "true"):
                hidden |= set(range(low - 1, min(high, 16_384)))
        merged = [area_of(cell.get("ref") or "") for cell in outer.iter("{*}mergeCell")]
        return Seen(
            self.file,
            sheet.name,
            rows,
            numbers,
            allowed,
            notes,
            frozenset(hidden),
            sheet.hidden,
            tuple((a.top, a.left, a.right) for a in merged if a is not None),
            any(each.get("sheet") in ("1", "true") for each in outer.iter("{*}sheetProtection")),
        )

    def rows(self, data: bytes, part: str, most: int, whole: bool = False) -> tuple[dict[int, str], ...]:
        """The first rows' cells by column; ``whole`` texts, and numbers without zeros at their end."""
        found: list[dict[int, str]] = []
        for number, row in self._each_row(data, part):
            if number >= most:
                break
            found += [{} for _ in range(number + 1 - len(found))]
            found[number] = {at: text for at, text in self._cells(row, whole) if text}
            row.clear()
        return tuple(found)

    def _each_row(self, data: bytes, part: str) -> Iterator[tuple[int, etree._Element]]:
        number = -1
        for row in events(data, ("row",), part, self.file):
            number = int(row.get("r") or number + 2) - 1
            yield number, row

    def _cells(self, row: etree._Element, whole: bool = False) -> Iterator[tuple[int, str]]:
        column = -1
        for cell in row.iter("{*}c"):
            place = cell_at(cell.get("r") or "")
            column = place[1] if place else column + 1
            text = self._text(cell)
            if whole:
                yield column, _bare(text) if cell.get("t", "n") == "n" else text
            else:
                yield column, text.strip()[:_TEXT]

    def _text(self, cell: etree._Element) -> str:
        kind = cell.get("t", "n")
        if kind == "inlineStr":
            return string_of(cell)
        value = next(cell.iter("{*}v"), None)
        text = value.text or "" if value is not None else ""
        if kind == "s" and text.isdigit():
            return self.strings[int(text)] if int(text) < len(self.strings) else ""
        if kind == "b":
            return "yes" if text == "1" else "no"
        return text.removesuffix(".0") if kind == "n" else text

    def _lists(
        self, outer: etree._Element, sheet: str
    ) -> tuple[dict[int, tuple[str, ...]], dict[int, tuple[str, ...]]]:
        allowed: dict[int, tuple[str, ...]] = {}
        notes: dict[int, tuple[str, ...]] = {}
        for rule in outer.iter("{*}dataValidation"):
            inner = next(rule.iter("{*}sqref"), None)
            where = rule.get("sqref") or (inner.text if inner is not None else "") or ""
            columns = _columns_of(where)
            if rule.get("type") == "list":
                formula = next(rule.iter("{*}formula1"), None)
                choices = self.choices(
                    "".join(map(str, formula.itertext())) if formula is not None else "", sheet
                )
                for column in columns if choices else ():
                    allowed.setdefault(column, choices)
            said = " ".join(filter(None, (rule.get("promptTitle"), rule.get("prompt"))))
            for column in columns if said else ():
                notes[column] = (*notes.get(column, ()), said[:_TEXT])
        return allowed, notes

    def choices(self, formula: str, sheet: str) -> tuple[str, ...]:
        """What a list formula offers; () for formulas that only a spreadsheet can compute."""
        formula = formula.strip().lstrip("=")
        if formula.startswith('"'):
            return tuple(part.strip() for part in formula.strip('"').split(",") if part.strip())
        area = area_of(formula) or area_of(self.names.get(formula.casefold(), ""))
        if area is None:
            return ()
        name = area.sheet or sheet
        part = next((each.part for each in self.sheets if each.name.casefold() == name.casefold()), "")
        return self.area_values(part, area) if part else ()

    def area_values(self, part: str, area: Area) -> tuple[str, ...]:
        """The texts of an area, row by row, each once."""
        found: dict[str, None] = {}
        for number, row in self._each_row(self.package.read(part), part):
            if number > area.bottom or len(found) >= MAX_CHOICES:
                break
            if number >= area.top:
                cells = self._cells(row)
                found |= {text: None for at, text in cells if text and area.left <= at <= area.right}
            row.clear()
        return tuple(found)

    def _comments(self, part: str) -> Iterator[tuple[int, str]]:
        for target in self._targets(part).values():
            if re.search(r"comment[^/]*\.xml$", target.casefold()):
                for comment in self.package.tree(target).iter("{*}comment"):
                    place = cell_at(comment.get("ref") or "")
                    if place and place[0] < ROWS:
                        yield place[1], string_of(comment)[:_TEXT]


def _bare(text: str) -> str:
    try:
        return format(Decimal(text).normalize(), "f")
    except InvalidOperation:
        return text


def local(element: etree._Element) -> str:
    """An element's name without its namespace; "" for comments."""
    return etree.QName(element).localname if isinstance(element.tag, str) else ""


def string_of(element: etree._Element) -> str:
    """The text of a string item, rich or plain, without phonetic hints."""
    return "".join(t.text or "" for t in element.iter("{*}t") if local(t.getparent()) != "rPh")  # type: ignore[arg-type]


def outer_parts(data: bytes, part: str, file: str) -> etree._Element:
    """A worksheet without its rows: columns, merges, lists, protection."""
    opening = re.search(rb"<((?:\w+:)?)sheetData\b[^>]*?(/?)>", data)
    if opening is None:
        return parse(data, part, file)
    if opening[2]:
        return parse(data, part, file)
    closing = data.rfind(b"</" + opening[1] + b"sheetData>")
    return parse(data[: opening.end()] + data[closing:], part, file)


def _last_number(data: bytes) -> int:
    tail = data[data.rfind(b"row ", 0, data.rfind(b"sheetData>")) - 8 :] if b"row " in data else b""
    found = _ROW_NUMBER.search(tail)
    return int(found[1]) - 1 if found else -1


def _columns_of(sqref: str) -> tuple[int, ...]:
    """The columns a list of areas touches; whole rows touch none that can be told."""
    found: dict[int, None] = {}
    for each in sqref.split():
        area = area_of(each)
        if area is not None and area.right - area.left < 200:
            found |= dict.fromkeys(range(area.left, area.right + 1))
    return tuple(found)
