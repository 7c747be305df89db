"""What a picture file is, from its first bytes: nothing is decoded here."""

import struct
from dataclasses import dataclass

PNG_MAGIC = b"\x89PNG\r\n\x1a\n"
EXTENSIONS = {
    "png": "png",
    "jpg": "jpeg",
    "jpeg": "jpeg",
    "jpe": "jpeg",
    "jfif": "jpeg",
    "webp": "webp",
    "tif": "tiff",
    "tiff": "tiff",
    "svg": "svg",
}
ART_SUFFIXES = tuple(f".{extension}" for extension in EXTENSIONS)


@dataclass(frozen=True)
class PngHeader:
    """The parts of a PNG's head that libvips does not pass on."""

    width: int
    height: int
    bits: int
    dpi: float | None
    frames: int = 1  # of an animated one


def kind_of(data: bytes) -> str:
    """``png``, ``jpeg``, ``webp``, ``tiff`` or ``svg`` by content; empty when it is none of them."""
    if data.startswith(PNG_MAGIC):
        return "png"
    if data.startswith(b"\xff\xd8\xff"):
        return "jpeg"
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "webp"
    if data[:4] in (b"II*\0", b"MM\0*", b"II+\0", b"MM\0+"):
        return "tiff"
    return "svg" if _looks_like_svg(data) else ""


def kind_by_name(name: str) -> str:
    """The kind a file's extension promises; empty when it promises none of ours."""
    return EXTENSIONS.get(name.rpartition(".")[2].lower(), "") if "." in name else ""


def png_header(data: bytes) -> PngHeader | None:
    """Size, depth, dpi and frames of a PNG (PNG 11.2.2, 11.3.5.3, 11.3.8.1); None when it is damaged."""
    if len(data) < 33 or data[12:16] != b"IHDR":
        return None
    width, height, bits = struct.unpack(">IIB", data[16:25])
    at, dpi, frames = 33, None, 1
    while at + 12 <= len(data):
        length, name = struct.unpack(">I4s", data[at : at + 8])
        if name == b"IDAT":
            break
        if name == b"pHYs" and length == 9 and at + 17 <= len(data):
            across, _, unit = struct.unpack(">IIB", data[at + 8 : at + 17])
            dpi = round(across * 0.0254, 2) if unit == 1 and across else None
        if name == b"acTL" and length == 8 and at + 16 <= len(data):
            frames = struct.unpack(">I", data[at + 8 : at + 12])[0]
        at += 12 + length
    return PngHeader(width, height, bits, dpi, frames)


def _looks_like_svg(data: bytes) -> bool:
    head = data[:4096]
    if head[:2] in (b"\xff\xfe", b"\xfe\xff"):
        head = head.decode("utf-16", errors="replace").encode()
    head = head.removeprefix(b"\xef\xbb\xbf").lstrip()
    return head.startswith(b"<") and (b"<svg" in head or b":svg" in head or b"<!DOCTYPE svg" in head)
