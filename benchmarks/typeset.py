"""What setting a design costs, beside resvg drawing the same SVG with live text.

``python -m benchmarks.typeset`` takes a minute; ``--rows 500`` is the full size. Ours is everything: filling,
outlines, quality, SVG, drawing at 3600 x 4500, PNG on disk. The peer draws and encodes only, with its fonts
loaded once. Figures are processor seconds, so that a busy machine tells nearly the same as an idle one.
"""

import argparse
import gc
import platform
import re
import tempfile
import time
from collections.abc import Sequence
from importlib.metadata import version
from pathlib import Path

import fontpkg
import psutil
import resvg
from resvg import usvg

from hundredfold.build.workers import InProcess
from hundredfold.designs.layouts.layout import Layout, parse_layout
from hundredfold.designs.layouts.rows import Row
from hundredfold.workshop.sampleart.pictures import sample_pictures
from hundredfold.workshop.shoppaths import ShopPaths
from hundredfold.workshop.starterlayouts import starter_layouts
from hundredfold.workshop.typesetting import Asked, typeset
from hundredfold.workshop.typework import fill_row
from hundredfold.workshop.wordlists import read_word_list

LAYOUT = "badge"
WIDTH, HEIGHT = 3600, 4500
WORDS = Path(__file__).parents[1] / "src" / "hundredfold" / "sample" / "words" / "clubs.csv"


def shop(folder: Path, rows: int) -> ShopPaths:
    """A shop folder with the layout, its pictures and so many rows."""
    paths = ShopPaths(folder)
    for place in (paths.layouts, paths.words, paths.art, paths.designs):
        place.mkdir(parents=True, exist_ok=True)
    (paths.layouts / f"{LAYOUT}.svg").write_bytes(dict(starter_layouts())[f"{LAYOUT}.svg"])
    for name, data in sample_pictures():
        (paths.art / name).write_bytes(data)
    lines = WORDS.read_text(encoding="utf-8").splitlines()
    (paths.words / "clubs.csv").write_text("\n".join(lines[: rows + 1]) + "\n", encoding="utf-8")
    return paths


def live_text(layout: Layout, source: str, row: Row, paths: ShopPaths) -> str:
    """The same design with its words as live text on the same paths, at the sizes we found."""
    done = fill_row(layout, row, str(paths.fonts), str(paths.art), "light")
    assert done.facts is not None
    sizes = {line.slot: line.size_mm / layout.drawing.mm_per_unit for line in done.facts.lines}
    for slot in ("title", "line"):
        size, words = sizes[f"{{{slot}}}"], row.cell(slot).upper().replace("&", "&amp;")
        pattern = rf'<text ([^>]*)font-size="[0-9.]+"([^>]*)data-path="(#[a-z-]+)"([^>]*)>\{{{slot}\}}</text>'
        found = re.search(pattern, source)
        assert found is not None
        first, second, curve, third = found.groups()
        run = f'<textPath href="{curve}" startOffset="50%">{words}</textPath>'
        text = f'<text {first}font-size="{size:.2f}"{second}{third}>{run}</text>'
        source = source.replace(found.group(0), text)
    return source.replace('width="304.8mm" height="381mm"', f'width="{WIDTH}" height="{HEIGHT}"')


def peer(svg: str, options: object) -> bytes:
    """resvg: parse with live text, draw, encode."""
    # The binding takes the matrix by rows.
    return bytes(resvg.render(usvg.Tree.from_str(svg, options), (1, 0, 0, 0, 1, 0)))


def peer_options(layout: Layout) -> object:
    """Options with the layout's fonts loaded."""
    options = usvg.Options.default()
    for name, weight in layout.fonts():
        options.load_font_file(str(fontpkg.path(name, weight, nearest=True)))
    return options


def ours(paths: ShopPaths) -> tuple[float, float]:
    """Processor seconds of a whole run with its drawing child, and the peak of resident memory in MB."""
    me = psutil.Process()
    before, start = _spent(me), time.perf_counter()
    peak = 0.0

    def watch(done: int, of: int) -> None:
        nonlocal peak
        peak = max(peak, sum(p.memory_info().rss for p in (me, *me.children(recursive=True))) / 1e6)

    done = typeset(paths, Asked(png_width=WIDTH), InProcess(), watch)
    assert done.failed == 0
    print(f"  made {done.made} in {time.perf_counter() - start:.0f} s of wall time, one process")
    return _spent(me) - before, peak


def _spent(me: psutil.Process) -> float:
    total = 0.0
    for process in (me, *me.children(recursive=True)):
        times = process.cpu_times()
        total += times.user + times.system
    return total


def main(arguments: Sequence[str] | None = None) -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rows", type=int, default=40, help="designs of ours")
    parser.add_argument("--peer", type=int, default=6, help="designs the peer draws")
    parser.add_argument("--keep", type=Path, help="write the peer's first picture here, to look at")
    asked = parser.parse_args(arguments)
    print(f"{platform.machine()}, Python {platform.python_version()}, resvg {version('resvg')}")
    with tempfile.TemporaryDirectory() as folder:
        for rows in (max(5, asked.rows // 5), asked.rows):
            paths = shop(Path(folder) / str(rows), rows)
            gc.collect()
            spent, peak = ours(paths)
            print(
                f"ours: {rows} designs, {spent / rows:.3f} CPU s each, peak {peak:.0f} MB with the drawing child"
            )
        source = (paths.layouts / f"{LAYOUT}.svg").read_text(encoding="utf-8")
        layout = parse_layout(source.encode(), f"{LAYOUT}.svg")
        options = peer_options(layout)
        texts = [
            live_text(layout, source, row, paths)
            for row in read_word_list(paths.words / "clubs.csv").rows[: asked.peer]
        ]
        start = time.process_time()
        sizes = [len(peer(text, options)) for text in texts]
        each = (time.process_time() - start) / len(texts)
        print(
            f"resvg with live text: {len(texts)} designs, {each:.3f} CPU s each, {sum(sizes) / len(sizes) / 1e3:.0f} kB"
        )
        print(f"ratio: {each / (spent / asked.rows):.1f}")
        if asked.keep:
            asked.keep.write_bytes(peer(texts[0], options))


if __name__ == "__main__":
    main()
