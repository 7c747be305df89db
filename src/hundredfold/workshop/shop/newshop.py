"""Making a new shop folder: the sample, or an empty one to fill."""

import contextlib
import glob
import os
import shutil
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from importlib import resources
from importlib.resources.abc import Traversable
from pathlib import Path

from hundredfold.kernel.errors import ShopError, Where
from hundredfold.runner.diskerrors import from_os_error
from hundredfold.workshop.shop.folder import Shop, open_shop
from hundredfold.workshop.shop.paths import SETTINGS_FILE

FOLDERS = ("blanks", "channels", "designs", "layouts", "words", "art", "fonts", "reports")
ABANDONED_S = 3600
EXAMPLES = ("blanks/mug-325.toml", "blanks/t-shirt.toml", "channels/northfold.toml", "channels/quayside.toml")


def new_shop(folder: Path, sample: bool = False) -> Shop:
    """Make a shop in ``folder``, which must not exist or be empty, and open it.

    Everything is written to a hidden folder beside it and renamed at the end: a full disk or a pulled plug
    leaves nothing half made. Raises ShopError ``folder-not-empty``, ``disk-full`` or ``cannot-write``.
    """
    target = Path(os.path.abspath(folder))
    _refuse_occupied(target)
    with folder_aside(target) as aside:
        _fill(aside, sample)
    return open_shop(folder)


@contextmanager
def folder_aside(target: Path) -> Iterator[Path]:
    """A hidden folder beside ``target`` to fill; it takes that name when the block ends well, else it goes.

    ``target`` is absolute, and missing or empty. Raises ShopError ``disk-full`` or ``cannot-write``.
    """
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        _sweep(target)
        aside = Path(tempfile.mkdtemp(prefix=f".{target.name}.", dir=target.parent))
        try:
            yield aside
            aside.chmod(0o755)  # mkdtemp's 0700 would hide a shared shop from its other users
            if target.is_dir():
                target.rmdir()
            os.replace(aside, target)
        finally:
            shutil.rmtree(aside, ignore_errors=True)
    except OSError as error:
        raise from_os_error(error, target) from error


def _sweep(target: Path) -> None:
    """Folders aside that killed runs left: nobody fills one for an hour without touching it."""
    for left in target.parent.glob(f"{glob.escape(f'.{target.name}.')}*"):
        with contextlib.suppress(OSError):
            if left.is_dir() and time.time() - left.stat().st_mtime > ABANDONED_S:
                shutil.rmtree(left, ignore_errors=True)


def is_shop(folder: Path) -> bool:
    """Whether the folder already holds a shop."""
    return (folder / SETTINGS_FILE).is_file()


def _refuse_occupied(target: Path) -> None:
    where = Where(str(target))
    if target.is_dir():
        inside = sorted(child.name for child in target.iterdir())
        if inside:
            kind = "already holds a shop" if is_shop(target) else f"is not empty (it holds {inside[0]})"
            fix = "give the name of a new folder; nothing was changed"
            raise ShopError("folder-not-empty", f"the folder {kind}", fix, where)
    elif target.exists() or target.is_symlink():
        raise ShopError(
            "folder-not-empty", "there is a file of that name", "give the name of a new folder", where
        )


def _fill(folder: Path, sample: bool) -> None:
    data = resources.files("hundredfold")
    for name in FOLDERS:
        (folder / name).mkdir()
    _copy(data / ("sample" if sample else "starter_shop"), folder)
    if sample:
        _copy(data / "starter_layouts", folder / "layouts")
        return
    for name in EXAMPLES:
        example = folder / "examples" / name
        example.parent.mkdir(parents=True, exist_ok=True)
        example.write_bytes((data / "sample").joinpath(*name.split("/")).read_bytes())


def _copy(source: Traversable, folder: Path) -> None:
    for child in sorted(source.iterdir(), key=lambda each: each.name):
        if child.is_dir():
            (folder / child.name).mkdir(exist_ok=True)
            _copy(child, folder / child.name)
        else:
            (folder / child.name).write_bytes(child.read_bytes())
