"""The log of an error that is ours: everything needed to mend it, and nothing the seller must read."""

import platform
import sys
import tempfile
import traceback
from collections.abc import Sequence
from datetime import UTC, datetime
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from hundredfold import __version__
from hundredfold.workshop.shop.paths import ShopPaths

LIBRARIES = ("numpy", "pyvips", "pyvips-binary", "opencv-python-headless", "pillow", "sqlalchemy", "typer")


def write_bug_log(error: BaseException, command: Sequence[str], shop: Path) -> Path | None:
    """Write versions and traceback beside the shop's memory, else to the system's temporary folder.

    Returns the file, or None where neither can be written.
    """
    paths = ShopPaths(shop)
    now = datetime.now(UTC)
    name = f"bug-{now:%Y%m%d-%H%M%S-%f}.txt"
    folders = [paths.logs] if paths.settings.is_file() else []
    for folder in (*folders, Path(tempfile.gettempdir()) / "hundredfold-logs"):
        try:
            folder.mkdir(parents=True, exist_ok=True)
            (folder / name).write_text(_report(error, command, now), encoding="utf-8")
        except OSError:
            continue
        return folder / name
    return None


def _report(error: BaseException, command: Sequence[str], now: datetime) -> str:
    lines = [
        f"hundredfold {__version__}, {now.isoformat()}",
        f"Python {platform.python_version()} on {platform.platform()}",
        *(f"{library} {_version(library)}" for library in LIBRARIES),
        f"command: {' '.join(command)}",
        f"called as: {sys.argv[0]}",
        "",
        *traceback.format_exception(error),
    ]
    return "\n".join(lines)


def _version(library: str) -> str:
    try:
        return version(library)
    except PackageNotFoundError:
        return "not installed"
