"""What the columns of a partner's price list hold: a row a variant, a column a size, or a price by number."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.grid import Grid, folded
from hundredfold.kernel.nearest import did_you_mean
from hundredfold.learning.columns import propose
from hundredfold.learning.fieldlists import PRICE_LIST
from hundredfold.learning.headings import Headings, find_headings
from hundredfold.learning.meaning import meaning_of
from hundredfold.learning.seen import SeenColumn
from hundredfold.learning.sheet import Seen

FIELDS = (
    "blank", "name", "colour", "colour code", "hex", "second hex", "underbase", "size", "partner code",
    "base cost", "currency", "stock", "postage", "form", "material", "process", "orientation", "area",
    "width px", "height px", "dpi", "diameter mm", "body height mm", "body width mm", "capacity ml",
)  # fmt: skip
_HEAD = 200  # rows in which headings and examples are looked for
_SIZE = re.compile(
    r"(\d?x{0,4}[sl]|[2-6]x[sl]|m|one size|os|\d{2,3}\s?x\s?\d{2,3}\s?(cm|mm)?|\d{2,3}/\d{2,3}"
    r"|\d{1,4}([.,]\d+)?\s?(ml|cl|l|oz|fl oz|cm))",
    re.IGNORECASE,
)
_BAND = re.compile(
    r"(?:price|preis|prix|precio|prezzo|cost|ab|from|a partir de|à partir de|desde|da|dal|>=|≥)*\s*"
    r"(\d{1,6})\s*(?:(?:-|–|—|to|bis|à|a)\s*(\d{1,6})|\+)?\s*"
    r"(?:\+|pcs?\.?|pieces?|units?|stk\.?|stück|pi[èe]ces?|unidades|uds\.?|pezzi|pz\.?)?",
    re.IGNORECASE,
)
_AMOUNT = re.compile(r"[^\d]{0,4}\s*\d[\d.,' ]*\s*[^\d]{0,4}")


@dataclass(frozen=True)
class PriceColumns:
    """Where a worksheet says what. Rows and columns are 0-based.

    ``sizes`` are the columns of a size matrix, each with its size; ``bands`` the price column chosen by
    number. ``unused`` are the headings that mean nothing here, ``notes`` what a person should know.
    """

    grid: Grid
    first_row: int
    columns: Mapping[str, int]
    names: Mapping[str, str]
    units: Mapping[str, str]
    currency: str = ""
    sizes: Mapping[int, str] = field(default_factory=dict)
    unused: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def missing(self) -> list[str]:
        """The fields without which there is no price list."""
        columns = self.columns
        lacks = [] if {"blank", "name"} & columns.keys() or self.grid.sheet else ["blank"]
        return lacks + [
            name
            for name in ("colour", "base cost")
            if name not in columns and not (name == "base cost" and self.sizes)
        ]


def find_columns(grid: Grid, chosen: Mapping[str, str], pieces: int) -> PriceColumns | None:
    """What a worksheet's columns hold; None where no row of it reads like headings.

    ``chosen`` are a person's own words, a heading by field; ``pieces`` is how many are ordered at once, which
    tells among prices by number. Raises ShopError ``column-twice``, ``bad-column``, ``no-such-column``.
    """
    seen = Seen(grid.file, grid.sheet, tuple(_texts(grid, at) for at in range(min(_HEAD, len(grid.rows)))))
    heads = find_headings(seen, PRICE_LIST)
    if heads is None:
        return None
    heads_columns = heads.columns
    picks = _own_words(heads_columns) | _chosen(heads_columns, chosen, grid.file)
    sizes = _matrix(heads_columns, picks)
    bands = {} if sizes else _bands(heads_columns, picks)
    rest = [one for one in heads_columns if one.index not in sizes and one.index not in bands]
    picks = {index: name for index, name in picks.items() if index not in sizes and index not in bands}
    columns = _told(rest, picks)
    notes = []
    if bands and "base cost" not in chosen:
        columns["base cost"] = _band_for(bands, pieces)
        names = ", ".join(f'"{heads_columns[index].header}"' for index in bands)
        counts = heads_columns[columns["base cost"]].header
        notes.append(f'prices by number ({names}): "{counts}" counts, for {pieces} at once')
    _no_twins(heads_columns, columns, grid)
    columns = {name: index for name, index in columns.items() if name in FIELDS}
    held = {*columns.values(), *sizes, *bands}
    named = {name: heads_columns[index] for name, index in columns.items()}
    return PriceColumns(
        grid,
        heads.first_row,
        columns,
        {name: one.header for name, one in named.items()},
        {name: meaning_of(one.header).unit for name, one in named.items()},
        _currency(heads, [*columns.values(), *sizes]),
        sizes,
        tuple(one.header for one in heads_columns if one.header and one.index not in held),
        tuple(notes),
    )


def _told(columns: Sequence[SeenColumn], picks: Mapping[int, str]) -> dict[str, int]:
    """The column of each field; what none fits goes by headings alone, and its cells are mistakes to tell."""
    told = {one.field: one.column.index for one in propose(columns, PRICE_LIST, chosen=picks) if one.field}
    bare = [replace(one, examples=()) for one in columns]
    for one in propose(bare, PRICE_LIST, chosen=picks):
        if one.field and one.field not in told and one.column.index not in told.values():
            told[one.field] = one.column.index
    return told


def _texts(grid: Grid, at: int) -> dict[int, str]:
    return {index: text for index, text in enumerate(grid.texts(at)) if text}


def _own_words(columns: Sequence[SeenColumn]) -> dict[int, str]:
    """Headings that are our own names of fields, and those of pixels, which no measure may take."""
    picks: dict[int, str] = {}
    for column in columns:
        said = meaning_of(column.header)
        pixels = said.unit == "px" or "pixels" in said.known
        name = next((one for one in ("width", "height") if pixels and one in said.known), "")
        own = folded(column.header)
        pick = own if own in FIELDS else f"{name} px" if name else ""
        if pick and pick not in picks.values():
            picks[column.index] = pick
    return picks


def _chosen(columns: Sequence[SeenColumn], chosen: Mapping[str, str], file: str) -> dict[int, str]:
    picks = {}
    for name, header in chosen.items():
        if name not in FIELDS:
            raise ShopError(
                "bad-column", f"there is no field {name}", did_you_mean(name, FIELDS), Where(file)
            )
        at = next((one.index for one in columns if folded(one.header) == folded(header)), None)
        if at is None:
            headers = [one.header for one in columns if one.header]
            what = f'no column is headed "{header}"'
            raise ShopError("no-such-column", what, did_you_mean(header, headers), Where(file))
        picks[at] = name
    return picks


def _matrix(columns: Sequence[SeenColumn], picks: Mapping[int, str]) -> dict[int, str]:
    """The columns headed by sizes that hold amounts, if there are at least two."""
    found = {
        one.index: one.header.strip()
        for one in columns
        if one.index not in picks and _SIZE.fullmatch(one.header.strip()) and _amounts(one)
    }
    return found if len(found) > 1 else {}


def _bands(columns: Sequence[SeenColumn], picks: Mapping[int, str]) -> dict[int, tuple[int, int | None]]:
    """The columns headed by numbers of pieces that hold amounts, each from how many to how many."""
    found = {}
    for one in columns:
        said = _BAND.fullmatch(one.header.strip())
        if one.index not in picks and said and _amounts(one):
            found[one.index] = int(said[1]), int(said[2]) if said[2] else None
    return found if len(found) > 1 else {}


def _band_for(bands: Mapping[int, tuple[int, int | None]], pieces: int) -> int:
    """The column whose band holds this number: the one that begins nearest below it, else the first."""
    fits = [(low, index) for index, (low, high) in bands.items() if low <= pieces and (high or low) >= 0]
    return max(fits)[1] if fits else min((low, index) for index, (low, _) in bands.items())[1]


def _amounts(column: SeenColumn) -> bool:
    values = [value for value in column.examples if value not in ("-", "–", "—", "n/a", "x")]
    return bool(values) and all(_AMOUNT.fullmatch(value) for value in values)


def _no_twins(columns: Sequence[SeenColumn], held: Mapping[str, int], grid: Grid) -> None:
    for name, index in held.items():
        own = folded(columns[index].header)
        twin = next(
            (one for one in columns if one.index != index and own and folded(one.header) == own), None
        )
        if twin is not None:
            first, second = sorted((columns[index], twin), key=lambda one: one.index)
            what = f'both "{first.header}" and "{second.header}" look like the {name}'
            raise ShopError("column-twice", what, "rename or remove one of the two", Where(grid.file))


def _currency(heads: Headings, priced: Sequence[int]) -> str:
    """The currency that the headings of amounts state, where they state one."""
    told = {
        meaning_of(text).currency
        for index in priced
        for text in (heads.columns[index].header, heads.columns[index].group)
    }
    told.discard("")
    return told.pop() if len(told) == 1 else ""


def price_sheets(grids: Sequence[Grid], chosen: Mapping[str, str], pieces: int) -> Iterator[PriceColumns]:
    """The worksheets that are price lists, in their order: a welcome page or a list of terms is none."""
    for grid in grids:
        found = find_columns(grid, chosen, pieces)
        if found is not None and not found.missing:
            yield found
