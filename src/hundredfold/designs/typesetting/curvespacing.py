"""Where letters stand along a curve, so that the gaps between them are those of the line set flat.

On a curve the letters' feet or heads crowd while their other ends fan out. What the eye reads as spacing is
the white between two outlines, so each pair gets that white back: the least distance between the outlines,
measured at every height, is what it is in the flat line, and never less than ``LEAST_GAP``. A letter and its
marks move as one. Joined letters have no gaps; they keep their distances at a third of the ink's height,
from the side where they crowd.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from hundredfold.designs.typesetting.curves import Curve
from hundredfold.designs.typesetting.outline import Floats
from hundredfold.designs.typesetting.profiles import BANDS, LetterSides
from hundredfold.designs.typesetting.shaping import ShapedLine, Unit

LEAST_GAP = 0.03  # em between two outlines on a curve; common practice, no source
_TRUE_AT = 1 / 3  # where along the ink's height joined letters keep their distances
_ANCHOR = {"start": 0.0, "middle": 0.5, "end": 1.0}
_APART = 0.6  # em further than flat: where the search for a distance starts, clear of any collision
_STEPS = 8
_FAR = 1e3  # em: where a band without ink lies
_NARROW = 0.6  # em: letters on both sides of a narrower one may meet above or below it
_EVEN = 1e-3  # a curve whose bend varies by less of itself is a circle
_NEARLY = 0.03  # an arc drawn as cubics, as every program draws it, varies by up to 0.02


@dataclass(frozen=True, eq=False)
class CurveSpacing:
    """A line of ``size`` units to the em along ``curve``, ``rise`` units above it."""

    line: ShapedLine
    size: float
    curve: Curve
    align: str = "middle"
    rise: float = 0.0

    @property
    def even(self) -> bool:
        """Whether the curve bends the same all along: a circle or a line, where the spacing is exact."""
        return self._unevenness <= _EVEN

    @property
    def clear(self) -> bool:
        """Whether letters cannot touch: on an arc each pair keeps its gap, of ``LEAST_GAP`` at least."""
        return self._unevenness <= _NEARLY

    @property
    def _unevenness(self) -> float:
        bends = np.abs(self.curve.bends[1])
        return float(np.ptp(self.curve.bends[1])) / (float(bends.max()) or 1.0)

    @cached_property
    def at(self) -> Floats:
        """Distance along the curve of the middle of each of the line's units."""
        middles = np.array([unit.middle for unit in self.line.units])
        steps = np.diff(middles)
        places = self._aligned(
            middles[0] + np.concatenate([[0.0], np.cumsum(steps / self._rates(middles)[1:])])
        )
        for _ in range(1 if self.even else 3):
            steps = self._steps(places)
            places = self._aligned(np.concatenate([[0.0], np.cumsum(steps)]))
        return places

    def along(self, x: Floats) -> Floats:
        """Distances along the curve for positions in em, for letters that bend with it."""
        knots, places = self._knots
        value: Floats = np.interp(x, knots, places)
        return value

    def rate(self, x: Floats) -> Floats:
        """Distance along the curve per em."""
        knots, places = self._knots
        index = np.clip(np.searchsorted(knots, x) - 1, 0, len(knots) - 2)
        value: Floats = (np.diff(places) / np.diff(knots))[index]
        return value

    @cached_property
    def _knots(self) -> tuple[Floats, Floats]:
        middles = np.array([unit.middle for unit in self.line.units])
        spare = self.line.ink.width + 1.0
        first, last = self._rates(np.array([middles[0], middles[-1]]))
        knots = np.concatenate([[middles[0] - spare], middles, [middles[-1] + spare]])
        before, after = self.at[0] - spare * self.size / first, self.at[-1] + spare * self.size / last
        places = np.concatenate([[before], self.at, [after]])
        keep = np.concatenate([[True], np.diff(knots) > 1e-9])
        return knots[keep], places[keep]

    def _rates(self, x: Floats) -> Floats:
        """How much wider the curve is at the height where joined letters keep their distances."""
        bends = self.curve.bends[1]
        share = _TRUE_AT if bends.mean() >= 0 else 1 - _TRUE_AT
        height = self.rise + self.size * (self.line.ink.top + self.line.ink.height * share)
        value: Floats = np.full(len(x), max(1 + float(bends.mean()) * height, 0.05))
        return value

    def _aligned(self, places: Floats) -> Floats:
        """Places in em from anywhere, moved so that the ink starts, is centred or ends on the curve."""
        units, ink = self.line.units, self.line.ink
        first, last = self._rates(np.array([0.0, 0.0]))
        left = places[0] - (units[0].middle - ink.left) / first
        right = places[-1] + (ink.right - units[-1].middle) / last
        share = _ANCHOR[self.align]
        shift = self.curve.length * share - self.size * (left + (right - left) * share)
        value: Floats = places * self.size + shift
        return value

    def _steps(self, places: Floats) -> Floats:
        """The distance in em from each unit to the next."""
        units = self.line.units
        middles = np.array([unit.middle for unit in units])
        flat = np.diff(middles)
        between = (places[1:] + places[:-1]) / 2
        bend = self.curve.at(between)[2] * self.size
        lift = self.rise / self.size
        steps = flat / self._rates(between)
        drawn = [k for k, unit in enumerate(units) if unit.profile is not None and not unit.joined]
        for back in (1, 2):
            pairs = [
                (a, b)
                for a, b in zip(drawn, drawn[back:], strict=False)
                if not any(unit.joined for unit in units[a : b + 1])
                and (back == 1 or middles[b] - middles[a] < _NARROW)
            ]
            if not pairs:
                continue
            wanted = _distances(units, pairs, middles, bend, lift)
            for (a, b), distance in zip(pairs, wanted, strict=True):
                now = float(steps[a:b].sum())
                if back == 1 and now > 0:
                    steps[a:b] *= distance / now  # a space between them takes its share
                elif distance > now:
                    steps[b - 1] += distance - now
        return steps


def _distances(
    units: Sequence[Unit], pairs: Sequence[tuple[int, int]], middles: Floats, bend: Floats, lift: float
) -> Floats:
    """How far apart the middles of each pair stand, so that the outlines are as near as in the flat line."""
    right = _stacked([units[a].profile for a, _ in pairs], "right", lift)
    left = _stacked([units[b].profile for _, b in pairs], "left", lift)
    flat = np.array([middles[b] - middles[a] for a, b in pairs])
    turn = np.array([bend[a:b].mean() for a, b in pairs])
    goal = np.maximum(_gaps(right, left, flat, np.zeros(len(pairs))), LEAST_GAP)
    both = np.abs(np.concatenate([right, left], axis=1))
    reach = np.where(both < _FAR / 2, both, 0.0).max(axis=(1, 2))
    # No point of the second letter moves faster than this as it slides along, so a step never overshoots.
    fastest = 1 + np.abs(turn) * reach * 1.5
    apart = flat + _APART + np.abs(turn) * reach * flat
    for _ in range(_STEPS):
        apart = apart - (_gaps(right, left, apart, turn) - goal) / fastest
    value: Floats = np.maximum(apart, flat * 0.4)
    return value


def _stacked(profiles: Sequence[LetterSides | None], side: str, lift: float) -> Floats:
    out = np.full((len(profiles), BANDS, 2), _FAR if side == "left" else -_FAR)
    for index, profile in enumerate(profiles):
        if profile is not None:
            points = profile.right if side == "right" else profile.left
            out[index, : len(points)] = points
    out[..., 1] += lift
    used = max((len(p.right if side == "right" else p.left) for p in profiles if p is not None), default=1)
    value: Floats = out[:, :used]
    return value


def _gaps(right: Floats, left: Floats, apart: Floats, turn: Floats) -> Floats:
    """The least distance between a letter's right side and the left side of one that stands ``apart`` further
    along a curve of curvature ``turn`` (1/em, clockwise).
    """
    angle = apart * turn
    small = np.abs(turn) < 1e-9
    safe = np.where(small, 1.0, turn)
    x0 = np.where(small, apart, np.sin(angle) / safe)
    y0 = np.where(small, 0.0, (np.cos(angle) - 1) / safe)
    cos, sin = np.cos(angle)[:, None], np.sin(angle)[:, None]
    x = x0[:, None] + left[..., 0] * cos + left[..., 1] * sin
    y = y0[:, None] - left[..., 0] * sin + left[..., 1] * cos
    dx = x[:, None, :] - right[:, :, 0, None]
    dy = y[:, None, :] - right[:, :, 1, None]
    dx *= dx
    dy *= dy
    dx += dy
    value: Floats = np.sqrt(dx.min(axis=(1, 2)))
    return value


@lru_cache(maxsize=16)
def spacing_of(line: ShapedLine, size: float, curve: Curve, align: str, rise: float) -> CurveSpacing:
    """The spacing of a line that is fitted, set and looked at, worked out once."""
    return CurveSpacing(line, size, curve, align, rise)
