"""Filling a shop's blanks from a partner's price list."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from hundredfold.catalogue.blank_changes import (
    BlankChange,
    ChangeKind,
    Updated,
    edit_blank_file,
    update_blank,
)
from hundredfold.catalogue.blank_making import make_blank
from hundredfold.catalogue.blank_toml import blank_toml
from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.parse_blanks import parse_blank
from hundredfold.catalogue.parsing import read_text
from hundredfold.catalogue.pricelist import ListReading, PriceList, read_price_list
from hundredfold.catalogue.suitability import blank_findings
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.findings import Finding
from hundredfold.kernel.grid import Grid
from hundredfold.kernel.nearest import did_you_mean
from hundredfold.runner.atomic import write_aside
from hundredfold.workshop.shop.folder import Shop
from hundredfold.workshop.shop.spreadsheet import read_spreadsheet


@dataclass(frozen=True)
class Import:
    """What a price list does to a shop's blanks. ``texts`` are the files to write, from the shop folder."""

    changes: tuple[BlankChange, ...]
    unchanged: int  # variants the list confirms
    not_listed: tuple[str, ...]  # blanks of the shop the list does not speak of; they stay as they are
    unused: tuple[str, ...]  # headers that mean nothing here
    notes: tuple[str, ...]  # how the list was read
    findings: tuple[Finding, ...]  # about the blanks as they will be
    texts: Mapping[str, str]


def read_blanks_file(
    shop: Shop,
    path: Path,
    sheet: str = "",
    like: str = "",
    columns: Mapping[str, str] | None = None,
    pieces: int = 1,
) -> Import:
    """Compare a price list with the shop; nothing is written.

    Every worksheet that is a price list is read, or ``sheet`` alone. ``columns`` are the seller's own words,
    a heading by field; ``pieces`` is how many are ordered at once, where prices go by number. Raises one
    ShopError that carries every mistake of the list, and ``unknown-sheet``, ``unknown-blank``, ``bad-column``
    or ``no-such-column``.
    """
    known = {blank.code.casefold(): blank for blank in shop.blanks}
    grids = _sheets(read_spreadsheet(path), sheet, path.name)
    reading = ListReading(
        shop.settings.currency, lambda code: _currency(known.get(code.casefold())), columns or {}, pieces
    )
    price_list = read_price_list(grids, reading)
    pattern = shop.blank(like) if like else None
    palette = {colour.name.casefold(): colour.srgb for blank in shop.blanks for colour in blank.colours}
    updates, errors = [], []
    for code, rows in price_list.by_blank().items():
        try:
            if code in known:
                updates.append(update_blank(known[code], rows, price_list, palette))
            else:
                updates.append(make_blank(rows, price_list, pattern, palette))
        except ShopError as error:
            errors.append(error)
    if errors:
        raise ShopError.several(errors)
    return _import(shop, known, price_list, updates)


def write_blanks(shop: Shop, done: Import) -> None:
    """Write the files of an import, each whole or not at all. Raises ShopError as `write_aside` does."""
    for name, text in done.texts.items():
        with write_aside(shop.paths.root / name) as file:
            file.write(text.encode("utf-8"))


def _import(shop: Shop, known: Mapping[str, Blank], price_list: PriceList, updates: list[Updated]) -> Import:
    changes: list[BlankChange] = []
    texts = {}
    for update in updates:
        blank = update.blank
        before = known.get(blank.code.casefold())
        if before is None:
            name = _new_file(shop, blank.code)
            changes.append(BlankChange(ChangeKind.NEW, blank.code, "", now=blank.name))
            texts[name] = blank_toml(blank, shop.settings.currency)
        elif update.changes:
            name = shop.blank_files[blank.code]
            text = shop.files.text(shop.paths.root / name)
            texts[name] = edit_blank_file(text, before, blank)
        else:
            continue
        changes += update.changes
        _prove(texts[name], name, blank, shop.settings.currency)
    listed = {update.blank.code for update in updates}
    return Import(
        tuple(changes),
        sum(update.unchanged for update in updates),
        tuple(blank.code for blank in shop.blanks if blank.code not in listed),
        price_list.unused,
        price_list.notes,
        tuple(finding for update in updates for finding in blank_findings(update.blank)),
        texts,
    )


def _prove(text: str, name: str, blank: Blank, currency: str) -> None:
    """The text about to be written says exactly what was meant. Raises the ShopError of reading it."""
    read = read_text(text, name, lambda source: parse_blank(source, currency))
    if read != blank:
        raise AssertionError(f"{name} would not say what was meant")


def _new_file(shop: Shop, code: str) -> str:
    taken = {name.casefold() for name in shop.blank_files.values()}
    name = f"blanks/{code.lower()}.toml"
    if name.casefold() in taken or (shop.paths.root / name).exists():
        fix = "rename that file, or give the blank another code"
        what = f'the file of the new blank "{code}" would overwrite another'
        raise ShopError("duplicate-code", what, fix, Where(name))
    return name


def _currency(blank: Blank | None) -> str:
    return blank.postage.currency if blank else ""


def _sheets(grids: tuple[Grid, ...], sheet: str, file: str) -> tuple[Grid, ...]:
    filled = tuple(grid for grid in grids if any(any(grid.texts(index)) for index in range(len(grid.rows))))
    if not filled:
        raise ShopError("empty-list", "the file is empty", "check that it is the right file", Where(file))
    if not sheet:
        return filled
    for grid in grids:
        if grid.sheet.casefold() == sheet.casefold():
            return (grid,)
    names = [grid.sheet for grid in grids if grid.sheet]
    raise ShopError(
        "unknown-sheet", f'it has no worksheet "{sheet}"', did_you_mean(sheet, names), Where(file)
    )
