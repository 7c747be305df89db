"""Lines under each other inside a box, apart where their letters would meet."""

from collections.abc import Sequence
from dataclasses import dataclass

from hundredfold.designs.layouts.slots import TextSlot
from hundredfold.designs.typesetting.outline import EMPTY, Bounds, Outline
from hundredfold.designs.typesetting.profiles import least_drop
from hundredfold.designs.typesetting.setting import set_line
from hundredfold.designs.typesetting.shaping import ShapedLine

_LINE_AIR = 0.03  # em between the outlines of two lines
_TINIEST_MM = 0.05  # smaller than this is no room at all


@dataclass(frozen=True, eq=False)
class PlacedLine:
    """A line as it stands, at a size, with the rules beside it."""

    line: ShapedLine
    size: float
    outline: Outline
    baseline: float = 0.0
    rules: Outline = EMPTY
    catch: bool = False
    touching: tuple[tuple[str, str], ...] = ()


def stacked(
    slot: TextSlot,
    lines: Sequence[tuple[ShapedLine, float]],
    box: Bounds,
    gap: float | None,
    leading: float = 0.0,
    between: float = 0.0,
) -> list[PlacedLine]:
    """Lines under each other inside ``box``: a gap between their inks, or a leading in em and more."""
    half = slot.stroke / 2
    baselines: list[float] = []
    at = 0.0
    for index, (line, size) in enumerate(lines):
        if gap is None:
            at = line.ink.bottom * size + half if index == 0 else at + leading * size + between
            baselines.append(at)
        else:
            baselines.append(at + line.ink.bottom * size + half)
            at = baselines[-1] - line.ink.top * size + half + gap
    if gap is None and len(lines) > 1:
        baselines = cleared(slot, lines, baselines)
    last, last_size = lines[-1]
    tall = baselines[-1] - last.ink.top * last_size + half
    spare = box.height - tall
    if gap is None and spare < -1e-6 * box.height and tall > 0:
        smaller = min(max(0.0, box.height - between * (len(lines) - 1)) / tall, 0.995)
        fewer = [(line, size * smaller) for line, size in lines]
        if fewer[0][1] * slot.mm_per_unit > _TINIEST_MM:
            return stacked(slot, fewer, box, gap, leading, between)
        return [PlacedLine(line, 0.0, EMPTY) for line, _ in lines]
    top = box.top + {"top": 0.0, "middle": spare / 2, "bottom": spare}[slot.valign]
    level = slot.align == "level"
    align = "middle" if level else slot.align
    x = {"start": box.left + half, "middle": (box.left + box.right) / 2, "end": box.right - half}[align]
    return [
        PlacedLine(
            line,
            size,
            _kept_in(set_line(line, size, x, top + y, align, "ink" if level else "optical"), box, half),
            top + y,
        )
        for (line, size), y in zip(lines, baselines, strict=True)
    ]


def cleared(
    slot: TextSlot, lines: Sequence[tuple[ShapedLine, float]], baselines: Sequence[float]
) -> list[float]:
    """The baselines moved apart where letters of two lines would meet."""
    align = "middle" if slot.align == "level" else slot.align
    cleared = [baselines[0]]
    above = set_line(*lines[0], 0.0, cleared[0], align, "optical")
    for (line, size), before, here in zip(lines[1:], baselines, baselines[1:], strict=False):
        y = cleared[-1] + here - before
        below = set_line(line, size, 0.0, y, align, "optical")
        least = _LINE_AIR * size + slot.stroke
        push = max(0.0, least - least_drop(above, below, size * 0.02, least))
        cleared.append(y + push)
        above = below.moved(0.0, push)
    return cleared


def _kept_in(outline: Outline, box: Bounds, half: float) -> Outline:
    """The outline moved back into the box, sideways, where hanging marks took it out."""
    ink = outline.bounds()
    if ink is None:
        return outline
    over = max(box.left - (ink.left - half), 0.0) - max(ink.right + half - box.right, 0.0)
    return outline.moved(over, 0.0) if over else outline
