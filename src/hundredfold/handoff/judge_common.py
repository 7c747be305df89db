"""What the judges of a pack share: where its files come from, and how they speak."""

import hashlib
import struct
import zipfile
import zlib
from collections.abc import Collection
from contextlib import AbstractContextManager
from typing import BinaryIO, Protocol

from hundredfold.kernel.checks import CheckRecord
from hundredfold.kernel.findings import Finding

MANIFEST = "manifest.json"
AGAIN = "run the month again; what is wrong is made anew"
# What reading a damaged ZIP, or what is in it, may raise.
BROKEN_ZIP = (
    zipfile.BadZipFile, zlib.error, struct.error, NotImplementedError, RuntimeError, ValueError, OSError,
    EOFError, LookupError,
)  # fmt: skip
_BLOCK = 1 << 20


class PackSource(Protocol):
    """A pack's files, wherever they lie. Streams must seek."""

    def names(self) -> Collection[str]:
        """The names of the files in the pack."""
        ...

    def open(self, name: str) -> AbstractContextManager[BinaryIO]:
        """One file's bytes."""
        ...


def wrong(check: CheckRecord, code: str, item: str, what: str, fix: str = AGAIN) -> Finding:
    """Something wrong with the pack; without a better idea, it is made anew."""
    return check.finds(code, item, what, fix)


def sha256_of(stream: BinaryIO) -> str:
    """The digest of everything from the stream's start, read in blocks."""
    stream.seek(0)
    digest = hashlib.sha256()
    while block := stream.read(_BLOCK):
        digest.update(block)
    return digest.hexdigest()
