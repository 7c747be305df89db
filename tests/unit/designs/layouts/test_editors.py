"""Drawings saved by Inkscape 1.2.2: what is taken, and what is told."""

from pathlib import Path

import pytest

from hundredfold.designs.layouts.fill import fill_layout
from hundredfold.designs.layouts.layout import Layout, parse_layout
from hundredfold.designs.layouts.rows import Row
from hundredfold.workshop.shop.typefaces import find_font

DRAWINGS = Path(__file__).parents[3] / "support" / "inkscape"
DOT = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><circle cx="5" cy="5" r="5"/></svg>'


def drawing(name: str) -> Layout:
    return parse_layout((DRAWINGS / f"{name}.svg").read_bytes(), f"{name}.svg")


@pytest.mark.parametrize("name", sorted(path.stem for path in DRAWINGS.glob("*.svg")))
def test_each_is_filled(name: str) -> None:
    of = drawing(name)
    cells = {"title": "Proud beekeeper", "line": "stung & still smiling", "picture": "dot.svg"}
    fonts = {key: find_font(*key) for key in of.fonts()}
    done = fill_layout(of, Row("list.csv", 2, cells), fonts, {"dot.svg": DOT})
    assert done.svg, done.findings
    assert any("BEEKEEPER" in line.text.upper() for line in done.facts.lines) if done.facts else False


def test_text_in_a_shape_is_one_slot_in_its_box() -> None:
    (slot,) = drawing("flowed-in-shape").texts
    assert (slot.label, slot.fit) == ("{title} and {line}", "box")
    assert tuple(slot.box or ()) == (40, 40, 260, 200)
    (flow,) = drawing("flow-root").texts
    assert tuple(flow.box or ()) == (40, 40, 260, 200)


def test_a_layer_switched_off_is_no_slot() -> None:
    assert [slot.label for slot in drawing("layers").texts] == ["{title}"]


def test_spans_keep_colour_weight_and_slant() -> None:
    (slot,) = drawing("inks-in-a-line").texts
    _, bold, slanted = slot.spans
    assert (bold.fill, bold.weight) == ("#c2412d", 700)
    assert slanted.lean > 0


def test_what_is_not_kept_is_told_with_its_line() -> None:
    lost = drawing("turned-letters").lost
    assert {name for _, name in lost} == {"rotate", "textLength", "dx"}
    assert all(line for line, _ in lost)


def test_labels_are_found_as_well_as_ids() -> None:
    (slot,) = drawing("labels").texts
    assert tuple(slot.box or ()) == (30, 60, 270, 180)
