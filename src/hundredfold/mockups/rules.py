"""A channel's picture rules: pictures brought to its size, and main pictures checked on their pixels.

Number, size and bytes of every picture are proved when its pack is verified; what only pixels tell, pure
white backdrop and share of the frame, is judged here.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.channels import PictureRules
from hundredfold.kernel.checks import CheckRecord
from hundredfold.kernel.findings import Finding, Severity
from hundredfold.mockups.resizing import resized

Bytes = NDArray[np.uint8]

# Common practice of marketplaces, no single source: the goods fill about 85 % of a main picture's longer
# side. Our plates are framed for it; cropping nearer risks cutting a handle.
LEAST_SHARE = 0.80
PLATE_PX = 1500  # a side of every plate, and so of what pictures are made at
CHECK = CheckRecord(
    id="picture/breaks-channel-rule",
    title="Main pictures stand on pure white, fill their frame and are not enlarged.",
    looks_at="the pixels of one finished main picture of each channel, blank and colour",
    why="Marketplaces turn back main pictures on a tinted ground, and goods that are small in the frame are "
    "passed over in a page of results. Pictures are made 1,500 px square: a larger one is enlarged, and no "
    "sharper for it.",
    example="A channel that wants pictures of 1000 x 600 px: an upright tumbler fills little of "
    "their length.",
    fix="Make width_px and height_px of the channel's pictures more alike, or ask the channel whether it "
    "minds.",
    known_limits="One picture speaks for all designs on that blank and colour. Not every channel asks "
    "for this.",
    source="common practice of marketplaces, no single source: goods fill about 85 % of the longer side",
    codes={"backdrop": Severity.WARN, "share": Severity.WARN, "enlarged": Severity.WARN},
)
_OFF_WHITE = 250  # darker than this is goods or shadow
# JPEG ripples near goods: 120 px pictures down to 241, 1200 px ones not at all (measured on ours).
_RIPPLE = 235
_LOOK = "look at the picture, and ask the channel whether it minds"


@dataclass(frozen=True)
class MeasuredPicture:
    """What a finished picture is: what its border is, and how much of the frame the goods take."""

    border_white: bool
    share: float  # of the longer side of the frame, by the box of everything that is not white
    side_px: int = PLATE_PX  # of the largest square in the frame


def measured(picture: Bytes) -> MeasuredPicture:
    """Measure an RGB picture."""
    height, width = picture.shape[:2]
    border = np.concatenate([picture[0], picture[-1], picture[:, 0], picture[:, -1]])
    dark = picture.min(2) < _OFF_WHITE
    rows, columns = np.flatnonzero(dark.any(1)), np.flatnonzero(dark.any(0))
    share = 0.0
    if len(rows):
        share = max((rows[-1] + 1 - rows[0]) / height, (columns[-1] + 1 - columns[0]) / width)
    white = bool((np.median(border, axis=0) == 255).all() and border.min() >= _RIPPLE)
    return MeasuredPicture(white, float(share), min(height, width))


def fitted(picture: Bytes, rules: PictureRules) -> Bytes:
    """The picture at the channel's size: scaled whole, centred on white where the shape differs."""
    height, width = picture.shape[:2]
    scale = min(rules.width_px / width, rules.height_px / height)
    size = (max(1, round(width * scale)), max(1, round(height * scale)))
    picture = resized(picture, size)
    if size == (rules.width_px, rules.height_px):
        return picture
    frame = np.full((rules.height_px, rules.width_px, 3), 255, np.uint8)
    top, left = (rules.height_px - size[1]) // 2, (rules.width_px - size[0]) // 2
    frame[top : top + size[1], left : left + size[0]] = picture
    return frame


def broken_rules(got: MeasuredPicture, item: str) -> tuple[Finding, ...]:
    """Findings on one finished main picture: what is usual of them, and its size in pixels cannot tell."""
    found = []
    if not got.border_white:
        found.append(CHECK.finds("backdrop", item, "its border is not pure white", _LOOK))
    if got.share < LEAST_SHARE:
        what = f"the goods fill {got.share:.0%} of it, below {LEAST_SHARE:.0%}"
        fix = "make width_px and height_px of the channel's pictures more alike, or ask whether it minds"
        found.append(CHECK.finds("share", item, what, fix))
    if got.side_px > PLATE_PX:
        what = (
            f"it is enlarged from {PLATE_PX:,} to {got.side_px:,} px, {got.side_px / PLATE_PX - 1:.0%} more"
        )
        fix = f"set width_px and height_px of the channel's pictures to {PLATE_PX} or less, if it takes that"
        found.append(CHECK.finds("enlarged", item, what, fix))
    return tuple(found)
