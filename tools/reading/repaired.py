"""Labels of repaired art: changes a search for repairs might propose, read by both engines.

``python -m tools.reading.repaired --seed 20263 --designs 700 --out tools/reading/labels-20263.csv.gz``

Pairs that the check would not pass are changed in several ways, most of them such as the predictor believes
in, and read on the failing blank colour and on two others. Fonts: only those that are fitted on.
"""

import argparse
import multiprocessing
import os
from dataclasses import replace
from pathlib import Path

import cv2
import numpy as np

from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.profile import STANDARD
from hundredfold.proofing.reading.art import SmallArt
from hundredfold.proofing.reading.facts import facts_for_reading, facts_of
from hundredfold.proofing.readings import Look, chance_of
from hundredfold.proofing.repair.changes import Change, Kind, changed
from hundredfold.proofing.repair.search import GRID_PX, PATCH_PX, STANDS_OUT, Rules, contrast_of
from hundredfold.proofing.repair.verdicts import one_ink, premultiplied, straight
from hundredfold.workshop.steps.readingtrees import reading_trees
from tools.reading.collect import FIELDS, Row, control, packed, scored
from tools.reading.dataset import LARGE_ENOUGH, with_change
from tools.reading.designs import BLANKS, NAMES, Labelled, draw, generator
from tools.reading.pairs import Pair, pairs_of, shown_contrast

LIKELY = 0.6  # chance from which a change is tried first
NEAR = 2.2  # contrast of the fill with the blank under which a pair may be one for a repair
CHANGE_FIELDS = (*FIELDS, "kind", "ink", "share")


def look_of(pair: Pair) -> Look:
    """The pair as the check sees it."""
    return Look(Srgb(*BLANKS[pair.blank]).hex, pair.transparent, "", pair.width_px)


def candidates(design: Labelled, look: Look) -> list[tuple[Change, float]]:
    """Changes that stand out from the ground, with the predictor's chance for the main words."""
    facts = facts_for_reading(design.rgba, reading_trees())
    if facts.art is None:
        return []
    art = straight(facts.art)
    inks = [
        ink
        for ink in dict.fromkeys((Srgb(*design.ink), *Rules().palette))
        if contrast_of(ink, look) >= STANDS_OUT
    ]
    wide = [Change(Kind.OUTLINE, ink, px / look.art_px) for ink in inks for px in GRID_PX]
    wide += [Change(Kind.PATCH, ink, PATCH_PX / look.art_px) for ink in inks]
    wide += [Change(Kind.RECOLOUR, ink) for ink in inks if one_ink(art)]
    found = []
    for change in wide:
        chance = chance_of(facts_of(SmallArt(premultiplied(changed(art, change))), reading_trees()), look)
        found.append((change, 0.0 if chance is None else chance.main))
    return found


def chosen(found: list[tuple[Change, float]], rng: np.random.Generator) -> list[Change]:
    """One likely change of each kind, one more likely outline, one of the rest."""
    mixed = [found[n] for n in rng.permutation(len(found))]
    likely = [change for change, chance in mixed if chance >= LIKELY]
    picked = [
        next((change for change in likely if change.kind is kind), None)
        for kind in (Kind.OUTLINE, Kind.RECOLOUR, Kind.PATCH)
    ]
    more = [change for change in likely if change.kind is Kind.OUTLINE and change not in picked][:1]
    rest = [change for change, chance in mixed if chance < LIKELY][:1]
    return [change for change in (*picked, *more, *rest) if change is not None]


def places_of(design: Labelled, pair: Pair, rng: np.random.Generator) -> list[str]:
    """The failing blank colour, the one the ink stands out from most, and another."""
    ranked = sorted(NAMES, key=lambda name: -shown_contrast(design.ink, name, pair.transparent))
    return list(dict.fromkeys((pair.blank, ranked[0], NAMES[int(rng.integers(len(NAMES)))])))


def repaired_pair(seed: int, design: Labelled, pair: Pair, large: float) -> list[Row]:
    """Rows of one pair: as it is, and with each of the chosen changes."""
    look = look_of(pair)
    before = chance_of(facts_for_reading(design.rgba, reading_trees()), look)
    if before is None or before.main >= STANDARD.limits.read_doubt:
        return []
    rng = generator(seed + 4, design.number * 100 + pair.place)
    changes = chosen(candidates(design, look), rng)
    if not changes:
        return []
    rows = []
    for step, change in enumerate((None, *changes)):
        fresh = with_change(design, change)
        for name in places_of(design, pair, generator(seed + 6, design.number * 100 + pair.place)):
            where = replace(pair, blank=name, contrast=shown_contrast(design.ink, name, pair.transparent))
            grain = generator(seed + 2, design.number * 1000 + pair.place * 100 + step)
            row = scored(fresh, where, large, grain)
            if change is not None:
                row |= {"kind": change.kind.value, "ink": change.ink.hex, "share": f"{change.share:.5f}"}
            rows.append(row)
    return rows


def repaired_design(job: tuple[int, int, Path | None]) -> list[Row]:
    """All of a design's rows."""
    cv2.setNumThreads(1)
    seed, number, fonts = job
    design = draw(seed, number, fonts)
    near = [pair for pair in pairs_of(seed, design) if pair.contrast < NEAR]
    large = control(design) if near else 0.0
    if large < LARGE_ENOUGH:
        return []
    return [row for pair in near for row in repaired_pair(seed, design, pair, large)]


def main() -> None:
    """Collect and write."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--seed", type=int, required=True)
    ask.add_argument("--designs", type=int, default=700)
    ask.add_argument("--fonts", type=Path)
    ask.add_argument("--workers", type=int, default=os.cpu_count())
    ask.add_argument("--out", type=Path, required=True)
    args = ask.parse_args()
    os.environ["OMP_THREAD_LIMIT"] = "1"
    jobs = [(args.seed, number, args.fonts) for number in range(args.designs)]
    with multiprocessing.get_context("spawn").Pool(args.workers) as pool:
        rows = [row for some in pool.imap(repaired_design, jobs) for row in some]
    args.out.write_bytes(packed(rows, CHANGE_FIELDS))
    print(f"{len(rows)} readings of {len({row['design'] for row in rows})} designs")


if __name__ == "__main__":
    main()
