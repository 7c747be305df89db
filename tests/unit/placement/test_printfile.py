"""Print files: exact pixels, what they say about themselves, and the same bytes every time."""

import dataclasses
import io
import struct

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image

from hundredfold.catalogue.blanks import FileKind, PrintArea
from hundredfold.designs.decode import Picture
from hundredfold.designs.facts import Box
from hundredfold.kernel.errors import ShopError
from hundredfold.placement.layout import AreaLayout
from hundredfold.placement.place import Placement
from hundredfold.placement.printfile import cropped, print_file, resized

AREA = PrintArea("front", 60, 40, 300)


def picture(pixels: NDArray[np.uint8]) -> Picture:
    return Picture(pixels, "png", 8, "", None, has_alpha=True)


def disc(size: int = 32) -> Picture:
    down, across = np.mgrid[0:size, 0:size] + 0.5
    far = np.hypot(down - size / 2, across - size / 2)
    pixels = np.zeros((size, size, 4), np.uint8)
    pixels[:, :, 0] = 200
    pixels[:, :, 3] = np.clip((size / 2 - far) * 255, 0, 255)
    pixels[pixels[:, :, 3] == 0] = 0
    return picture(pixels)


def placed(area: PrintArea = AREA, left: int = 22, top: int = 12, size: int = 16) -> AreaLayout:
    return AreaLayout(area, (Placement(area, Box(0, 0, 32, 32), left, top, size, size, 600.0),))


def opened(data: bytes) -> Image.Image:
    image = Image.open(io.BytesIO(data))
    image.load()
    return image


def chunks(data: bytes) -> list[tuple[bytes, bytes]]:
    found, at = [], 8
    while at < len(data):
        length, name = struct.unpack(">I4s", data[at : at + 8])
        found.append((name, data[at + 8 : at + 8 + length]))
        at += 12 + length
    return found


def test_png_has_the_area_s_pixels_and_only_our_chunks() -> None:
    data = print_file(disc(), placed())
    image = opened(data)
    assert (image.size, image.mode) == ((60, 40), "RGBA")
    names = [name for name, _ in chunks(data)]
    assert names[:5] == [b"IHDR", b"sRGB", b"gAMA", b"cHRM", b"pHYs"]
    assert set(names[5:]) == {b"IDAT", b"IEND"}
    found = np.asarray(image)
    assert found[20, 30].tolist() == [200, 0, 0, 255]
    assert not found[:, :22].any()
    assert not found[:12].any()


def test_the_same_input_gives_the_same_bytes() -> None:
    assert print_file(disc(), placed()) == print_file(disc(), placed())


def test_art_at_its_own_size_is_copied_exactly() -> None:
    source = disc()
    data = print_file(source, placed(size=32, left=10, top=4))
    assert np.array_equal(np.asarray(opened(data))[4:36, 10:42], source.pixels)


def test_a_flattened_area_is_white_where_there_is_no_ink() -> None:
    image = opened(print_file(disc(), placed(dataclasses.replace(AREA, transparent=False))))
    assert image.mode == "RGB"
    assert image.getpixel((0, 0)) == (255, 255, 255)


def test_a_mirrored_area_turns_left_and_right() -> None:
    source = disc()
    plain = np.asarray(opened(print_file(source, placed(left=2))))
    turned = np.asarray(opened(print_file(source, placed(dataclasses.replace(AREA, mirrored=True), left=2))))
    assert np.array_equal(turned, plain[:, ::-1])


def test_what_reaches_past_the_area_is_cut_off() -> None:
    data = print_file(disc(), placed(left=-8, top=30, size=32))
    found = np.asarray(opened(data))
    assert found.shape == (40, 60, 4)
    assert np.array_equal(found[30:, :24], disc().pixels[:10, 8:])


@pytest.mark.parametrize("kind", [FileKind.JPEG, FileKind.TIFF])
def test_jpeg_and_tiff_say_dpi_and_srgb(kind: FileKind) -> None:
    image = opened(print_file(disc(), placed(dataclasses.replace(AREA, file_kind=kind))))
    assert image.size == (60, 40)
    assert tuple(round(float(value), 3) for value in image.info["dpi"]) == (300, 300)
    assert b"sRGB" in image.info["icc_profile"] or image.info["icc_profile"]
    assert image.mode == ("RGB" if kind is FileKind.JPEG else "RGBA")
    assert "exif" not in image.info
    software, date_time = 305, 306
    assert not {software, date_time} & set(getattr(image, "tag_v2", {}))


def noisy() -> Picture:
    pixels = np.random.default_rng(1).integers(0, 256, (32, 32, 4), dtype=np.uint8)
    pixels[:, :, 3] = 255
    return picture(pixels)


def test_a_jpeg_is_made_to_fit_by_the_highest_quality_that_does() -> None:
    area = dataclasses.replace(AREA, file_kind=FileKind.JPEG)
    whole = placed(area, left=10, top=4, size=32)

    def within(limit: int) -> int:
        limited = dataclasses.replace(area, max_bytes=limit)
        return len(print_file(noisy(), dataclasses.replace(whole, area=limited)))

    full = len(print_file(noisy(), whole))
    tight = within(full - 1)  # at first the same quality, its codes fitted to the picture
    assert tight < full
    limit = tight - 300
    assert limit - 200 < within(limit) <= limit


@pytest.mark.parametrize("kind", list(FileKind))
def test_a_limit_that_cannot_be_met_is_one_sentence(kind: FileKind) -> None:
    area = dataclasses.replace(AREA, file_kind=kind, max_bytes=700)
    with pytest.raises(ShopError) as caught:
        print_file(noisy(), placed(area, left=10, top=4, size=32))
    assert caught.value.slug == "print-file-too-large"
    assert "700" in caught.value.what


@pytest.mark.parametrize("size", [(7, 20), (20, 7), (40, 40), (33, 20), (1, 1)])
def test_any_size_comes_out_exactly(size: tuple[int, int]) -> None:
    assert resized(disc().pixels, *size).shape == (size[1], size[0], 4)


def test_shrunk_art_is_as_a_second_program_makes_it() -> None:
    """Pillow's Lanczos on its premultiplied mode is the second program."""
    rng = np.random.default_rng(3)
    big = np.kron(rng.integers(0, 256, (30, 24, 4), dtype=np.uint8), np.ones((10, 10, 1), np.uint8))
    big[:, :, 3] = np.where(big[:, :, 3] > 90, 255, 0)
    big[big[:, :, 3] == 0] = 0
    ours = resized(big, 200, 250).astype(float)
    theirs = np.asarray(Image.fromarray(big).resize((200, 250), Image.Resampling.LANCZOS)).astype(float)
    difference = ours[:, :, :3] * ours[:, :, 3:] / 255 - theirs[:, :, :3] * theirs[:, :, 3:] / 255
    assert np.sqrt((difference**2).mean()) < 1.0
    # The two clip overshoot in another order, which shows at corners only.
    assert np.percentile(np.abs(ours[:, :, 3] - theirs[:, :, 3]), 99) <= 8


def test_art_is_taken_from_the_crop_only() -> None:
    pixels = np.zeros((10, 10, 4), np.uint8)
    pixels[2:6, 3:9] = (0, 120, 0, 255)
    assert (cropped(picture(pixels))(Box(3, 2, 9, 6), 6, 4) == (0, 120, 0, 255)).all()
