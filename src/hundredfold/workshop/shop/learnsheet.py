"""Learning a channel's table from the partner's own file: read, proposed, written into the channel's TOML."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.sheets import Sheet, TableKind
from hundredfold.handoff.formats import filledbook
from hundredfold.handoff.learned import LearnedColumn, MovedColumn, gaps, keep_choices, learn_columns
from hundredfold.handoff.learned_toml import sheet_toml, words_toml
from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.kernel.nearest import did_you_mean
from hundredfold.learning import delimited, opendocument
from hundredfold.learning.columns import propose
from hundredfold.learning.fieldlists import LISTING
from hundredfold.learning.sheet import Seen
from hundredfold.learning.sheetchoice import Fillable, fillable
from hundredfold.learning.words import letter_of
from hundredfold.learning.workbook import Workbook
from hundredfold.runner.atomic import write_whole
from hundredfold.workshop.shop.folder import Shop
from hundredfold.workshop.shop.starterchannel import starter_channel

MAX_BYTES = 200_000_000
_ZIP, _OLD = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"


@dataclass(frozen=True)
class LearnedSheet:
    """What was learned, and the files to write, by their path from the shop folder."""

    channel: str
    worksheet: str
    sheet: Sheet
    columns: tuple[LearnedColumn, ...]
    moved: tuple[MovedColumn, ...]  # since the form that was learned before
    notes: tuple[str, ...]
    files: Mapping[str, bytes]

    @property
    def gaps(self) -> tuple[LearnedColumn, ...]:
        """Columns nobody could tell."""
        return tuple(gaps(self.columns))


def learn_sheet(
    shop: Shop,
    file: Path,
    code: str,
    worksheet: str = "",
    encoding: str = "",
    chosen: Mapping[str, str] | None = None,
    skus: frozenset[str] = frozenset(),
) -> LearnedSheet:
    """Read a partner's file for a channel, which may be new; nothing is written.

    ``chosen`` are the seller's own words: our field by heading. Raises ShopError ``file-unreadable``,
    ``file-too-large``, ``not-a-spreadsheet``, ``locked-workbook``, ``wrong-encoding``, ``too-wide``,
    ``unknown-sheet``, ``no-such-column``, ``merged-cells``.
    """
    data = _read(file)
    sheets, dialect = _seen(data, file.name, encoding)
    found = _choose(sheets, worksheet, file.name)
    channel = next((each for each in shop.channels if each.code == code), None)
    headers = [column.header for column in found.headings.columns]
    kept, moved = keep_choices(channel.sheet, headers) if channel and channel.sheet.form else ({}, ())
    picks = _picks(chosen or {}, headers, file.name)
    proposals = propose(found.headings.columns, LISTING, _known(shop, skus), picks)
    kept = {index: column for index, column in kept.items() if index not in picks and column.fill}
    columns = learn_columns(proposals, _ours(shop), kept)
    sheet = _sheet(found, channel, code, file, dialect)
    sheet = replace(sheet, columns=tuple(one.column for one in columns))
    notes = list(_notes(found, data, file.name))
    if sheet.kind is TableKind.XLSX:
        filledbook.check_form(sheet, data)
    form = {sheet.form: data} if sheet.form else {}
    text = _channel_text(shop, channel, code, sheet, columns, file.name)
    path = shop.channel_files.get(code, f"channels/{code}.toml")
    return LearnedSheet(
        code, found.sheet.name, sheet, columns, moved, tuple(notes), {**form, path: text.encode("utf-8")}
    )


def write_learned(shop: Shop, learned: LearnedSheet) -> None:
    """Write the form and the channel's file, each whole or not at all."""
    for name, data in learned.files.items():
        path = shop.paths.root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, data)


def _read(file: Path) -> bytes:
    try:
        if file.exists() and not file.is_file():  # a pipe would wait for ever
            fix = "name the file that holds the table"
            raise ShopError("file-unreadable", "it is no ordinary file", fix, Where(str(file)))
        if file.stat().st_size > MAX_BYTES:
            size = file.stat().st_size / 1e6
            what = f"it holds {size:.0f} MB, more than the {MAX_BYTES / 1e6:.0f} MB that are read"
            raise ShopError("file-too-large", what, "learn from the empty form instead", Where(file.name))
        return file.read_bytes()
    except OSError as error:
        fix = "check the spelling, and that the file is not open elsewhere"
        what = f"it cannot be read: {error.strerror}"
        raise ShopError("file-unreadable", what, fix, Where(str(file)), ExitCode.WRONG_USE) from error


def _seen(data: bytes, name: str, encoding: str) -> tuple[tuple[Seen, ...], delimited.Dialect | None]:
    if data.startswith(_OLD):
        fix = "open it (without its password), and save it as XLSX"
        raise ShopError(
            "locked-workbook", "it is locked with a password, or in the old XLS format", fix, Where(name)
        )
    if not data.startswith(_ZIP):
        seen, dialect = delimited.see(data, name, encoding)
        return (seen,), dialect
    if name.casefold().endswith(".ods"):
        return opendocument.see(name, data), None
    return Workbook(name, data).seen(), None


def _choose(sheets: tuple[Seen, ...], wanted: str, name: str) -> Fillable:
    found = fillable(sheets, LISTING)
    if wanted:
        names = [sheet.name for sheet in sheets]
        if not any(each.casefold() == wanted.casefold() for each in names):
            what = f'it has no worksheet "{wanted}"'
            raise ShopError("unknown-sheet", what, did_you_mean(wanted, names), Where(name))
        found = tuple(each for each in found if each.sheet.name.casefold() == wanted.casefold())
    if not found:
        there = f' on worksheet "{wanted}"' if wanted else ""
        fix = "name the worksheet that is to be filled with --sheet, or check that it is the right file"
        raise ShopError("missing-column", f"no row of headings was found{there}", fix, Where(name))
    return found[0]


def _picks(chosen: Mapping[str, str], headers: list[str], name: str) -> dict[int, str]:
    picks = {}
    for field, header in chosen.items():
        at = next(
            (i for i, each in enumerate(headers) if each.strip().casefold() == header.strip().casefold()),
            None,
        )
        known = {one.name for one in LISTING.fields}
        if field not in known:
            raise ShopError(
                "bad-column", f"there is no field {field}", did_you_mean(field, known), Where(name)
            )
        if at is None:
            hint = did_you_mean(header, headers)
            raise ShopError("no-such-column", f'no column is headed "{header}"', hint, Where(name))
        picks[at] = field
    return picks


def _known(shop: Shop, skus: frozenset[str]) -> dict[str, frozenset[str]]:
    """The shop's own values that tell a column whatever it is called."""
    return {
        "sku": skus,
        "partner code": frozenset(v.partner_code for blank in shop.blanks for v in blank.variants),
        "blank code": frozenset(blank.code for blank in shop.blanks),
        "blank name": frozenset(blank.name for blank in shop.blanks),
    }


def _ours(shop: Shop) -> dict[str, list[str]]:
    """Our words for what a partner offers choices for."""
    blanks = shop.blanks
    return {
        "colour": [colour.name for blank in blanks for colour in blank.colours],
        "colour family": [colour.code for blank in blanks for colour in blank.colours],
        "size": [v.size for blank in blanks for v in blank.variants if v.size],
        "process": [blank.process.value for blank in blanks],
        "material": [blank.material.value for blank in blanks],
        "form": [blank.form.value for blank in blanks],
        "blank name": [blank.name for blank in blanks],
        "currency": [shop.settings.currency],
    }


def _sheet(
    found: Fillable, channel: Channel | None, code: str, file: Path, dialect: delimited.Dialect | None
) -> Sheet:
    before = channel.sheet if channel else None
    limits = (before.max_rows, before.max_bytes, before.max_archive_bytes) if before else (None,) * 3
    ending = file.suffix.casefold() or ".csv"
    form = "" if ending == ".ods" else f"channels/forms/{code}{ending}"
    families = any(one.header and "parent" in one.header.casefold() for one in found.headings.columns)
    sheet = Sheet(
        TableKind.CSV if dialect else TableKind.XLSX, (), max_rows=limits[0], max_bytes=limits[1],
        max_archive_bytes=limits[2], families=before.families if before else families, form=form,
        first_row=found.headings.first_row + 1 if form else 0, name=before.name if before else "listings",
    )  # fmt: skip
    if dialect is None:
        return replace(sheet, worksheet=found.sheet.name[:31])
    return replace(
        sheet,
        separator=dialect.separator,
        encoding={"latin-1": "iso-8859-1"}.get(dialect.encoding, dialect.encoding),
        byte_order_mark=dialect.byte_order_mark,
        line_end="\r\n" if dialect.line_end == "\r\n" else "\n",
        quote_all=dialect.quote_all,
    )


def _notes(found: Fillable, data: bytes, name: str) -> list[str]:
    notes = []
    if found.headings.example_rows:
        rows = ", ".join(str(row + 1) for row in found.headings.example_rows[:4])
        notes.append(f"row {rows}: taken for examples; ours replace them (first_row says where we begin)")
    if found.sheet.protected:
        notes.append("the worksheet is protected; its cells are filled all the same, and stay protected")
    if name.casefold().endswith((".xlsm", ".xlsx")) and Workbook(name, data).has_macros:
        notes.append("the workbook has macros; they are kept as they are, and never run")
    if name.casefold().endswith(".ods"):
        notes.append("ODS is read but not written: rows go into a new XLSX with the same headings")
    twice = _twice([column.header for column in found.headings.columns])
    notes += [f'"{header}" heads columns {", ".join(letters)}' for header, letters in twice.items()]
    return notes


def _twice(headers: list[str]) -> dict[str, list[str]]:
    from_header: dict[str, list[str]] = {}
    for index, header in enumerate(headers):
        if header.strip():
            letters = from_header.setdefault(header.strip(), [])
            letters.append(letter_of(index))
    return {header: letters for header, letters in from_header.items() if len(letters) > 1}


def _channel_text(
    shop: Shop,
    channel: Channel | None,
    code: str,
    sheet: Sheet,
    columns: tuple[LearnedColumn, ...],
    source: str,
) -> str:
    """The channel's file with the sheet in place of its own; all else stays as the seller wrote it."""
    known = tuple(channel.their_words) if channel else ()
    fresh = sheet_toml(sheet, columns, source) + words_toml(columns, known)
    if channel is None:
        return starter_channel(code, shop.settings) + "\n" + fresh
    text = shop.files.text(shop.paths.root / shop.channel_files[code])
    lines = text.splitlines(keepends=True)
    start = next((at for at, line in enumerate(lines) if re.match(r"\[sheet\]\s*(#.*)?$", line)), None)
    if start is None:
        return text.rstrip("\n") + "\n\n" + fresh
    end = next(
        (at for at in range(start + 1, len(lines)) if re.match(r"\[[^\[\]]+\]|\[\[", lines[at])), len(lines)
    )
    return "".join([*lines[:start], fresh.rstrip("\n") + "\n\n", *lines[end:]])
