"""Single settings of a blank or a channel changed in its file; every other letter stays as it was."""

import hashlib
from collections.abc import Mapping
from pathlib import Path

from hundredfold.catalogue.parsing import read_catalogue
from hundredfold.catalogue.toml_edits import Plain, TomlEditor
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.runner.atomic import write_whole
from hundredfold.workshop.shop.files import ShopFiles
from hundredfold.workshop.shop.folder import Shop, open_shop
from hundredfold.workshop.shop.oneeditor import one_editor

Change = Mapping[tuple[str, ...], Plain]  # the way to a key, as TOML nests it, and its value


def blank_stamp(shop: Shop, code: str) -> str:
    """What a blank's file holds now, to tell later whether somebody else has changed it."""
    return _stamp(shop, shop.blank_files[shop.blank(code).code])


def channel_stamp(shop: Shop, code: str) -> str:
    """The same of a channel's file."""
    return _stamp(shop, shop.channel_files[shop.channel(code).code])


def edit_blank(folder: Path, code: str, changes: Change, stamp: str) -> Shop:
    """Change a blank's settings.

    ``stamp`` is that of the file as the seller saw it. Raises ShopError ``changed-meanwhile``,
    ``unknown-blank`` and what reading the catalogue raises; then nothing was changed.
    """
    with one_editor(folder):
        shop = open_shop(folder)
        return _edit(shop, shop.blank_files[shop.blank(code).code], changes, stamp)


def edit_channel(folder: Path, code: str, changes: Change, stamp: str) -> Shop:
    """Change a channel's settings; as ``edit_blank``."""
    with one_editor(folder):
        shop = open_shop(folder)
        return _edit(shop, shop.channel_files[shop.channel(code).code], changes, stamp)


def _stamp(shop: Shop, name: str) -> str:
    return hashlib.sha256(shop.files.text(shop.paths.root / name).encode()).hexdigest()[:16]


def _edit(shop: Shop, name: str, changes: Change, stamp: str) -> Shop:
    path = shop.paths.root / name
    if stamp != _stamp(shop, name):
        what = "the file was changed by another tab, a program or a person since this page was opened"
        raise ShopError(
            "changed-meanwhile", what, "load the page again, and make your change there", Where(name)
        )
    editor = TomlEditor(shop.files.text(path))
    for way, value in changes.items():
        editor.set(way, value)
    fresh = editor.text()
    blanks, channels = (_texts(shop, files) for files in (shop.blank_files, shop.channel_files))
    texts = blanks if name in blanks else channels
    texts[name] = fresh
    read_catalogue(ShopFiles(shop.paths.root).text(shop.paths.settings), blanks, channels)
    write_whole(path, fresh.encode())
    return open_shop(shop.paths.root)


def _texts(shop: Shop, files: Mapping[str, str]) -> dict[str, str]:
    return {name: shop.files.text(shop.paths.root / name) for name in files.values()}
