"""The ZIP a workbook is, opened with limits: what it unpacks to, its parts, no document types in its XML."""

import io
import struct
import zipfile
import zlib
from collections.abc import Iterator
from dataclasses import dataclass, field

from lxml import etree

from hundredfold.kernel.errors import ShopError, Where

MAX_PARTS = 5_000
MAX_UNPACKED = 1_000_000_000  # a workbook is a ZIP; a bomb would unpack to far more
MAX_PART = 400_000_000
_DAMAGED = (
    zipfile.BadZipFile, zlib.error, struct.error, EOFError, RuntimeError, NotImplementedError, OSError,
    ValueError, KeyError,
)  # fmt: skip


def _damaged(file: str, why: str) -> ShopError:
    fix = "open it in your spreadsheet program and save it again"
    return ShopError("not-a-spreadsheet", f"it cannot be read as a workbook ({why})", fix, Where(file))


@dataclass
class Package:
    """The parts of a workbook by name. Raises ShopError ``not-a-spreadsheet``, ``file-too-large``."""

    file: str
    data: bytes = field(repr=False)

    def __post_init__(self) -> None:
        try:
            self._zip = zipfile.ZipFile(io.BytesIO(self.data))
            infos = self._zip.infolist()
        except _DAMAGED as error:
            raise _damaged(self.file, str(error)) from None
        self.names = frozenset(info.filename for info in infos)
        unpacked = sum(info.file_size for info in infos)
        if len(infos) > MAX_PARTS or unpacked > MAX_UNPACKED or any(i.file_size > MAX_PART for i in infos):
            what = f"it unpacks to {unpacked / 1e6:,.0f} MB in {len(infos)} parts, more than is read"
            fix = "keep only the sheet that is filled and its lists, and save it again"
            raise ShopError("file-too-large", what, fix, Where(self.file))

    def read(self, name: str) -> bytes:
        """A part's bytes; b"" where there is none."""
        if name not in self.names:
            return b""
        try:
            with self._zip.open(name) as stream:
                data = stream.read(MAX_PART + 1)
        except _DAMAGED as error:
            raise _damaged(self.file, f"{name}: {error}") from None
        if len(data) > MAX_PART:
            raise _damaged(self.file, f"{name} is larger than it says")
        if b"<!DOCTYPE" in data[:4096] or b"<!ENTITY" in data[:4096]:
            raise _damaged(self.file, f"{name} declares a document type")
        return data

    def tree(self, name: str) -> etree._Element:
        """A part as XML; an empty element where there is none."""
        data = self.read(name)
        return parse(data, f"{name}", self.file) if data else etree.Element("none")


def parse(data: bytes, name: str, file: str) -> etree._Element:
    """XML without entities, network or endless nesting."""
    try:
        return etree.fromstring(
            data, etree.XMLParser(resolve_entities=False, no_network=True, huge_tree=False)
        )
    except etree.XMLSyntaxError as error:
        raise _damaged(file, f"{name}: {error.msg}") from None


def events(data: bytes, tags: tuple[str, ...], name: str, file: str) -> Iterator[etree._Element]:
    """The elements of these local names as they end; the caller clears them."""
    wanted = tuple(f"{{*}}{tag}" for tag in tags)
    try:
        for _, element in etree.iterparse(
            io.BytesIO(data), tag=wanted, resolve_entities=False, no_network=True, huge_tree=False
        ):
            yield element
    except etree.XMLSyntaxError as error:
        raise _damaged(file, f"{name}: {error.msg}") from None
