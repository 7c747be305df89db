"""A word list as a sheet to work in: read, set a row at a time, written back as the plain file it is."""

import csv
import hashlib
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.layouts.fill import Filled
from hundredfold.designs.layouts.layout import Layout, parse_layout
from hundredfold.designs.layouts.pattern import column_key
from hundredfold.designs.layouts.rows import LAYOUT, TRAVELLING, Row
from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.kernel.findings import Severity
from hundredfold.kernel.nearest import did_you_mean
from hundredfold.runner.atomic import write_whole
from hundredfold.runner.svgchild import rasterise_svg
from hundredfold.workshop.shop.files import ShopFiles
from hundredfold.workshop.shop.folder import require_shop
from hundredfold.workshop.shop.paths import ShopPaths
from hundredfold.workshop.typeset.typework import fill_row
from hundredfold.workshop.typeset.wordlists import ENDINGS, read_word_list

Bytes = NDArray[np.uint8]

MOST_ROWS = 5000
_PLAIN = (".csv", ".tsv")


@dataclass(frozen=True)
class ListName:
    """A word list of the shop: its file's name, how many rows, whether it is edited here; ``trouble`` says
    why it cannot be read."""

    file: str
    rows: int
    plain: bool
    trouble: str = ""


@dataclass(frozen=True)
class SheetOfWords:
    """A list as it is: its headers as written, each row's number in the file with its cells in their order.

    ``digest`` tells later whether somebody changed the file; ``plain`` whether it is written here.
    """

    file: str
    headers: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]
    digest: str
    plain: bool


@dataclass(frozen=True)
class SetRow:
    """A row set: what a person should know of it, worst first, and how wrong it looks; 0 is fine."""

    layout: str
    findings: tuple[tuple[str, str, str], ...]  # severity, what, fix
    badness: int
    filled: Filled | None


def layout_names(folder: Path) -> tuple[str, ...]:
    """The shop's layouts by name, without their ending."""
    return tuple(sorted(path.stem for path in require_shop(folder).layouts.glob("*.svg")))


def word_lists(folder: Path) -> tuple[ListName, ...]:
    """The shop's word lists by name."""
    found = []
    for path in _lists(require_shop(folder)):
        plain = path.suffix.lower() in _PLAIN
        try:
            found.append(ListName(path.name, len(read_word_list(path).rows), plain))
        except ShopError as error:
            found.append(ListName(path.name, 0, plain, error.what))
    return tuple(found)


def open_list(folder: Path, name: str) -> SheetOfWords:
    """A list by its file's name. Raises ShopError ``no-words`` and as ``read_word_list`` does."""
    path = _list(folder, name)
    words = read_word_list(path)
    keys = [column_key(header) for header in words.headers]
    rows = tuple((row.number, tuple(row.cells.get(key, "") for key in keys)) for row in words.rows)
    digest = hashlib.sha256(path.read_bytes()).hexdigest()
    return SheetOfWords(words.file, words.headers, rows, digest, path.suffix.lower() in _PLAIN)


def begin_list(folder: Path, name: str, layout: str) -> str:
    """Make an empty list with the columns of a layout; its file's name.

    Raises ShopError ``bad-form``, ``file-exists``, ``no-layout`` and what writing raises.
    """
    paths = require_shop(folder)
    stem = "-".join("".join(c if c.isalnum() else " " for c in name.casefold()).split())[:60]
    if not stem:
        raise ShopError("bad-form", "the list has no name", "name it after what it is about, such as clubs")
    path = paths.words / f"{stem}.csv"
    if path.exists():
        fix = "open that one, or choose another name"
        raise ShopError("file-exists", f"there is a list called {path.name}", fix)
    found = _layout(folder, layout)
    asked = [one for one in found.columns() if column_key(one) not in map(column_key, TRAVELLING)]
    write_whole(path, _as_csv([LAYOUT, *asked, *TRAVELLING], [[layout]]))
    return path.name


def keep_list(
    folder: Path, name: str, digest: str, rows: Mapping[int, Sequence[str]], gone: Sequence[int] = ()
) -> int:
    """Write rows by their number in the file, new ones with numbers past its end; how many rows changed.

    Raises ShopError ``changed-meanwhile`` where the file is no longer as it was read, ``bad-form``, and what
    writing raises; then it stays as it is.
    """
    path, sheet = _list(folder, name), open_list(folder, name)
    if not sheet.plain:
        fix = "change it in your spreadsheet program, or save it there as CSV"
        raise ShopError("bad-form", f"{name} is a workbook, which is only shown here", fix)
    if sheet.digest != digest:
        what = "the list was changed since this page showed it, by another window or program"
        fix = "load the page again; what you typed is in this window still, copy from it what you need"
        raise ShopError("changed-meanwhile", what, fix, Where(name), ExitCode.PROBLEMS)
    before = {number: list(cells) for number, cells in sheet.rows}
    if len(before) + len(rows) > MOST_ROWS:
        fix = "divide it in two"
        raise ShopError("bad-form", f"a list of more than {MOST_ROWS:,} rows is not edited here", fix)
    after = dict(before)
    for number, cells in rows.items():
        texts = [" ".join(cell.split()) for cell in cells]
        after[number] = [*texts, *[""] * (len(sheet.headers) - len(texts))][: len(sheet.headers)]
    for number in gone:
        after.pop(number, None)
    kept = [cells for _, cells in sorted(after.items()) if any(cells)]
    changed = sum(before.get(number) != cells for number, cells in after.items() if any(cells))
    changed += len([number for number in before if number not in after or not any(after[number])])
    if changed:
        write_whole(path, _as_csv(sheet.headers, kept, "\t" if path.suffix.lower() == ".tsv" else ","))
    return changed


def set_words(folder: Path, file: str, number: int, cells: Mapping[str, str]) -> SetRow:
    """Set one row as it stands in the cells, by header. Its layout is the one it names, else the list's
    namesake, else the shop's only one; nothing is written."""
    paths = require_shop(folder)
    row = Row(file, number, {column_key(name): text for name, text in cells.items()})
    name = _layout_of(row, file, layout_names(folder))
    if not name:
        fix = "write a layout's name into the column “layout”"
        return SetRow("", (("stop", "it does not say which layout to fill", fix),), _WEIGHT["stop"], None)
    try:
        layout = _layout(folder, name)
        filled = fill_row(layout, row, str(paths.fonts), str(paths.art), layout.versions[0])
    except ShopError as error:
        return SetRow(name, (("stop", error.what, error.fix),), _WEIGHT["stop"], None)
    order = sorted(filled.findings, key=lambda one: -one.severity)
    told = tuple((one.severity.word, one.what, one.fix) for one in order)
    badness = sum(_WEIGHT[severity] for severity, _, _ in told)
    return SetRow(name, told, badness, filled)


_ANY_WORDS = "Bramble Lane"


def sample_row(folder: Path, layout: str) -> dict[str, str]:
    """Cells that show a layout: the shop's own words where a list has its columns, else words of ours.

    Raises ShopError ``no-layout`` and as ``parse_layout`` does.
    """
    found = _layout(folder, layout)
    own: dict[str, str] = {}
    for one in word_lists(folder):
        if not one.trouble and one.rows:
            sheet = open_list(folder, one.file)
            own = dict(zip(sheet.headers, sheet.rows[0][1], strict=False))
            break
    pictures = sorted(path.name for path in require_shop(folder).art.glob("*.svg"))
    of_art = {column_key(name) for slot in found.arts for name in slot.pattern.columns()}
    row = {LAYOUT: layout}
    for name in found.columns():
        usual = next(iter(pictures), "") if column_key(name) in of_art else _ANY_WORDS
        row[name] = own.get(name, "") or usual
    return row


_WEIGHT = {Severity.STOP.word: 10_000, Severity.WARN.word: 100, Severity.NOTE.word: 1}


def pixels_of(folder: Path, done: SetRow, width: int) -> Bytes:
    """The set row, height x width x 4. Raises ShopError as ``rasterise_svg`` does, and ``bad-row`` where
    nothing is set."""
    if done.filled is None or not done.filled.svg:
        what, fix = (done.findings or (("", "the row cannot be set", "look at its words"),))[0][1:]
        raise ShopError("bad-row", what, fix)
    view = _layout(folder, done.layout).drawing.view
    height = max(1, round(width * view[3] / view[2]))
    return rasterise_svg(done.filled.svg, width, height, name=f"row {done.filled.row.number}")


def _layout_of(row: Row, file: str, names: Sequence[str]) -> str:
    named = row.cell(LAYOUT).partition(";")[0].strip().removesuffix(".svg")
    by_key = {name.casefold(): name for name in names}
    if named:
        return by_key.get(named.casefold(), named)
    return by_key.get(Path(file).stem.casefold(), names[0] if len(names) == 1 else "")


def _layout(folder: Path, name: str) -> Layout:
    paths, names = require_shop(folder), layout_names(folder)
    if name not in names:
        what = f"there is no layout called “{name[:60]}”"
        raise ShopError("no-layout", what, did_you_mean(name, list(names)))
    path = paths.layouts / f"{name}.svg"
    return parse_layout(ShopFiles(folder).read(path), path.name)


def _lists(paths: ShopPaths) -> list[Path]:
    there = paths.words.iterdir() if paths.words.is_dir() else ()
    return sorted(one for one in there if one.suffix.lower() in ENDINGS and one.name[0] not in ".~")


def _list(folder: Path, name: str) -> Path:
    known = {path.name: path for path in _lists(require_shop(folder))}
    if name not in known:
        fix = did_you_mean(name, sorted(known)) if known else "begin one, or put a CSV file into words/"
        raise ShopError("no-words", f"there is no word list called “{name[:60]}”", fix)
    return known[name]


def _as_csv(headers: Sequence[str], rows: Sequence[Sequence[str]], between: str = ",") -> bytes:
    """RFC 4180, UTF-8."""
    out = io.StringIO(newline="")
    table = csv.writer(out, delimiter=between, lineterminator="\r\n")
    table.writerows([list(headers), *rows])
    return out.getvalue().encode()
