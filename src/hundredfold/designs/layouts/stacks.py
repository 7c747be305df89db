"""Stacks: things set under each other in a frame, moved together so that no hole opens between them.

The gaps are those of the drawing, between the boxes as they were drawn. What a row leaves out takes its gap
with it, and room that is over is shared: a little between the things, the rest above and below.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from lxml import etree

from hundredfold.designs.layouts.drawing import Drawing, local
from hundredfold.designs.layouts.elements import elements
from hundredfold.designs.layouts.fixed import SHAPES, read_shape
from hundredfold.designs.layouts.settext import SetText
from hundredfold.designs.layouts.shapes import box_of
from hundredfold.designs.layouts.slots import ArtSlot, TextSlot
from hundredfold.designs.layouts.transforms import map_box
from hundredfold.designs.typesetting.outline import Bounds, union

STEP = "data-stack-step"  # how far down an element was moved, while the program works
_MARK = "data-slot-number"
_WIDER = 0.75  # by so much of itself a gap may grow; common practice, no source


@dataclass(frozen=True)
class Steps:
    """Steps down in the drawing's units by a slot's number: of slots in a stack, and of slots inside a group
    that is in one, which moves them.
    """

    own: dict[str, float]
    carried: dict[str, float]


def stack_steps(
    drawing: Drawing,
    root: etree._Element,
    texts: Sequence[tuple[TextSlot, SetText]],
    arts: Sequence[ArtSlot],
    marked: Mapping[str | None, etree._Element],
) -> Steps:
    """How far down each text and art slot moves. Other stacked elements are moved in ``root``."""
    steps = Steps({}, {})
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
        parts = [(e, box) for e in members if (box := _boxes_of(drawing, e, boxes)) is not None]
        room = map_box(drawing.matrix(holder), box_of(holder))
        for (element, (_, ink)), top in zip(parts, _tops([box for _, box in parts], room), strict=True):
            step = top - ink.top
            slot = element.get(_MARK)
            if slot is not None:
                steps.own[slot] = step
            else:
                _move(element, step)
                steps.carried.update({str(e.get(_MARK)): step for e in elements(element) if e.get(_MARK)})
    return steps


def _tops(boxes: Sequence[tuple[Bounds, Bounds]], room: Bounds) -> list[float]:
    """Where the ink of each thing starts; ``boxes`` are as drawn, and of the ink."""
    gaps = [max(0.0, b[0].top - a[0].bottom) for a, b in pairwise(boxes)]
    over = room.height - sum(ink.height for _, ink in boxes) - sum(gaps)
    wider = 1 + _WIDER * min(1.0, max(0.0, over) / (sum(gaps) + 1e-9) / 2) if gaps else 1.0
    over -= sum(gaps) * (wider - 1)
    at = room.top + over / 2
    tops = []
    for (_, ink), gap in zip(boxes, [*gaps, 0.0], strict=True):
        tops.append(at)
        at += ink.height + gap * wider
    return tops


def _slot_boxes(
    texts: Sequence[tuple[TextSlot, SetText]], arts: Sequence[ArtSlot]
) -> dict[str, tuple[Bounds, Bounds]]:
    boxes = {}
    for slot, done in texts:
        if done.ink is not None:
            ink = map_box(slot.matrix, done.ink)
            boxes[str(slot.number)] = (map_box(slot.matrix, slot.box) if slot.box is not None else ink, ink)
    for art in arts:
        box = map_box(art.matrix, art.box)
        boxes[str(art.number)] = (box, box)
    return boxes


def _boxes_of(
    drawing: Drawing, element: etree._Element, slots: Mapping[str, tuple[Bounds, Bounds]]
) -> tuple[Bounds, Bounds] | None:
    slot = element.get(_MARK)
    if slot is not None:
        return slots.get(slot)
    inks = []
    for part in elements(element):
        slot = part.get(_MARK)
        if slot is not None and slot in slots:
            inks.append(slots[slot][1])
        elif local(part) in SHAPES:
            shape = read_shape(drawing, part, drawing.matrix(part))
            if shape is not None and shape.box is not None:
                inks.append(shape.box)
    ink = union(inks)
    return (ink, ink) if ink is not None else None


def _move(element: etree._Element, step: float) -> None:
    element.set("transform", f"translate(0 {step:.6g}) {element.get('transform', '')}".strip())
    for part in elements(element):
        part.set(STEP, f"{step:.6g}")
