"""Judge repairs on designs they have never seen, by machine readers: docs/repairs.md and its pictures.

    python -m tools.repairs --seed 271828 --designs 420

Designs come from the generator of the labelled set, with fonts kept from the fitting and a seed drawn after
the repair's rules were fixed. Needs the development group ``reading`` and Tesseract (see tools/reading). What
was read is kept in tools/repairs.csv.gz; ``--page-only`` makes the page from it again, without reading.
"""

import argparse
import multiprocessing
import os
from collections.abc import Iterator
from dataclasses import asdict, fields, replace
from pathlib import Path

import cv2

from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.reading.facts import facts_for_reading
from hundredfold.proofing.readings import MAIN_HEIGHT, Look
from hundredfold.proofing.repair.changes import Kind, open_counters
from hundredfold.proofing.repair.search import NO_INK, Refusal, Repair, Rules, least_repair
from hundredfold.workshop.steps.readingtrees import reading_trees
from tools.reading.collect import control, packed
from tools.reading.dataset import labels_in, with_change
from tools.reading.designs import BLANKS, NAMES, Labelled, draw, generator
from tools.reading.fonts import HELD_OUT
from tools.reading.pairs import Pair, as_served, pairs_of, shown_contrast, thumbnail
from tools.reading.truth import LEGIBLE, UNREADABLE, judged, weighted
from tools.repairspage import Picture, Trial, page, sheet

DOCS = Path(__file__).parents[1] / "docs"
KEPT = Path(__file__).with_name("repairs.csv.gz")
LOW_CONTRAST = 1.7  # of the fill with the blank: what a repair can be about
OUTLINE = Kind.OUTLINE.value
OTHERS = 2  # further colours wanted: those that the art stands out from most


def served(seed: int, design: Labelled, pair: Pair, moved: bool = False) -> Picture:
    """The thumbnail as a shop serves it; the same grain before and after, another where it is moved."""
    clean = thumbnail(design.rgba, pair.blank, pair.transparent, pair.width_px, int(moved))
    return as_served(clean, generator(seed + 5 + moved, design.number))


def read(seed: int, design: Labelled, pair: Pair, moved: bool = False) -> tuple[float, float]:
    """The better engine's share of letters: of all words, and of the main ones, the tallest lines."""
    lines = [line.text for line in design.lines]
    heights = [line.box[3] - line.box[1] for line in design.lines]
    main = [n for n, height in enumerate(heights) if height >= MAIN_HEIGHT * max(heights)]
    scores = list(judged(served(seed, design, pair, moved), lines).values())
    return (
        round(max(weighted(lines, one) for one in scores), 3),
        round(max(weighted([lines[n] for n in main], [one[n] for n in main]) for one in scores), 3),
    )


def failing_pair(seed: int, design: Labelled) -> Pair | None:
    """A blank colour, kind of ink and width at which this design dies of too little contrast."""
    near = [pair for pair in pairs_of(seed, design) if pair.contrast < LOW_CONTRAST]
    if not near or control(design) < LEGIBLE:
        return None
    return next((pair for pair in near if read(seed, design, pair)[0] < UNREADABLE), None)


def trials_of(job: tuple[int, int, Path | None, bool]) -> list[Trial]:
    """The design repaired for its failing colour, without harm to the two it stands out from most."""
    seed, number, fonts, fitted = job
    cv2.setNumThreads(1)
    design = draw(seed, number, fonts)
    pair = failing_pair(seed, design) if (design.font in HELD_OUT) is not fitted else None
    if pair is None:
        return []
    ranked = sorted(NAMES, key=lambda name: -shown_contrast(design.ink, name, pair.transparent))
    names = list(dict.fromkeys((pair.blank, *ranked[:OTHERS])))
    looks = {name: Look(Srgb(*BLANKS[name]).hex, pair.transparent, "", pair.width_px) for name in names}
    words, trials = facts_for_reading(design.rgba, reading_trees()), []
    for alone, rules in (("", Rules()), (OUTLINE, Rules(kinds=(Kind.OUTLINE,)))):
        found = least_repair(words, [Srgb(*design.ink)], list(looks.values()), rules)
        for name in names if isinstance(found, Repair) else names[:1]:
            where = replace(pair, blank=name)
            trials.append(read_trial(seed, design, where, found, looks[name], (alone, name == pair.blank)))
    return trials


def read_trial(
    seed: int, design: Labelled, pair: Pair, found: Repair | Refusal | None, look: Look, why: tuple[str, bool]
) -> Trial:
    """What the engines read on one colour before and after; ``why``: the only kind, and if it failed."""
    trial = Trial(
        design.number, design.style, design.font, pair.blank, int(pair.transparent), pair.width_px,
        why[0], int(why[1]), word_of(found), int(isinstance(found, Repair) and found.every_word),
        int(isinstance(found, Repair) and look in found.looks),
    )  # fmt: skip
    before, moved = read(seed, design, pair), read(seed, design, pair, moved=True)
    trial = replace(trial, before=before[0], before_main=before[1], moved=moved[0], moved_main=moved[1])
    if not isinstance(found, Repair):
        return trial
    change = found.change
    trial = replace(trial, ink=change.ink.hex, share=round(change.share, 6), thumbnail_px=found.thumbnail_px)
    fresh = with_change(design, trial.change)
    after, again = (read(seed, fresh, pair, moved) for moved in (False, True))
    closed = counters_closed(design, fresh) if trial.outcome == Kind.OUTLINE else 0
    return replace(
        trial, after=after[0], after_main=after[1], after_moved=again[0], after_moved_main=again[1],
        counters_closed=closed,
    )  # fmt: skip


def counters_closed(design: Labelled, fresh: Labelled) -> int:
    """Counters two pixels of the art wide that the outline left with less than half a pixel."""
    return max(0, open_counters(design.rgba, 2.0) - open_counters(fresh.rgba, 0.5))


def word_of(found: Repair | Refusal | None) -> str:
    """The outcome in a word."""
    if found is None:
        return "passed"
    if isinstance(found, Refusal):
        return NO_INK if found.what == NO_INK else "enlarge" if found.enlarge > 1 else "refused"
    return found.change.kind.value


def trials_in(path: Path) -> list[Trial]:
    """The trials of a file."""
    kinds = {field.name: field.type for field in fields(Trial)}
    return [Trial(**{name: kinds[name](value) for name, value in row.items()}) for row in labels_in(path)]  # type: ignore[operator]


def shown(seed: int, trials: list[Trial]) -> Iterator[tuple[Picture, Picture]]:
    """Before and after of each trial, as the engines got them."""
    for trial in trials:
        design = draw(seed, trial.design)
        yield served(seed, design, trial.pair), served(seed, with_change(design, trial.change), trial.pair)


def main() -> None:
    """Draw, repair, read, and write the page."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--seed", type=int, default=271828)
    ask.add_argument("--designs", type=int, default=420)
    ask.add_argument("--fonts", type=Path)
    ask.add_argument(
        "--fitted", action="store_true", help="judge on the fonts that were fitted on: to choose by"
    )
    ask.add_argument("--workers", type=int, default=os.cpu_count())
    ask.add_argument("--kept", type=Path, default=KEPT)
    ask.add_argument("--page-only", action="store_true")
    args = ask.parse_args()
    os.environ["OMP_THREAD_LIMIT"] = "1"
    if not args.page_only:
        jobs = [(args.seed, number, args.fonts, args.fitted) for number in range(args.designs)]
        with multiprocessing.get_context("spawn").Pool(args.workers) as pool:
            trials = [trial for some in pool.imap(trials_of, jobs) for trial in some]
        names = [field.name for field in fields(Trial)]
        args.kept.write_bytes(packed([asdict(trial) for trial in trials], names))
    trials = trials_in(args.kept)
    text = page(args.seed, args.designs, trials)
    if args.fitted:
        print(text)
        return
    (DOCS / "repairs.md").write_text(text, encoding="utf-8", newline="\n")
    worst = sorted(
        (one for one in trials if one.failing and one.served and not one.alone), key=lambda one: one.after
    )[:32]
    (DOCS / "images").mkdir(exist_ok=True)
    picture = cv2.cvtColor(sheet(list(shown(args.seed, worst))), cv2.COLOR_RGB2BGR)
    cv2.imwrite(str(DOCS / "images" / "repairs.jpg"), picture, [cv2.IMWRITE_JPEG_QUALITY, 80])


if __name__ == "__main__":
    main()
