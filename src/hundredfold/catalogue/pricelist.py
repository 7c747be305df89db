"""A partner's price list: one row a variant, columns found by their meaning."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from hundredfold.catalogue.cells import (
    Stock,
    read_amount,
    read_flag,
    read_hex,
    read_measure,
    read_stock,
)
from hundredfold.catalogue.codes import CODE_ADVICE, code_from, is_code
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.grid import Grid, Headers, cell_text, find_headers
from hundredfold.kernel.money import Money

Value = TypeVar("Value")

# Field -> other headers that mean it. Common practice of price lists, no source; case and signs do not count.
COLUMNS: dict[str, tuple[str, ...]] = {
    "blank": ("blank code", "product code", "style code", "style", "model", "product id", "range"),
    "name": ("blank name", "product name", "product", "item name", "title", "item", "description"),
    "colour": ("color", "colour name", "color name"),
    "colour code": ("color code",),
    "hex": ("colour hex", "color hex", "hex code", "hex colour", "hex color", "web colour", "srgb"),
    "second hex": ("inside hex", "inside colour hex", "second colour hex", "trim hex", "rim hex"),
    "underbase": ("white underbase", "white base", "white ink"),
    "size": ("size name", "size code"),
    "partner code": ("sku", "variant code", "variant sku", "item number", "item no", "item code", "article",
                     "article number", "part number", "code", "reference"),
    "base cost": ("cost", "unit cost", "cost price", "trade price", "net price", "unit price", "price",
                  "cost gbp", "cost usd", "cost eur", "price gbp", "price usd", "price eur"),
    "stock": ("in stock", "availability", "available", "stock level", "quantity", "qty", "status"),
    "postage": ("shipping", "delivery", "carriage", "postage cost", "shipping cost"),
    "form": ("kind", "type", "category"),
    "material": ("made of", "surface"),
    "process": ("print process", "decoration", "print method", "printing", "method"),
    "orientation": (),
    "area": ("print area", "print position", "position"),
    "width px": ("print width px", "area width px", "print width", "pixel width"),
    "height px": ("print height px", "area height px", "print height", "pixel height"),
    "dpi": ("print dpi", "resolution"),
    "diameter mm": ("diameter", "outer diameter mm"),
    "body height mm": ("height mm", "outer height mm"),
    "capacity ml": ("capacity", "volume ml"),
}  # fmt: skip
DETAILS = ("form", "material", "process", "orientation", "area", "width px", "height px", "dpi")
MEASURES = ("width px", "height px", "dpi", "diameter mm", "body height mm", "capacity ml")


@dataclass(frozen=True)
class PriceRow:
    """One variant as the list has it. None and "" are what the list does not say."""

    row: int  # as a spreadsheet counts it
    blank: str
    name: str
    colour: str  # a name, as the partner writes it
    colour_code: str
    srgb: Srgb | None
    second: Srgb | None
    underbase: bool | None
    size: str
    partner_code: str
    base_cost: Money | None
    stock: Stock | None
    postage: Money | None
    details: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class PriceList:
    """The rows of a list, in its order, and the columns it was read from."""

    file: str
    headers: Headers
    rows: tuple[PriceRow, ...]

    def where(self, row: PriceRow, name: str = "") -> Where:
        """The place of a row, or of one field's cell in it, for an error."""
        return Where(self.file, row=row.row, field=self.headers.names.get(name, name))

    def by_blank(self) -> dict[str, list[PriceRow]]:
        """The rows of each blank by its code in lower case, blanks in order of first appearance."""
        groups: dict[str, list[PriceRow]] = {}
        for row in self.rows:
            groups.setdefault(row.blank.casefold(), []).append(row)
        return groups


def read_price_list(grid: Grid, currency_of: Callable[[str], str]) -> PriceList:
    """Read a list; ``currency_of`` gives the currency that a blank's amounts are in, by blank code.

    Raises one ShopError that carries every mistake in it, with rows and columns.
    """
    headers = find_headers(grid, COLUMNS)
    where = Where(grid.file)
    if headers is None or len(headers.columns) < 2:
        fix = 'name the columns "Blank", "Colour", "SKU", "Cost" and so on; docs/blanks-file.md lists them'
        raise ShopError("missing-column", "no row of headers was found", fix, where)
    missing = [name for name in ("colour", "base cost") if name not in headers.columns]
    if "blank" not in headers.columns and "name" not in headers.columns:
        missing.insert(0, "blank")
    if missing:
        fix = "add a column for it; docs/blanks-file.md lists the headers that are understood"
        raise ShopError("missing-column", f"there is no column for {', '.join(missing)}", fix, where)
    if headers.twice:
        name, first, second = headers.twice[0]
        what = f'both "{first}" and "{second}" look like the {name}'
        raise ShopError("column-twice", what, "rename or remove one of the two", where)
    errors: list[ShopError] = []
    rows = []
    for index in range(headers.row + 1, len(grid.rows)):
        if any(grid.texts(index)):
            reader = _Row(grid, index, headers, errors)
            rows.append(reader.read(currency_of))
    price_list = PriceList(grid.file, headers, tuple(rows))
    errors += _twice(price_list)
    if not rows:
        errors.append(ShopError("empty-list", "there is no row below the headers", "check the file", where))
    if errors:
        raise ShopError.several(sorted(errors, key=lambda error: error.where.row or 0))
    return price_list


class _Row:
    """Reads one row, collecting what is wrong with its cells."""

    def __init__(self, grid: Grid, index: int, headers: Headers, errors: list[ShopError]) -> None:
        self._cells = grid.rows[index]
        self._headers = headers
        self._where = Where(grid.file, row=index + 1)
        self._errors = errors

    def read(self, currency_of: Callable[[str], str]) -> PriceRow:
        """The row; what cannot be read is None in it."""
        name = self._text("name")
        blank = self._text("blank") or code_from(name).upper()
        if not blank:
            self._wrong("blank", ShopError("missing-cell", "the blank's code is empty", "fill it in"))
        elif not is_code(blank):
            self._wrong("blank", ShopError("bad-code", f'"{blank}" cannot be a code', CODE_ADVICE))
        colour = self._text("colour")
        if not colour:
            self._wrong("colour", ShopError("missing-cell", "the colour is empty", "fill it in"))
        currency = currency_of(blank)
        return PriceRow(
            row=self._where.row or 0,
            blank=blank,
            name=name,
            colour=colour,
            colour_code=self._text("colour code"),
            srgb=self._read("hex", read_hex),
            second=self._read("second hex", read_hex),
            underbase=self._read("underbase", read_flag),
            size=self._text("size"),
            partner_code=self._text("partner code"),
            base_cost=self._read("base cost", lambda text: read_amount(text, currency)),
            stock=self._read("stock", read_stock),
            postage=self._read("postage", lambda text: read_amount(text, currency)),
            details=dict(self._details()),
        )

    def _details(self) -> Iterator[tuple[str, str]]:
        for name in dict.fromkeys((*DETAILS, *MEASURES)):
            text = self._text(name)
            if name in MEASURES:
                measure = self._read(name, read_measure)
                text = format(measure.normalize(), "f") if measure is not None else ""
            if text:
                yield name, text

    def _text(self, name: str) -> str:
        at = self._headers.columns.get(name)
        return cell_text(self._cells[at]) if at is not None and at < len(self._cells) else ""

    def _read(self, name: str, read: Callable[[str], Value]) -> Value | None:
        text = self._text(name)
        try:
            return read(text) if text else None
        except ShopError as error:
            self._wrong(name, error)
            return None

    def _wrong(self, name: str, error: ShopError) -> None:
        place = Where(self._where.file, row=self._where.row, field=self._headers.names.get(name, name))
        self._errors.append(error.at(place))


def _twice(price_list: PriceList) -> Iterator[ShopError]:
    codes: dict[str, int] = {}
    pairs: dict[tuple[str, str, str], int] = {}
    for row in price_list.rows:
        if row.partner_code and row.partner_code in codes:
            what = f'"{row.partner_code}" stands in row {codes[row.partner_code]} already'
            fix = "give each row its own code, or remove one"
            yield ShopError("row-twice", what, fix, price_list.where(row, "partner code"))
        pair = (row.blank.casefold(), row.colour.casefold(), row.size)
        if pair in pairs and row.colour:
            what = f"row {pairs[pair]} is the same blank, colour and size"
            yield ShopError("row-twice", what, "remove one of the two rows", price_list.where(row, "colour"))
        codes.setdefault(row.partner_code, row.row)
        pairs.setdefault(pair, row.row)
