"""Art that a person brings: files, folders and ZIPs copied into the designs folder, each whole or not at all.

What cannot be taken is left with a sentence, and the rest goes on. Names come from other computers: nothing
in them leads out of the folder, and none takes the place of a file that is there.
"""

import hashlib
import io
import re
import unicodedata
import zipfile
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import BinaryIO

from hundredfold.designs.header import EXTENSIONS, kind_by_name, kind_of
from hundredfold.kernel.errors import ShopError
from hundredfold.runner.atomic import write_whole
from hundredfold.workshop.shop.folder import require_shop

MOST_BYTES = 300 * 1024 * 1024  # of one file; art is judged again when it is decoded
MOST_MEMBERS = 5000
MOST_UNPACKED = 4 * 1024 * 1024 * 1024
MOST_TIMES = 200  # as large as it is packed: beyond, a ZIP is a bomb and no art (art is packed already)
_DEEPEST = 4  # folders kept of a path
# Names that Windows keeps for itself (Microsoft, "Naming Files, Paths, and Namespaces").
_RESERVED = re.compile(r"(?i)^(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])(\.|$)")
_QUIET = frozenset({"thumbs.db", "desktop.ini", ".ds_store"})


@dataclass(frozen=True)
class Brought:
    """A file as it came. ``name`` may hold folders, and anything else."""

    name: str
    content: BinaryIO


@dataclass(frozen=True)
class Left:
    """A file that was not taken, and why."""

    name: str
    why: str


@dataclass(frozen=True)
class TakenArt:
    """What came of it. ``taken`` are names from the shop folder, ``known`` were there already."""

    taken: tuple[str, ...]
    known: tuple[str, ...]
    left: tuple[Left, ...]


def take_art(folder: Path, files: Iterable[Brought]) -> TakenArt:
    """Copy art into the designs folder.

    Raises ShopError ``no-shop``, ``disk-full``, ``cannot-write``; what was taken before that stays.
    """
    taking = _Taking(require_shop(folder).designs)
    for file in files:
        taking.take(file)
    return TakenArt(tuple(taking.taken), tuple(taking.known), tuple(taking.left))


class _Taking:
    def __init__(self, designs: Path) -> None:
        self._designs = designs
        self._there = {path.relative_to(designs).as_posix().casefold() for path in designs.rglob("*")}
        self.taken: list[str] = []
        self.known: list[str] = []
        self.left: list[Left] = []

    def take(self, file: Brought) -> None:
        name = PurePosixPath(file.name.replace("\\", "/")).name
        if not name or name.startswith(".") or name.casefold() in _QUIET:
            return
        data = file.content.read(MOST_BYTES + 1)
        if len(data) > MOST_BYTES:
            self._leave(name, f"it is larger than {MOST_BYTES >> 20} MB; save it smaller")
        elif name.lower().endswith(".zip") and data[:2] == b"PK":
            self._open_zip(name, data)
        else:
            self._put(file.name, data)

    def _open_zip(self, name: str, data: bytes) -> None:
        try:
            for member in _members(data):
                self.take(member)
        except (zipfile.BadZipFile, zipfile.LargeZipFile, NotImplementedError, EOFError, OSError):
            self._leave(name, "this ZIP is damaged; make it again")
        except RuntimeError:  # what zipfile raises for a password
            self._leave(name, "this ZIP has a password; unpack it and bring the files")
        except ShopError as error:
            self._leave(name, f"{error.what}; {error.fix}")

    def _put(self, given: str, data: bytes) -> None:
        name = safe_name(given)
        why = _no_art(name, data)
        if why:
            self._leave(name, why)
            return
        target = self._free(name, data)
        if target is None:
            self.known.append(f"designs/{name}")
            return
        write_whole(self._designs / target, data)
        self._there.add(target.casefold())
        self.taken.append(f"designs/{target}")

    def _free(self, name: str, data: bytes) -> str | None:
        """A name that is free, numbered where another file has it; None where that file is the same."""
        path = PurePosixPath(name)
        for number in range(1, 10_000):
            tried = name if number == 1 else (path.parent / f"{path.stem}-{number}{path.suffix}").as_posix()
            if tried.casefold() not in self._there:
                return tried
            there = self._designs / tried
            if there.is_file() and _digest(there.read_bytes()) == _digest(data):
                return None
        raise AssertionError("no folder holds so many files of one name")

    def _leave(self, name: str, why: str) -> None:
        self.left.append(Left(name, why))


def _members(data: bytes) -> Iterator[Brought]:
    """The files of a ZIP, bounded in number and size. Raises ShopError ``zip-too-large``."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        inside = [one for one in archive.infolist() if not one.is_dir()]
        total = sum(one.file_size for one in inside)
        fix = "unpack it and bring the files in portions"
        if len(inside) > MOST_MEMBERS:
            raise ShopError("zip-too-large", f"it holds {len(inside)} files, {MOST_MEMBERS} are taken", fix)
        if total > MOST_UNPACKED or total > MOST_TIMES * max(len(data), 1 << 16):
            raise ShopError("zip-too-large", f"it would grow to {total >> 20} MB", fix)
        for one in inside:
            if "__MACOSX" in one.filename or one.filename.lower().endswith(".zip"):
                continue
            with archive.open(one) as member:
                yield Brought(one.filename, io.BytesIO(member.read(MOST_BYTES + 1)))


def safe_name(given: str) -> str:
    """A path below the designs folder: no way up, no drive, no letter or name that a system refuses."""
    text = unicodedata.normalize("NFC", given).replace("\\", "/")
    parts = [_safe_part(part) for part in text.split("/") if part not in ("", ".", "..")]
    kept = [part for part in parts if part]
    return "/".join(kept[-_DEEPEST:]) or "art"


def _safe_part(part: str) -> str:
    plain = "".join(
        "-" if letter in '<>:"|?*' or unicodedata.category(letter) in ("Cc", "Cs", "Co") else letter
        for letter in part
    )
    plain = plain.strip().rstrip(". ").lstrip(".")
    if _RESERVED.match(plain):
        plain = f"art-{plain}"
    stem, dot, suffix = plain.rpartition(".")
    # File systems take 255 bytes at most; room is left for a number and a part file's prefix.
    while len(plain.encode()) > 200:
        stem = stem[:-1] if dot else plain[:-1]
        plain = f"{stem}{dot}{suffix}" if dot else stem
    return plain


def _no_art(name: str, data: bytes) -> str:
    """Why a file is no art we can take; "" where it is."""
    named, found = kind_by_name(name), kind_of(data)
    if not data:
        return "it is empty; copy it again"
    if not named:
        return f"it is no art: bring {', '.join(sorted(set(EXTENSIONS.values()))).upper()} files"
    if not found:
        return f"it is called .{name.rpartition('.')[2]} but holds no picture; export it again"
    if found != named:
        return f"it is called .{name.rpartition('.')[2]} but is {found.upper()} inside; give it that ending"
    return ""


def _digest(data: bytes) -> bytes:
    return hashlib.sha256(data).digest()
