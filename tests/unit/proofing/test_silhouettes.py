"""The outlines of goods keep the measures of the blank."""

from dataclasses import replace

import pytest
from proofing_subjects import SHIRT

from hundredfold.catalogue.blanks import Body, Form
from hundredfold.proofing.silhouettes import outline_of


def test_a_bag_keeps_its_own_measures_below_its_straps() -> None:
    shape = outline_of(replace(SHIRT, form=Form.TOTE_BAG, body=Body(width_mm=380, height_mm=420)))
    (left, top), (right, bottom) = shape.body.min(axis=0), shape.body.max(axis=0)
    assert (right - left, bottom - top) == pytest.approx((380, 420))
    (strap,) = shape.behind
    assert 0 < strap[:, 1].min() < top - 100
    assert strap[:, 1].max() < top + 0.1 * 420, "the straps end at the hem"
    assert bottom < shape.frame_mm
    across, down = shape.face
    assert across == pytest.approx((left + right) / 2)
    # A print area of 320 mm lies within the bag, below the hem.
    assert top + 0.06 * 420 < down - 160 < down + 160 < bottom
