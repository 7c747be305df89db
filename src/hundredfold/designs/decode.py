"""Raster files to pixels: upright, sRGB, straight alpha, 8 bits; refused before decoding when too large."""

import io
import warnings
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pyvips
from numpy.typing import NDArray
from PIL import Image, ImageCms

from hundredfold.designs.alpha import clear_hidden
from hundredfold.designs.header import kind_by_name, kind_of, png_header
from hundredfold.designs.vips import Bytes, as_array
from hundredfold.kernel.errors import ShopError, Where

_LOADERS = {
    "png": "pngload_buffer",
    "jpeg": "jpegload_buffer",
    "webp": "webpload_buffer",
    "tiff": "tiffload_buffer",
}
_STRIP_BYTES = 1 << 20
_USUAL = ("b-w", "grey16", "srgb", "rgb", "rgb16", "cmyk", "multiband")


@dataclass(frozen=True)
class DecodeLimits:
    """What is refused unread. The pixel limit allows a 30 x 40 inch print at 300 dpi."""

    max_pixels: int = 120_000_000
    max_side_px: int = 30_000
    max_bytes: int = 600_000_000


@dataclass(frozen=True)
class Picture:
    """Decoded art and what its file said.

    ``pixels`` is height x width x 4, uint8, sRGB-encoded, straight alpha, upright; colour under full
    transparency is zero. ``profile`` describes the embedded profile, ``dpi`` is as stated. ``remarks`` are
    sentences on what was odd but usable.
    """

    pixels: Bytes = field(repr=False, compare=False)
    file_format: str
    bits: int
    profile: str
    dpi: float | None
    has_alpha: bool
    vector: bool = False
    remarks: tuple[str, ...] = ()

    @property
    def width(self) -> int:
        """Pixels across."""
        return int(self.pixels.shape[1])

    @property
    def height(self) -> int:
        """Pixels down."""
        return int(self.pixels.shape[0])


DEFAULT_LIMITS = DecodeLimits()


def decode(data: bytes, name: str, limits: DecodeLimits = DEFAULT_LIMITS) -> Picture:
    """Pixels of a PNG, JPEG, WebP or TIFF held in memory; content decides the kind, not the name.

    Raises ShopError ``empty-art``, ``not-a-picture``, ``art-too-large``, ``art-cut-short``,
    ``art-damaged`` or ``art-unusual``; SVG is not taken here.
    """
    kind, image = inspect(data, name, limits)
    if image.format not in ("uchar", "ushort") or image.interpretation not in _USUAL:
        raise ShopError(
            "art-unusual",
            f"its pixels are stored as {image.format} {image.interpretation}, which print files do not use",
            "save it again as RGB with 8 or 16 bits a channel",
            Where(name),
        )
    profile_bytes = _metadata(image, "icc-profile-data")
    raw = _read(image, name, len(data))
    pixels, has_alpha, profile, remarks = _as_srgb_rgba(raw, image, profile_bytes)
    return Picture(
        pixels=_upright(pixels, _metadata(image, "orientation") or 1),
        file_format=kind,
        bits=_bits(data, kind, image),
        profile=profile,
        dpi=_stated_dpi(data, kind, image),
        has_alpha=has_alpha,
        remarks=_name_remarks(name, kind) + remarks + _page_remarks(data, kind, image),
    )


def _as_srgb_rgba(
    raw: NDArray[Any], image: Any, profile_bytes: bytes | None
) -> tuple[Bytes, bool, str, tuple[str, ...]]:
    """Pixels with hidden colour cleared, whether they came with alpha, the profile's name, and remarks."""
    colour_bands = min(raw.shape[2], _colour_bands(image.interpretation))
    has_alpha = raw.shape[2] > colour_bands
    colour, profile, remarks = _to_srgb(raw[:, :, :colour_bands], image, profile_bytes)
    if raw.dtype == np.uint8 and raw.shape[2] == 4 and has_alpha and np.shares_memory(colour, raw):
        pixels: Bytes = raw
    else:
        pixels = np.empty((*raw.shape[:2], 4), np.uint8)
        pixels[:, :, :3] = colour
        pixels[:, :, 3] = _to_8_bit(raw[:, :, colour_bands]) if has_alpha else 255
    if has_alpha:
        clear_hidden(pixels)
    return pixels, has_alpha, profile, remarks


def inspect(data: bytes, name: str, limits: DecodeLimits = DEFAULT_LIMITS) -> tuple[str, Any]:
    """The kind of a raster file and its libvips image, header read, size within limits, pixels unread.

    Raises as ``decode`` does.
    """
    kind = _checked_kind(data, name, limits)
    if _stated_end(data, kind) > len(data):
        raise _cut_short(name, len(data))
    image = _opened(data, name, kind)
    _refuse_large(image.width, image.height, name, limits)
    return kind, image


def _checked_kind(data: bytes, name: str, limits: DecodeLimits) -> str:
    if not data:
        raise ShopError("empty-art", "the file is empty", "export it again, or delete it", Where(name))
    if len(data) > limits.max_bytes:
        raise ShopError(
            "art-too-large",
            f"the file has {len(data):,} bytes, more than the {limits.max_bytes:,} that are read",
            "export it smaller",
            Where(name),
        )
    kind = kind_of(data)
    if kind not in _LOADERS:
        raise ShopError(
            "not-a-picture",
            "its content is none of PNG, JPEG, WebP, TIFF or SVG",
            "export the design as PNG and drop that in",
            Where(name),
        )
    if kind == "png":
        head = png_header(data)
        if head is None:
            raise _cut_short(name, len(data))
        _refuse_large(head.width, head.height, name, limits)
    return kind


def _refuse_large(width: int, height: int, name: str, limits: DecodeLimits) -> None:
    if width * height > limits.max_pixels or max(width, height) > limits.max_side_px:
        raise ShopError(
            "art-too-large",
            f"it is {width:,} x {height:,} pixels, more than the {limits.max_pixels:,} pixels or "
            f"{limits.max_side_px:,} a side that are read",
            "export it at the size of the largest print area",
            Where(name),
        )


def _cut_short(name: str, size: int) -> ShopError:
    return ShopError(
        "art-cut-short",
        f"the file ends too early (after {size:,} bytes)",
        "copy or export it again; the transfer was probably interrupted",
        Where(name),
    )


def _opened(data: bytes, name: str, kind: str) -> Any:
    loader = getattr(pyvips.Image, _LOADERS[kind])
    try:
        return loader(data, access="sequential", fail_on="truncated")
    except pyvips.Error as error:
        raise _unreadable(error, name, len(data)) from None


def _read(image: Any, name: str, size: int) -> NDArray[Any]:
    try:
        return as_array(image)
    except pyvips.Error as error:
        raise _unreadable(error, name, size) from None


def _unreadable(error: Exception, name: str, size: int) -> ShopError:
    lines = [line.strip() for line in str(error).splitlines() if line.strip()]
    reason = lines[-1] if lines else "no reason given"
    early = ("premature", "end of", "truncated", "not enough", "read error", "eof", "short")
    if any(word in reason.lower() for word in early):
        return _cut_short(name, size)
    return ShopError(
        "art-damaged",
        f"the picture cannot be read ({reason})",
        "open it in your drawing program and export it again",
        Where(name),
    )


def _metadata(image: Any, field_name: str) -> Any:
    return image.get(field_name) if image.get_typeof(field_name) else None


def _colour_bands(interpretation: str) -> int:
    return {"b-w": 1, "grey16": 1, "cmyk": 4}.get(interpretation, 3)


def _to_8_bit(values: NDArray[Any]) -> Bytes:
    """Rounded, not cut: 16-bit v becomes v / 257. In strips, since the sums take four times the room."""
    if values.dtype == np.uint8:
        return values
    eight = np.empty(values.shape, np.uint8)
    for strip in _strips(values):
        eight[strip] = (values[strip].astype(np.uint32) * 255 + 32767) // 65535
    return eight


def _strips(values: NDArray[Any]) -> Iterator[slice]:
    """Rows of a picture, a few megabytes at a time."""
    rows = max(1, _STRIP_BYTES // max(1, values[:1].nbytes))
    return (slice(top, top + rows) for top in range(0, len(values), rows))


def _to_srgb(colour: NDArray[Any], image: Any, profile: bytes | None) -> tuple[Bytes, str, tuple[str, ...]]:
    """Colour bands in sRGB, the profile's description, and remarks. LittleCMS through libvips.

    Relative colorimetric with black point compensation: whites stay white and shadows stay open.
    """
    description = _describe(profile) if profile else ""
    remark: tuple[str, ...] = ()
    try:
        if profile and description and _matters(profile, colour.shape[2]):
            return _managed(colour, image.interpretation, profile), description, ()
    except pyvips.Error:
        description = ""
    if profile and not description:
        remark = ("its colour profile is damaged and was ignored",)
    if image.interpretation == "cmyk":
        remark += ("it is CMYK without a profile, so its colours are a guess",)
        return _managed(colour, "cmyk", None), "", remark
    eight = _to_8_bit(colour)
    return (eight if eight.shape[2] == 3 else np.repeat(eight, 3, axis=2)), description, remark


def _managed(colour: NDArray[Any], interpretation: str, profile: bytes | None) -> Bytes:
    """In strips: a colour transform looks at one pixel at a time."""
    made = np.empty((*colour.shape[:2], 3), np.uint8)
    for strip in _strips(colour):
        made[strip] = _managed_strip(colour[strip], interpretation, profile)
    return made


def _managed_strip(colour: NDArray[Any], interpretation: str, profile: bytes | None) -> Bytes:
    source = pyvips.Image.new_from_array(np.ascontiguousarray(colour)).copy(interpretation=interpretation)
    options: dict[str, Any] = {"intent": "relative", "black_point_compensation": True, "depth": 8}
    if profile is None:
        return as_array(source.icc_transform("srgb", input_profile="cmyk", **options))
    source.set_type(pyvips.GValue.blob_type, "icc-profile-data", profile)
    return as_array(source.icc_transform("srgb", embedded=True, **options))


def _matters(profile: bytes, bands: int) -> bool:
    """Whether the profile changes any 8-bit colour of a coarse grid by more than rounding."""
    if bands != 3:
        return True
    steps = np.array([0, 32, 64, 96, 128, 160, 192, 224, 255], np.uint8)
    grid = np.stack(np.meshgrid(steps, steps, steps, indexing="ij"), axis=-1).reshape(27, 27, 3)
    moved = _managed(grid, "srgb", profile).astype(np.int16)
    return bool(np.abs(moved - grid).max() > 1)


def _describe(profile: bytes) -> str:
    """The profile's own description; empty when LittleCMS cannot read it."""
    try:
        opened = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        return ImageCms.getProfileDescription(opened).strip() or "unnamed profile"
    except (ImageCms.PyCMSError, OSError, ValueError):
        return ""


def _stated_end(data: bytes, kind: str) -> int:
    """How many bytes the file says it has, where libvips would fill in what is missing without a word."""
    if kind == "webp":
        return int.from_bytes(data[4:8], "little") + 8  # RIFF: the size that follows
    if kind != "tiff":
        return 0
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            with Image.open(io.BytesIO(data), formats=["TIFF"]) as tiff:
                tags: Any = getattr(tiff, "tag_v2", {})
                starts, sizes = tags.get(273) or tags.get(324) or (), tags.get(279) or tags.get(325) or ()
        except (OSError, ValueError, SyntaxError, Image.DecompressionBombError):
            return 0
    return max((start + size for start, size in zip(starts, sizes, strict=False)), default=0)


def _upright(pixels: Bytes, orientation: int) -> Bytes:
    """Turn stored pixels the way the EXIF orientation tag (0x0112) says they are to be seen."""
    turned = {
        2: lambda p: p[:, ::-1],
        3: lambda p: p[::-1, ::-1],
        4: lambda p: p[::-1],
        5: lambda p: p.transpose(1, 0, 2),
        6: lambda p: p[::-1].transpose(1, 0, 2),
        7: lambda p: p[::-1, ::-1].transpose(1, 0, 2),
        8: lambda p: p[:, ::-1].transpose(1, 0, 2),
    }.get(orientation, lambda p: p)(pixels)
    return np.ascontiguousarray(turned)


def _bits(data: bytes, kind: str, image: Any) -> int:
    head = png_header(data) if kind == "png" else None
    if head is not None:
        return head.bits
    stated = _metadata(image, "bits-per-sample")
    return int(stated) if stated else (16 if image.format == "ushort" else 8)


def _stated_dpi(data: bytes, kind: str, image: Any) -> float | None:
    if kind == "png":
        head = png_header(data)
        return head.dpi if head else None
    # libvips invents 72 dpi for a JPEG that states none, but names the unit only when one is stated.
    if not image.get_typeof("resolution-unit"):
        return None
    return round(float(image.xres) * 25.4, 2)


def _name_remarks(name: str, kind: str) -> tuple[str, ...]:
    promised = kind_by_name(name)
    if promised == kind:
        return ()
    if not promised:
        return (f"its name has no picture extension, but it is {kind.upper()}",)
    return (f"its name says {promised.upper()}, but it is {kind.upper()}",)


def _page_remarks(data: bytes, kind: str, image: Any) -> tuple[str, ...]:
    head = png_header(data) if kind == "png" else None  # libvips knows nothing of animated PNG
    pages = head.frames if head else _metadata(image, "n-pages") or 1
    return () if pages == 1 else (f"it has {pages} pages or frames; only the first is used",)
