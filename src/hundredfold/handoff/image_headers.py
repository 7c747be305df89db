"""Reads what a picture file says of itself: kind, pixels, dots per inch. PNG, JPEG, TIFF; own parsing.

PNG: every chunk's length and checksum is walked to the end (PNG specification, third edition, 5.3 and 5.6).
JPEG: segments to the frame header and the density of JFIF, or else of Exif (ITU-T T.81 annex B, JFIF 1.02).
TIFF: the first directory (TIFF 6.0 section 2).
"""

import struct
import zlib
from dataclasses import dataclass

_PNG = b"\x89PNG\r\n\x1a\n"
_MM_PER_INCH = 25.4
# Frame headers; C4, C8 and CC in this range are tables and reserved codes (T.81 table B.1).
_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}


class NotAPicture(ValueError):  # noqa: N818 - it reads as what it says
    """The bytes are no picture we know, or a damaged one; the message says which."""


@dataclass(frozen=True)
class Header:
    """``dpi`` is 0 where the file states none; across and down are the same or it is refused."""

    kind: str
    width_px: int
    height_px: int
    dpi: float


def read_header(data: bytes) -> Header:
    """The header of a PNG, JPEG or TIFF. Raises NotAPicture."""
    try:
        if data.startswith(_PNG):
            return _png(data)
        if data.startswith(b"\xff\xd8\xff"):
            return _jpeg(data)
        if data[:4] in (b"II*\0", b"MM\0*"):
            return _tiff(data)
    except (struct.error, IndexError, KeyError) as error:
        raise NotAPicture("the file ends too early or points outside itself") from error
    raise NotAPicture("neither PNG nor JPEG nor TIFF")


def _png(data: bytes) -> Header:
    place, size, dpi, seen = len(_PNG), None, 0.0, []
    while place < len(data):
        (length,) = struct.unpack_from(">I", data, place)
        kind, body = data[place + 4 : place + 8], data[place + 8 : place + 8 + length]
        (checksum,) = struct.unpack_from(">I", data, place + 8 + length)
        if zlib.crc32(kind + body) != checksum:
            raise NotAPicture(f"its {kind.decode('latin-1')} chunk has a wrong checksum")
        if kind == b"IHDR":
            size = struct.unpack_from(">II", body)
        elif kind == b"pHYs":
            across, down, unit = struct.unpack(">IIB", body)
            dpi = _same(across, down) * _MM_PER_INCH / 1000 if unit == 1 else 0.0
        seen.append(kind)
        place += 12 + length
    if size is None or seen[0] != b"IHDR" or seen[-1] != b"IEND" or b"IDAT" not in seen:
        raise NotAPicture("a PNG without its first, data or last chunk")
    return Header("png", size[0], size[1], dpi)


def _jpeg(data: bytes) -> Header:
    place, dpi, size = 2, 0.0, None
    while size is None:
        if data[place] != 0xFF:
            raise NotAPicture("a JPEG segment does not begin where it should")
        marker = data[place + 1]
        if marker in (0xD9, 0xDA):
            raise NotAPicture("a JPEG without a frame header")
        (length,) = struct.unpack_from(">H", data, place + 2)
        body = data[place + 4 : place + 2 + length]
        if marker == 0xE0 and body.startswith(b"JFIF\0"):
            unit, across, down = struct.unpack_from(">BHH", body, 7)
            dpi = {1: 1.0, 2: 2.54}.get(unit, 0.0) * (_same(across, down) if unit else 0)
        elif marker == 0xE1 and body.startswith(b"Exif\0\0") and not dpi:
            dpi = _resolution(*_directory(body[6:]))
        elif marker in _FRAMES:
            height, width = struct.unpack_from(">HH", body, 1)
            size = (width, height)
        place += 2 + length
    if not data.rstrip(b"\0").endswith(b"\xff\xd9"):
        raise NotAPicture("a JPEG without its end")
    return Header("jpeg", size[0], size[1], dpi)


def _tiff(data: bytes) -> Header:
    order, _, fields = _directory(data)
    return Header("tiff", fields[256], fields[257], _resolution(order, data, fields))


def _directory(data: bytes) -> tuple[str, bytes, dict[int, int]]:
    """The byte order, the bytes, and the first directory's values (or where they stand) by tag."""
    order = "<" if data[:2] == b"II" else ">"
    (start,) = struct.unpack_from(order + "I", data, 4)
    (count,) = struct.unpack_from(order + "H", data, start)
    fields = {}
    for n in range(count):
        tag, kind, _, value = struct.unpack_from(order + "HHII", data, start + 2 + 12 * n)
        if kind == 3:  # SHORT: the value's first two bytes
            (value,) = struct.unpack_from(order + "H", data, start + 2 + 12 * n + 8)
        fields[tag] = value
    return order, data, fields


def _resolution(order: str, data: bytes, fields: dict[int, int]) -> float:
    """Dots per inch of tags 282, 283 and the unit in 296 (2 inch, 3 centimetre); 0 where unstated."""
    if 282 not in fields:
        return 0.0
    across, down = (_ratio(order, data, fields[tag]) for tag in (282, 283))
    return _same(across, down) * {2: 1.0, 3: 2.54}.get(fields.get(296, 2), 0.0)


def _ratio(order: str, data: bytes, place: int) -> float:
    above, below = struct.unpack_from(order + "II", data, place)
    return float(above / below) if below else 0.0


def _same(across: float, down: float) -> float:
    if across != down:
        raise NotAPicture(f"its pixels are not square ({across} by {down})")
    return across
