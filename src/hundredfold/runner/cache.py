"""The vault: every output once, under the sha256 of its bytes. It may be deleted at any time.

Nothing here waits for the disk: a file is trusted by its digest, not by its name. Each file is read-only and
carries a fixed modification time, its seal, set before it takes its name. A file with seal and size intact
has not been written to since we made it; any other is hashed again, and thrown away where it differs.
"""

import contextlib
import hashlib
import os
import stat
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from hundredfold.runner.atomic import part_beside, replace_patiently, sweep_parts
from hundredfold.runner.diskerrors import writing_to
from hundredfold.runner.rows import BuildRows

SEAL_S = 1_000_000_000  # 2001-09-09T01:46:40Z: no file of ours is written then by chance; even, for FAT
KEEP_RUNS = 5  # outputs that none of the last so many runs of their step used are let go (our choice)
_CHUNK = 1 << 20


@dataclass(frozen=True)
class Collected:
    """What collecting took away."""

    files: int
    bytes: int


class RottenOutputError(Exception):
    """A kept output has other bytes than were written, under an unbroken seal."""


class Vault:
    """A content-addressed folder. Safe for several processes that put at once."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self._rotten = False

    def path_of(self, digest: str) -> Path:
        """Where the output with this sha256 lies, if it is held."""
        return self.root / digest[:2] / digest[2:]

    def put(self, data: bytes) -> str:
        """Keep these bytes and give back their sha256. Raises ShopError ``disk-full``, ``cannot-write``."""
        digest = hashlib.sha256(data).hexdigest()
        if not self.holds(digest, len(data)):
            self._write(self.path_of(digest), data)
        return digest

    def _write(self, path: Path, data: bytes) -> None:
        part = part_beside(path)
        with writing_to(self.root):  # a person knows the cache, not the name of one of its files
            path.parent.mkdir(parents=True, exist_ok=True)
            try:
                with part.open("xb") as file:
                    file.write(data)
                os.utime(part, (SEAL_S, SEAL_S))
                os.chmod(part, stat.S_IRUSR | stat.S_IRGRP | stat.S_IROTH)
                self._place(part, path)
            except BaseException:
                _remove(part)
                raise

    def _place(self, part: Path, path: Path) -> None:
        try:
            replace_patiently(part, path, wait=lambda _: None)
        except Exception:
            # Two workers made the same bytes, and one is being read: the file that is there serves as well.
            if self._sound(path, path.parent.name + path.name):
                _remove(part)
                return
            raise

    def holds(self, digest: str, size_bytes: int | None = None) -> bool:
        """Whether the output is here and sound; costs one stat, or one hash where the seal is broken.

        A damaged file is taken away, so that it is made again.
        """
        try:
            found = os.stat(self._name(digest))
        except OSError:
            return False
        if found.st_mtime == SEAL_S and found.st_size == (
            found.st_size if size_bytes is None else size_bytes
        ):
            return True
        return self._sound(self.path_of(digest), digest)

    def _name(self, digest: str) -> str:
        return f"{self.root}{os.sep}{digest[:2]}{os.sep}{digest[2:]}"

    def _sound(self, path: Path, digest: str) -> bool:
        try:
            with path.open("rb") as file:
                hashed = hashlib.sha256()
                while chunk := file.read(_CHUNK):
                    hashed.update(chunk)
        except OSError:
            return False
        if hashed.hexdigest() != digest:
            _remove(path)
            return False
        with contextlib.suppress(OSError):
            os.utime(path, (SEAL_S, SEAL_S))
        return True

    def prove(self, digest: str) -> bool:
        """Whether the output is here with the bytes it should have, whatever its seal says; else it goes."""
        return self._sound(self.path_of(digest), digest)

    def get(self, digest: str) -> bytes | None:
        """The bytes, hashed as they are read; None where they are missing or damaged (then taken away)."""
        path = self.path_of(digest)
        try:
            data = path.read_bytes()
        except OSError:
            return None
        if hashlib.sha256(data).hexdigest() != digest:
            self.note_rotten()
            _remove(path)
            return None
        return data

    def note_rotten(self) -> None:
        """Something that was taken for current is not what was written."""
        self._rotten = True

    def check_read(self) -> None:
        """Raise RottenOutputError where something read since the last question had rotted; it is gone now.

        Whoever took it for current has worked without it, and has to begin again.
        """
        rotten, self._rotten = self._rotten, False
        if rotten:
            raise RottenOutputError(f"an output in {self.root} was not what was written")

    def entries(self) -> Iterator[tuple[str, int]]:
        """(digest, bytes) of everything held, in the order of the digests."""
        for folder in sorted(self.root.glob("??")) if self.root.is_dir() else ():
            for path in sorted(folder.iterdir()):
                if len(path.name) == 62:
                    yield folder.name + path.name, path.stat().st_size

    def collect(self, last_used: Mapping[str, int], budget_bytes: int | None = None) -> Collected:
        """Take away what is not in ``last_used``, then the longest unused down to the budget.

        ``last_used`` maps a digest to the number of the run that used it last. What the newest run used
        stays, whatever the budget says. Call it under the runner lock.
        """
        for folder in self.root.glob("??"):
            sweep_parts(folder)
        newest = max(last_used.values(), default=0)
        held = sorted((last_used.get(digest, -1), digest, size) for digest, size in self.entries())
        total = sum(size for _, _, size in held)
        files = gone = 0
        for run, digest, size in held:
            too_much = budget_bytes is not None and total - gone > budget_bytes and run < newest
            if digest in last_used and not too_much:
                continue
            _remove(self.path_of(digest))
            files, gone = files + 1, gone + size
        return Collected(files, gone)


def collect_old(
    vault: Vault, rows: BuildRows, keep_runs: int = KEEP_RUNS, budget_bytes: int | None = None
) -> Collected:
    """Forget what the last few completed runs did not use, and take it and all leftovers out of the vault.

    Call it under the runner lock, after a run that made something; see ``Vault.collect``.
    """
    rows.drop_unused(keep_runs)
    return vault.collect(rows.last_used(), budget_bytes)


def _remove(path: Path) -> None:
    with contextlib.suppress(OSError):
        if os.name == "nt":
            path.chmod(stat.S_IWRITE | stat.S_IREAD)
        path.unlink()
