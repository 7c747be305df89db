"""The text of docs/accuracy.md, every number measured as it is written."""

from collections import Counter
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from hundredfold.proofing.reading.facts import LIKELY_TEXT, facts_for_reading
from hundredfold.workshop.steps.readingtrees import reading_trees
from tools.reading.dataset import SEEDS, Label, best, held_out, label_file, labels_in, usable, verdict
from tools.reading.designs import OUTLINED
from tools.reading.judge import bootstrap, recall_at, reliability, roc_area
from tools.reading.pictures import drawings, drawn
from tools.reading.sets import FRESH, SPLIT, Judged, noise

Flags = NDArray[np.bool_]
PRECISION = 0.9
TEMPLATE = Path(__file__).with_name("accuracy-template.md")


def table(head: list[str], rows: list[list[object]]) -> str:
    """A Markdown table."""
    lines = [head, ["---"] * len(head), *[[str(cell) for cell in row] for row in rows]]
    return "\n".join("| " + " | ".join(line) + " |" for line in lines)


def share(flags: Flags) -> str:
    """A percentage."""
    return f"{100 * float(np.mean(flags)):.0f} %"


def figures(one: Judged, which: Flags, interval: bool = False) -> list[object]:
    """Pairs, ROC area, recall of "will not be read" at the precision, errors at one half."""
    clear = one.clear & which
    chance, read = one.chance[clear], one.read[clear]
    recall, under = recall_at(chance, read, PRECISION)
    area = f"{roc_area(chance, read):.3f}"
    if interval:
        low, high = bootstrap(chance, read, one.texts("design")[clear].astype(np.int64))
        area += f" ({low:.3f} to {high:.3f})"
    wrong = 100 * float(((chance > 0.5) != read).mean())
    return [int(clear.sum()), area, f"{recall:.2f} (chance under {under:.2f})", f"{wrong:.1f} %"]


HEAD = ["pairs", "area under ROC (95 %)", f"recall at precision {PRECISION:.2f}", "wrong at one half"]


def main_figures(sets: tuple[Judged, ...]) -> str:
    """The figures that matter, both sets."""
    rows: list[list[object]] = []
    for one in sets:
        everything = np.ones(len(one.pairs), bool)
        rows.append([one.title, "all", *figures(one, everything, True)])
        rows.append([one.title, "with outlines", *figures(one, one.outlined, True)])
        rows.append([one.title, "without", *figures(one, ~one.outlined, True)])
        held = np.array([held_out(pair.label) for pair in one.pairs])
        if not held.all():
            rows.append([one.title, "held-out fonts only", *figures(one, held, True)])
    return table(["set", "art", *HEAD], rows)


def single_measures(sets: tuple[Judged, ...]) -> str:
    """What one measure alone would do."""
    names = {
        "contrast of the ink with the blank (the plain WCAG check)": None,
        "contrast of the letters with what surrounds them in the thumbnail": "ratio",
        "letter height in the thumbnail": "height",
        "the predictor": "predictor",
    }
    rows: list[list[object]] = []
    for words, name in names.items():
        row: list[object] = [words]
        for one in sets:
            if name is None:
                score = one.texts("contrast").astype(float)
            else:
                score = one.chance if name == "predictor" else one.column(name)
            row.append(f"{roc_area(score[one.clear], one.read[one.clear]):.3f}")
        rows.append(row)
    return table(["measure", *[one.title for one in sets]], rows)


def confusion(one: Judged) -> str:
    """Truth, in-between pairs too, against the three answers a check gives."""
    said = np.digitize(one.chance, [0.3, 0.7])
    truth = np.where(one.read, 2, np.where(one.clear, 0, 1))
    words = ("not read", "in between", "read")
    rows: list[list[object]] = [
        [words[t], *[int(((truth == t) & (said == s)).sum()) for s in range(3)]] for t in range(3)
    ]
    return table([one.title, "chance under 0.3", "0.3 to 0.7", "over 0.7"], rows)


def cuts(sets: tuple[Judged, ...]) -> str:
    """What flagging under a chance catches and costs; in-between pairs are left out."""
    rows: list[list[object]] = []
    for one in sets:
        chance, read = one.chance[one.clear], one.read[one.clear]
        for cut in (0.2, 0.3, 0.5, 0.7):
            flagged = chance < cut
            caught, harmed = share(flagged[~read]), share(flagged[read])
            rows.append([one.title, cut, f"{float((~read[flagged]).mean()):.2f}", caught, harmed])
    return table(["set", "flag under", "precision", "unreadable caught", "read, wrongly flagged"], rows)


def calibration(one: Judged) -> str:
    """The reliability curve as numbers."""
    truth = np.where(one.read, 1.0, np.where(one.clear, 0.0, 0.5))
    bins = reliability(one.chance, truth)
    return table(
        [one.title, *[f"{b.chance:.2f}" for b in bins]],
        [["share read", *[f"{b.read:.2f}" for b in bins]], ["pairs", *[b.count for b in bins]]],
    )


def by(one: Judged, field: str) -> str:
    """Figures by style or by font."""
    names = one.texts(field)
    rows = [[name, *figures(one, names == name)] for name in sorted(set(names.tolist()))]
    return table([field, *HEAD], rows)


def mix(seed: int, labels: list[Label]) -> list[object]:
    """How a set is made up."""
    kept = [label for label in labels if usable(label)]
    contrast = np.array([float(label["contrast"]) for label in kept])
    width = np.array([int(label["width_px"]) for label in kept])
    said = np.array([verdict(best(label)) for label in kept])
    near = (contrast > 1.05) & (contrast < 1.6)
    quartiles = " / ".join(f"{value:.0f}" for value in np.percentile(width, [25, 50, 75]))
    return [
        seed, len({label["design"] for label in labels}), len({label["font"] for label in labels}), len(kept),
        len(labels) - len(kept), share(np.array([label["style"] in OUTLINED for label in kept])), share(near),
        share(np.array([label["transparent"] == "1" for label in kept])), quartiles,
        f"{share(said == 1)} / {share(said < 0)} / {share(said == 0)}",
    ]  # fmt: skip


MIX_HEAD = [
    "seed", "designs", "fonts", "pairs kept", "dropped: not read large", "outlined", "contrast 1.05 to 1.6",
    "dye", "art width, quartiles, px", "read / between / not",
]  # fmt: skip


def without_text() -> tuple[int, int]:
    """Drawings without text, and how many are taken for text."""
    found = [facts_for_reading(drawn(path), reading_trees()).applicable for path in drawings()[4::8]]
    return len(found), sum(found)


def missed(one: Judged) -> tuple[int, int]:
    """Designs with text, and how many are taken for art without."""
    with_text = {label["design"] for label in one.labels if usable(label)}
    found = {pair.label["design"] for pair in one.pairs if (pair.text >= LIKELY_TEXT).any()}
    return len(with_text), len(with_text - found)


def page(sets: tuple[Judged, ...]) -> str:
    """The whole page."""
    labels = {seed: labels_in(label_file(seed)) for seed in (*SEEDS, FRESH)}
    again = noise([label for rows in labels.values() for label in rows])
    styles = Counter(label["style"] for label in labels[SPLIT] + labels[FRESH])
    total = sum(styles.values())
    drawings_seen, drawings_wrong = without_text()
    text = ", ".join(f"{name} {100 * count / total:.0f} %" for name, count in styles.most_common())
    lost = [(one.title, *missed(one)) for one in sets]
    lost_words = "; ".join(f"{title}: {wrong} of {count}" for title, count, wrong in lost)
    blocks = {
        "main": main_figures(sets),
        "single": single_measures(sets),
        "confusion": "\n\n".join(confusion(one) for one in sets),
        "cuts": cuts(sets),
        "calibration": "\n\n".join(calibration(one) for one in sets),
        "styles": by(sets[-1], "style"),
        "fonts": by(sets[0], "font"),
        "mix": table(MIX_HEAD, [mix(seed, rows) for seed, rows in labels.items()]),
        "style_mix": text,
        "noise": f'{again.pairs} thumbnails read twice: the verdict "read" agrees in '
        f"{100 * again.agree:.1f} %,\n"
        f"and {100 * again.flipped:.1f} % of the clear ones turn into their opposite",
        "lost": lost_words,
        "drawings": f"{drawings_wrong} of {drawings_seen}",
    }
    return TEMPLATE.read_text(encoding="utf-8").format(**blocks)
