"""Where a shop's record is kept: a file in its folder, or a database on a server."""

import re
import tomllib
from pathlib import Path

from hundredfold.store.shopstore import Store, open_store
from hundredfold.workshop.shop.paths import ShopPaths

_LINE = re.compile(r"""^\s*database\s*=\s*["']([^"']*)["']""", re.MULTILINE)


def record_place(paths: ShopPaths) -> Path | str:
    """The file, or the URL that ``database`` in shop.toml names; other mistakes in there do not matter."""
    try:
        text = paths.settings.read_bytes().decode("utf-8-sig", "replace")
    except OSError:
        return paths.database
    try:
        named = tomllib.loads(text).get("database")
    except ValueError:
        found = _LINE.search(text)
        named = found[1] if found else None
    return named if isinstance(named, str) and named else paths.database


def open_record(paths: ShopPaths) -> Store:
    """Open it. Raises as ``store.shopstore.open_store`` does."""
    return open_store(record_place(paths))
