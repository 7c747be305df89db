"""Does a repair make words readable? Failing pairs of the fresh seed are repaired and read again.

``python -m tools.reading.repairs`` writes tools/reading/repairs.csv.gz, which the report reads.
"""

import argparse
import csv
import gzip
import io
import multiprocessing
import os
import zlib
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from tools.reading.dataset import Label, best, held_out, label_file, labels_in, usable, verdict
from tools.reading.designs import BLANKS, NAMES, Labelled, draw, generator
from tools.reading.pairs import as_served, thumbnail
from tools.reading.sets import FRESH
from tools.reading.truth import judged, weighted

from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.profile import STANDARD
from hundredfold.proofing.reading.facts import facts_for_reading
from hundredfold.proofing.readings import MAIN_HEIGHT, Look, chance_of
from hundredfold.proofing.repair.changes import Kind, changed, open_counters
from hundredfold.proofing.repair.search import Refusal, Repair, least_repair

OUT = Path(__file__).with_name("repairs.csv.gz")
OTHERS = 4  # further colours wanted beside the failing one
FIELDS = (
    "design", "place", "style", "held_out", "blank", "transparent", "width_px", "before", "outcome", "kind",
    "ink", "thumbnail_px", "enlarge", "chance", "after", "after_all", "others_before", "others_again",
    "others_after", "counters_closed",
)  # fmt: skip
Row = dict[str, object]


def main_share(design: Labelled, scores: list[float]) -> float:
    """Share of the letters of the main words: the lines at least so tall, by the tallest."""
    heights = [line.box[3] - line.box[1] for line in design.lines]
    main = [n for n, height in enumerate(heights) if height >= MAIN_HEIGHT * max(heights)]
    return weighted([design.lines[n].text for n in main], [scores[n] for n in main])


def share_read(rgba: NDArray[np.uint8], design: Labelled, look: Look, salt: int) -> tuple[float, float]:
    """The better engine's share of letters on a look: of the main words, of all."""
    blank = next(name for name in NAMES if Srgb(*BLANKS[name]).hex == look.blank)
    clean = thumbnail(rgba, blank, look.transparent, look.art_px)
    grain = generator(FRESH + 5, zlib.crc32(f"{design.number} {blank} {salt}".encode()))
    lines = [line.text for line in design.lines]
    scores = list(judged(as_served(clean, grain), lines).values())
    return max(main_share(design, one) for one in scores), max(weighted(lines, one) for one in scores)


def wanted(design: Labelled, label: Label) -> list[Look]:
    """The failing look first, then other blank colours, seeded."""
    rng = generator(FRESH + 4, int(label["design"]) * 10 + int(label["place"]))
    others = [name for name in rng.permutation(NAMES).tolist() if name != label["blank"]][:OTHERS]
    dye, width = label["transparent"] == "1", int(label["width_px"])
    del design
    return [Look(Srgb(*BLANKS[name]).hex, dye, "", width) for name in (label["blank"], *others)]


def repaired(job: tuple[Label, Path | None]) -> Row | None:
    """One failing pair: what is proposed, and what is read after it; None where the predictor passes it."""
    label, fonts = job
    design = draw(FRESH, int(label["design"]), fonts)
    words = facts_for_reading(design.rgba)
    looks = wanted(design, label)
    chance = chance_of(words, looks[0])
    main = main_share(design, [float(value) for value in label["lines"].split()])
    if chance is None or chance.main >= STANDARD.limits.read_stop or verdict(main) != 0:
        return None
    found = least_repair(words, [Srgb(*design.ink)], looks)
    row: Row = {
        name: label[name] for name in ("design", "place", "style", "blank", "transparent", "width_px")
    }
    row |= {"held_out": int(held_out(label)), "before": f"{main:.3f}", "outcome": "none"}
    if isinstance(found, Refusal):
        row |= {"outcome": "too small" if found.enlarge > 1 else "refused", "enlarge": found.enlarge}
    if isinstance(found, Repair):
        row |= outcome(design, looks, found)
    return row


def outcome(design: Labelled, looks: list[Look], found: Repair) -> Row:
    """Both engines on every look, before and after."""
    fresh = changed(design.rgba, found.change)
    served = [look for look in looks[1:] if look in found.looks]
    before = [share_read(design.rgba, design, look, 0)[0] for look in served]
    again = [share_read(design.rgba, design, look, 2)[0] for look in served]
    later = [share_read(fresh, design, look, 1)[0] for look in served]
    main, everything = share_read(fresh, design, looks[0], 1)
    chance = found.after[looks[0]].chance
    return {
        "outcome": "repaired", "kind": found.change.kind.value, "ink": found.change.ink.hex,
        "thumbnail_px": found.thumbnail_px, "chance": "" if chance is None else f"{chance:.3f}",
        "after": f"{main:.3f}", "after_all": f"{everything:.3f}",
        "others_before": " ".join(f"{value:.2f}" for value in before),
        "others_again": " ".join(f"{value:.2f}" for value in again),
        "others_after": " ".join(f"{value:.2f}" for value in later),
        "counters_closed": (
            closed(design, fresh, looks[0].art_px) if found.change.kind is Kind.OUTLINE else ""
        ),
    }  # fmt: skip


def closed(design: Labelled, fresh: NDArray[np.uint8], art_px: int) -> int:
    """Counters two thumbnail pixels wide that are less than half as wide after the change."""
    pixel = design.rgba.shape[1] / art_px
    return max(0, open_counters(design.rgba, 2 * pixel) - open_counters(fresh, pixel))


def main() -> None:
    """Repair, read, write."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--fonts", type=Path)
    ask.add_argument("--most", type=int, default=400, help="failing pairs at most")
    ask.add_argument("--workers", type=int, default=os.cpu_count())
    args = ask.parse_args()
    os.environ["OMP_THREAD_LIMIT"] = "1"
    failing = [one for one in labels_in(label_file(FRESH)) if usable(one) and verdict(best(one)) <= 0]
    step = max(1, len(failing) // args.most)
    jobs = [(label, args.fonts) for label in failing[::step]]
    with multiprocessing.get_context("spawn").Pool(args.workers) as pool:
        rows = [row for row in pool.imap(repaired, jobs, chunksize=2) if row is not None]
    text = io.StringIO()
    writer = csv.DictWriter(text, FIELDS, lineterminator="\n", restval="")
    writer.writeheader()
    writer.writerows(rows)
    OUT.write_bytes(gzip.compress(text.getvalue().encode(), mtime=0))
    print(f"{len(rows)} failing pairs judged")


if __name__ == "__main__":
    main()
