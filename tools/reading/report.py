"""Write docs/accuracy.md, its pictures and the compact file that the tests judge the predictor by.

``python -m tools.reading.report`` draws and measures both judged sets again (a few minutes); no OCR runs.
"""

import argparse
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tools.reading.judge import reliability
from tools.reading.pages import page
from tools.reading.plates import mistakes_sheet, reliability_plot, served, sheet
from tools.reading.sets import Judged, both

ROOT = Path(__file__).parents[2]
PICTURES = ROOT / "docs" / "accuracy"
COMPACT = ROOT / "tests" / "unit" / "proofing" / "reading_judged.npz"
WORST = 10


def worst(one: Judged) -> list[int]:
    """The clear pairs the predictor is furthest from, no design twice."""
    away = np.where(one.clear, np.abs(one.chance - one.read), -1.0)
    found: dict[str, int] = {}
    for place in np.argsort(-away, kind="stable"):
        found.setdefault(one.pairs[place].label["design"], int(place))
        if len(found) == WORST:
            break
    return list(found.values())


def pictures(sets: tuple[Judged, ...]) -> None:
    """Reliability, worst mistakes, and a look at the set."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    halves = {one.title: np.where(one.read, 1.0, np.where(one.clear, 0.0, 0.5)) for one in sets}
    curves = {one.title: reliability(one.chance, halves[one.title]) for one in sets}
    reliability_plot(curves).save(PICTURES / "reliability.png", optimize=True)
    for one in sets:
        places = worst(one)
        shown = mistakes_sheet(one.seed, [one.pairs[n] for n in places], one.chance[places])
        shown.save(PICTURES / f"mistakes-{one.title.replace(' ', '-')}.jpg", quality=82)
    fresh = sets[-1]
    some = list(range(0, len(fresh.pairs), 101))[:20]
    tiles = [(served(fresh.seed, fresh.pairs[n].label), words(fresh, n)) for n in some]
    sheet(tiles, across=5).save(PICTURES / "set.jpg", quality=82)


def words(one: Judged, place: int) -> str:
    """A pair in a few words."""
    label = one.pairs[place].label
    style, width = label["style"], label["width_px"]
    return f"{style} {width} px: {one.chance[place]:.2f} / {one.share[place]:.2f}"


def compact(sets: tuple[Judged, ...]) -> None:
    """Measures, in half precision, and truth of every judged pair."""
    arrays: dict[str, NDArray[Any]] = {}
    for one in sets:
        name = one.title.replace(" ", "_").replace("-", "_")
        arrays[f"{name}_measures"] = one.table.astype(np.float16)
        arrays[f"{name}_share"] = one.share.astype(np.float32)
        arrays[f"{name}_outlined"] = one.outlined
    np.savez_compressed(COMPACT, allow_pickle=False, **arrays)


def main() -> None:
    """Write everything."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--cache", type=Path, help="a folder to keep measures in between runs")
    args = ask.parse_args()
    sets = both(args.cache)
    pictures(sets)
    compact(sets)
    (ROOT / "docs" / "accuracy.md").write_text(page(sets), encoding="utf-8")


if __name__ == "__main__":
    main()
