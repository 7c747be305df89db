"""Feeds broken files to every reader of foreign bytes: `python -m tools.fuzzing --minutes 60 --seed 1`.

Each batch runs in a child. A file that raises anything but a ShopError, takes over 20 seconds of processor
time or 2 GiB of memory, or ends the child, is kept in the folder given with ``--keep`` and counted.
"""

import argparse
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
from pathlib import Path

import psutil
import pyvips
import xlsxwriter

from hundredfold.catalogue.forms import Form
from hundredfold.catalogue.parsing import read_catalogue
from hundredfold.designs.decode import decode
from hundredfold.handoff.manifest_shape import read_manifest
from hundredfold.kernel.errors import ShopError
from hundredfold.learning import delimited, opendocument
from hundredfold.learning.workbook import Workbook
from hundredfold.ledger.marks import Mark
from hundredfold.mockups.ownplate import read_own_plate
from hundredfold.runner.bookreader import read as read_book
from hundredfold.runner.svgcheck import check_svg
from hundredfold.workshop.shop.spreadsheet import read_spreadsheet

SAMPLE = Path(__file__).parents[1] / "src" / "hundredfold" / "sample"
PLATES = SAMPLE.parent / "plates"
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
}  # fmt: skip


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
    }  # fmt: skip


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
