"""How sure the predictor must be of repaired art: of each kind of change, the share read from a chance on.

``python -m tools.reading.margins`` measures the labels of repaired art (fitted fonts) and prints a table;
the margins of ``proofing.repair.search`` are chosen by it. No OCR runs.
"""

import numpy as np
from tools.reading.dataset import Pair, draw, in_pool, label_file, labels_in, pairs_of_labels
from tools.reading.judge import chances, design_table
from tools.reading.truth import LEGIBLE, UNREADABLE

from hundredfold.proofing.reading.art import reduced
from hundredfold.proofing.repair.changes import Kind
from hundredfold.proofing.repair.search import one_ink, straight

SEED = 20263
CUTS = (0.8, 0.85, 0.9, 0.93, 0.95, 0.97, 0.98)


def in_one_ink(job: tuple[int, int]) -> bool:
    """Whether a design is art in one ink."""
    art = reduced(draw(*job).rgba)
    return art is not None and one_ink(straight(art))


def place_of(pair: Pair) -> tuple[str, ...]:
    """The design and blank colour of a pair, whatever was changed."""
    return tuple(pair.label[name] for name in ("design", "place", "blank"))


def main() -> None:
    """Measure and print."""
    pairs = pairs_of_labels(SEED, labels_in(label_file(SEED)))
    found = chances(design_table(pairs))
    names = sorted({int(pair.label["design"]) for pair in pairs})
    plain = dict(zip(names, in_pool(in_one_ink, [(SEED, name) for name in names]), strict=True))
    unread = {place_of(one) for one in pairs if not one.label["kind"] and one.share < UNREADABLE}
    print("chance at least      " + "".join(f"{cut:>12}" for cut in CUTS))
    for kind in Kind:
        for single in (True, False):
            which = np.array(
                [
                    pair.label["kind"] == kind
                    and plain[int(pair.label["design"])] is single
                    and place_of(pair) in unread
                    for pair in pairs
                ]
            )
            read = np.array([pair.share >= LEGIBLE for pair in pairs])
            cells = [read[which & (found >= cut)] for cut in CUTS]
            words = f"{kind.value}, {'one ink' if single else 'several'}"
            print(f"{words:<21}" + "".join(f"{cell.mean():>5.2f} of {cell.size:>3}" for cell in cells))


if __name__ == "__main__":
    main()
