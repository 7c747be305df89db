"""Masks of lettering: straight lines stacked, on an arc, round a ring; outlines by distance transform."""

from dataclasses import dataclass
from itertools import pairwise

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

Mask = NDArray[np.float32]  # 0-1


@dataclass(frozen=True)
class Line:
    """A line of text and its box on the art, in art pixels: left, top, right, bottom."""

    text: str
    box: tuple[int, int, int, int]


def line_mask(text: str, font: ImageFont.FreeTypeFont) -> Mask:
    """Tight mask of one line."""
    left, top, right, bottom = font.getbbox(text)
    image = Image.new("L", (max(1, int(right - left) + 4), max(1, int(bottom - top) + 4)))
    ImageDraw.Draw(image).text((2 - left, 2 - top), text, fill=255, font=font)
    mask = np.asarray(image, np.float32) / 255.0
    rows, columns = np.flatnonzero(mask.max(1) > 0.1), np.flatnonzero(mask.max(0) > 0.1)
    if rows.size == 0:
        return mask
    return mask[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]


def resized(mask: Mask, width: int, height: int) -> Mask:
    """The mask at another size, area averaged when it shrinks."""
    smaller = width < mask.shape[1]
    how = cv2.INTER_AREA if smaller else cv2.INTER_LINEAR
    return np.asarray(cv2.resize(mask, (max(1, width), max(1, height)), interpolation=how), np.float32)


def stacked(
    masks: list[Mask], widths: list[int], gap: float, canvas_width: int
) -> tuple[Mask, list[tuple[int, ...]]]:
    """Lines one below another, centred, each scaled to its width; returns the mask and the boxes."""
    scaled = [
        resized(mask, width, round(mask.shape[0] * width / mask.shape[1]))
        for mask, width in zip(masks, widths, strict=True)
    ]
    gaps = [round(gap * min(a.shape[0], b.shape[0])) for a, b in pairwise(scaled)]
    canvas = np.zeros((sum(m.shape[0] for m in scaled) + sum(gaps), canvas_width), np.float32)
    top = 0
    boxes: list[tuple[int, ...]] = []
    for mask, after in zip(scaled, [*gaps, 0], strict=True):
        height, width = mask.shape
        left = (canvas_width - width) // 2
        canvas[top : top + height, left : left + width] = mask
        boxes.append((left, top, left + width, top + height))
        top += height + after
    return canvas, boxes


def bent(mask: Mask, rise: float) -> Mask:
    """The line bent up into an arc whose middle stands ``rise`` of its width above its ends."""
    height, width = mask.shape
    lift = rise * width
    x = np.arange(width, dtype=np.float32)
    drop = (lift * ((2 * x / (width - 1) - 1) ** 2)).astype(np.float32)
    tall = height + int(np.ceil(lift)) + 1
    map_y = np.arange(tall, dtype=np.float32)[:, None] - drop[None, :]
    map_x = np.broadcast_to(x, (tall, width)).astype(np.float32)
    return np.asarray(cv2.remap(mask, map_x, map_y, cv2.INTER_LINEAR, borderValue=0), np.float32)


def around(mask: Mask, size: int, radius: float, under: bool) -> tuple[Mask, tuple[int, int, int, int]]:
    """The line wrapped round a circle of the given radius (to its baseline) on a square canvas."""
    height, width = mask.shape
    y, x = np.mgrid[0:size, 0:size].astype(np.float32) - np.float32(size / 2)
    reach = np.hypot(x, y)
    if under:
        along = np.arctan2(x, y) * radius
        up = reach - radius
        source = (along + width / 2, up)
    else:
        along = np.arctan2(x, -y) * radius
        up = radius + height - reach
        source = (along + width / 2, up)
    wrapped = cv2.remap(
        mask, source[0].astype(np.float32), source[1].astype(np.float32), cv2.INTER_LINEAR, borderValue=0
    )
    rows, columns = np.flatnonzero(wrapped.max(1) > 0.2), np.flatnonzero(wrapped.max(0) > 0.2)
    box = (
        (int(columns[0]), int(rows[0]), int(columns[-1]) + 1, int(rows[-1]) + 1)
        if rows.size
        else (0, 0, 1, 1)
    )
    return np.asarray(wrapped, np.float32), box


def grown(mask: Mask, by_px: float) -> Mask:
    """The mask grown by a distance, with a one-pixel soft edge."""
    distance = cv2.distanceTransform((mask < 0.5).astype(np.uint8), cv2.DIST_L2, 5)
    return np.asarray(np.clip(by_px - distance + 0.5, 0, 1), np.float32)


def padded(mask: Mask, by: int) -> Mask:
    """The mask with an empty border."""
    return np.pad(mask, by)
