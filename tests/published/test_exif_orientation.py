"""EXIF 2.3 (CIPA DC-008) and TIFF 6.0, tag 0x0112: how stored rows and columns are to be seen."""

import io

import numpy as np
import pytest
from PIL import Image

from hundredfold.designs.decode import decode

# Stored as [[1, 2, 3], [4, 5, 6]].
SEEN = {
    1: [[1, 2, 3], [4, 5, 6]],
    2: [[3, 2, 1], [6, 5, 4]],
    3: [[6, 5, 4], [3, 2, 1]],
    4: [[4, 5, 6], [1, 2, 3]],
    5: [[1, 4], [2, 5], [3, 6]],
    6: [[4, 1], [5, 2], [6, 3]],
    7: [[6, 3], [5, 2], [4, 1]],
    8: [[3, 6], [2, 5], [1, 4]],
}


@pytest.mark.parametrize("kind", ["JPEG", "TIFF", "WEBP", "PNG"])
@pytest.mark.parametrize("orientation", list(SEEN))
def test_orientation(kind: str, orientation: int) -> None:
    stored = np.kron(np.array([[1, 2, 3], [4, 5, 6]], np.uint8) * 40, np.ones((16, 16), np.uint8))
    exif = Image.Exif()
    exif[0x0112] = orientation
    out = io.BytesIO()
    Image.fromarray(stored).convert("RGB").save(out, kind, exif=exif, quality=98, lossless=True)
    pixels = decode(out.getvalue(), f"turned.{kind.lower()}").pixels
    found = np.rint(pixels[8::16, 8::16, 0] / 40).astype(int)
    assert found.tolist() == SEEN[orientation]
