"""Where the shop's page is served: a note that only its owner may read, since its address lets one in."""

import contextlib
import os
from pathlib import Path

from hundredfold.workshop.shop.paths import ShopPaths

_NAME = "page-address.txt"


def noted_page(shop: Path) -> str | None:
    """The address in the note, or None."""
    try:
        return (ShopPaths(shop).hidden / _NAME).read_text(encoding="utf-8").strip() or None
    except OSError:
        return None


def note_page(shop: Path, address: str) -> None:
    """Write the note; nothing where the shop has no folder for it yet."""
    folder = ShopPaths(shop).hidden
    if not ShopPaths(shop).settings.is_file():
        return  # a folder that is no shop yet must stay empty to become one
    folder.mkdir(exist_ok=True)
    path = folder / _NAME
    with contextlib.suppress(FileNotFoundError):
        path.unlink()
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "w", encoding="utf-8") as file:
        file.write(address + "\n")


def forget_page(shop: Path, address: str) -> None:
    """Take the note away, where it is still this start's."""
    if noted_page(shop) == address:
        with contextlib.suppress(OSError):
            (ShopPaths(shop).hidden / _NAME).unlink()
