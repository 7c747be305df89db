"""The shop's name, whatever its settings say."""

import tomllib
from pathlib import Path

from hundredfold.workshop.shop.paths import ShopPaths


def shop_name(folder: Path) -> str:
    """The name in shop.toml; the folder's where that cannot be read."""
    try:
        with ShopPaths(folder).settings.open("rb") as file:
            name = tomllib.load(file).get("name")
    except (OSError, ValueError):
        name = None
    return name if isinstance(name, str) and name.strip() else folder.resolve().name
