"""Small pictures kept on disk between starts of the page, in a part of the cache of their own."""

import contextlib
from pathlib import Path

from hundredfold.runner.atomic import write_whole

FOLDER = "page-pictures"
MOST_BYTES = 400 * 1024 * 1024


class PictureShelf:
    """Pictures by key; may be deleted at any time."""

    def __init__(self, cache: Path, most_bytes: int = MOST_BYTES) -> None:
        self._root = cache / FOLDER
        self._put = 0
        self._most = most_bytes

    def get(self, key: str) -> bytes | None:
        """The picture, or None."""
        try:
            data = self._path(key).read_bytes()
        except OSError:
            return None
        # WebP states its own length (RFC 9649, 2.4): a file that was cut short is no picture.
        return data if len(data) > 12 and int.from_bytes(data[4:8], "little") + 8 == len(data) else None

    def put(self, key: str, data: bytes) -> None:
        """Keep a picture. Raises ShopError ``disk-full`` or ``cannot-write``."""
        if self._put % 500 == 0:
            self._make_room()
        self._put += 1
        write_whole(self._path(key), data, durable=False)

    def _path(self, key: str) -> Path:
        return self._root / key[:2] / f"{key[2:]}.webp"

    def _make_room(self) -> None:
        """Let the oldest go until three quarters of the room are left used at most."""
        found = []
        for path in self._root.glob("*/*.webp"):
            with contextlib.suppress(OSError):
                seen = path.stat()
                found.append((seen.st_mtime, seen.st_size, path))
        total = sum(size for _, size, _ in found)
        for _, size, path in sorted(found) if total > self._most else ():
            if total <= self._most * 3 // 4:
                break
            with contextlib.suppress(OSError):
                path.unlink()
            total -= size
