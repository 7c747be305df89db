"""A partner's price list: the rows of its worksheets, columns found by their meaning in five languages."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from typing import TypeVar

from hundredfold.catalogue.cells import (
    Stock,
    read_amount,
    read_flag,
    read_hex,
    read_measure,
    read_stock,
    told_currency,
)
from hundredfold.catalogue.codes import CODE_ADVICE, code_from, is_code
from hundredfold.catalogue.pricecolumns import PriceColumns, find_columns, price_sheets
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.grid import Grid
from hundredfold.kernel.money import Money

Value = TypeVar("Value")

DETAILS = ("form", "material", "process", "orientation", "area", "width px", "height px", "dpi")
MEASURES = (
    "width px", "height px", "dpi", "diameter mm", "body height mm", "body width mm", "capacity ml",
)  # fmt: skip
_NONE = frozenset({"-", "–", "—", "n/a", "x", "/"})  # a size that a row of a matrix does not have


@dataclass(frozen=True)
class PriceRow:
    """One variant as the list has it. None and "" are what the list does not say."""

    row: int  # as a spreadsheet counts it
    table: PriceColumns = field(repr=False, compare=False)
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
    """The rows of a list, in its order; ``unused`` headings mean nothing here."""

    rows: tuple[PriceRow, ...]
    unused: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    def where(self, row: PriceRow, name: str = "") -> Where:
        """The place of a row, or of one field's cell in it, for an error."""
        return _place(row.table, row.row, name)

    def by_blank(self) -> dict[str, list[PriceRow]]:
        """The rows of each blank by its code in lower case, blanks in order of first appearance."""
        groups: dict[str, list[PriceRow]] = {}
        for row in self.rows:
            groups.setdefault(row.blank.casefold(), []).append(row)
        return groups


@dataclass(frozen=True)
class ListReading:
    """How a list is to be read.

    ``currency_of`` gives the currency that a blank of the shop is kept in, "" for a new one; the amounts of
    a new one are in the currency that the list states, else in ``home``. ``columns`` are the seller's own
    words, a heading by field; ``pieces`` is how many are ordered at once, where prices go by number.
    """

    home: str
    currency_of: Callable[[str], str] = lambda code: ""
    columns: Mapping[str, str] = field(default_factory=dict)
    pieces: int = 1


def read_price_list(grids: Sequence[Grid], reading: ListReading) -> PriceList:
    """Read the worksheets that are price lists; a welcome page is passed over.

    Raises one ShopError that carries every mistake in them, with rows and columns.
    """
    tables = list(price_sheets(grids, reading.columns, reading.pieces))
    if not tables:
        raise _no_list(grids, reading)
    errors: list[ShopError] = []
    rows: list[PriceRow] = []
    notes = [note for table in tables for note in table.notes]
    currencies: dict[str, str] = {}
    for table in tables:
        alone = []
        for index in range(table.first_row, len(table.grid.rows)):
            texts = list(filter(None, table.grid.texts(index)))
            if len(texts) == 1 and len(table.columns) + len(table.sizes) > 2:
                alone.append(str(index + 1))
            elif texts:
                rows += _Row(table, index, reading, currencies, errors).read()
        if alone:
            notes.append(f"row {', '.join(alone[:6])}: one cell only, taken for a heading or a remark")
        if table.sizes and "partner code" in table.columns:
            notes.append(
                "one code stands for several sizes: codes by size were made up of it; write the partner's "
                "own in the blank's file before you sell"
            )
    price_list = PriceList(
        tuple(rows), tuple(dict.fromkeys(name for table in tables for name in table.unused)), tuple(notes)
    )
    errors += _twice(price_list)
    if not rows:
        where = Where(tables[0].grid.file)
        errors.append(ShopError("empty-list", "there is no row below the headers", "check the file", where))
    if errors:
        raise ShopError.several(sorted(errors, key=lambda error: error.where.row or 0))
    return price_list


def _no_list(grids: Sequence[Grid], reading: ListReading) -> ShopError:
    """Why none of the worksheets is a price list, by the one that is nearest to it."""
    where = Where(grids[0].file if grids else "")
    tables = [found for grid in grids if (found := find_columns(grid, reading.columns, reading.pieces))]
    tables = [table for table in tables if len(table.columns) > 1]
    if not tables:
        fix = 'name the columns "Blank", "Colour", "SKU", "Cost" and so on; docs/blanks-file.md lists them'
        return ShopError("missing-column", "no row of headers was found", fix, where)
    nearest = min(tables, key=lambda table: (len(table.missing), -len(table.columns)))
    missing = nearest.missing
    fix = f'add a column for it, or say which it is: --column "{missing[0]}=the header in the file"'
    what = f"there is no column for {', '.join(missing)}"
    return ShopError("missing-column", what, fix, _place(nearest))


def _place(table: PriceColumns, row: int | None = None, name: str = "") -> Where:
    sheet = f', worksheet "{table.grid.sheet}"' if table.grid.sheet else ""
    return Where(f"{table.grid.file}{sheet}", row=row, field=table.names.get(name, name))


class _Row:
    """Reads one row, collecting what is wrong with its cells."""

    def __init__(
        self,
        table: PriceColumns,
        index: int,
        reading: ListReading,
        currencies: dict[str, str],
        errors: list[ShopError],
    ) -> None:
        self._cells = table.grid.texts(index)
        self._table = table
        self._index = index
        self._reading = reading
        self._currencies = currencies  # of the new blanks, as their first amounts tell it
        self._errors = errors

    def read(self) -> Iterator[PriceRow]:
        """A row for each size of a matrix, else the one row; what cannot be read is None in it."""
        first = self._one()
        if not self._table.sizes:
            yield first
            return
        for column, size in self._table.sizes.items():
            text = self._cells[column] if column < len(self._cells) else ""
            if text and text.casefold() not in _NONE:
                cost = self._amount("base cost", text, first.blank, size)
                made = "-".join(filter(None, (first.partner_code, code_from(size).upper())))
                code = made if first.partner_code else ""
                yield replace(first, size=size, base_cost=cost, partner_code=code)

    def _one(self) -> PriceRow:
        name = self._text("name") or ("" if "blank" in self._table.columns else self._table.grid.sheet)
        blank = self._text("blank") or code_from(name).upper()
        if not blank:
            self._wrong("blank", ShopError("missing-cell", "the blank's code is empty", "fill it in"))
        elif not is_code(blank):
            self._wrong("blank", ShopError("bad-code", f'"{blank}" cannot be a code', CODE_ADVICE))
        colour = self._text("colour")
        if not colour:
            self._wrong("colour", ShopError("missing-cell", "the colour is empty", "fill it in"))
        return PriceRow(
            row=self._index + 1,
            table=self._table,
            blank=blank,
            name=name,
            colour=colour,
            colour_code=self._text("colour code"),
            srgb=self._read("hex", read_hex),
            second=self._read("second hex", read_hex),
            underbase=self._read("underbase", read_flag),
            size=self._text("size"),
            partner_code=self._text("partner code"),
            base_cost=self._amount("base cost", self._text("base cost"), blank),
            stock=self._read("stock", read_stock),
            postage=self._amount("postage", self._text("postage"), blank),
            details=dict(self._details()),
        )

    def _amount(self, name: str, text: str, blank: str, shown: str = "") -> Money | None:
        """An amount in the blank's currency; one that states another currency is told."""
        if not text:
            return None
        told = self._text("currency").upper() or told_currency(text) or self._table.currency
        kept = self._reading.currency_of(blank) or self._currencies.get(blank.casefold(), "")
        currency = kept or told or self._reading.home
        self._currencies.setdefault(blank.casefold(), currency)
        try:
            if told and told != currency:
                fix = f"give the list's amounts in {currency}, or set the blank's currency"
                raise ShopError("bad-amount", f'"{text}" is not in {currency} but in {told}', fix)
            return read_amount(text, currency)
        except ShopError as error:
            self._wrong(name, error, shown)
            return None

    def _details(self) -> Iterator[tuple[str, str]]:
        for name in dict.fromkeys((*DETAILS, *MEASURES)):
            text = self._text(name)
            if name in MEASURES:
                unit = self._table.units.get(name, "")
                measure = self._read(name, partial(read_measure, unit=unit))
                text = format(measure.normalize(), "f") if measure is not None else ""
            if text:
                yield name, text

    def _text(self, name: str) -> str:
        at = self._table.columns.get(name)
        return self._cells[at] if at is not None and at < len(self._cells) else ""

    def _read(self, name: str, read: Callable[[str], Value]) -> Value | None:
        text = self._text(name)
        try:
            return read(text) if text else None
        except ShopError as error:
            self._wrong(name, error)
            return None

    def _wrong(self, name: str, error: ShopError, shown: str = "") -> None:
        self._errors.append(error.at(_place(self._table, self._index + 1, shown or name)))


def _twice(price_list: PriceList) -> Iterator[ShopError]:
    codes: dict[str, int] = {}
    pairs: dict[tuple[str, str, str], int] = {}
    for row in price_list.rows:
        if row.partner_code and row.partner_code in codes:
            what = f'"{row.partner_code}" stands in row {codes[row.partner_code]} already'
            fix = "give each row its own code, or remove one; --sheet reads one worksheet only"
            yield ShopError("row-twice", what, fix, price_list.where(row, "partner code"))
        pair = (row.blank.casefold(), row.colour.casefold(), row.size)
        if pair in pairs and row.colour:
            what = f"row {pairs[pair]} is the same blank, colour and size"
            yield ShopError("row-twice", what, "remove one of the two rows", price_list.where(row, "colour"))
        codes.setdefault(row.partner_code, row.row)
        pairs.setdefault(pair, row.row)
