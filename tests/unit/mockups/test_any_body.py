"""Goods of any measures: their picture is right, or a check stops them."""

import numpy as np

from tools.bodies import RIGHT_MM, random_blank, tried


def test_the_picture_is_right_to_a_third_of_a_millimetre_or_a_stop() -> None:
    """Dots in finished pictures, beside a geometry of the test's own; 200 bodies by ``tools.bodies``."""
    rng = np.random.default_rng(11)
    every = [tried(random_blank(rng), rng) for _ in range(14)]
    drawn = [one for one in every if not one.stopped]
    assert 4 <= len(drawn) <= 12
    assert all(one.dots >= 3 for one in drawn)
    assert max(one.error_mm for one in drawn) < RIGHT_MM
