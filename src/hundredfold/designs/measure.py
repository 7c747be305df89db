"""Facts of a picture, measured once. Thresholds that shape a fact stand here."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

import cv2
import imagehash
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from hundredfold.designs.alpha import over
from hundredfold.designs.decode import Picture
from hundredfold.designs.dominant import dominant
from hundredfold.designs.facts import Box, DesignFacts, EdgeColour, InkColour
from hundredfold.designs.tiles import Tile, tiles

Bytes = NDArray[np.uint8]


# Common practice, no source, for all four:
FAINT = 5  # alpha up to 2 %: nobody sees it, printers drop it
SOLID = 250  # alpha from 98 %: prints as full ink
RIM_PX = 5  # soft bands narrower than this are an anti-aliased rim, not soft ink
SPECK_PX = 16  # islands of fewer pixels are specks: about a third of a millimetre across at 300 dpi
_ONE_COLOUR = 12  # spread, per channel, that a border of one colour may show after JPEG
_LOOK_PX = 256


def measure(picture: Picture, digest: str, file_bytes: int) -> DesignFacts:
    """All facts of one picture; ``digest`` and ``file_bytes`` are of the file it came from."""
    pixels = picture.pixels
    alpha = alpha_of(pixels)
    opaque = not picture.has_alpha or int(alpha.min()) == 255
    ink = Box(0, 0, picture.width, picture.height) if opaque else ink_box(alpha)
    art = pixels[ink.top : ink.bottom, ink.left : ink.right]
    inside = alpha[ink.top : ink.bottom, ink.left : ink.right]
    return DesignFacts(
        digest=digest,
        pixel_digest=pixel_digest(pixels),
        file_format=picture.file_format,
        file_bytes=file_bytes,
        width_px=picture.width,
        height_px=picture.height,
        vector=picture.vector,
        dpi=picture.dpi,
        profile=picture.profile,
        bits=picture.bits,
        has_alpha=picture.has_alpha,
        ink=ink,
        ink_share=1.0 if opaque else round(float(np.count_nonzero(alpha > 127) / alpha.size), 6),
        soft_share=0.0 if opaque else soft_share(inside),
        edge_share=1.0 if opaque else edge_share(alpha),
        specks=0 if opaque else specks(inside),
        opaque_border=opaque_border(pixels),
        inks=tuple(InkColour(*ink) for ink in dominant(_ink_samples(art, inside))),
        outline=tuple(EdgeColour(*edge) for edge in dominant(_outline_samples(art, inside))),
        look=look(art),
        remarks=picture.remarks,
    )


def alpha_of(pixels: Bytes) -> Bytes:
    """The alpha of RGBA as a plane of its own."""
    return np.asarray(cv2.extractChannel(pixels, 3), np.uint8)


def ink_box(alpha: Bytes) -> Box:
    """The smallest box that holds every pixel with more than 2 % alpha; exact."""
    rows = np.flatnonzero(alpha.max(axis=1) > FAINT)
    if not rows.size:
        return Box(0, 0, 0, 0)
    columns = np.flatnonzero(alpha[rows[0] : rows[-1] + 1].max(axis=0) > FAINT)
    return Box(int(columns[0]), int(rows[0]), int(columns[-1]) + 1, int(rows[-1]) + 1)


def soft_share(alpha: Bytes) -> float:
    """Half-transparent pixels in bands at least RIM_PX wide, of all pixels with more than 2 % alpha."""
    soft = cv2.inRange(alpha, FAINT + 1, SOLID - 1) if alpha.size else alpha
    if not soft.size or not cv2.countNonZero(soft):
        return 0.0
    core = cv2.morphologyEx(soft, cv2.MORPH_OPEN, np.ones((RIM_PX, RIM_PX), np.uint8))
    return round(cv2.countNonZero(core) / cv2.countNonZero(_beyond(alpha, FAINT)), 6)


def edge_share(alpha: Bytes) -> float:
    """Of the pixels along the four borders, the share with more than 2 % alpha; exact."""
    border = np.concatenate([alpha[0], alpha[-1], alpha[1:-1, 0], alpha[1:-1, -1]])
    return round(float(np.count_nonzero(border > FAINT) / border.size), 6)


def specks(alpha: Bytes) -> int:
    """Islands (8-connected, more than 2 % alpha) of fewer than SPECK_PX pixels."""
    if not alpha.size:
        return 0
    mask = _beyond(alpha, FAINT)
    return sum(_specks_of(mask[tile.near], tile) for tile in tiles(mask.shape, SPECK_PX))


def _specks_of(near: Bytes, tile: Tile) -> int:
    """The specks whose box begins in the tile's own pixels; with what lies beside them they are whole."""
    inked = cv2.countNonZero(near)
    if not inked or inked == near.size >= SPECK_PX:
        return 0
    # Of the algorithms, which agree, the one that is fastest on large islands.
    how = cv2.CCL_BBDT
    _, _, stats, _ = cv2.connectedComponentsWithStatsWithAlgorithm(near, 8, cv2.CV_32S, how)
    left, top, area = (stats[1:, each] for each in (cv2.CC_STAT_LEFT, cv2.CC_STAT_TOP, cv2.CC_STAT_AREA))
    rows, columns = tile.inner
    own = (rows.start <= top) & (top < rows.stop) & (columns.start <= left) & (left < columns.stop)
    return int(np.count_nonzero(own & (area < SPECK_PX)))


def _beyond(alpha: Bytes, limit: int) -> Bytes:
    """A mask of 0 and 1: where alpha is more than the limit."""
    return np.asarray(cv2.threshold(alpha, limit, 1, cv2.THRESH_BINARY)[1], np.uint8)


def opaque_border(pixels: Bytes) -> bool:
    """All four borders opaque and of one colour: a background box that was not removed."""
    border = np.concatenate([pixels[0], pixels[-1], pixels[1:-1, 0], pixels[1:-1, -1]])
    return bool(border[:, 3].min() == 255 and np.ptp(border[:, :3], axis=0).max() <= _ONE_COLOUR)


def look(art: Bytes) -> str:
    """Perceptual hash of the ink box: 64 bits over white, then 64 over black, 32 hex digits.

    Over both, because white art vanishes on white and black art on black.
    """
    if not art.size:
        return "0" * 32
    small = _reduced(art, _LOOK_PX)
    grounds = ((255, 255, 255), (0, 0, 0))
    return "".join(str(imagehash.phash(Image.fromarray(over(small, ground)))) for ground in grounds)


def pixel_digest(pixels: Bytes) -> str:
    """sha256 over the size and the upright sRGB pixels."""
    height, width = pixels.shape[:2]
    digest = hashlib.sha256(f"{width}x{height} rgba ".encode())
    digest.update(np.ascontiguousarray(pixels).data)
    return digest.hexdigest()


def _reduced(art: Bytes, longest: int) -> Bytes:
    """The art averaged down, colour weighted by alpha, so that its longest side is about ``longest``."""
    step = max(1, max(art.shape[:2]) // (longest * 2))
    block = np.ascontiguousarray(art[::step, ::step])
    scale = min(1.0, longest / max(block.shape[:2]))
    size = (max(1, round(block.shape[1] * scale)), max(1, round(block.shape[0] * scale)))
    weighted = block.astype(np.float32)
    weighted[:, :, :3] *= weighted[:, :, 3:] / 255
    small = cv2.resize(weighted, size, interpolation=cv2.INTER_AREA)
    colour = small[:, :, :3] * (255 / np.maximum(small[:, :, 3:], 1e-3))
    result = np.empty(small.shape, np.uint8)
    result[:, :, :3] = np.clip(colour + 0.5, 0, 255)
    result[:, :, 3] = np.clip(small[:, :, 3] + 0.5, 0, 255)
    return result


def _ink_samples(art: Bytes, alpha: Bytes) -> Bytes:
    """Colours of solid ink; of all ink where none is solid."""
    step = max(1, int((alpha.size / 1_000_000) ** 0.5))
    words, alpha = _whole_pixels(art)[::step, ::step], alpha[::step, ::step]
    solid = alpha >= SOLID
    return _colours(words[solid if solid.any() else alpha > FAINT])


def _whole_pixels(art: Bytes) -> NDArray[np.uint32]:
    """Each pixel as one number: picked out in a third of the time."""
    return art.view(np.uint32)[:, :, 0]


def _colours(words: NDArray[np.uint32]) -> Bytes:
    return words.view(np.uint8).reshape(-1, 4)[:, :3]


def _outline_samples(art: Bytes, alpha: Bytes) -> Bytes:
    """Colours of the solid pixels two and three in from where the solid ink ends, inner edges too.

    The outermost solid pixel still carries some of what the art was drawn on; lines too thin to have a
    second one give theirs.
    """
    if not alpha.size:
        return art.reshape(-1, 4)[:, :3]
    solid = _beyond(alpha, SOLID - 1)
    if not cv2.countNonZero(solid):
        solid = _beyond(alpha, FAINT)
    solid = np.asarray(cv2.copyMakeBorder(solid, 3, 3, 3, 3, cv2.BORDER_CONSTANT, value=0), np.uint8)
    band = np.zeros(solid.shape, np.uint8)
    for tile in tiles(solid.shape, 3):
        near = solid[tile.near]
        if 0 < cv2.countNonZero(near) < near.size:
            band[tile.own] = _inner_rim(near)[tile.inner]
    rows, columns = np.divmod(np.flatnonzero(band.view(np.bool_)), solid.shape[1])
    return _colours(_whole_pixels(art)[rows - 3, columns - 3])


def _inner_rim(solid: Bytes) -> Bytes:
    """The pixels two and three in from where a mask of 0 and 1 ends, and lines that have none."""
    first = cv2.erode(solid, np.ones((3, 3), np.uint8))
    third = cv2.erode(first, np.ones((5, 5), np.uint8))
    regrown = cv2.dilate(first, np.ones((3, 3), np.uint8))
    # What is left of one without the other.
    band = cv2.bitwise_or(cv2.subtract(first, third), cv2.subtract(solid, regrown))
    return np.asarray(band, np.uint8)


def facts_as_json(facts: DesignFacts) -> bytes:
    """Canonical JSON: sorted keys, no spaces, UTF-8."""
    text = json.dumps(asdict(facts), sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return text.encode()


def facts_from_json(data: bytes | str) -> DesignFacts:
    """The inverse of ``facts_as_json``. Raises KeyError or TypeError on another shape."""
    fields: dict[str, Any] = dict(json.loads(data))
    fields["ink"] = Box(**_mapping(fields["ink"]))
    fields["inks"] = tuple(InkColour(**_mapping(ink)) for ink in fields["inks"])
    fields["outline"] = tuple(EdgeColour(**_mapping(edge)) for edge in fields["outline"])
    fields["remarks"] = tuple(fields["remarks"])
    return DesignFacts(**fields)


def _mapping(value: Any) -> Mapping[str, Any]:
    if not isinstance(value, Mapping):
        raise TypeError(f"expected an object, found {value!r}")
    return value
