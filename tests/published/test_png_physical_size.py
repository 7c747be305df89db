"""PNG, W3C Recommendation, third edition (and ISO/IEC 15948): the chunks that say size and colour.

pHYs (11.3.5.3): two 32-bit pixels-per-unit and a unit, 1 for the metre; an inch is 0.0254 m exactly, so 300
dpi is 11811 a metre. sRGB (11.3.3.5): a byte of intent, with gAMA 45455 and the eight cHRM values beside it.
"""

import io
import struct
import zlib

import numpy as np
import pytest
from PIL import Image

from hundredfold.designs.decode import decode
from hundredfold.designs.header import png_header
from hundredfold.placement.encode import png

PIXELS = np.full((3, 2, 4), 255, np.uint8)


@pytest.mark.parametrize(
    ("dpi", "per_metre"), [(72, 2835), (96, 3780), (150, 5906), (300, 11811), (600, 23622)]
)
def test_pixels_per_metre(dpi: int, per_metre: int) -> None:
    data = png(PIXELS, dpi)
    at = data.index(b"pHYs")
    assert struct.unpack(">IIB", data[at + 4 : at + 13]) == (per_metre, per_metre, 1)
    with Image.open(io.BytesIO(data)) as image:
        assert round(image.info["dpi"][0]) == dpi
    head = png_header(data)
    assert head is not None
    assert head.dpi is not None
    assert round(head.dpi, 1) == dpi


def test_srgb_chunks_stand_before_the_pixels_with_the_standard_values() -> None:
    data = png(PIXELS, 300)
    assert data[data.index(b"sRGB") + 4] == 0
    assert struct.unpack(">I", data[data.index(b"gAMA") + 4 :][:4]) == (45455,)
    expected = (31270, 32900, 64000, 33000, 30000, 60000, 15000, 6000)
    assert struct.unpack(">8I", data[data.index(b"cHRM") + 4 :][:32]) == expected
    assert max(data.index(name) for name in (b"sRGB", b"gAMA", b"cHRM", b"pHYs")) < data.index(b"IDAT")
    assert b"iCCP" not in data


def test_a_unit_of_zero_states_no_size() -> None:
    data = png(PIXELS, 300)
    at = data.index(b"pHYs")
    unknown = struct.pack(">II", 2, 1) + b"\0"
    changed = data[: at + 4] + unknown + struct.pack(">I", zlib.crc32(b"pHYs" + unknown)) + data[at + 17 :]
    assert decode(changed, "a.png").dpi is None


def test_an_animated_picture_is_told() -> None:
    """acTL (11.3.8.1) states the frames; Pillow writes the file."""
    out, frames = io.BytesIO(), [Image.new("RGB", (4, 4), (n, 0, 0)) for n in (9, 99, 199)]
    frames[0].save(out, "PNG", save_all=True, append_images=frames[1:])
    assert decode(out.getvalue(), "bee.png").remarks == ("it has 3 pages or frames; only the first is used",)
