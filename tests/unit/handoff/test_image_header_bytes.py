"""What a picture's own bytes say, against files that Pillow writes and against bytes by hand (TIFF 6.0)."""

import io
import struct

import pytest
from goods import jpeg, png
from PIL import Image

from hundredfold.handoff.image_headers import Header, NotAPicture, read_header


def saved(kind: str, dpi: tuple[int, int] | None, size: tuple[int, int] = (7, 5)) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", size, (1, 2, 3)).save(out, kind, **({} if dpi is None else {"dpi": dpi}))
    return out.getvalue()


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "TIFF"])
def test_what_pillow_writes(kind: str) -> None:
    for dpi in (72, 300):
        header = read_header(saved(kind, (dpi, dpi)))
        assert (header.kind, header.width_px, header.height_px) == (kind.lower(), 7, 5)
        assert header.dpi == pytest.approx(dpi, abs=0.02)
    with pytest.raises(NotAPicture, match="its pixels are not square"):
        read_header(saved(kind, (72, 300)))


def tiff(order: str, entries: list[tuple[int, int, int]], tail: bytes = b"") -> bytes:
    """A directory at 8; a SHORT value stands in the first two bytes of its field."""
    head = (b"II*\0" if order == "<" else b"MM\0*") + struct.pack(order + "I", 8)
    body = struct.pack(order + "H", len(entries))
    for tag, kind, value in entries:
        field = struct.pack(order + "HH", value, 0) if kind == 3 else struct.pack(order + "I", value)
        body += struct.pack(order + "HHI", tag, kind, 1) + field
    return head + body + struct.pack(order + "I", 0) + tail


def sized(order: str, unit: int | None, across: tuple[int, int], down: tuple[int, int]) -> bytes:
    count = 4 + (unit is not None)
    place = 8 + 2 + 12 * count + 4
    entries = [(256, 3, 640), (257, 4, 480), (282, 5, place), (283, 5, place + 8)]
    entries += [(296, 3, unit)] if unit is not None else []
    return tiff(order, entries, struct.pack(order + "IIII", *across, *down))


@pytest.mark.parametrize("order", ["<", ">"])
@pytest.mark.parametrize(("unit", "dpi"), [(None, 150.0), (2, 150.0), (3, 381.0), (1, 0.0)])
def test_a_tiffs_first_directory(order: str, unit: int | None, dpi: float) -> None:
    header = read_header(sized(order, unit, (300, 2), (150, 1)))
    assert (header.kind, header.width_px, header.height_px) == ("tiff", 640, 480)
    assert header.dpi == pytest.approx(dpi)
    assert read_header(sized(order, unit, (3, 0), (4, 0))).dpi == 0
    assert read_header(tiff(order, [(256, 3, 9), (257, 3, 8)])) == Header("tiff", 9, 8, 0.0)


def segment(marker: int, body: bytes) -> bytes:
    return bytes((0xFF, marker)) + struct.pack(">H", len(body) + 2) + body


def framed(*segments: bytes, frame: int = 0xC0, end: bytes = b"\xff\xd9") -> bytes:
    return b"\xff\xd8" + b"".join(segments) + segment(frame, struct.pack(">BHHB", 8, 480, 640, 3)) + end


def jfif(unit: int, across: int, down: int) -> bytes:
    return segment(0xE0, b"JFIF\0\x01\x02" + struct.pack(">BHHBB", unit, across, down, 0, 0))


def exif(data: bytes) -> bytes:
    return segment(0xE1, b"Exif\0\0" + data)


@pytest.mark.parametrize(
    ("segments", "dpi"),
    [
        ((), 0.0),
        ((jfif(0, 3, 4),), 0.0),  # without a unit it is a shape, not a density
        ((jfif(1, 300, 300),), 300.0),
        ((jfif(2, 100, 100),), 254.0),
        ((exif(sized(">", 2, (240, 1), (240, 1))),), 240.0),
        ((jfif(1, 300, 300), exif(sized("<", 2, (240, 1), (240, 1)))), 300.0),
        ((jfif(0, 1, 1), exif(sized("<", 3, (100, 1), (100, 1)))), 254.0),
        ((segment(0xE0, b"JFXX\0"), segment(0xE1, b"http"), segment(0xFE, b"words")), 0.0),
    ],
)
def test_a_jpegs_segments(segments: tuple[bytes, ...], dpi: float) -> None:
    header = read_header(framed(*segments))
    assert (header.kind, header.width_px, header.height_px) == ("jpeg", 640, 480)
    assert header.dpi == pytest.approx(dpi)
    assert read_header(framed(*segments, end=b"\xff\xd9\0\0")).width_px == 640


@pytest.mark.parametrize("marker", [0xC1, 0xC2, 0xC3, 0xC5, 0xCF])
def test_every_kind_of_frame(marker: int) -> None:
    assert read_header(framed(frame=marker)).height_px == 480


def chunk_at(data: bytes, kind: bytes) -> int:
    return data.index(kind) - 4


GOOD = png(3, 2, 300)
CASES = (
    (b"GIF89a", "neither PNG nor JPEG nor TIFF"),
    (b"", "neither PNG"),
    (GOOD[:-4], "ends too early"),
    (GOOD[:-12], "without its first, data or last chunk"),
    (GOOD[:30] + bytes([GOOD[30] ^ 1]) + GOOD[31:], "its IHDR chunk has a wrong checksum"),
    (GOOD[: chunk_at(GOOD, b"IDAT")] + GOOD[chunk_at(GOOD, b"IEND") :], "without its first, data"),
    (GOOD[:8] + GOOD[33:54] + GOOD[8:33] + GOOD[54:], "without its first, data"),
    (framed(frame=0xC4), "without a frame header"),
    (b"\xff\xd8" + segment(0xDA, b"xx"), "without a frame header"),
    (b"\xff\xd8\xff\xd9", "without a frame header"),
    (framed(end=b""), "a JPEG without its end"),
    (b"\xff\xd8\xff\xe0\0\x04xxab", "a JPEG segment does not begin where it should"),
    (jpeg(4, 4)[:9], "ends too early"),
    (tiff("<", [(256, 3, 9)]), "ends too early or points outside itself"),
    (b"II*\0\xff\xff\xff\xff", "ends too early or points outside itself"),
)


@pytest.mark.parametrize(("data", "why"), CASES, ids=[str(n) for n in range(len(CASES))])
def test_what_is_no_picture_says_why(data: bytes, why: str) -> None:
    with pytest.raises(NotAPicture, match=why):
        read_header(data)
