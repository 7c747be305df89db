"""Goods whose shape no plate has: a stop instead of a picture of something else."""

from dataclasses import replace

import pytest
from proofing_subjects import MUG

from hundredfold.catalogue.blanks import Blank, Body, Cone, PrintArea
from hundredfold.catalogue.forms import Form
from hundredfold.proofing.runchecks import judge_blank

FLAT = PrintArea("front", 2400, 1200, 300)
STOPPED = ("picture/other-shape", "drawn-wrong")


def found(form: Form, body: Body, area: PrintArea = FLAT) -> list[tuple[str, str]]:
    blank: Blank = replace(MUG, form=form, body=body, areas=(area,))
    return [one.kind for one in judge_blank(blank) if one.check == "picture/other-shape"]


def band(top: float, bottom: float, high: float) -> PrintArea:
    return PrintArea("wrap", 3253, 1300, 300, cone=Cone(top, bottom, high))


@pytest.mark.parametrize(
    ("form", "body"),
    [
        (Form.TRAVEL_MUG, Body(diameter_mm=73, height_mm=260)),
        (Form.TRAVEL_MUG, Body(diameter_mm=80, height_mm=200)),
        (Form.CUSHION, Body(width_mm=500, height_mm=300)),
        (Form.T_SHIRT, Body(width_mm=590, height_mm=690)),  # a hoodie, given as a shirt
        (Form.MUG, Body(diameter_mm=82, height_mm=92)),
    ],
)
def test_another_shape_is_a_stop(form: Form, body: Body) -> None:
    assert found(form, body) == [STOPPED]


def test_a_cone_speaks_for_itself() -> None:
    body = Body(diameter_mm=88, height_mm=178)
    assert found(Form.TUMBLER, body, band(88, 72, 165)) == []
    assert found(Form.TUMBLER, body, band(86, 77, 100)) == []  # a band round the side alone
    assert found(Form.TUMBLER, body, band(80, 76, 100)) == [STOPPED]  # which tapers less
    assert found(Form.TUMBLER, body) == [STOPPED]  # a straight side, which no plate has
    assert found(Form.TUMBLER, body, band(88, 60, 165)) == [STOPPED]  # as wide and high, but more tapered


def test_the_same_shape_in_another_size_is_drawn_right() -> None:
    assert found(Form.CUSHION, Body(width_mm=400, height_mm=400)) == []
    assert found(Form.CUSHION, Body(width_mm=455, height_mm=450)) == []


def test_what_no_file_says_is_not_judged() -> None:
    assert found(Form.MUG, Body(diameter_mm=82)) == []
    assert found(Form.MUG, Body()) == []
