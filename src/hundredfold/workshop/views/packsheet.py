"""One pack from near: its listings, its files, and its table as the channel will read it."""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.grid import cell_text
from hundredfold.ledger.keys import PackKey
from hundredfold.workshop.records.days import ChannelDay
from hundredfold.workshop.records.state import PackRecord
from hundredfold.workshop.shop.spreadsheet import read_spreadsheet
from hundredfold.workshop.steps.packfiles import pack_folder
from hundredfold.workshop.views.days import channel_days
from hundredfold.workshop.views.looking import look_at
from hundredfold.workshop.views.packs import pack_records

_TABLES = (".csv", ".xlsx", ".xlsm", ".txt", ".tsv", ".ods")
_SHOWN = 12
_LOOKED_BYTES = 8 * 1024 * 1024  # a larger table is not opened only to be glanced at


@dataclass(frozen=True)
class PackFile:
    """A file of a pack's folder."""

    name: str
    bytes: int


@dataclass(frozen=True)
class PackSheet:
    """A pack, its day, its files, and the first lines of its table; none where no pack is made yet."""

    pack: PackRecord
    day: ChannelDay
    files: tuple[PackFile, ...]
    table: tuple[tuple[str, ...], ...]


def pack_sheet(folder: Path, channel: str, day: str) -> PackSheet:
    """Look at one pack. Raises ShopError ``no-such-pack``, and as ``look_at`` does."""
    look = look_at(folder)
    name = str(PackKey(channel, day))
    pack = next((one for one in pack_records(look) if one.pack == name), None)
    if pack is None:
        raise ShopError("no-such-pack", f"nothing is planned or made for {name}", "look at the packs again")
    place = pack_folder(look.shop.paths, PackKey(channel, day))
    files = tuple(
        PackFile(one, (place / one).stat().st_size) for one in pack.files if (place / one).is_file()
    )
    lines = first_lines(place, pack.files)
    return PackSheet(pack, channel_days(look, (pack,))[0], files, lines)


def pack_file(folder: Path, channel: str, day: str, name: str) -> Path:
    """One file of a pack, to be handed out. Raises ShopError ``no-such-pack``."""
    sheet = pack_sheet(folder, channel, day)
    if name not in {one.name for one in sheet.files}:
        raise ShopError("no-such-pack", f"{sheet.pack.pack} has no such file", "look at the pack again")
    return pack_folder(look_at(folder).shop.paths, PackKey(channel, day)) / name


def first_lines(place: Path, names: Iterable[str]) -> tuple[tuple[str, ...], ...]:
    """The first lines of a pack's table; none where there is none, or it is too large to be glanced at."""
    for name in names:
        table = place / name
        if name.lower().endswith(_TABLES) and table.is_file() and table.stat().st_size <= _LOOKED_BYTES:
            try:
                grid = read_spreadsheet(table)[0]
            except ShopError:
                return ()
            return tuple(tuple(cell_text(cell) for cell in row) for row in grid.rows[:_SHOWN])
    return ()
