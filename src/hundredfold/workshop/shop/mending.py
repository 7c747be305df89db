"""A settings file mended where its mistakes are told: written whole, and never over another's change."""

import hashlib
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.runner.atomic import write_whole
from hundredfold.workshop.shop.files import ShopFiles
from hundredfold.workshop.shop.folder import open_shop, require_shop
from hundredfold.workshop.shop.oneeditor import one_editor
from hundredfold.workshop.shop.paths import SETTINGS_FILE

_FOLDERS = ("blanks", "channels")
LARGEST = 1 << 20


@dataclass(frozen=True)
class Mendable:
    """A file as it is, with what is wrong in it. ``digest`` tells later whether somebody changed it."""

    name: str
    text: str
    digest: str
    mistakes: tuple[ShopError, ...]


def mendable(folder: Path, name: str) -> Mendable:
    """The file ``name``: shop.toml, or one of blanks or channels. Raises ShopError ``no-such-file``."""
    path = _path(folder, name)
    data = ShopFiles(folder).read(path)
    text = data.decode("utf-8-sig", "replace")
    return Mendable(name, text, hashlib.sha256(data).hexdigest(), mistakes_in(folder, name))


def mistakes_in(folder: Path, name: str) -> tuple[ShopError, ...]:
    """What reading the shop finds wrong in this file."""
    try:
        open_shop(folder)
    except ShopError as error:
        return tuple(one for one in (error, *error.others) if one.where.file == name)
    return ()


def mend(folder: Path, name: str, text: str, digest: str) -> tuple[ShopError, ...]:
    """Write the file anew, and tell what is still wrong in it.

    Raises ShopError ``changed-meanwhile`` where it is no longer as it was read, and then it stays as it is.
    """
    data = text.replace("\r\n", "\n").encode()
    if len(data) > LARGEST:
        raise ShopError("bad-form", "that is more than a settings file holds", "make it shorter", Where(name))
    with one_editor(folder):
        _write(folder, name, data, digest)
    return mistakes_in(folder, name)


def _write(folder: Path, name: str, data: bytes, digest: str) -> None:
    path = _path(folder, name)
    if hashlib.sha256(ShopFiles(folder).read(path)).hexdigest() != digest:
        raise ShopError(
            "changed-meanwhile",
            "the file was changed since this page showed it, by another window or program",
            "load the page again; your text is in this window still, copy from it what you need",
            Where(name),
            ExitCode.PROBLEMS,
        )
    write_whole(path, data)


def _path(folder: Path, name: str) -> Path:
    root = require_shop(folder).root
    parts = PurePosixPath(name).parts
    fits = name == SETTINGS_FILE or (
        len(parts) == 2 and parts[0] in _FOLDERS and parts[1].endswith(".toml") and "\\" not in name
    )
    if not fits or "\0" in name or not (root / name).is_file():
        what = "there is no such file among the shop's settings, blanks and channels"
        raise ShopError("no-such-file", what, f"name {SETTINGS_FILE}, or a file of blanks or channels")
    return root / name
