"""A workbook damaged in any of the ways a ZIP can be is one sentence."""

import io
import zipfile

import pytest

from hundredfold.kernel.errors import ShopError
from hundredfold.learning.packages import Package


def zipped() -> bytearray:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/workbook.xml", "<workbook>" + "abc" * 4000 + "</workbook>")
    return bytearray(stream.getvalue())


@pytest.mark.parametrize("where", range(46, 60))
def test_a_broken_stream_is_one_sentence(where: int) -> None:
    data = zipped()
    data[where] ^= 0xFF
    with pytest.raises(ShopError) as told:
        Package("book.xlsx", bytes(data)).read("xl/workbook.xml")
    assert told.value.slug == "not-a-spreadsheet"


def test_a_zip_of_a_version_to_come_is_one_sentence() -> None:
    data = zipped()
    at = data.rindex(b"PK\x01\x02")
    data[at + 6] = 126  # version needed to extract: 12.6
    with pytest.raises(ShopError, match="cannot be read"):
        Package("book.xlsx", bytes(data)).read("xl/workbook.xml")
