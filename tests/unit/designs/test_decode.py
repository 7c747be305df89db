"""Every kind of file a seller drops in, and every kind that must be refused with one sentence."""

import io
import struct
import tracemalloc
import zlib

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image, ImageCms

from hundredfold.designs.decode import DecodeLimits, Picture, decode
from hundredfold.kernel.errors import ShopError


def saved(image: Image.Image, kind: str, **options: object) -> bytes:
    out = io.BytesIO()
    image.save(out, kind, **options)
    return out.getvalue()


def rgba(seed: int = 1, size: tuple[int, int] = (12, 9)) -> NDArray[np.uint8]:
    pixels = np.random.default_rng(seed).integers(0, 256, (*size, 4), dtype=np.uint8)
    pixels[0, :, 3] = 0
    pixels[1, :, 3] = 255
    return pixels


def cleared(pixels: NDArray[np.uint8]) -> NDArray[np.uint8]:
    result = pixels.copy()
    result[result[:, :, 3] == 0] = 0
    return result


def png_chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def png_16(pixels: NDArray[np.uint16], profile: bytes = b"") -> bytes:
    """A 16-bit RGBA PNG, written here because Pillow writes none."""
    icc = png_chunk(b"iCCP", b"profile\0\0" + zlib.compress(profile)) if profile else b""
    height, width = pixels.shape[:2]
    rows = b"".join(b"\0" + row.astype(">u2").tobytes() for row in pixels)
    head = struct.pack(">IIBBBBB", width, height, 16, 6, 0, 0, 0)
    body = png_chunk(b"IHDR", head) + icc + png_chunk(b"IDAT", zlib.compress(rows)) + png_chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + body


def test_png_with_alpha_comes_back_with_hidden_colour_cleared() -> None:
    pixels = rgba()
    picture = decode(saved(Image.fromarray(pixels), "PNG", dpi=(300, 300)), "a.png")
    assert np.array_equal(picture.pixels, cleared(pixels))
    assert (picture.file_format, picture.bits, picture.dpi) == ("png", 8, 300.0)
    assert picture.has_alpha
    assert picture.remarks == ()


def test_16_bit_values_are_rounded_not_cut() -> None:
    values = np.array([[[0, 128, 129, 65535], [32896, 65535, 65407, 65535]]], np.uint16)
    picture = decode(png_16(values), "a.png")
    assert picture.bits == 16
    assert picture.pixels.tolist() == [[[0, 0, 1, 255], [128, 255, 255, 255]]]


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P"])
def test_grey_and_palette_files(mode: str) -> None:
    image = Image.fromarray(rgba(2)).convert("RGB").convert(mode)
    picture = decode(saved(image, "PNG"), "a.png")
    assert np.array_equal(picture.pixels, np.asarray(image.convert("RGBA")))
    assert picture.has_alpha == (mode == "LA")


def test_a_palette_with_a_clear_entry_has_alpha() -> None:
    image = Image.new("P", (2, 1))
    image.putpalette([255, 0, 0, 0, 0, 255])
    image.putpixel((1, 0), 1)
    picture = decode(saved(image, "PNG", transparency=1), "a.png")
    assert picture.pixels.tolist() == [[[255, 0, 0, 255], [0, 0, 0, 0]]]
    assert picture.has_alpha


@pytest.mark.parametrize(("kind", "options"), [("WEBP", {"lossless": True, "exact": True}), ("TIFF", {})])
def test_webp_and_tiff(kind: str, options: dict[str, bool]) -> None:
    pixels = rgba(3)
    picture = decode(saved(Image.fromarray(pixels), kind, **options), f"a.{kind.lower()}")
    assert np.array_equal(picture.pixels, cleared(pixels))
    assert picture.file_format == kind.lower()
    assert picture.dpi is None


def test_a_tiff_with_multiplied_colour_is_divided_again() -> None:
    pixels = np.array([[[64, 0, 0, 128], [10, 20, 30, 255]]], np.uint8)
    data = saved(Image.fromarray(pixels), "TIFF")
    extra_samples = struct.Struct("<HHIHH")  # tag 338: 1 is associated alpha, 2 unassociated
    associated = data.replace(extra_samples.pack(338, 3, 1, 2, 0), extra_samples.pack(338, 3, 1, 1, 0))
    assert associated != data
    picture = decode(associated, "a.tiff")
    assert picture.pixels[0, 0].tolist() in ([127, 0, 0, 128], [128, 0, 0, 128])
    assert picture.pixels[0, 1].tolist() == [10, 20, 30, 255]


def test_stated_dpi_of_a_jpeg() -> None:
    image = Image.new("RGB", (20, 20), (200, 30, 30))
    assert decode(saved(image, "JPEG", dpi=(240, 240)), "a.jpg").dpi == pytest.approx(240, abs=0.05)
    assert decode(saved(image, "JPEG"), "a.jpg").dpi is None


def test_cmyk_jpeg_keeps_its_colours() -> None:
    """Pillow writes CMYK the way Adobe programs do: inverted. Wrong handling would give the negative."""
    image = Image.new("CMYK", (32, 16), (0, 255, 255, 0))
    image.paste((0, 0, 0, 0), (16, 0, 32, 16))
    picture = decode(saved(image, "JPEG", quality=95), "a.jpg")
    red, paper = picture.pixels[8, 4].astype(int), picture.pixels[8, 28].astype(int)
    assert red[0] > 180 > 90 > red[1]
    assert paper[:3].min() > 240
    assert "CMYK" in picture.remarks[0]


def test_an_embedded_profile_is_honoured() -> None:
    """A linear-light profile (gamma 1): stored 55 of 255 is sRGB 128, since 0.2158605 * 255 = 55.04."""
    linear = ImageCms.ImageCmsProfile(linear_profile())
    image = Image.new("RGB", (8, 8), (55, 55, 55))
    picture = decode(saved(image, "PNG", icc_profile=linear.tobytes()), "a.png")
    assert abs(int(picture.pixels[4, 4, 0]) - 128) <= 1
    assert picture.profile


def test_a_profile_is_honoured_at_16_bits_and_alpha_left_alone() -> None:
    """0.2158605 of 65535 is 14146: linear light that sRGB writes as 128."""
    values = np.array([[[14146, 14146, 14146, 32896]]], np.uint16)
    picture = decode(png_16(values, linear_profile().getvalue()), "a.png")
    assert picture.pixels.tolist() == [[[128, 128, 128, 128]]]


def linear_profile() -> io.BytesIO:
    """sRGB's primaries with straight curves, made by replacing the curve of LittleCMS's own sRGB profile."""
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    at = profile.index(b"para")
    profile[at : at + 32] = b"para" + bytes(4) + struct.pack(">HHi", 0, 0, 65536) + bytes(16)
    return io.BytesIO(bytes(profile))


def test_an_srgb_profile_leaves_every_pixel_alone() -> None:
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    pixels = rgba(5)
    picture = decode(saved(Image.fromarray(pixels), "PNG", icc_profile=srgb), "a.png")
    assert np.array_equal(picture.pixels, cleared(pixels))
    assert "sRGB" in picture.profile


def test_a_damaged_profile_is_ignored_with_a_remark() -> None:
    data = saved(Image.new("RGB", (4, 4), (9, 9, 9)), "JPEG", icc_profile=b"not a profile" * 20)
    picture = decode(data, "a.jpg")
    assert picture.pixels[0, 0].tolist() == [9, 9, 9, 255]
    assert picture.remarks == ("its colour profile is damaged and was ignored",)


def test_a_profile_for_another_kind_of_colour_is_ignored_with_a_remark() -> None:
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    grey = saved(Image.new("L", (4, 4), 99), "JPEG", icc_profile=srgb.replace(b"RGB XYZ ", b"CMYKXYZ "))
    assert decode(grey, "a.jpg").pixels[0, 0].tolist() == [99, 99, 99, 255]


@pytest.mark.parametrize("seed", range(40))
def test_a_damaged_file_is_read_or_refused_but_nothing_else(seed: int) -> None:
    rng = np.random.default_rng(seed)
    image = Image.fromarray(rgba(6, (30, 40)))
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    kind = ("PNG", "JPEG", "WEBP", "TIFF")[seed % 4]
    data = bytearray(saved(image.convert("RGB"), kind, icc_profile=srgb))
    for place in rng.integers(0, len(data), 12):
        data[place] = rng.integers(256)
    slug = ""
    try:
        decode(bytes(data), "x")
    except ShopError as error:
        slug = error.slug
    assert slug in ("", "art-cut-short", "art-damaged", "art-too-large", "art-unusual", "not-a-picture")


def test_content_decides_and_a_wrong_extension_is_remarked() -> None:
    picture = decode(saved(Image.new("RGB", (4, 4)), "PNG"), "bee.jpg")
    assert picture.file_format == "png"
    assert picture.remarks == ("its name says JPEG, but it is PNG",)
    assert decode(saved(Image.new("RGB", (4, 4)), "PNG"), "bee").remarks[0].startswith("its name has no")


def test_only_the_first_page_is_used_and_it_says_so() -> None:
    pages = [Image.new("RGB", (4, 4), colour) for colour in ((1, 2, 3), (9, 9, 9))]
    picture = decode(saved(pages[0], "TIFF", save_all=True, append_images=pages[1:]), "a.tif")
    assert picture.pixels[0, 0, :3].tolist() == [1, 2, 3]
    assert "2 pages" in picture.remarks[0]


def big_png_head(width: int, height: int) -> bytes:
    head = struct.pack(">IIBBBBB", width, height, 8, 6, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + png_chunk(b"IHDR", head) + png_chunk(b"IDAT", zlib.compress(b"\0" * 999))


def refusal(data: bytes, name: str, limits: DecodeLimits | None = None) -> ShopError:
    with pytest.raises(ShopError) as caught:
        decode(data, name, limits or DecodeLimits())
    sentence = caught.value.what
    assert str(caught.value).startswith(f"{name}: ")
    assert "\n" not in sentence
    assert not sentence.endswith(".")
    return caught.value


def test_an_image_bomb_is_refused_from_its_head() -> None:
    error = refusal(big_png_head(60_000, 60_000), "bomb.png")
    assert error.slug == "art-too-large"
    assert "60,000 x 60,000" in error.what


def test_a_large_jpeg_is_refused_before_its_pixels_are_read() -> None:
    data = saved(Image.new("L", (300, 200)), "JPEG")
    assert refusal(data, "a.jpg", DecodeLimits(max_pixels=59_999)).slug == "art-too-large"
    assert isinstance(decode(data, "a.jpg", DecodeLimits(max_pixels=60_000)), Picture)
    assert refusal(data, "a.jpg", DecodeLimits(max_bytes=100)).slug == "art-too-large"


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "WEBP", "TIFF"])
@pytest.mark.parametrize("share", [0.03, 0.5, 0.9])
def test_a_file_cut_short_is_one_sentence(kind: str, share: float) -> None:
    noise = np.random.default_rng(4).integers(0, 256, (90, 120, 3), dtype=np.uint8)
    data = saved(Image.fromarray(noise), kind)
    error = refusal(data[: int(len(data) * share)], f"cut.{kind.lower()}")
    assert error.slug == "art-cut-short"


def test_a_png_with_flipped_bytes_is_one_sentence() -> None:
    noise = np.random.default_rng(4).integers(0, 256, (90, 120, 3), dtype=np.uint8)
    data = bytearray(saved(Image.fromarray(noise), "PNG"))
    data[len(data) // 2 : len(data) // 2 + 40] = bytes(40)
    assert refusal(bytes(data), "flipped.png").slug in ("art-damaged", "art-cut-short")


@pytest.mark.parametrize(
    ("data", "slug"),
    [
        (b"", "empty-art"),
        (b"hello, this is a letter to my aunt", "not-a-picture"),
        (b"%PDF-1.7 and so on", "not-a-picture"),
        (b"GIF89a" + bytes(40), "not-a-picture"),
        (b"\x89PNG\r\n\x1a\n", "art-cut-short"),
        (big_png_head(40, 40), "art-cut-short"),
        (b"\xff\xd8\xff\xe0" + bytes(200), "art-cut-short"),
        (b"RIFF\x20\0\0\0WEBPVP8 " + bytes(40), "art-damaged"),
        (b"II*\0\xff\xff\xff\x7f" + bytes(40), "art-damaged"),
    ],
)
def test_what_is_no_picture_is_one_sentence(data: bytes, slug: str) -> None:
    assert refusal(data, "x.png").slug == slug


def test_numbers_that_are_not_integers_are_refused() -> None:
    assert refusal(saved(Image.new("F", (4, 4)), "TIFF"), "depth.tif").slug == "art-unusual"


def test_sixteen_bits_take_little_more_memory_than_their_pixels() -> None:
    """A poster of 119 megapixels took 3.8 GB: the sums were done for all of it at once.

    Counted is what numpy asks for, beside the decoded pixels, which libvips holds.
    """
    deep = np.random.default_rng(3).integers(0, 65536, (1200, 1500, 4), dtype=np.uint16)
    data = png_16(deep)
    tracemalloc.start()
    try:
        decode(data, "poster.png")
        _, peak = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert peak < 1.6 * deep.nbytes  # colour and result at half the room each, and one strip's sums
