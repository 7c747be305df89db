"""The one door to a shop's files: whatever is read, looked for or listed through it is noted.

What a month follows from is then known, not guessed: the notes of one run are held against the next one's
files.
"""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from hundredfold.kernel.errors import ShopError, Where
from hundredfold.runner.memo import PathMemo

ABSENT = "not there"
THERE = "there"  # looked for, not read
CHANGING = "changed while it was read"  # stands for no content, so it never stands still


@dataclass(frozen=True)
class FileNotes:
    """What was seen of a shop's folder.

    ``files`` maps a name (from the shop folder, with slashes) to the sha256 of its content, ``ABSENT`` or
    ``THERE``; ``folders`` maps a folder with a pattern to the sha256 of the names found.
    """

    files: Mapping[str, str] = field(default_factory=dict)
    folders: Mapping[str, str] = field(default_factory=dict)

    def as_json(self) -> dict[str, object]:
        """Plain values."""
        return {"files": dict(self.files), "folders": dict(self.folders)}


class ShopFiles:
    """Reads the files of the shop at ``root``. One for each opening of a shop."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self._files: dict[str, str] = {}
        self._folders: dict[str, str] = {}
        self.odd: dict[Path, str] = {}  # of the last listing

    def notes(self) -> FileNotes:
        """All that was noted up to now."""
        return FileNotes(dict(sorted(self._files.items())), dict(sorted(self._folders.items())))

    def name(self, path: Path) -> str:
        """A path as it is noted and told: from the shop folder, with slashes."""
        return (path.relative_to(self.root) if path.is_relative_to(self.root) else path).as_posix()

    def is_file(self, path: Path) -> bool:
        """Whether there is such a file."""
        there = path.is_file()
        self._note(path, THERE if there else ABSENT)
        return there

    def read(self, path: Path) -> bytes:
        """The content. Raises ShopError ``file-unreadable``."""
        try:
            data = path.read_bytes()
        except OSError as error:
            self._note(path, THERE if path.exists() else ABSENT)
            fix = "check that the file is not open elsewhere and that you may read it"
            what = f"it cannot be read: {error.strerror}"
            raise ShopError("file-unreadable", what, fix, Where(self.name(path))) from error
        self._note(path, hashlib.sha256(data).hexdigest())
        return data

    def text(self, path: Path) -> str:
        """A text file without its byte order mark. Raises ShopError ``not-utf8`` or ``file-unreadable``."""
        data = self.read(path)
        try:
            return data.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            line = data.count(b"\n", 0, error.start) + 1
            fix = "save it as UTF-8 (your editor's “Save as” offers the encoding)"
            raise ShopError("not-utf8", "it is not UTF-8 text", fix, Where(self.name(path), line)) from error

    def digest(self, path: Path, memo: PathMemo) -> str:
        """The sha256 of a large file, from memory where it is unchanged. Raises ``file-unreadable``."""
        try:
            digest = memo.digest(path)
        except ShopError:
            self._note(path, THERE if path.exists() else ABSENT)
            raise
        self._note(path, digest)
        return digest

    def listed(self, folder: Path, pattern: str = "*") -> list[Path]:
        """The files in a folder that fit (``**/*``: at any depth), hidden ones left out, sorted by name.

        What stands in ``odd`` afterwards, with the reason, was left out too.
        """
        found = sorted(folder.glob(pattern)) if folder.is_dir() else []
        seen = [path for path in found if not self._hidden(path) and path.is_file()]
        names = "\n".join(map(self.name, seen))
        self.odd = {path: why for path in seen if (why := self._odd(path))}
        seen = [path for path in seen if path not in self.odd]
        self._folders[f"{self.name(folder)}/{pattern}"] = hashlib.sha256(
            names.encode("utf-8", "surrogateescape")
        ).hexdigest()
        return seen

    def _odd(self, path: Path) -> str:
        """Why a file that is there is not read at all; "" where it may be."""
        try:
            self.name(path).encode("utf-8")
        except UnicodeEncodeError:
            return "its name is not UTF-8, so it cannot be written down"
        if path.is_symlink() and not path.resolve().is_relative_to(self.root.resolve()):
            return "it is a link to a file outside the shop's folder"
        return ""

    def _hidden(self, path: Path) -> bool:
        # Editors and programs that keep folders in step leave hidden and "._" twins beside the real file.
        return any(part.startswith(".") for part in Path(self.name(path)).parts)

    def _note(self, path: Path, seen: str) -> None:
        name = self.name(path)
        before = self._files.setdefault(name, seen)
        if seen == before or (seen == THERE and before != ABSENT):
            return
        self._files[name] = seen if before == THERE else CHANGING


def still(root: Path, noted: FileNotes, memo: PathMemo) -> bool:
    """Whether a shop's files are as they were noted, at the cost of a stat a file where they are."""
    now = _looked_at(root, noted, memo)
    return now is not None and now.notes() == noted


def changed_since(root: Path, noted: FileNotes, memo: PathMemo) -> tuple[str, ...]:
    """The files and folders that are not as they were noted, by name."""
    now = _looked_at(root, noted, memo)
    if now is None:
        return ("a file",)
    files, folders = now.notes().files, now.notes().folders
    changed = [name for name, seen in noted.files.items() if files.get(name) != seen]
    changed += [_parts(place)[0] for place, seen in noted.folders.items() if folders.get(place) != seen]
    return tuple(dict.fromkeys(changed))


def _looked_at(root: Path, noted: FileNotes, memo: PathMemo) -> ShopFiles | None:
    """The same files looked at again; None where one of them cannot be read."""
    now = ShopFiles(root)
    for place in noted.folders:
        folder, pattern = _parts(place)
        now.listed(root / folder, pattern)
    for name, seen in noted.files.items():
        path = root / name
        if now.is_file(path) and seen != THERE:
            try:
                now.digest(path, memo)
            except ShopError:
                return None
    return now


def _parts(place: str) -> tuple[str, str]:
    """A listing's folder and pattern; the pattern is the part from the first star on."""
    start = place.index("*")
    return place[:start].rstrip("/"), place[start:]
