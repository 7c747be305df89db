"""Close-ups: how near they go, and that a mug in one colour shows no line where two would meet."""

from dataclasses import replace

import numpy as np
import pytest

from hundredfold.designs.facts import Box
from hundredfold.mockups.nearness import along_border, close_up, edges_along_border
from hundredfold.workshop.steps.plates import load_plate


def test_outline_along_the_border_is_counted_by_its_length() -> None:
    """A square of half the frame, seen twice as near, lies with its four sides along the border."""
    solid = np.zeros((1000, 1000), bool)
    solid[260:740, 260:740] = True
    assert along_border(solid, (500.0, 500.0), 2.0) == pytest.approx(4.0, abs=0.3)
    assert along_border(solid, (500.0, 500.0), 2.4) == 0  # cloth from border to border
    assert along_border(solid, (500.0, 500.0), 1.5) == 0  # white all round


def test_a_step_of_light_along_the_border_is_counted_on_the_goods_alone() -> None:
    """Twice as near the frame shows rows 250 to 750, its border 15 of them."""
    goods = np.ones((1000, 1000), bool)
    for row, expected in ((255, 1.0), (245, 0.0), (270, 0.0), (745, 1.0)):
        light = np.full((1000, 1000), 0.9, np.float32)
        light[:row] = 0.8
        assert edges_along_border(light, goods, (500.0, 500.0), 2.0) == expected
        half = goods & (np.arange(1000) < 500)
        assert edges_along_border(light, half, (500.0, 500.0), 2.0) == expected / 2


@pytest.mark.parametrize(
    ("name", "view", "room"),
    [
        ("mug-445", "handle-right", Box(175, 282, 958, 1316)),  # the lip of its rim
        ("travel-mug", "front", Box(516, 412, 984, 1064)),  # a sliver of its lid
    ],
)
def test_a_close_up_moves_off_rim_and_lid(name: str, view: str, room: Box) -> None:
    plate = load_plate(name, view)
    box, shape = plate.box, (plate.size_px, plate.size_px)
    solid, light = np.zeros(shape, bool), np.zeros(shape, np.float32)
    part = np.s_[box.top : box.bottom, box.left : box.right]
    solid[part] = plate.planes["cover"] > 127
    light[part] = np.sqrt(plate.linear("gloss") + plate.linear("response"))
    (x, y), near = close_up(plate, room)
    assert edges_along_border(light, solid, (x, y), near) < 0.1
    half = plate.size_px / near / 2  # all of the room is in the frame
    assert max(x - half - room.left, room.right - x - half) <= 0
    assert max(y - half - room.top, room.bottom - y - half) <= 0


@pytest.mark.parametrize(
    ("name", "view", "room"),
    [
        ("t-shirt", "front", Box(517, 450, 984, 1070)),  # slivers of table beside the body
        ("tote-bag", "front", Box(530, 690, 970, 1240)),  # its hem, cut
        ("mug-325", "handle-right", Box(120, 320, 900, 1280)),  # its foot, shaved
    ],
)
def test_a_close_up_moves_off_the_outline(name: str, view: str, room: Box) -> None:
    plate = load_plate(name, view)
    solid = np.zeros((plate.size_px, plate.size_px), bool)
    box = plate.box
    solid[box.top : box.bottom, box.left : box.right] = plate.planes["cover"] > 127
    centre, near = close_up(plate, room)
    assert along_border(solid, centre, near) < 0.2
    assert 1.14 <= near <= 2.24
    assert near * room.width <= plate.size_px  # nothing of the room is cut at the sides


def test_one_colour_shows_no_line_where_two_would_meet() -> None:
    """What both colours answer, a step up and a step down, still adds up to one in the close-up."""
    plate = load_plate("mug-445", "handle-right")
    left = np.zeros((plate.box.height, plate.box.width), np.uint8)
    left[:, : plate.box.width // 2] = 200
    planes = {**plate.planes, "response": left, "second_response": 200 - left}
    close = replace(plate, planes=planes, peaks={**plate.peaks, "response": 1.0, "second_response": 1.0})
    near = close.closer((750.0, 750.0), 1.4)
    both = near.linear("response") + near.linear("second_response")
    assert both == pytest.approx((200 / 255) ** 2, rel=0.02)
