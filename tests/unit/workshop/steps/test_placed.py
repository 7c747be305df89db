"""A design's own place and size on a blank."""

from dataclasses import replace
from pathlib import Path

import pytest
from goods import design, mug, shirt
from hypothesis import given
from hypothesis import strategies as st

from hundredfold.designs.nudge import Nudge
from hundredfold.ledger.events import Event, Happened
from hundredfold.placement.area import safe_box
from hundredfold.placement.layout import AreaLayout, lay_out
from hundredfold.placement.nudge import SMALLEST, nudged
from hundredfold.proofing.designproof import usual_layout
from hundredfold.workshop.shop.desk import desk
from hundredfold.workshop.shop.history import undo
from hundredfold.workshop.shop.newshop import new_shop
from hundredfold.workshop.steps.placed import nudges_of, place

LENGTHS = st.floats(-400, 400)


def usual() -> AreaLayout:
    blank = shirt()
    return lay_out(design().facts.ink, blank, blank.areas[0])


def test_a_nudge_moves_by_millimetres() -> None:
    blank, before = shirt(), usual()
    small = nudged(before, blank, Nudge(0.5)).placements[0]
    moved = nudged(before, blank, Nudge(0.5, 1, 1)).placements[0]
    per_mm = before.area.dpi / 25.4
    assert moved.left_px - small.left_px == pytest.approx(per_mm, abs=1)
    assert moved.top_px - small.top_px == pytest.approx(per_mm, abs=1)
    assert small.width_px == pytest.approx(before.placements[0].width_px / 2, abs=1)
    assert small.effective_dpi == pytest.approx(before.placements[0].effective_dpi * 2)


@given(st.floats(-1, 5), LENGTHS, LENGTHS)
def test_wherever_it_is_pushed_it_stays_in_the_safe_area(scale: float, right: float, down: float) -> None:
    before = usual()
    safe = safe_box(before.area)
    for placed in nudged(before, shirt(), Nudge(scale, right, down)).placements:
        assert placed.left_px >= safe.left
        assert placed.top_px >= safe.top
        assert placed.left_px + placed.width_px <= safe.right
        assert placed.top_px + placed.height_px <= safe.bottom
        assert placed.width_px >= before.placements[0].width_px * SMALLEST - 1


def test_a_design_keeps_its_own_place_on_that_blank_alone() -> None:
    blank, other = shirt(), mug()
    own = replace(design(), nudges={blank.code: Nudge(0.5)})
    there, usual_there = (usual_layout(one, blank, blank.areas[0]) for one in (own, design()))
    assert isinstance(there, AreaLayout)
    assert isinstance(usual_there, AreaLayout)
    assert there.placements[0].width_px < usual_there.placements[0].width_px
    assert usual_layout(own, other, other.areas[0]) == usual_layout(design(), other, other.areas[0])


def test_a_place_is_a_decision_that_undo_takes_back(tmp_path: Path) -> None:
    shop = tmp_path / "shop"
    new_shop(shop, sample=True)
    with desk(shop, "test") as opened:
        opened.store.append([Event(Happened.DESIGN_SEEN, "BEE", {"path": "designs/bee.png", "digest": "0"})])
    first = Nudge(0.8, 3.0, -2.5)
    place(shop, "BEE", "MUG-325", first)
    second = place(shop, "BEE", "MUG-325", Nudge(0.5))
    undo(shop, [second])
    with desk(shop, "") as opened:
        assert nudges_of(opened.store) == {"BEE": {"MUG-325": first}}
    place(shop, "BEE", "MUG-325", Nudge())
    with desk(shop, "") as opened:
        assert nudges_of(opened.store) == {"BEE": {}}
