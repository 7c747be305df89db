"""What a lettering designer would send back: findings on one filled layout."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import cv2
import numpy as np

from hundredfold.designs.layouts.fixed import Mask, drawn_mask
from hundredfold.designs.layouts.quality import LineFacts, SetFacts
from hundredfold.designs.layouts.settext import SetText
from hundredfold.designs.layouts.slots import TextSlot
from hundredfold.designs.layouts.transforms import map_box
from hundredfold.designs.typesetting.outline import Bounds
from hundredfold.designs.typesetting.smallwords import is_small

# Common practice, no source.
_OFF_PAGE_MM = 0.3
_SHRUNK = 0.3  # of the size the slot was drawn with
_CLOSED = 0.25  # of the rooms inside letters
_CROSSED = 0.01  # of a slot's ink
_INVERTED = 0.9  # of the size of what was drawn smaller
CLEARLY_LARGER = 1.25
_UNEVEN = 1.3
_RAGGED = 0.5


@dataclass(frozen=True)
class Judgement:
    """One thing to know about a filled layout."""

    code: str
    what: str
    fix: str
    numbers: Mapping[str, float | int | str] = field(default_factory=dict)


@dataclass(frozen=True, eq=False)
class Judged:
    """All that is looked at. ``shapes`` and ``pictures`` are masks of what the drawing shows besides
    words."""

    view: tuple[float, float, float, float]
    mm_per_unit: float
    language: str
    slots: Sequence[tuple[TextSlot, SetText]]
    facts: SetFacts
    shapes: Sequence[tuple[str, Mask]]
    pictures: Sequence[tuple[str, Bounds]]


def judge(it: Judged) -> tuple[Judgement, ...]:
    """Everything to say."""
    return (
        *_off_page(it),
        *_crossings(it),
        *_touching(it),
        *_too_small(it),
        *_shrunk(it),
        *_hierarchy(it),
        *_closed(it),
        *_lists(it),
        *_lines(it),
    )


def _off_page(it: Judged) -> Iterator[Judgement]:
    left, top, width, height = it.view
    page, slack = Bounds(left, top, left + width, top + height), _OFF_PAGE_MM / it.mm_per_unit
    for slot, done in it.slots:
        if done.ink is not None and not page.holds(map_box(slot.matrix, done.ink), slack):
            yield Judgement(
                "off-page",
                f"“{_words(done)}” runs off the page",
                "move the slot inwards in the layout, or shorten the words",
            )


def _crossings(it: Judged) -> Iterator[Judgement]:
    inks = [
        (slot, done, drawn_mask(done.outline.affine(*slot.matrix), it.view))
        for slot, done in it.slots
        if done.lines
    ]
    kernel = np.ones((3, 3), np.uint8)
    for index, (slot, done, ink) in enumerate(inks):
        whole = int(ink.sum())
        if not whole or slot.behind:
            continue
        for other, other_done, other_ink in inks[index + 1 :]:
            shared = int((ink & other_ink).sum()) / min(whole, int(other_ink.sum()) or 1)
            if shared > _CROSSED and not other.behind:
                yield Judgement(
                    "overlap",
                    f"“{_words(done)}” and “{_words(other_done)}” lie over each other",
                    "shorten one of them, or give the slots more room",
                    {"share": round(shared, 3)},
                )
        wide = cv2.dilate(ink.astype(np.uint8), kernel).astype(bool)
        for name, mask in it.shapes:
            inside = int((ink & mask).sum())
            near = int((wide & mask).sum())
            if (
                near
                and inside < whole * (1 - _CROSSED)
                and (inside > whole * _CROSSED or near > whole * 0.02)
            ):
                yield Judgement(
                    "crosses",
                    f"“{_words(done)}” runs into the {name} beside it",
                    "shorten the words, or give the slot more room; data-behind allows it",
                    {"share": round(inside / whole, 3)},
                )
                break
        for name, box in it.pictures:
            x0, y0, x1, y1 = _pixels(box, it.view, ink.shape)
            shared = int(ink[y0:y1, x0:x1].sum()) / whole
            if _CROSSED < shared < 0.97:
                yield Judgement(
                    "crosses",
                    f"“{_words(done)}” runs into the picture {name}",
                    "shorten the words, or give the slot more room",
                    {"share": round(shared, 3)},
                )


def _pixels(
    box: Bounds, view: tuple[float, float, float, float], shape: tuple[int, ...]
) -> tuple[int, int, int, int]:
    scale = max(shape) / max(view[2], view[3])
    values = (box.left - view[0], box.top - view[1], box.right - view[0], box.bottom - view[1])
    x0, y0, x1, y1 = (max(0, round(value * scale)) for value in values)
    return x0, y0, x1, y1


def _touching(it: Judged) -> Iterator[Judgement]:
    for _, done in it.slots:
        if done.touching:
            pairs = ", ".join(f"{a}{b}" for a, b in done.touching[:4])
            yield Judgement(
                "letters-touch",
                f"letters of “{_words(done)}” touch: {pairs}",
                "choose a gentler curve, or let the slot's letters open: data-tracking",
                {"pairs": len(done.touching)},
            )


def _too_small(it: Judged) -> Iterator[Judgement]:
    small = min(
        (line for line in it.facts.lines if line.x_height_mm < line.least_x_height_mm - 1e-9),
        key=lambda line: line.x_height_mm / line.least_x_height_mm,
        default=None,
    )
    if small is not None:
        yield Judgement(
            "too-small",
            f"“{small.text}” only fits with letters {small.x_height_mm:.2f} mm tall; "
            f"the layout's least is {small.least_x_height_mm:g} mm",
            "shorten the words, or use a layout with more room",
            {"x_height_mm": round(small.x_height_mm, 3), "least_mm": small.least_x_height_mm},
        )


def _shrunk(it: Judged) -> Iterator[Judgement]:
    worst = min(
        (line for line in it.facts.lines if not line.catch), key=lambda line: line.shrink, default=None
    )
    if worst is not None and worst.shrink < _SHRUNK:
        yield Judgement(
            "over-shrunk",
            f"“{worst.text}” came out at {worst.shrink:.0%} of the size it was drawn with",
            "shorten the words, or use a layout with more room",
            {"share": round(worst.shrink, 3)},
        )


def _hierarchy(it: Judged) -> Iterator[Judgement]:
    sizes = [(slot, done, max(full)) for slot, done in it.slots if (full := _sizes(done))]
    for slot, done, size in sizes:
        drawn = slot.size * slot.mm_per_unit
        for other, other_done, other_size in sizes:
            if drawn > other.size * other.mm_per_unit * CLEARLY_LARGER and size < other_size * _INVERTED:
                yield Judgement(
                    "hierarchy",
                    f"“{_words(done)}” is drawn as the larger, and came out smaller than "
                    f"“{_words(other_done)}”",
                    "shorten it, or give the other slot a data-max-size",
                    {"share": round(size / other_size, 3)},
                )
                return
    yield from _shouting(it)


def _shouting(it: Judged) -> Iterator[Judgement]:
    for _, done in it.slots:
        lines = sorted((line for line in done.lines if not line.catch), key=lambda line: -line.size_mm)
        if len(lines) < 2 or lines[0].size_mm <= lines[1].size_mm * 1.02:
            continue
        if _all_small(lines[0], it.language):
            yield Judgement(
                "small-words-shout",
                f"“{lines[0].text}” is the largest line of “{_words(done)}”, and carries no sense",
                "reword it, or use another layout",
            )


def size_of(done: SetText) -> float:
    """The size of its largest full line, in mm; 0 when nothing was set."""
    return max(_sizes(done), default=0.0)


def _sizes(done: SetText) -> list[float]:
    return [line.size_mm for line in done.lines if not line.catch]


def _all_small(line: LineFacts, language: str) -> bool:
    return all(is_small(word, language) for word in line.text.split())


def _closed(it: Judged) -> Iterator[Judgement]:
    for slot, done in it.slots:
        closed, rooms = done.counters
        # An outline of another colour fills the rooms and leaves the letter to be read.
        if slot.edges and slot.edges[0].colour == slot.fill and closed > rooms * _CLOSED:
            yield Judgement(
                "closed-letters",
                f"outlines close {closed} of {rooms} rooms inside the letters of “{_words(done)}”",
                "shorten the words, or make the outlines thinner",
                {"share": round(closed / rooms, 3)},
            )


def _lists(it: Judged) -> Iterator[Judgement]:
    groups: dict[tuple[object, ...], list[tuple[float, SetText]]] = {}
    for slot, done in it.slots:
        if slot.fit == "box" and slot.align != "level" and done.lines:
            key = (slot.fonts, slot.weight, slot.size, slot.largest)
            groups.setdefault(key, []).append((max(line.size_mm for line in done.lines), done))
    for members in groups.values():
        large, small = max(members, key=lambda m: m[0]), min(members, key=lambda m: m[0])
        if large[0] > small[0] * _UNEVEN:
            yield Judgement(
                "uneven-list",
                f"“{_words(large[1])}” stands {large[0] / small[0]:.1f} times as large as "
                f"“{_words(small[1])}”",
                "give the slots of one list the same data-same name",
                {"ratio": round(large[0] / small[0], 2)},
            )


def _lines(it: Judged) -> Iterator[Judgement]:
    for slot, done in it.slots:
        lines = [line for line in done.lines if not line.catch]
        if len(lines) < 2 or slot.align == "level":
            continue
        widest = max(line.width_mm for line in lines)
        last, words = lines[-1], sum(len(line.text.split()) for line in lines)
        if words > 2 and len(last.text.split()) == 1 and last.width_mm < widest / 3:
            yield Judgement(
                "stranded-word",
                f"“{last.text}” is left alone on the last line of “{_words(done)}”",
                "hold it to the word before it with a no-break space, or reword",
            )
        elif done.width_variation > _RAGGED:
            yield Judgement(
                "ragged",
                f"the lines of “{_words(done)}” differ much in width",
                "reword it, if it looks uneven",
                {"variation": round(done.width_variation, 3)},
            )


def _words(done: SetText) -> str:
    text = " ".join(line.text for line in done.lines)
    return text if len(text) <= 40 else text[:39].rstrip() + "…"
