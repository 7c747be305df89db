"""Path to digest without reading the file again, as long as size, time and inode stand as they stood.

A digest is distrusted where the file changed within two seconds of being hashed (a second write could leave
the same time stamp: git calls such an entry racily clean, Documentation/technical/racy-git.txt), or where the
file system gives no inode.
"""

import contextlib
import hashlib
import os
import time
from collections.abc import Callable
from pathlib import Path

from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.runner.rows import FileStamp, StampRows

RACY_NS = 2_000_000_000
_CHUNK = 1 << 20


class PathMemo:
    """Digests of files under one root, remembered between runs by their path relative to it.

    ``read`` counts files hashed because they are new or changed, ``rehashed`` those hashed again although
    nothing about them seemed changed. ``rehash`` distrusts everything. ``clock_ns`` gives nanoseconds since
    1970.
    """

    def __init__(
        self, root: Path, rows: StampRows, rehash: bool = False, clock_ns: Callable[[], int] = time.time_ns
    ) -> None:
        self.read = 0
        self.rehashed = 0
        self._root = root
        self._rows = rows
        self._rehash = rehash
        self._clock_ns = clock_ns
        self._known = {stamp.path: stamp for stamp in rows.stamps()}
        self._changed: dict[str, FileStamp] = {}
        self._seen: set[str] = set()

    def digest(self, path: Path) -> str:
        """The sha256 of the file's content. Raises ShopError ``file-unreadable``."""
        name = self._name(path)
        try:
            now = os.stat(path)
            known = self._known.get(name)
            if known is not None and self._trusted(name, known, now):
                return known.digest
            self._count(known, now)
            return self._remember(name, path, _hash_file(path), now)
        except OSError as error:
            raise self._unreadable(name, error) from error

    def learn(self, path: Path, digest: str, written: os.stat_result) -> None:
        """Take in a file that we wrote, with the digest taken then; ``written`` is its state right after.

        Call it some seconds later: until then a second write could leave the same time stamp. A file that
        changed meanwhile is not taken in.
        """
        with contextlib.suppress(OSError):
            now = os.stat(path)
            if _facts(now) == _facts(written):
                name = self._name(path)
                stamp = FileStamp(name, *_facts(now), digest, self._clock_ns())
                self._known[name] = self._changed[name] = stamp

    def save(self) -> None:
        """Hand what is new to the rows; nothing is written where nothing changed."""
        if self._changed:
            self._rows.save_stamps(list(self._changed.values()))
            self._changed.clear()

    def _name(self, path: Path) -> str:
        # String work: Path.relative_to would cost more than the stat that the memo is here to save.
        text, root = os.fspath(path), os.fspath(self._root) + os.sep
        inside = text[len(root) :] if text.startswith(root) else text
        return inside.replace("\\", "/") if os.sep == "\\" else inside

    def _trusted(self, name: str, known: FileStamp, now: os.stat_result) -> bool:
        if self._rehash and name not in self._seen:
            return False
        return known.inode != 0 and _same(known, now) and known.mtime_ns < known.hashed_ns - RACY_NS

    def _count(self, known: FileStamp | None, now: os.stat_result) -> None:
        if known is not None and _same(known, now):
            self.rehashed += 1
        else:
            self.read += 1

    def _remember(self, name: str, path: Path, digest: str, before: os.stat_result) -> str:
        after = os.stat(path)
        self._seen.add(name)
        if _facts(before) == _facts(after):  # else it changed while it was read: ask again next time
            stamp = FileStamp(name, *_facts(after), digest, self._clock_ns())
            self._known[name] = self._changed[name] = stamp
        return digest

    def _unreadable(self, name: str, error: OSError) -> ShopError:
        return ShopError(
            "file-unreadable",
            f"it cannot be read: {error.strerror or error}",
            "check that the file is still there and that you may read it, then run the same command again",
            Where(file=name),
            ExitCode.PROBLEMS,
        )


def _facts(found: os.stat_result) -> tuple[int, int, int]:
    return found.st_size, found.st_mtime_ns, found.st_ino


def _same(known: FileStamp, now: os.stat_result) -> bool:
    return (known.size, known.mtime_ns, known.inode) == _facts(now)


def _hash_file(path: Path) -> str:
    hashed = hashlib.sha256()
    with path.open("rb") as file:
        while chunk := file.read(_CHUNK):
            hashed.update(chunk)
    return hashed.hexdigest()
