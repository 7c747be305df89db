"""What the judges of a pack share: where its files come from, and how they speak."""

import hashlib
import struct
import zipfile
import zlib
from collections.abc import Collection
from contextlib import AbstractContextManager
from typing import BinaryIO, Protocol

from hundredfold.kernel.findings import Finding, Severity

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


def stop(check: str, code: str, item: str, what: str, fix: str = AGAIN) -> Finding:
    """Something that keeps the pack from being handed over."""
    return Finding(check, code, Severity.STOP, item, what, fix)


def warn(check: str, code: str, item: str, what: str, fix: str = AGAIN) -> Finding:
    """Something to know that does not keep the pack back."""
    return Finding(check, code, Severity.WARN, item, what, fix)


def sha256_of(stream: BinaryIO) -> str:
    """The digest of everything from the stream's start, read in blocks."""
    stream.seek(0)
    digest = hashlib.sha256()
    while block := stream.read(_BLOCK):
        digest.update(block)
    return digest.hexdigest()
