"""A channel's picture rules, checked on pixels: pure white backdrop, share of the frame, size, bytes."""

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.channels import PictureRules
from hundredfold.kernel.findings import Finding, Severity
from hundredfold.mockups.registry import Role

Bytes = NDArray[np.uint8]

# Common practice of marketplaces, no single source: the goods fill about 85 % of a main picture's longer
# side. Our plates are framed for it; cropping nearer risks cutting a handle.
LEAST_SHARE = 0.80
_OFF_WHITE = 250  # darker than this is goods or shadow


@dataclass(frozen=True)
class Measured:
    """What a finished picture is: its size, what its border is, and how much of the frame goods take."""

    width_px: int
    height_px: int
    border_white: bool
    share: float  # of the longer side of the frame, by the box of everything that is not white


def measured(picture: Bytes) -> Measured:
    """Measure an RGB picture."""
    height, width = picture.shape[:2]
    edges = (picture[0], picture[-1], picture[:, 0], picture[:, -1])
    dark = picture.min(2) < _OFF_WHITE
    rows, columns = np.flatnonzero(dark.any(1)), np.flatnonzero(dark.any(0))
    share = 0.0
    if len(rows):
        share = max((rows[-1] + 1 - rows[0]) / height, (columns[-1] + 1 - columns[0]) / width)
    return Measured(width, height, all(bool((e == 255).all()) for e in edges), float(share))


def fitted(picture: Bytes, rules: PictureRules) -> Bytes:
    """The picture at the channel's size: scaled by area, centred on white where the shape differs."""
    height, width = picture.shape[:2]
    scale = min(rules.width_px / width, rules.height_px / height)
    size = (max(1, round(width * scale)), max(1, round(height * scale)))
    if size != (width, height):
        how = cv2.INTER_AREA if scale < 1 else cv2.INTER_CUBIC
        picture = np.asarray(cv2.resize(picture, size, interpolation=how), np.uint8)
    if size == (rules.width_px, rules.height_px):
        return picture
    frame = np.full((rules.height_px, rules.width_px, 3), 255, np.uint8)
    top, left = (rules.height_px - size[1]) // 2, (rules.width_px - size[0]) // 2
    frame[top : top + size[1], left : left + size[0]] = picture
    return frame


def broken_rules(
    pictures: Sequence[tuple[Role, Bytes, int]], rules: PictureRules, item: str
) -> tuple[Finding, ...]:
    """Findings on a listing's finished pictures (role, RGB pixels, bytes of the file) against its channel."""
    found = []
    if len(pictures) > rules.max_count:
        found.append(
            _finding("count", item, f"{len(pictures)} pictures; the channel takes {rules.max_count}")
        )
    for role, picture, size in pictures:
        got = measured(picture)
        name = f"{item}, {role.value} picture"
        if (got.width_px, got.height_px) != (rules.width_px, rules.height_px):
            wanted = f"{rules.width_px} x {rules.height_px}"
            found.append(
                _finding("size", name, f"{got.width_px} x {got.height_px} px; the channel wants {wanted}")
            )
        if min(got.width_px, got.height_px) < rules.min_side_px:
            found.append(_finding("side", name, f"its shorter side is below {rules.min_side_px} px"))
        if size > rules.max_bytes:
            found.append(_finding("bytes", name, f"{size} bytes; the channel takes {rules.max_bytes}"))
        if role is Role.MAIN:
            found.extend(_main(got, name))
    return tuple(found)


def _main(got: Measured, name: str) -> list[Finding]:
    found = []
    if not got.border_white:
        found.append(_finding("backdrop", name, "its border is not pure white"))
    if got.share < LEAST_SHARE:
        found.append(
            _finding("share", name, f"the goods fill {got.share:.0%} of it, below {LEAST_SHARE:.0%}")
        )
    return found


def _finding(code: str, item: str, what: str) -> Finding:
    return Finding(
        check="picture/breaks-channel-rule",
        code=code,
        severity=Severity.WARN,
        item=item,
        what=what,
        fix="make the pictures again; if it stays, check the channel's picture rules",
    )
