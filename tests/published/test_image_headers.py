"""The verifier's own header reader against Pillow and libvips, and the PNG specification's pHYs.

PNG (third edition) 11.3.4.3: pHYs counts pixels a metre; 300 dpi is 11811 (11811.02 rounded).
"""

import io
import struct

import pytest
import pyvips
from goods import png
from PIL import Image

from hundredfold.handoff.image_headers import Header, NotAPicture, read_header


def test_300_dpi_is_11811_pixels_a_metre() -> None:
    data = png(4, 3, 300)
    place = data.index(b"pHYs") + 4
    assert struct.unpack_from(">IIB", data, place) == (11811, 11811, 1)
    header = read_header(data)
    assert round(header.dpi) == 300
    assert header.dpi == pytest.approx(299.9994)


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "TIFF"])
@pytest.mark.parametrize("dpi", [None, 72, 150, 300])
@pytest.mark.parametrize("size", [(1, 1), (40, 20), (300, 7)])
def test_pillow_s_files(kind: str, dpi: int | None, size: tuple[int, int]) -> None:
    out = io.BytesIO()
    Image.new("RGB", size, (1, 2, 3)).save(out, kind, **({"dpi": (dpi, dpi)} if dpi else {}))
    header = read_header(out.getvalue())
    assert (header.kind, header.width_px, header.height_px) == (kind.lower(), *size)
    assert round(header.dpi) == (dpi or 0)


@pytest.mark.parametrize("ending", [".png", ".jpg", ".tif"])
def test_libvips_files(ending: str) -> None:
    data = pyvips.Image.black(31, 17, bands=3).copy(xres=300 / 25.4, yres=300 / 25.4).write_to_buffer(ending)
    header = read_header(data)
    assert (header.width_px, header.height_px, round(header.dpi)) == (31, 17, 300)


@pytest.mark.parametrize("name", ["progressive", "cmyk", "exif"])
def test_kinds_of_jpeg(name: str) -> None:
    out = io.BytesIO()
    exif = Image.Exif()
    exif[0x0112] = 6
    picture = Image.new("CMYK" if name == "cmyk" else "RGB", (25, 12))
    picture.save(out, "JPEG", progressive=name == "progressive", exif=exif if name == "exif" else b"")
    assert read_header(out.getvalue()) == Header("jpeg", 25, 12, read_header(out.getvalue()).dpi)


def test_every_cut_of_a_png_is_refused() -> None:
    data = png(9, 9, 300)
    for length in range(len(data)):
        with pytest.raises(NotAPicture):
            read_header(data[:length])
    with pytest.raises(NotAPicture, match="IHDR chunk has a wrong checksum"):
        read_header(data[:20] + b"\x01" + data[21:])


@pytest.mark.parametrize(
    "data", [b"", b"GIF89a", b"\xff\xd8\xff", b"II*\0", b"MM\0*\xff\xff\xff\xff", b"\xff\xd8\xff\xe0\0\x04"]
)
def test_what_is_no_picture_says_so(data: bytes) -> None:
    with pytest.raises(NotAPicture):
        read_header(data)
