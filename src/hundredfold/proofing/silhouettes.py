"""The outlines of goods seen from the front, in millimetres of a square frame: plain drawings."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import Blank, Form
from hundredfold.proofing.thumb import FILLS, HANDLE, SLEEVES

Points = NDArray[Any]  # n x 2, millimetres from the frame's top left


@dataclass(frozen=True)
class Outline:
    """A drawing: the printed body, what lies behind it (a handle, straps), fine lines on top."""

    frame_mm: float  # side of the square frame
    body: Points
    behind: tuple[Points, ...]
    lines: tuple[Points, ...]
    face: tuple[float, float]  # where the middle of the print area lies
    width_mm: float
    floor_mm: float  # the table it stands on
    round: bool
    taper: float = 1.0  # bottom width over top width

    def widening(self, y_mm: Points) -> Points:
        """Width at a height, over the width at the top."""
        top = float(self.body[:, 1].min())
        share = np.clip((y_mm - top) / max(self.floor_mm - top, 1e-6), 0, 1)
        return np.asarray(1 + (self.taper - 1) * share)


def outline_of(blank: Blank) -> Outline:
    """The drawing of a blank by its form and measures."""
    return _DRAWN[blank.form](blank)


def _measures(
    blank: Blank, handle: float = 0.0, above: float = 0.0
) -> tuple[float, float, float, float, float]:
    """Width, height, frame side, and the body's left and top in the frame.

    Room for a ``handle`` beside the body is a share of its width, room ``above`` it a share of its height.
    """
    area = blank.areas[0]
    width = blank.body.diameter_mm or blank.body.width_mm or area.width_mm * 1.33
    height = blank.body.height_mm or area.height_mm * 1.25
    across = width * (1 + handle)
    tall = height * (1 + above)
    frame = max(across, tall) / FILLS
    return width, height, frame, (frame - across) / 2, (frame + tall) / 2 - height


def _arc(centre: tuple[float, float], across: float, down: float, start: float, end: float) -> Points:
    turn = np.radians(np.linspace(start, end, 25))
    return np.stack([centre[0] + across * np.cos(turn), centre[1] + down * np.sin(turn)], axis=1)


def _vessel(blank: Blank, taper: float, handle: float, foot: float = 0.06) -> Outline:
    width, height, frame, left, top = _measures(blank, handle)
    middle, floor = left + width / 2, top + height
    half, low = width / 2, width / 2 * taper
    lip = 0.05 * width
    body = np.vstack(
        [
            _arc((middle, top + lip), half, lip, 180, 360),
            [[middle + low + (half - low) * 0.06, floor - foot * height]],
            _arc((middle, floor - foot * height), low, foot * height, 0, 180),
        ]
    )
    rim = _arc((middle, top + lip), half, lip, 0, 180)
    behind: tuple[Points, ...] = ()
    if handle:
        outer = _arc((middle + half * 0.93, top + 0.5 * height), handle * width, 0.31 * height, -90, 90)
        inner = _arc((middle + half * 0.93, top + 0.5 * height), handle * width * 0.68, 0.2 * height, 90, -90)
        behind = (np.vstack([outer, inner]),)
    clearance = blank.body.rim_clearance_mm
    area_mm = min(blank.areas[0].height_mm, height)
    face = top + (clearance + area_mm / 2 if clearance is not None else height / 2)
    face = min(face, floor - area_mm / 2) if area_mm < height else top + height / 2
    return Outline(frame, body, behind, (rim,), (middle, face), width, floor, True, taper)


def _taper(blank: Blank, usual: float) -> float:
    cone = blank.areas[0].cone
    return cone.bottom_diameter_mm / cone.top_diameter_mm if cone else usual


def _mug(blank: Blank) -> Outline:
    return _vessel(blank, 1.0, HANDLE)


def _tumbler(blank: Blank) -> Outline:
    return _vessel(blank, _taper(blank, 0.78), 0.0)


def _shot(blank: Blank) -> Outline:
    return _vessel(blank, _taper(blank, 0.8), 0.0, 0.08)


def _flat(
    blank: Blank,
    shape: Points,
    lines: tuple[Points, ...] = (),
    behind: tuple[Points, ...] = (),
    lift: float = 0.0,
    wider: float = 1.0,
    above: float = 0.0,
) -> Outline:
    """Cloth lying flat; ``shape`` in shares of width (times ``wider``) and height.

    ``lift`` moves the print up by a share of the height; what lies behind rises ``above`` it by another.
    """
    width, height, frame, left, top = _measures(blank, wider - 1, above)
    width *= wider
    size, at = np.array([width, height]), np.array([left, top])
    scaled = [np.asarray(points) * size + at for points in (shape, *lines, *behind)]
    face = (left + width / 2, top + height * (0.5 - lift))
    return Outline(
        frame,
        scaled[0],
        tuple(scaled[1 + len(lines) :]),
        tuple(scaled[1 : 1 + len(lines)]),
        face,
        width,
        top + height,
        False,
    )


def _cushion(blank: Blank) -> Outline:
    along = np.linspace(0, 1, 21)
    bow = 0.035 * np.sin(np.pi * along)
    shape = np.vstack(
        [
            np.stack([along, bow], axis=1),
            np.stack([1 - bow, along], axis=1),
            np.stack([1 - along, 1 - bow], axis=1),
            np.stack([bow, 1 - along], axis=1),
        ]
    )
    return _flat(blank, shape)


def _towel(blank: Blank) -> Outline:
    shape = np.array([[0, 0], [1, 0], [1, 1], [0, 1]], float)
    hems = tuple(np.array([[0.0, y], [1.0, y]]) for y in (0.025, 0.975))
    return _flat(blank, shape, hems)


def _tote(blank: Blank) -> Outline:
    # The bag is as wide and high as the blank says; the straps rise above it.
    shape = np.array([[0, 0], [1, 0], [0.985, 1], [0.015, 1]], float)
    outer = _arc((0.5, 0.02), 0.26, 0.34, 180, 360)
    strap = np.vstack([outer, _arc((0.5, 0.02), 0.2, 0.28, 360, 180)])
    hem = np.array([[0.0, 0.06], [1.0, 0.06]])
    return _flat(blank, shape, (hem,), (strap,), lift=-0.03, above=0.32)


def _shirt(blank: Blank) -> Outline:
    # In shares of the width over the sleeves; the body itself is as wide as the blank says.
    right = [
        [0.61, 0.0], [0.72, 0.03], [1.0, 0.24], [0.91, 0.37], [0.825, 0.3], [0.825, 1.0],
    ]  # fmt: skip
    left = [[1 - x, y] for x, y in reversed(right)]
    neck = _arc((0.5, 0.0), 0.11, 0.08, 180, 0)
    shape = np.vstack([right, left, neck])
    collar = _arc((0.5, 0.0), 0.132, 0.105, 175, 5)
    return _flat(blank, shape, (collar,), lift=0.1, wider=SLEEVES)


_DRAWN: dict[Form, Callable[[Blank], Outline]] = {
    Form.MUG: _mug,
    Form.ENAMEL_MUG: _mug,
    Form.TRAVEL_MUG: _mug,
    Form.TUMBLER: _tumbler,
    Form.SHOT_GLASS: _shot,
    Form.CUSHION: _cushion,
    Form.TEA_TOWEL: _towel,
    Form.TOTE_BAG: _tote,
    Form.T_SHIRT: _shirt,
}
