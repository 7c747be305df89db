"""The largest size at which text fits. Outlines scale with size, so most answers are closed formulas.

``stroke`` is the width of an outline drawn around the letters, in the box's units: half of it lies
outside the ink on every side.
"""

from hundredfold.designs.typesetting.curves import Curve
from hundredfold.designs.typesetting.setting import curve_overrun
from hundredfold.designs.typesetting.shaping import ShapedLine

_ROUNDS = 12
_CLOSE = 5e-4  # of the curve's length


def fit_width(line: ShapedLine, width: float, stroke: float = 0.0) -> float:
    """The size at which the ink and its outline are exactly ``width`` wide; 0 when nothing is drawn."""
    return max(0.0, width - stroke) / line.ink.width if line.ink.width > 0 else 0.0


def fit_height(line: ShapedLine, height: float, stroke: float = 0.0) -> float:
    """The size at which the ink and its outline are exactly ``height`` tall; 0 when nothing is drawn."""
    return max(0.0, height - stroke) / line.ink.height if line.ink.height > 0 else 0.0


def fit_line(line: ShapedLine, width: float, height: float, stroke: float = 0.0) -> float:
    """The largest size inside ``width`` by ``height``."""
    return min(fit_width(line, width, stroke), fit_height(line, height, stroke))


def fit_curve(
    line: ShapedLine,
    curve: Curve,
    largest: float,
    stroke: float = 0.0,
    align: str = "middle",
    rise: float = 0.0,
) -> float:
    """The largest size, at most ``largest``, at which the line stays between the ends of the curve.

    ``rise`` is how far above the curve the baseline lies, in em.
    """
    if line.ink.width <= 0:
        return 0.0
    room = -stroke / 2
    if curve_overrun(line, largest, curve, align, rise * largest) <= room:
        return largest
    low, high = 0.0, largest
    guess = min(largest, max(0.0, curve.length - stroke) / line.ink.width)
    for _ in range(_ROUNDS):
        over = curve_overrun(line, guess, curve, align, rise * guess)
        if over <= room:
            low = guess
            if room - over < _CLOSE * curve.length:
                break
        else:
            high = guess
        # The overrun is nearly linear in size, so a proportional step lands close; halving guards it.
        used = curve.length + 2 * (over - room)
        step = guess * curve.length / used if used > 0 else high
        step *= 1 - _CLOSE / 4
        guess = step if low < step < high else (low + high) / 2
    return low
