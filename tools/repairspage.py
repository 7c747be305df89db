"""The text and the picture of docs/repairs.md, every number counted from the trials."""

from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.repair.changes import Change, Kind
from hundredfold.proofing.repair.search import GRID_PX, NO_INK
from tools.reading.pairs import Pair
from tools.reading.truth import LEGIBLE, UNREADABLE

Picture = NDArray[np.uint8]
KINDS = tuple(kind.value for kind in Kind)
OTHER = "the same, but another wanted colour is repaired"
MARGINS = "15,852"
SURELY = (Path(__file__).parent / "reading" / "margins.md").read_text(encoding="utf-8")
PICTURES = """![before and after](images/repairs.jpg)

Each pair is one design as a buyer sees it, before and after; the failures of the repair come first."""
SURE_HEAD = f"""## How sure is sure

The margins were chosen on {MARGINS} readings of repaired art in fitted fonts, another seed
(`python -m tools.reading.repaired` reads it, `python -m tools.reading.margins` writes the table). Of pairs
that no reader could read, so many changed in one way were read, from a chance of all words on:"""
SURE_TAKEN = """\
Taken: another ink from 0.85, a patch from 0.9, an outline from 0.95; main words alone from 0.95. Fitting the
predictor again with this art was tried and left: it knew outlines a little better (area under ROC 0.933 for
0.920, other fonts) and the rest less well (recall 0.911 for 0.924 at precision 0.9)."""


@dataclass(frozen=True)
class Trial:
    """One blank colour of one design; shares of the letters read: of all words, of the main ones."""

    design: int
    style: str
    font: str
    blank: str
    transparent: int
    width_px: int
    alone: str  # the only kind of repair allowed, "" for all
    failing: int  # the colour that the repair is for
    outcome: str  # the kind of repair, or what was said in its place
    every_word: int  # the repair is to make all words readable
    served: int  # the repair changes the art on this colour
    ink: str = ""
    share: float = 0.0
    thumbnail_px: float = 0.0
    before: float = 0.0
    before_main: float = 0.0
    moved: float = 0.0  # the same art moved by a pixel, in other grain: the reader's noise
    moved_main: float = 0.0
    after: float = 0.0
    after_main: float = 0.0
    after_moved: float = 0.0
    after_moved_main: float = 0.0
    counters_closed: int = 0

    @property
    def change(self) -> Change | None:
        """What is changed on this colour."""
        if not self.served:
            return None
        return Change(Kind(self.outcome), Srgb.parse(self.ink), self.share)

    @property
    def pair(self) -> Pair:
        """Where it is shown."""
        return Pair(self.design, 0, self.blank, bool(self.transparent), self.width_px, 0.0)


def share(part: int, whole: int) -> str:
    """``44 of 57 (77 %)``."""
    return f"{part} of {whole} ({part / whole:.0%})" if whole else "none"


def counted(trials: list[Trial], field: str, least: float = LEGIBLE) -> str:
    """How many of the trials have at least so many letters read."""
    return share(sum(getattr(one, field) >= least for one in trials), len(trials))


def proposals(failing: list[Trial]) -> str:
    """What was proposed for the pairs that no engine reads, as a table."""
    counts = Counter(OTHER if one.outcome in KINDS and not one.served else one.outcome for one in failing)
    words = (*KINDS, "enlarge", NO_INK, OTHER, "refused", "passed")
    rows = [f"| {word} | {share(counts[word], len(failing))} |" for word in words]
    return "\n".join(["| proposal | pairs |", "| --- | --- |", *rows])


def read_after(made: list[Trial]) -> str:
    """What is read of the failing colours after the repair."""
    groups = {
        "all repairs": made,
        **{kind: [one for one in made if one.outcome == kind] for kind in KINDS},
        "meant to make all words readable": [one for one in made if one.every_word],
        "meant for the main words only": [one for one in made if not one.every_word],
    }
    rows = [
        f"| {words} | {counted(some, 'after_main')} | {counted(some, 'after')} | "
        f"{counted(some, 'after', UNREADABLE)} | {counted(some, 'after_moved')} |"
        for words, some in groups.items()
    ]
    head = "| repair | main words read | all words read | half of all letters | all words, moved by a pixel |"
    return "\n".join([head, "| --- | --- | --- | --- | --- |", *rows])


def harm(fine: list[Trial]) -> str:
    """Colours whose words were read before: how many are not after it, and in the same art read again."""
    rows = []
    for words, some in (
        ("all", fine),
        ("of these, art changed by the repair", [one for one in fine if one.served]),
        ("of these, left as they are", [one for one in fine if not one.served]),
    ):
        lost = [
            share(sum(getattr(one, field) < least for one in some), len(some))
            for field, least in (("after", LEGIBLE), ("after", UNREADABLE), ("moved", LEGIBLE))
        ]
        rows.append(f"| {words} | {' | '.join(lost)} |")
    head = (
        "| colours read before | not read after | under half | noise: as it was, moved by a pixel, not read |"
    )
    return "\n".join([head, "| --- | --- | --- | --- |", *rows])


def fine_of(trials: list[Trial]) -> list[Trial]:
    """The colours that the repair is not for, whose words were read."""
    return [one for one in trials if not one.failing and one.before >= LEGIBLE]


def counted_of(trials: list[Trial]) -> str:
    """How many of the pairs are repaired."""
    return share(sum(one.served for one in trials), len(trials))


def widths(made: list[Trial]) -> str:
    """What is read of outlines by their width in the thumbnail."""
    rows = [f"| all | {counted(made, 'after_main')} | {counted(made, 'after')} |"]
    for low, high in ((0.0, 0.9), (0.9, 1.4), (1.4, 3.0)):
        some = [one for one in made if low < one.thumbnail_px <= high]
        names = ", ".join(f"{width:g}" for width in GRID_PX if low < width <= high)
        rows.append(f"| {names} | {counted(some, 'after_main')} | {counted(some, 'after')} |")
    head = "| outline, thumbnail pixels wide | main words read | all words read |"
    return "\n".join([head, "| --- | --- | --- |", *rows])


def noise(trials: list[Trial]) -> str:
    """How often the engines agree with themselves on art moved by a pixel."""
    twice = [(one.before >= LEGIBLE, one.moved >= LEGIBLE) for one in trials]
    twice += [(one.after >= LEGIBLE, one.after_moved >= LEGIBLE) for one in trials if one.served]
    return share(sum(first == again for first, again in twice), len(twice))


def page(seed: int, designs: int, trials: list[Trial]) -> str:
    """docs/repairs.md."""
    usual = [one for one in trials if not one.alone]
    failing = [one for one in usual if one.failing]
    sections = (
        opening(seed, failing),
        f"## Read after the repair\n\n{read_after([one for one in failing if one.served])}",
        fine_colours(usual),
        outlines_alone([one for one in trials if one.alone]),
        agreement(trials),
        PICTURES,
        f"{SURE_HEAD}\n\n{SURELY}\n{SURE_TAKEN}",
        f"Made by `python -m tools.repairs --seed {seed} --designs {designs}`; `--page-only` makes this page "
        "again\nfrom what was read then.",
    )
    return "\n\n".join(sections) + "\n"


def opening(seed: int, failing: list[Trial]) -> str:
    """What was judged, and what was proposed."""
    made = sum(one.served for one in failing)
    mendable = made + sum(one.outcome == "refused" for one in failing)
    return f"""# How good the repairs are

Designs whose words neither of two machine readers could read on a blank colour, for want of contrast, were
repaired for that colour without harm to the two colours they stand out from most. Fonts: only those kept
from the fitting of the predictor. Seed {seed}, drawn after the rules of the repair were fixed. "Read": the
better of the two readers finds at least {LEGIBLE:.0%} of the letters in the thumbnail; the main words are
the lines at least 0.6 times as tall as the tallest.

{len(failing)} such pairs. What is repairable is settled by the program before any reader sees it: after a
repair every line of words must stand out from the colour, and be read surely enough.

{proposals(failing)}

"Enlarge": black on white would not be read for sure at this size. No ink stands out: mostly dye on dark
goods, which nothing can mend. "Refused": ink would stand out, but no version, outline or patch in it is read
surely enough. "Passed": the check does not see the fault, so nothing is proposed. Of the pairs that a
repair could be about (neither too small nor without an ink), {share(made, mendable)} get one."""


def fine_colours(usual: list[Trial]) -> str:
    """What the repair does to colours that it is not for."""
    return f"""## Colours that were fine

An outline or a patch that would harm another wanted colour is made for the failing colours only.

{harm(fine_of(usual))}"""


def outlines_alone(trials: list[Trial]) -> str:
    """The same where only outlines are allowed."""
    failing = [one for one in trials if one.failing]
    return f"""## Outlines alone

The same pairs where the seller's rules allow outlines only: {counted_of(failing)} get one.

{widths([one for one in failing if one.served])}

{harm(fine_of(trials))}"""


def agreement(trials: list[Trial]) -> str:
    """The readers' noise, and counters closed."""
    outlined = [one for one in trials if one.failing and one.outcome == Kind.OUTLINE]
    return f"""## How far the readers agree with themselves

Every thumbnail was read twice, the second time moved by one pixel and in other grain. The verdict agrees in
{noise(trials)} of them. Outlines that closed a counter:
{share(sum(one.counters_closed > 0 for one in outlined), len(outlined))}."""


def sheet(pairs: list[tuple[Picture, Picture]], across: int = 4, cell: int = 200) -> Picture:
    """Before and after, side by side."""
    tiles = [np.hstack([_fitted(picture, cell) for picture in pair]) for pair in pairs]
    while len(tiles) % across:
        tiles.append(np.full_like(tiles[0], 247))
    rows = [np.hstack(tiles[start : start + across]) for start in range(0, len(tiles), across)]
    return np.vstack(rows)


def _fitted(picture: Picture, cell: int) -> Picture:
    scale = (cell - 12) / max(picture.shape[:2])
    how = cv2.INTER_AREA if scale < 1 else cv2.INTER_CUBIC
    small = cv2.resize(picture, None, fx=scale, fy=scale, interpolation=how)
    tile = np.full((cell, cell, 3), 247, np.uint8)
    top, left = (cell - small.shape[0]) // 2, (cell - small.shape[1]) // 2
    tile[top : top + small.shape[0], left : left + small.shape[1]] = small
    return tile
