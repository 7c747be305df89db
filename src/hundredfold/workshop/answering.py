"""Reads a channel's acceptance file into the ledger."""

from collections.abc import Mapping
from pathlib import Path

from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.grid import Grid
from hundredfold.ledger.answers import Answers, read_answers
from hundredfold.workshop.desk import Desk
from hundredfold.workshop.shopfolder import Shop
from hundredfold.workshop.spreadsheet import read_spreadsheet


def answer(desk: Desk, file: Path, channel: str, columns: Mapping[str, str] | None = None) -> Answers:
    """Take in a file of answers; reading the same file again changes nothing.

    Raises ShopError ``unknown-channel``, ``no-such-column``, ``which-channel`` and what reading raises.
    """
    code = channel_of(desk.shop, channel)
    found = read_answers(only_grid(file), code, desk.ledger(), columns)
    desk.store.append(found.events)
    return found


def only_grid(file: Path) -> Grid:
    """The one worksheet of a file that holds something. Raises ShopError ``several-worksheets``."""
    first, *others = read_spreadsheet(file)
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
