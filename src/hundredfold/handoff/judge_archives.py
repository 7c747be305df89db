"""Judges an archive: its bytes, its members one by one, and that nothing else hides in it."""

import hashlib
import zipfile
from collections.abc import Iterator
from typing import BinaryIO

from hundredfold.handoff.image_headers import Header, NotAPicture, read_header
from hundredfold.handoff.judge_checks import FILE, MEMBER
from hundredfold.handoff.judge_common import BROKEN_ZIP, PackSource, sha256_of, wrong
from hundredfold.handoff.manifest_shape import ArchiveEntry, MemberEntry
from hundredfold.kernel.findings import Finding

_DATE = (1980, 1, 1, 0, 0, 0)


def judge_archive(archive: ArchiveEntry, max_bytes: int, source: PackSource) -> Iterator[Finding]:
    """Everything wrong with one archive, the member named where it can be told."""
    if not archive.file:
        for member in archive.members:
            if member.name in source.names():
                yield from _judge_loose(member, source)
        return
    with source.open(archive.file) as stream:
        same = sha256_of(stream) == archive.sha256
        size = stream.tell()
        if max_bytes and size > max_bytes:
            what = f"{size} bytes where the channel takes {max_bytes}"
            yield wrong(FILE, "too-large", archive.file, what)
        found = list(_members(archive, stream, size))
    yield from found
    if not same:
        where = "" if found else ", outside its members"
        what = f"its bytes are not those the manifest recorded{where}"
        yield wrong(FILE, "changed", archive.file, what)


def _judge_loose(member: MemberEntry, source: PackSource) -> Iterator[Finding]:
    """One file that lies beside the table."""
    with source.open(member.name) as stream:
        data = stream.read(member.bytes + 1)
    if len(data) != member.bytes or hashlib.sha256(data).hexdigest() != member.sha256:
        yield wrong(MEMBER, "changed", member.name, "its bytes are not those the manifest recorded")
    yield from _judge_picture(member.name, member, data)


def _members(archive: ArchiveEntry, stream: BinaryIO, size: int) -> Iterator[Finding]:
    try:
        with zipfile.ZipFile(stream) as opened:
            yield from _judge_opened(archive, opened, size)
    except BROKEN_ZIP as error:
        yield wrong(FILE, "unreadable", archive.file, f"it cannot be opened as a ZIP: {error}")


def _judge_opened(archive: ArchiveEntry, opened: zipfile.ZipFile, size: int) -> Iterator[Finding]:
    wanted = {member.name: member for member in archive.members}
    names = [info.filename for info in opened.infolist()]
    for name in sorted(set(names) | set(wanted)):
        item = f"{archive.file}, {name}"
        if name not in wanted:
            yield wrong(MEMBER, "unlisted", item, "a member the manifest does not name")
        elif names.count(name) != 1:
            what = (
                "the manifest names it, and it is not in the archive"
                if name not in names
                else "it is there twice"
            )
            yield wrong(MEMBER, "missing" if name not in names else "twice", item, what)
    if names != sorted(names):
        yield wrong(FILE, "unsorted", archive.file, "its members are not in order of their names")
    exact = 22 + sum(
        76 + 2 * len(name.encode()) + info.file_size
        for name, info in zip(names, opened.infolist(), strict=True)
    )
    if size != exact and size < 1 << 32:
        what = f"{size} bytes where its members make {exact}: something lies between or after them"
        yield wrong(FILE, "padded", archive.file, what)
    for info in opened.infolist():
        if info.filename in wanted and names.count(info.filename) == 1:
            yield from _judge_member(archive.file, wanted[info.filename], info, opened)


def _judge_member(
    file: str, wanted: MemberEntry, info: zipfile.ZipInfo, opened: zipfile.ZipFile
) -> Iterator[Finding]:
    item = f"{file}, {wanted.name}"
    if info.compress_type != zipfile.ZIP_STORED or info.date_time != _DATE or info.create_system != 3:
        yield wrong(MEMBER, "not-plain", item, "it is packed, dated or marked by a system")
    if info.file_size != wanted.bytes:  # before reading: a forged size must not fill the memory
        what = f"{info.file_size} bytes where the manifest says {wanted.bytes}"
        yield wrong(MEMBER, "wrong-size", item, what)
        return
    try:
        data = opened.read(info)
    except BROKEN_ZIP as error:
        yield wrong(MEMBER, "damaged", item, f"it cannot be read: {error}")
        return
    if hashlib.sha256(data).hexdigest() != wanted.sha256:
        yield wrong(MEMBER, "changed", item, "its bytes are not those the manifest recorded")
    yield from _judge_picture(item, wanted, data)


def _judge_picture(item: str, wanted: MemberEntry, data: bytes) -> Iterator[Finding]:
    try:
        header = read_header(data)
    except NotAPicture as error:
        yield wrong(MEMBER, "not-a-picture", item, str(error))
        return
    yield from _judge_header(item, wanted, header)


def _judge_header(item: str, wanted: MemberEntry, header: Header) -> Iterator[Finding]:
    if (header.width_px, header.height_px) != (wanted.width_px, wanted.height_px):
        what = (
            f"{header.width_px} x {header.height_px} px where the manifest says "
            f"{wanted.width_px} x {wanted.height_px}"
        )
        yield wrong(MEMBER, "wrong-pixels", item, what)
    if wanted.dpi and round(header.dpi) != wanted.dpi:
        what = f"{header.dpi:.2f} dpi where the manifest says {wanted.dpi}"
        yield wrong(MEMBER, "wrong-dpi", item, what)
    if header.kind not in _KINDS.get(wanted.name.rpartition(".")[2].lower(), ()):
        yield wrong(MEMBER, "wrong-kind", item, f"a {header.kind.upper()} under this name")


_KINDS = {"png": ("png",), "jpg": ("jpeg",), "jpeg": ("jpeg",), "tif": ("tiff",), "tiff": ("tiff",)}
