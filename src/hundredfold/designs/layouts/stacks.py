"""Stacks: things set under each other in a frame, moved together so that no hole opens between them.

The gaps are those of the drawing, between the boxes as they were drawn. What a row leaves out takes its gap
with it, and room that is over is shared: first a picture that may grow takes it, then a little goes between
the things, the rest above and below.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from lxml import etree

from hundredfold.designs.layouts.drawing import Drawing, local, number
from hundredfold.designs.layouts.elements import drop, elements
from hundredfold.designs.layouts.fixed import SHAPES, read_shape
from hundredfold.designs.layouts.settext import SetText
from hundredfold.designs.layouts.shapes import box_of
from hundredfold.designs.layouts.slots import ArtSlot, TextSlot
from hundredfold.designs.layouts.transforms import Matrix, map_box
from hundredfold.designs.typesetting.outline import Bounds, union

MOVED = "data-stack-moved"  # the matrix by which an element was moved, while the program works
_MARK = "data-slot-number"
_WIDER = 0.75  # by so much of itself a gap may grow; common practice, no source


@dataclass(frozen=True)
class Steps:
    """What a stack does to the slots, by their numbers: ``own`` steps down in the drawing's units of slots in
    a stack, ``carried`` the matrix of slots inside a group that is in one and takes them along, ``grown``
    how many times their drawn size pictures become; 0 leaves one out.
    """

    own: dict[str, float]
    carried: dict[str, Matrix]
    grown: dict[str, float]


@dataclass(frozen=True, eq=False)
class _Part:
    """A thing in a stack: its box as it was drawn, its ink, how it may grow, and by how much it did."""

    element: etree._Element
    box: Bounds
    ink: Bounds
    grow: tuple[float, float] | None
    times: float = 1.0

    @property
    def height(self) -> float:
        return self.ink.height * self.times


def stack_steps(
    drawing: Drawing,
    root: etree._Element,
    texts: Sequence[tuple[TextSlot, SetText]],
    arts: Sequence[tuple[ArtSlot, Bounds]],
    tops: Mapping[str, Sequence[float]],
) -> Steps:
    """How far down each text and art slot moves, and how large a picture that grows becomes. ``arts`` are
    those that the row fills, with their pictures' ink in the slot's units; ``tops`` is what ``drawn_tops``
    gave. Other stacked elements are moved in ``root``.
    """
    steps = Steps({}, {}, {})
    boxes = _slot_boxes(texts, arts)
    frames: dict[str, list[etree._Element]] = {}
    for element in elements(root):
        frame = element.get("data-stack")
        if frame:
            frames.setdefault(frame, []).append(element)
    for frame, members in frames.items():
        holder = drawing.by_id(frame)
        if holder is None:
            continue
        room = map_box(drawing.matrix(holder), box_of(holder))
        drawn = [part for element in members if (part := _part(drawing, element, boxes)) is not None]
        parts = _grown(drawn, room, tops[frame])
        for part in drawn:
            if part.element not in [kept.element for kept in parts]:
                _leave_out(part.element, steps)
        for part, top in zip(parts, _tops(parts, room, tops[frame]), strict=True):
            _place(part, top, steps)
    return steps


def drawn_tops(
    drawing: Drawing, texts: Sequence[TextSlot], arts: Sequence[ArtSlot]
) -> dict[str, tuple[float, ...]]:
    """Where the things of each frame's stack begin in the drawing, also those that a row may leave out."""
    drawn = [(slot.number, slot.matrix, slot.box) for slot in texts]
    drawn += [(slot.number, slot.matrix, slot.box) for slot in arts]
    boxes = {str(number): map_box(matrix, box) for number, matrix, box in drawn if box is not None}
    slots = {number: (box, box) for number, box in boxes.items()}
    tops: dict[str, tuple[float, ...]] = {}
    for element in elements(drawing.root):
        frame = element.get("data-stack")
        part = _part(drawing, element, slots) if frame else None
        if frame:
            tops[frame] = (*tops.get(frame, ()), *([part.box.top] if part is not None else []))
    return tops


def grow_of(element: etree._Element) -> tuple[float, float] | None:
    """The least and the most times its drawn size that a ``data-grow`` allows; None without one, or when it
    is no pair of numbers above 0, the smaller first.
    """
    values = [number(word, 0.0) for word in element.get("data-grow", "").split()]
    return (values[0], values[1]) if len(values) == 2 and 0 < values[0] <= values[1] else None


def _place(part: _Part, top: float, steps: Steps) -> None:
    slot = part.element.get(_MARK)
    if slot is not None:
        steps.own[slot] = top - part.ink.top
        steps.grown[slot] = part.times
        return
    times, middle = part.times, (part.ink.left + part.ink.right) / 2
    matrix = (times, 0.0, 0.0, times, middle * (1 - times), top - part.ink.top * times)
    _move(part.element, matrix)
    steps.carried.update({str(e.get(_MARK)): matrix for e in elements(part.element) if e.get(_MARK)})


def _leave_out(element: etree._Element, steps: Steps) -> None:
    for each in elements(element):
        slot = each.get(_MARK)
        if slot is not None:
            steps.grown[slot] = 0.0
    if element.get(_MARK) is None:
        drop(element)


def _grown(parts: Sequence[_Part], room: Bounds, drawn: Sequence[float]) -> list[_Part]:
    """The parts, those that grow at the size that fills the room; the last goes while there is none."""
    parts = list(parts)
    while growing := [part for part in parts if part.grow is not None]:
        tall = sum(part.height for part in growing)
        over = room.height - sum(part.height for part in parts) - sum(_gaps(parts, drawn))
        wanted = (tall + over) / (tall or 1.0)
        cramped = [part for part in growing if part.grow is not None and wanted < part.grow[0]]
        if not cramped:
            return [_times(part, wanted, room.width) for part in parts]
        parts.remove(cramped[-1])
    return parts


def _times(part: _Part, wanted: float, width: float) -> _Part:
    if part.grow is None:
        return part
    return replace(part, times=min(wanted, part.grow[1], width / (part.ink.width or 1.0)))


def _gaps(parts: Sequence[_Part], drawn: Sequence[float]) -> list[float]:
    """The gap under each but the last, to whatever was drawn next under it."""
    gaps = []
    for above, below in pairwise(parts):
        under = [top - above.box.bottom for top in (below.box.top, *drawn) if top >= above.box.bottom]
        gaps.append(min(under) if below.box.top > above.box.bottom else 0.0)
    return gaps


def _tops(parts: Sequence[_Part], room: Bounds, drawn: Sequence[float]) -> list[float]:
    """Where the ink of each thing starts."""
    gaps = _gaps(parts, drawn)
    over = room.height - sum(part.height for part in parts) - sum(gaps)
    wider = 1 + _WIDER * min(1.0, max(0.0, over) / (sum(gaps) + 1e-9) / 2) if gaps else 1.0
    over -= sum(gaps) * (wider - 1)
    at = room.top + over / 2
    tops = []
    for part, gap in zip(parts, [*gaps, 0.0], strict=True):
        tops.append(at)
        at += part.height + gap * wider
    return tops


def _slot_boxes(
    texts: Sequence[tuple[TextSlot, SetText]], arts: Sequence[tuple[ArtSlot, Bounds]]
) -> dict[str, tuple[Bounds, Bounds]]:
    boxes = {}
    for slot, done in texts:
        if done.ink is not None:
            ink = map_box(slot.matrix, done.ink)
            boxes[str(slot.number)] = (map_box(slot.matrix, slot.box) if slot.box is not None else ink, ink)
    for art, picture in arts:
        box = map_box(art.matrix, art.box)
        boxes[str(art.number)] = (box, map_box(art.matrix, picture) if art.grows else box)
    return boxes


def _part(
    drawing: Drawing, element: etree._Element, slots: Mapping[str, tuple[Bounds, Bounds]]
) -> _Part | None:
    slot = element.get(_MARK)
    if slot is not None:
        box, ink = slots.get(slot, (None, None))
        return _Part(element, box, ink, grow_of(element)) if box is not None and ink is not None else None
    inks = []
    for part in elements(element):
        slot = part.get(_MARK)
        if slot is not None and slot in slots:
            inks.append(slots[slot][1])
        elif local(part) in SHAPES:
            shape = read_shape(drawing, part, drawing.matrix(part))
            if shape is not None and shape.box is not None:
                inks.append(shape.box)
    whole = union(inks)
    return _Part(element, whole, whole, grow_of(element)) if whole is not None else None


def _move(element: etree._Element, matrix: Matrix) -> None:
    spoken = " ".join(f"{value:.6g}" for value in matrix)
    step = f"translate(0 {matrix[5]:.6g})" if matrix[0] == 1.0 else f"matrix({spoken})"
    element.set("transform", f"{step} {element.get('transform', '')}".strip())
    for part in elements(element):
        part.set(MOVED, spoken)


def moved_by(element: etree._Element) -> Matrix | None:
    """The matrix by which a stack moved what the layout draws; None where none did."""
    spoken = element.get(MOVED)
    if not spoken:
        return None
    a, b, c, d, e, f = map(float, spoken.split())
    return a, b, c, d, e, f
