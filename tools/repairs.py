"""Judge repairs on designs they have never seen, by machine readers: docs/repairs.md and its pictures.

    python -m tools.repairs --seed 271828 --designs 400

Designs come from the generator of the labelled set, with fonts kept from the fitting and a seed drawn after
the repair's rules were fixed. Needs the development group ``reading`` and Tesseract (see tools/reading).
"""

import argparse
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import cv2
import numpy as np
from numpy.typing import NDArray
from tools.reading.collect import control
from tools.reading.designs import BLANKS, NAMES, Labelled, draw, generator
from tools.reading.fonts import HELD_OUT
from tools.reading.pairs import as_served, pairs_of, shown_contrast, thumbnail
from tools.reading.truth import LEGIBLE, UNREADABLE, judged, weighted

from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.profile import STANDARD
from hundredfold.proofing.reading.art import inked_span
from hundredfold.proofing.reading.facts import facts_for_reading
from hundredfold.proofing.readings import Look
from hundredfold.proofing.repair.changes import changed, open_counters
from hundredfold.proofing.repair.search import Refusal, Repair, least_repair

DOCS = Path(__file__).parents[1] / "docs"
LOW_CONTRAST = 1.7  # of the fill with the blank: what a repair can be about
Pixels = NDArray[np.uint8]


@dataclass(frozen=True)
class Trial:
    """One blank colour of one design, before and after."""

    design: int
    style: str
    failing: bool
    kind: str
    before: float  # share of letters read
    after: float
    shown: tuple[Pixels, Pixels]


def hexed(name: str) -> str:
    """A blank colour of the labelled set as hex."""
    return Srgb(*BLANKS[name]).hex


def read(picture: Pixels, design: Labelled) -> float:
    """The better engine's share of letters."""
    lines = [line.text for line in design.lines]
    return max(weighted(lines, scores) for scores in judged(picture, lines).values())


def failing_pair(seed: int, design: Labelled) -> tuple[str, bool, int] | None:
    """A blank colour, kind of ink and width at which this design dies of too little contrast."""
    for pair in pairs_of(seed, design):
        if pair.contrast < LOW_CONTRAST and pair.width_px >= 60:
            picture = served(seed, design, design.rgba, pair.blank, pair.transparent, pair.width_px)
            if read(picture, design) < UNREADABLE:
                return pair.blank, pair.transparent, pair.width_px
    return None


def served(seed: int, design: Labelled, art: Pixels, blank: str, transparent: bool, width: int) -> Pixels:
    """The thumbnail as a shop serves it, the same grain before and after."""
    return as_served(thumbnail(art, blank, transparent, width), generator(seed + 5, design.number))


def trials_of(seed: int, design: Labelled, outcome: Counter[str]) -> Iterator[Trial]:
    """The design repaired for its failing colour, without harm to the two it stands out from most."""
    found = failing_pair(seed, design)
    if found is None or control(design) < LEGIBLE:
        return
    blank, transparent, width = found
    others = sorted(NAMES, key=lambda name: -shown_contrast(design.ink, name, transparent))[:2]
    names = [blank, *(name for name in others if name != blank)]
    looks = {name: Look(hexed(name), transparent, "", width) for name in names}
    repair = least_repair(facts_for_reading(design.rgba), [Srgb(*design.ink)], list(looks.values()))
    outcome[_word(repair)] += 1
    if not isinstance(repair, Repair):
        return
    rows, columns = inked_span(design.rgba[..., 3])
    assert rows is not None
    assert columns is not None
    art = np.ascontiguousarray(design.rgba[rows, columns])
    fresh = changed(art, repair.change)
    if repair.change.share and repair.change.kind == "outline":
        outcome["counters closed"] += max(0, open_counters(art, 2.0) - open_counters(fresh, 0.5))
    for name in names:
        after = fresh if looks[name] in repair.looks else art
        shown = tuple(served(seed, design, one, name, transparent, width) for one in (art, after))
        failed = not repair.before[looks[name]].passes(STANDARD.limits, STANDARD.limits.read_doubt)
        yield Trial(
            design.number, design.style, failed, repair.change.kind.value, read(shown[0], design),
            read(shown[1], design), (shown[0], shown[1]),
        )  # fmt: skip


def _word(repair: Repair | Refusal | None) -> str:
    if repair is None:
        return "passed as it is"
    if isinstance(repair, Refusal):
        return "enlarge" if repair.enlarge > 1 else "refused"
    return repair.change.kind.value


def share(part: int, whole: int) -> str:
    """``44 of 57 (77 %)``."""
    return f"{part} of {whole} ({part / whole:.0%})" if whole else "none"


def page(seed: int, trials: list[Trial], outcome: Counter[str]) -> str:
    """docs/repairs.md."""
    failing = [one for one in trials if one.failing and one.before < UNREADABLE]
    fine = [one for one in trials if not one.failing and one.before >= LEGIBLE]
    read_now = sum(one.after >= LEGIBLE for one in failing)
    half_now = sum(one.after >= UNREADABLE for one in failing)
    worse = sum(one.after < LEGIBLE for one in fine)
    dead = sum(one.after < UNREADABLE for one in fine)
    counts = ", ".join(f"{word} {count}" for word, count in sorted(outcome.items()))
    by_kind = Counter(one.kind for one in failing)
    good = Counter(one.kind for one in failing if one.after >= LEGIBLE)
    kinds = "\n".join(f"| {kind} | {share(good[kind], by_kind[kind])} |" for kind in sorted(by_kind))
    return f"""# How good the repairs are

Designs whose text neither of two machine readers could read on a blank colour, for want of contrast,
were repaired for that colour without harm to the two colours they stand out from most. Fonts: only those
kept from the fitting of the predictor. Seed {seed}, drawn after the rules of the repair were fixed. "Read"
means that the better of the two readers finds at least {LEGIBLE:.0%} of the letters in the thumbnail.

| | |
|---|---|
| proposals | {counts} |
| read after the repair, of those that failed | {share(read_now, len(failing))} |
| at least half of the letters | {share(half_now, len(failing))} |
| colours that were read before and are not after | {share(worse, len(fine))} |
| of these, less than half of the letters left | {share(dead, len(fine))} |

| kind | read after |
|---|---|
{kinds}

![before and after](images/repairs.jpg)

Each pair is one design as a buyer sees it, before and after; the first rows are the failures.

Made by `python -m tools.repairs --seed {seed}`.
"""


def contact_sheet(trials: list[Trial], across: int = 4, most: int = 32) -> Pixels:
    """Before and after of the failing colours, failures of the repair first."""
    failing = sorted((one for one in trials if one.failing), key=lambda one: one.after)[:most]
    cell = 200
    tiles = []
    for one in failing:
        pair = [_fitted(picture, cell) for picture in one.shown]
        tiles.append(np.hstack(pair))
    while len(tiles) % across:
        tiles.append(np.full_like(tiles[0], 247))
    rows = [np.hstack(tiles[start : start + across]) for start in range(0, len(tiles), across)]
    return np.vstack(rows)


def _fitted(picture: Pixels, cell: int) -> Pixels:
    scale = (cell - 12) / max(picture.shape[:2])
    small = cv2.resize(
        picture, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA if scale < 1 else cv2.INTER_CUBIC
    )
    tile = np.full((cell, cell, 3), 247, np.uint8)
    top, left = (cell - small.shape[0]) // 2, (cell - small.shape[1]) // 2
    tile[top : top + small.shape[0], left : left + small.shape[1]] = small
    return tile


def main() -> None:
    """Draw, repair, read, and write the page."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--seed", type=int, default=271828)
    parser.add_argument("--designs", type=int, default=400)
    asked = parser.parse_args()
    cv2.setNumThreads(1)
    outcome: Counter[str] = Counter()
    trials: list[Trial] = []
    for number in range(asked.designs):
        design = draw(asked.seed, number)
        if design.font in HELD_OUT:
            trials += trials_of(asked.seed, design, outcome)
            print(number, dict(outcome), len(trials), flush=True)
    (DOCS / "repairs.md").write_text(page(asked.seed, trials, outcome), encoding="utf-8", newline="\n")
    (DOCS / "images").mkdir(exist_ok=True)
    sheet = cv2.cvtColor(contact_sheet(trials), cv2.COLOR_RGB2BGR)
    cv2.imwrite(str(DOCS / "images" / "repairs.jpg"), sheet, [cv2.IMWRITE_JPEG_QUALITY, 80])


if __name__ == "__main__":
    main()
