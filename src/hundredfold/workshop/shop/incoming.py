"""Files that a person brings to be read once, such as a price list: kept aside until they say what to do."""

import hashlib
import re
from pathlib import Path, PurePosixPath
from typing import BinaryIO

from hundredfold.kernel.errors import ShopError
from hundredfold.runner.atomic import write_whole
from hundredfold.workshop.shop.folder import require_shop
from hundredfold.workshop.shop.takingart import safe_name

TABLES = (".csv", ".tsv", ".txt", ".xlsx", ".xlsm", ".xls", ".ods")
MOST_BYTES = 50 * 1024 * 1024
_KEPT = 12  # the newest; a price list looked at last month is of no use
_KEY = re.compile(r"[0-9a-f]{24}")


def keep_incoming(folder: Path, name: str, content: BinaryIO) -> str:
    """Put a table aside under its own name, and give the key that finds it again.

    Raises ShopError ``not-a-table``, ``file-too-large``, ``no-shop`` and what writing raises.
    """
    own = PurePosixPath(safe_name(name)).name
    if not own.lower().endswith(TABLES):
        fix = "bring a CSV, XLSX, XLS or ODS file"
        raise ShopError("not-a-table", f'"{own}" is no table', fix)
    data = content.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        fix = "save only the worksheet that is meant"
        raise ShopError("file-too-large", f"{own} is larger than {MOST_BYTES >> 20} MB", fix)
    root = _root(folder)
    _make_room(root)
    key = hashlib.sha256(own.encode() + b"\n" + data).hexdigest()[:24]
    write_whole(root / key / own, data, durable=False)
    return key


def incoming(folder: Path, key: str) -> Path:
    """The file put aside under this key. Raises ShopError ``file-forgotten``."""
    found = sorted((_root(folder) / key).glob("*")) if _KEY.fullmatch(key) else []
    if not found:
        raise ShopError("file-forgotten", "that file is not kept any more", "bring it again")
    return found[0]


def _root(folder: Path) -> Path:
    return require_shop(folder).hidden / "incoming"


def _make_room(root: Path) -> None:
    kept = sorted((path for path in root.glob("*/*")), key=lambda path: path.stat().st_mtime)
    for path in kept[: max(0, len(kept) - _KEPT + 1)]:
        path.unlink(missing_ok=True)
        path.parent.rmdir()
