"""Tables that come from a channel or a seller: whose they are, which worksheet, which column is which."""

from collections.abc import Mapping
from pathlib import Path

from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.grid import Grid, folded
from hundredfold.store.shopstore import Store
from hundredfold.workshop.shop.folder import Shop
from hundredfold.workshop.shop.spreadsheet import read_spreadsheet


def columns_of(store: Store, verb: str, channel: str, grid: Grid, given: Mapping[str, str]) -> dict[str, str]:
    """The headers said now, and those said earlier for this channel that the table still has."""
    held = store.setting(_name_of(verb, channel))
    earlier = {str(field): str(header) for field, header in held.items()} if isinstance(held, dict) else {}
    there = {folded(text) for number in range(min(25, len(grid.rows))) for text in grid.texts(number)}
    return {**{field: header for field, header in earlier.items() if folded(header) in there}, **given}


def remember_columns(store: Store, verb: str, channel: str, columns: Mapping[str, str]) -> None:
    """Keep the headers, so that next month's file needs no telling. Call it once they were found."""
    if columns and columns != store.setting(_name_of(verb, channel)):
        store.set_setting(_name_of(verb, channel), dict(columns))


def _name_of(verb: str, channel: str) -> str:
    return f"columns {verb} {channel}"


def only_grid(file: Path) -> Grid:
    """The one worksheet of a file that holds something.

    Raises ShopError ``several-worksheets``, ``not-a-spreadsheet`` for a workbook without one.
    """
    first, *others = read_spreadsheet(file) or (None,)
    if first is None:
        fix = "open it in your spreadsheet program and save it again as XLSX or CSV"
        raise ShopError("not-a-spreadsheet", "the workbook has no worksheet", fix, Where(file.name))
    if any(any(row) for grid in others for row in grid.rows):
        raise ShopError(
            "several-worksheets",
            f"the workbook has {1 + len(others)} worksheets, and more than the first holds something",
            "save the one that is meant as a file of its own",
            Where(file.name),
        )
    return first


def channel_of(shop: Shop, code: str) -> str:
    """The channel's code; the only one where none is named. Raises ``unknown-channel``, ``which-channel``."""
    if code:
        return shop.channel(code).code
    codes = [channel.code for channel in shop.channels]
    if len(codes) == 1:
        return codes[0]
    fix = f"say which: --channel {codes[0]}" if codes else "add a channel to the shop first"
    raise ShopError("which-channel", f"the shop has {len(codes)} channels", fix)


def columns_from(given: list[str]) -> dict[str, str]:
    """``["sku=Your ref"]`` as a mapping. Raises ShopError ``bad-column``."""
    columns = {}
    for text in given:
        field, sign, header = text.partition("=")
        if not sign or not field.strip() or not header.strip():
            fix = 'write the field, =, and the header in the file, like sku="Your reference"'
            raise ShopError("bad-column", f"{text!r} names no column", fix)
        columns[field.strip().casefold()] = header.strip()
    return columns
