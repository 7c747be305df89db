"""Feeds broken files to every reader of foreign bytes: `python -m tools.fuzzing --minutes 60 --seed 1`.

Each batch runs in a child. A file that raises anything but a ShopError, takes over 20 seconds of processor
time or 2 GiB of memory, or ends the child, is kept in the folder given with ``--keep`` and counted.
"""

import argparse
import contextlib
import io
import json
import os
import random
import sys
import tempfile
import time
import traceback
import zipfile
from collections import Counter
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import fontpkg
import psutil
import pyvips
import xlsxwriter

from hundredfold.catalogue.forms import Form
from hundredfold.catalogue.parsing import read_catalogue
from hundredfold.designs.decode import decode
from hundredfold.designs.typesetting.fonts import Font, load_font
from hundredfold.designs.typesetting.setting import set_line
from hundredfold.designs.typesetting.shaping import shape
from hundredfold.handoff.manifest_shape import read_manifest
from hundredfold.kernel.errors import ShopError
from hundredfold.learning import delimited, opendocument
from hundredfold.learning.workbook import Workbook
from hundredfold.ledger.answers import read_answers
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.marks import Mark
from hundredfold.ledger.state import LedgerState
from hundredfold.mockups.ownplate import read_own_plate
from hundredfold.mockups.plate import read_plate
from hundredfold.planning.adoption import Shelf, adopt
from hundredfold.runner.bookreader import read as read_book
from hundredfold.runner.svgcheck import check_svg
from hundredfold.runner.svgchild import rasterise_svg
from hundredfold.store.shopstore import open_store
from hundredfold.workshop.shop.backup import back_up, restore
from hundredfold.workshop.shop.blanksfile import read_blanks_file
from hundredfold.workshop.shop.channelfiles import only_grid
from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.shop.learnsheet import learn_sheet
from hundredfold.workshop.shop.newshop import new_shop
from hundredfold.workshop.shop.spreadsheet import read_spreadsheet

PACKAGE = Path(__file__).parents[1] / "src" / "hundredfold"
SAMPLE, PLATES = PACKAGE / "sample", PACKAGE / "plates"
CPU_S, MEMORY_BYTES, BATCH = 20, 2 << 30, 300
_MAGIC = (
    b"\x00",
    b"\xff\xff\xff\xff",
    b"\x7f\xff\xff\xff",
    b"99999999999",
    b"-1",
    b"\xed\xa0\x80",
    b"XFD1048576",
)
Reader = Callable[[bytes], object]


def _toml(data: bytes) -> object:
    text = data.decode("utf-8", "replace")
    return read_catalogue(text, {"blanks/a.toml": text}, {"channels/a.toml": text})


def _csv(data: bytes) -> object:
    with tempfile.NamedTemporaryFile(suffix=".csv") as file:
        file.write(data[:1] + data[1:].replace(b"PK\x03\x04", b""))
        file.flush()
        return read_spreadsheet(Path(file.name))


def _mark(data: bytes) -> object:
    try:
        return Mark.from_json(json.loads(data))
    except (ValueError, TypeError, KeyError):  # what its reader takes for a damaged mark
        return None


READERS: dict[str, tuple[str, Reader]] = {
    "workbook": ("xlsx", lambda data: read_book(data, 5_000_000)),
    "workbook seen": ("xlsx", lambda data: _seen(data)),
    "open document seen": ("ods", lambda data: opendocument.see("a.ods", data)),
    "table": ("csv", _csv),
    "table seen": ("csv", lambda data: delimited.see(data, "a.csv")),
    "settings": ("toml", _toml),
    "drawing": ("svg", lambda data: check_svg(data, "a.svg")),
    "picture": ("png", lambda data: decode(data, "a.png")),
    "manifest": ("json", read_manifest),
    "mark": ("json", _mark),
    "plate": ("plate", lambda data: read_own_plate(data, "a.plate", Form.SHOT_GLASS, "front")),
    "plate of cloth": ("cloth", lambda data: read_own_plate(data, "a.plate", Form.CUSHION, "front")),
    "drawing drawn": ("svg", lambda data: rasterise_svg(data, 64, 64, name="a.svg")),
    "font": ("ttf", lambda data: _lettered(load_font(data, "a.ttf"))),
    "plate of ours": ("plate", lambda data: read_plate(data, "a")),
    "price list": ("prices", lambda data: _from_file(data, "prices", _price_list)),
    "table learned": ("tables", lambda data: _from_file(data, "table", _learned)),
    "answers": ("prices", lambda data: _from_file(data, "answers", _answers)),
    "live goods": ("prices", lambda data: _from_file(data, "live", _live)),
    "backup": ("zip", lambda data: _restored(data)),
}  # fmt: skip


def _from_file(data: bytes, name: str, reader: Callable[[Path], object]) -> object:
    kind = ".xlsx" if data.startswith(b"PK\x03\x04") else ".csv"
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / f"{name}{kind}"
        file.write_bytes(data)
        return reader(file)


def _price_list(file: Path) -> object:
    return read_blanks_file(open_shop(_shop()), file)


def _learned(file: Path) -> object:
    return learn_sheet(open_shop(_shop()), file, "new-partner")


def _answers(file: Path) -> object:
    return read_answers(only_grid(file), "northfold", LedgerState())


def _live(file: Path) -> object:
    shelf = Shelf("northfold", (), open_shop(_shop()).blanks, "")
    return adopt(only_grid(file), shelf, LedgerState(), {})


@cache
def _shop() -> Path:
    folder = Path(tempfile.mkdtemp()) / "shop"
    new_shop(folder, sample=True)
    return folder


def _lettered(font: Font) -> object:
    line = shape("Wild fjord", [font])
    return set_line(line, 10.0, 0.0, 0.0)


def _restored(data: bytes) -> object:
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "backup.zip"
        file.write_bytes(data)
        return restore(file, Path(folder) / "shop")


def _backup() -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        root, file = Path(folder) / "shop", Path(folder) / "backup.zip"
        new_shop(root)
        with contextlib.closing(open_store(root / ".hundredfold" / "shop.db")) as store:
            store.append([Event(Happened.RETIRED, "design-1", {"path": "designs/a.png"})])
        back_up(root, file)
        return file.read_bytes()


def _seen(data: bytes) -> object:
    book = Workbook("a.xlsx", data)
    return tuple(book.seen())


def seeds() -> dict[str, list[bytes]]:
    """Good files of each kind to start from."""
    art = pyvips.Image.black(40, 30, bands=4).copy(interpretation="srgb")
    pictures = [art.write_to_buffer(kind) for kind in (".png", ".webp", ".tif")]
    pictures.append(art[:3].write_to_buffer(".jpg"))
    book = io.BytesIO()
    with xlsxwriter.Workbook(book) as made:
        sheet = made.add_worksheet("Prices")
        for row, cells in enumerate((("Code", "Cost"), ("A-1", 4.1), ("Größe", "=1+1"))):
            sheet.write_row(row, 0, cells)
        sheet.data_validation("B2", {"validate": "list", "source": ["a", "b"]})
    mark = {"shop": "1", "pack": "a/2026-01-01", "manifest": "x", "destination": "/", "handed_over": True}
    rows = [{"happened": "packed", "subject": "a", "data": {"manifest": "x"}}]
    return {
        "xlsx": [book.getvalue()],
        "ods": [_open_document()],
        "csv": ["Code;Größe\r\nA-1;\"say \"\"hi\"\"\"\r\n".encode(), "a,b\nc,d\n".encode("utf-16")],
        "toml": [path.read_bytes() for path in sorted(SAMPLE.rglob("*.toml"))],
        "svg": [path.read_bytes() for path in sorted(SAMPLE.rglob("*.svg"))[:8]],
        "png": pictures,
        "plate": [(PLATES / "shot-glass.front.plate").read_bytes()],
        "cloth": [(PLATES / "cushion.front.plate").read_bytes()],
        "json": [json.dumps({**mark, "order": 1, "rows": rows}).encode()],
        "ttf": [path.read_bytes() for path in _small_fonts()],
        "prices": [*_tables(), *(path.read_bytes() for path in sorted(SAMPLE.rglob("*.csv")))],
        "tables": _tables(),
        "zip": [_backup()],
    }  # fmt: skip


def _small_fonts() -> list[Path]:
    """The smallest fonts of some families: a static one, a variable one, one with OpenType outlines."""
    found = [fontpkg.select_file(one, 400, "normal", True).path for one in fontpkg.families().values()]
    return sorted(found, key=lambda path: (path.stat().st_size, path.name))[:6]


def _tables() -> list[bytes]:
    """A partner's price list, its answers and its listing form, as CSV and as a workbook."""
    made = []
    for rows in (
        (("Product code", "Colour", "Size", "Cost", "Name"), ("MUG-325", "White", "", "4.20", "Mug")),
        (("SKU", "Status", "Reason", "Id"), ("PG-1", "rejected", "too dark", "N-1")),
        (("Seller SKU", "Item name", "Price", "Colour"), ("PG-1", "Bee | ceramic mug 325 ml", 9.5, "Navy")),
    ):
        made.append("".join(";".join(map(str, row)) + "\r\n" for row in rows).encode())
        book = io.BytesIO()
        with xlsxwriter.Workbook(book) as workbook:
            sheet = workbook.add_worksheet("Goods")
            for number, row in enumerate(rows):
                sheet.write_row(number, 0, row)
        made.append(book.getvalue())
    return made


def _open_document() -> bytes:
    out = io.BytesIO()
    office = "urn:oasis:names:tc:opendocument:xmlns"
    text = (
        f'<o:document-content xmlns:o="{office}:office:1.0" xmlns:t="{office}:table:1.0" '
        f'xmlns:x="{office}:text:1.0"><o:body><o:spreadsheet><t:table t:name="a"><t:table-row '
        't:number-rows-repeated="2"><t:table-cell t:number-columns-repeated="3"><x:p>Code</x:p>'
        "</t:table-cell></t:table-row></t:table></o:spreadsheet></o:body></o:document-content>"
    )
    with zipfile.ZipFile(out, "w") as made:
        made.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        made.writestr("content.xml", text)
    return out.getvalue()


def broken(data: bytes, chance: random.Random) -> bytes:
    """The file with some damage; of a ZIP, half the time, inside one of its members."""
    if data.startswith(b"PK") and chance.random() < 0.7:
        with zipfile.ZipFile(io.BytesIO(data)) as old:
            parts = {name: old.read(name) for name in old.namelist()}
        hurt = chance.choice(sorted(parts))
        parts[hurt] = _damaged(parts[hurt], chance)
        out = io.BytesIO()
        with zipfile.ZipFile(out, "w") as new:
            for name, part in parts.items():
                new.writestr(name, part)
        return out.getvalue()
    return _damaged(data, chance)


def _damaged(data: bytes, chance: random.Random) -> bytes:
    changed = bytearray(data)
    for _ in range(chance.choice((1, 1, 2, 4, 12))):
        at, length = chance.randrange(len(changed) + 1), chance.choice((1, 2, 8, 64))
        kind = chance.randrange(6)
        if kind == 0 and at < len(changed):
            changed[at] ^= 1 << chance.randrange(8)
        elif kind == 1:
            del changed[at : at + length]
        elif kind == 2:
            changed[at:at] = changed[at : at + length] * chance.choice((1, 3, 400))
        elif kind == 3:
            changed[at : at + length] = chance.choice(_MAGIC)
        elif kind == 4:
            changed[at:at] = chance.randbytes(length)
        else:
            other = chance.randrange(len(changed) + 1)
            changed[at : at + length] = changed[other : other + length]
    return bytes(changed)


def batch(number: int, held: Path) -> None:
    """Run in the child: one batch of files, the one at work always in ``held``."""
    chance, good = random.Random(number), seeds()
    for turn in range(BATCH):
        name = chance.choice(sorted(READERS))
        kind, reader = READERS[name]
        data = broken(chance.choice(good[kind]), chance)
        held.write_bytes(name.encode() + b"\n" + str(turn).encode() + b"\n" + data)
        try:
            reader(data)
        except ShopError:
            pass
        except BaseException:
            held.with_suffix(".why").write_text(traceback.format_exc())
            os._exit(9)
    os._exit(0)


def watched(number: int, held: Path) -> str:
    """How a batch ended: "" well, else why it was stopped."""
    child = os.fork()
    if child == 0:
        os.nice(15)
        batch(number, held)
    seen, turn, since = psutil.Process(child), b"", 0.0
    while True:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            code = os.waitstatus_to_exitcode(status)
            return "" if code == 0 else ("raised" if code == 9 else f"ended by {code}")
        cpu, now = sum(seen.cpu_times()[:2]), b"\n".join(held.read_bytes().split(b"\n", 2)[:2])
        if now != turn:
            turn, since = now, cpu
        too_long, too_big = cpu - since > CPU_S, seen.memory_info().rss > MEMORY_BYTES
        if too_long or too_big:
            os.kill(child, 9)
            os.waitpid(child, 0)
            return "too long" if too_long else "too much memory"
        time.sleep(0.1)


def main() -> int:
    """Run for the minutes asked; the exit code is 1 where anything was found."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--minutes", type=float, default=60)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--keep", type=Path, default=Path("fuzzed"))
    options = asked.parse_args()
    options.keep.mkdir(exist_ok=True)
    counts: Counter[str] = Counter()
    for number in _until(time.monotonic() + options.minutes * 60, options.seed):
        held = options.keep / f"now-{options.seed}"
        held.write_bytes(b"\n\n")
        why = watched(number, held)
        counts[why or "batches well"] += 1
        if why:
            name = held.read_bytes().split(b"\n", 1)[0].decode()
            held.rename(options.keep / f"{number}-{name.replace(' ', '-')}-{why.replace(' ', '-')}")
            reason = held.with_suffix(".why")
            if reason.exists():
                reason.rename(options.keep / f"{number}.why")
        sys.stdout.write(f"{number} {why} {dict(counts)}\n")
        sys.stdout.flush()
    return int(set(counts) != {"batches well"})


def _until(end: float, first: int) -> Iterator[int]:
    number = first * 1_000_000
    while time.monotonic() < end:
        number += 1
        yield number


if __name__ == "__main__":
    sys.exit(main())
