"""A text slot as it was set."""

from dataclasses import dataclass, replace

from hundredfold.designs.layouts.quality import LineFacts
from hundredfold.designs.layouts.transforms import Matrix
from hundredfold.designs.typesetting.outline import Bounds, Outline


@dataclass(frozen=True, eq=False)
class SetText:
    """A slot as it was set. ``outline`` is in the slot's units; ``ink`` includes outlines and shadow."""

    outline: Outline
    ink: Bounds | None
    lines: tuple[LineFacts, ...]
    width_variation: float
    counters: tuple[int, int]  # closed, all
    parts: tuple[tuple[int, Outline], ...] = ()  # the outline by the style of its spans
    touching: tuple[
        tuple[str, str], ...
    ] = ()  # letters that lie together on a curve and not in the flat line

    def moved(self, dx: float, dy: float, matrix: Matrix) -> "SetText":
        """The same elsewhere, by a step in the slot's units."""
        if not dx and not dy:
            return self
        lines = tuple(replace(line, ink=_shifted(line.ink, matrix, dx, dy)) for line in self.lines)
        ink = (
            None
            if self.ink is None
            else Bounds(self.ink.left + dx, self.ink.top + dy, self.ink.right + dx, self.ink.bottom + dy)
        )
        parts = tuple((style, part.moved(dx, dy)) for style, part in self.parts)
        return replace(self, outline=self.outline.moved(dx, dy), parts=parts, ink=ink, lines=lines)


def _shifted(box: Bounds, m: Matrix, dx: float, dy: float) -> Bounds:
    right, down = m[0] * dx + m[2] * dy, m[1] * dx + m[3] * dy
    return Bounds(box.left + right, box.top + down, box.right + right, box.bottom + down)
