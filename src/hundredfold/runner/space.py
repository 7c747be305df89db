"""How much disk a run needs, stated before the work begins."""

import shutil
from collections.abc import Iterable, Mapping
from pathlib import Path

from hundredfold.runner.diskerrors import disk_full

RESERVE_BYTES = 200_000_000  # left free for the rest of the machine (common practice, no source)


def free_space(folder: Path) -> int:
    """Free bytes where this folder lies, or will lie."""
    while not folder.exists() and folder != folder.parent:
        folder = folder.parent
    return shutil.disk_usage(folder).free


def needed_space(steps: Iterable[str], mean_bytes: Mapping[str, float], unknown_bytes: int) -> int:
    """Bytes that outputs of these steps will take: the mean of what each step made before in this shop.

    ``unknown_bytes`` stands for an output of a step that has made nothing yet.
    """
    return round(sum(mean_bytes.get(step, unknown_bytes) for step in steps))


def check_space(folder: Path, needed_bytes: int, reserve_bytes: int = RESERVE_BYTES) -> None:
    """Raise ShopError ``disk-full``, with both figures, where the need and the reserve do not fit."""
    free_bytes = free_space(folder)
    if needed_bytes and needed_bytes + reserve_bytes > free_bytes:
        raise disk_full(folder, needed_bytes, free_bytes, reserve_bytes)
