"""How sure the predictor must be of repaired art: of each kind of change, the share read from a chance on.

``python -m tools.reading.margins`` measures the labels of repaired art (fitted fonts) and writes margins.md;
the margins of ``proofing.repair.search`` are chosen by it. No OCR runs.
"""

from pathlib import Path

import numpy as np

from hundredfold.proofing.repair.changes import Kind
from tools.reading.dataset import Pair, label_file, labels_in, pairs_of_labels
from tools.reading.judge import chances, design_table
from tools.reading.truth import LEGIBLE, UNREADABLE

SEED = 20263
OUT = Path(__file__).with_name("margins.md")
CUTS = (0.7, 0.8, 0.85, 0.9, 0.95, 0.97)


def place_of(pair: Pair) -> tuple[str, ...]:
    """The design and blank colour of a pair, whatever was changed."""
    return tuple(pair.label[name] for name in ("design", "place", "blank"))


def table(pairs: list[Pair]) -> str:
    """Of pairs that no engine could read: how many changed in one way are read, from a chance on."""
    found = chances(design_table(pairs))
    read = np.array([pair.share >= LEGIBLE for pair in pairs])
    unread = {place_of(one) for one in pairs if not one.label["kind"] and one.share < UNREADABLE}
    rows = [["change", *map(str, CUTS)], ["---"] * (1 + len(CUTS))]
    for kind in Kind:
        which = np.array([one.label["kind"] == kind and place_of(one) in unread for one in pairs])
        cells = [read[which & (found >= cut)] for cut in CUTS]
        rows.append([kind.value, *[f"{cell.mean():.2f} of {cell.size}" for cell in cells]])
    return "\n".join("| " + " | ".join(row) + " |" for row in rows) + "\n"


def main() -> None:
    """Measure and write."""
    OUT.write_text(table(pairs_of_labels(SEED, labels_in(label_file(SEED)))), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
