"""PNG from runs, read back by Pillow and, byte for byte, by zlib."""

import io
import struct
import zlib

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image

from hundredfold.designs.flatart.deflate import code_lengths, codes
from hundredfold.designs.flatart.spans import Spans
from hundredfold.designs.flatart.sparse_png import sparse_png

Bytes = NDArray[np.uint8]


def runs_of(pixels: Bytes) -> Spans:
    height, width, _ = pixels.shape
    packed = np.ascontiguousarray(pixels).view(np.uint32).reshape(-1)
    new = np.ones(len(packed), dtype=bool)
    new[1:] = packed[1:] != packed[:-1]
    new[::width] = True
    starts = np.flatnonzero(new)
    return Spans(width, height, starts, starts % width == 0, pixels.reshape(-1, 4)[starts])


def rows_in(png: bytes) -> bytes:
    """The uncompressed rows; zlib checks the Adler-32 (RFC 1950), we the CRCs (PNG 5.3)."""
    at, packed = 8, b""
    while at < len(png):
        (length,) = struct.unpack(">I", png[at : at + 4])
        name, body = png[at + 4 : at + 8], png[at + 8 : at + 8 + length]
        assert png[at + 8 + length : at + 12 + length] == struct.pack(">I", zlib.crc32(name + body))
        packed += body if name == b"IDAT" else b""
        at += 12 + length
    return zlib.decompress(packed)


def painted(seed: int, width: int, height: int, noise: float) -> Bytes:
    rng = np.random.default_rng(seed)
    pixels = np.zeros((height, width, 4), dtype=np.uint8)
    for _ in range(seed % 9):
        y, x = rng.integers(0, height), rng.integers(0, width)
        colour = rng.integers(0, 256, 4) if rng.random() < 0.8 else 0
        pixels[y : y + rng.integers(1, height + 1), x : x + rng.integers(1, width + 1)] = colour
    pixels[rng.random((height, width)) < noise] = rng.integers(0, 256, 4)
    return pixels


@pytest.mark.parametrize("width", [1, 2, 3, 64, 65, 66, 129, 700])
@pytest.mark.parametrize("noise", [0.0, 0.3])
def test_pixels_come_back(width: int, noise: float) -> None:
    for seed in range(24):
        pixels = painted(seed, width, 1 + seed % 17, noise)
        png = sparse_png(runs_of(pixels))
        assert np.array_equal(np.asarray(Image.open(io.BytesIO(png))), pixels)
        wanted = b"".join(b"\0" + row.tobytes() for row in pixels)
        assert rows_in(png) == wanted


def test_runs_of_every_length_come_back() -> None:
    """Copies have a least and a greatest length (RFC 1951, 3.2.5): no remainder may fall between."""
    for width in range(1, 200):
        pixels = np.zeros((3, width, 4), dtype=np.uint8)
        pixels[1] = [9, 8, 7, 255]
        assert rows_in(sparse_png(runs_of(pixels))) == b"".join(b"\0" + row.tobytes() for row in pixels)


def test_a_large_clear_sheet_is_small() -> None:
    pixels = np.zeros((2000, 2000, 4), dtype=np.uint8)
    pixels[700:900, 300:1700] = [200, 30, 40, 255]
    png = sparse_png(runs_of(pixels))
    assert len(png) < 20_000
    assert np.array_equal(np.asarray(Image.open(io.BytesIO(png))), pixels)


def test_codes_can_be_told_apart_and_are_as_short_as_they_may_be() -> None:
    """Kraft's equality holds for a full code; no code is over the limit, however lopsided the counts."""
    for longest in (7, 11, 15):
        counts = [2**k for k in range(18)] if longest > 5 else [1] * 18
        lengths = code_lengths(counts, longest)
        assert max(lengths) <= longest
        assert sum(2.0**-length for length in lengths) == 1
        words = {(f"{code:0{length}b}"[::-1]) for code, length in zip(codes(lengths), lengths, strict=True)}
        assert len(words) == len(counts)
        assert not any(a != b and b.startswith(a) for a in words for b in words)


def test_huffman_s_own_example_of_the_standard() -> None:
    """RFC 1951, 3.2.2: lengths (3, 3, 3, 3, 3, 2, 4, 4) give these codes for A to H."""
    words = [
        f"{code:0{n}b}"[::-1] for code, n in zip(codes([3] * 5 + [2, 4, 4]), [3] * 5 + [2, 4, 4], strict=True)
    ]
    assert words == ["010", "011", "100", "101", "110", "00", "1110", "1111"]
