"""What setting a design costs, beside resvg drawing the same design with live text.

``python -m benchmarks.typeset`` takes a minute; ``--rows 500 --rounds 1`` is the full size.

Ours is everything from the row to the disk: filling, shaping, fitting, outlines, quality, SVG written, drawn
at 3600 x 4500, PNG written. The peer gets the finished answer, the same art and the same words at the sizes
we found, with its fonts loaded once, and does what it must: read the SVG, shape the words, draw, encode the
PNG; it fits nothing, measures nothing and writes no file. Both are processor seconds, taken in turns; the
least of the rounds counts, since other work on a machine only ever adds.
"""

import argparse
import gc
import math
import platform
import tempfile
import time
from collections.abc import Sequence
from importlib.metadata import version
from pathlib import Path

import fontpkg
import psutil
import resvg
from lxml import etree
from resvg import usvg

from hundredfold.designs.layouts.drawing import SVG
from hundredfold.designs.layouts.fill import _Filling
from hundredfold.designs.layouts.layout import Layout, parse_layout
from hundredfold.designs.layouts.rows import Row
from hundredfold.designs.layouts.settext import SetText
from hundredfold.designs.layouts.slots import TextSlot
from hundredfold.runner.workers import InProcess
from hundredfold.workshop.shop.paths import ShopPaths
from hundredfold.workshop.shop.starterlayouts import starter_layouts
from hundredfold.workshop.shop.typefaces import find_font
from hundredfold.workshop.typeset.typesetting import TypesetOrder, typeset
from tools.sampleart.pictures import sample_pictures

WIDTH, HEIGHT = 3600, 4500
WORDS = (
    "Proud beekeeper", "Tower captain", "Allotment life", "Sea swimmer", "Choir alto", "Gone cruising",
    "Hive inspector", "Compost captain", "Dawn dipper", "Bell ringer", "Lock keeper’s friend", "Low notes",
)  # fmt: skip
LINES = (
    "stung & still smiling",
    "plot, pot, repeat",
    "holding it together since bar one",
    "four miles an hour",
)


def rows(count: int) -> list[dict[str, str]]:
    """Rows with a cell for every slot of the starter layouts, none like another."""
    pictures = [name for name, _ in sample_pictures()]
    return [
        {
            "title": f"{WORDS[k % len(WORDS)]} {k}",
            "line": LINES[k % len(LINES)],
            "picture": pictures[k % len(pictures)],
            "first": WORDS[k % 7],
            "second": WORDS[k % 5 + 5],
            "third": f"kettle {k}",
        }
        for k in range(count)
    ]


def shop(folder: Path, layout: str, count: int) -> ShopPaths:
    """A shop folder with one layout, the pictures and so many rows."""
    paths = ShopPaths(folder)
    for place in (paths.layouts, paths.words, paths.art, paths.designs):
        place.mkdir(parents=True, exist_ok=True)
    (paths.layouts / layout).write_bytes(dict(starter_layouts())[layout])
    for name, data in sample_pictures():
        (paths.art / name).write_bytes(data)
    cells = rows(count)
    table = [",".join(cells[0]), *(",".join(f'"{cell}"' for cell in row.values()) for row in cells)]
    (paths.words / "rows.csv").write_text("\n".join(table) + "\n", encoding="utf-8")
    return paths


class _Live(_Filling):
    """Fills a layout as the program does, but leaves the words as live text."""

    def _drawn(self, slot: TextSlot, element: etree._Element, done: SetText) -> etree._Element:
        group = etree.Element(f"{{{SVG}}}g")
        if element.get("transform"):
            group.set("transform", str(element.get("transform")))
        name = f"path-{slot.number}"
        if slot.curve is not None:
            pieces = slot.curve.pieces
            data = f"M{pieces[0, 0, 0]} {pieces[0, 0, 1]}" + "".join(
                "C" + " ".join(f"{value:.2f}" for value in piece[1:].ravel()) for piece in pieces
            )
            etree.SubElement(etree.SubElement(group, f"{{{SVG}}}defs"), f"{{{SVG}}}path", id=name, d=data)
        widths = [
            2 * sum(edge.width_mm for edge in slot.edges[: k + 1]) / slot.mm_per_unit
            for k in range(len(slot.edges))
        ]
        colours = [self._colour(edge.colour) for edge in slot.edges]
        layers = [*zip(reversed(colours), reversed(widths), strict=True), (self._colour(slot.fill), 0.0)]
        if slot.shadow is not None:
            layers.insert(0, (self._colour(slot.shadow.colour), slot.stroke))
        for colour, width in layers:
            for line in done.lines:
                text = etree.SubElement(group, f"{{{SVG}}}text", fill=colour)
                text.set("font-family", slot.fonts[0])
                text.set("font-weight", str(slot.weight))
                text.set("font-size", f"{line.size_mm / slot.mm_per_unit:.2f}")
                text.set("text-anchor", "middle")
                if width:
                    text.set("stroke", colour)
                    text.set("stroke-width", f"{width:.2f}")
                    text.set("stroke-linejoin", "round")
                if slot.curve is not None:
                    run = etree.SubElement(text, f"{{{SVG}}}textPath", href=f"#{name}", startOffset="50%")
                    run.text = line.text
                else:
                    text.set("x", f"{line.ink.centre[0]:.2f}")
                    text.set("y", f"{line.ink.bottom:.2f}")
                    text.text = line.text
        return group


def live_text(layout: Layout, cells: dict[str, str]) -> str:
    """The design with its words as live text, sized in pixels."""
    fonts = {key: find_font(*key) for key in layout.fonts()}
    filled = _Live(layout, Row("rows.csv", 2, cells), fonts, dict(sample_pictures()), "light", []).run()
    text = filled.svg.decode()
    return text.replace('width="304.8mm" height="381mm"', f'width="{WIDTH}" height="{HEIGHT}"')


def peer(svg: str, options: usvg.Options) -> bytes:
    """resvg: parse with live text, draw, encode."""
    # The binding takes the matrix by rows.
    return bytes(resvg.render(usvg.Tree.from_str(svg, options), (1, 0, 0, 0, 1, 0)))


def peer_options(layout: Layout) -> usvg.Options:
    """Options with the layout's fonts loaded."""
    options = usvg.Options.default()
    for name, weight in layout.fonts():
        options.load_font_file(str(fontpkg.path(name, weight, nearest=True)))
    return options


def ours(paths: ShopPaths) -> tuple[float, float]:
    """Processor seconds of a whole run with any drawing child, and the peak of resident memory in MB."""
    me = psutil.Process()
    before = _spent(me)
    peak = 0.0

    def watch(done: int, of: int) -> None:
        nonlocal peak
        if done % 10 == 0 or done == of:
            peak = max(peak, sum(p.memory_info().rss for p in (me, *me.children(recursive=True))) / 1e6)

    done = typeset(paths, TypesetOrder(png_width=WIDTH), InProcess(), watch)
    assert done.failed == 0, done.findings
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
    parser.add_argument("--rows", type=int, default=10, help="designs of ours for each layout and round")
    parser.add_argument(
        "--peer", type=int, default=3, help="designs the peer draws for each layout and round"
    )
    parser.add_argument("--rounds", type=int, default=3)
    parser.add_argument("--layout", action="append", help="only these layouts")
    parser.add_argument(
        "--keep", type=Path, help="write the peer's first pictures into this folder, to look at"
    )
    asked = parser.parse_args(arguments)
    print(f"{platform.machine()}, Python {platform.python_version()}, resvg {version('resvg')}")
    names = [name for name, _ in starter_layouts() if not asked.layout or name[:-4] in asked.layout]
    ratios = []
    with tempfile.TemporaryDirectory() as folder:
        ours(shop(Path(folder) / "warm", names[0], 3))
        for name in names:
            layout = parse_layout(dict(starter_layouts())[name], name)
            options = peer_options(layout)
            texts = [live_text(layout, cells) for cells in rows(asked.peer)]
            mine, theirs, peak = math.inf, math.inf, 0.0
            for turn in range(asked.rounds):
                gc.collect()
                spent, held = ours(shop(Path(folder) / f"{name}-{turn}", name, asked.rows))
                mine, peak = min(mine, spent / asked.rows), max(peak, held)
                start = time.process_time()
                pictures = [peer(text, options) for text in texts]
                theirs = min(theirs, (time.process_time() - start) / len(texts))
            ratios.append(theirs / mine)
            print(
                f"{name[:-4]:16} ours {mine:.3f} CPU s, peak {peak:.0f} MB; "
                f"resvg {theirs:.3f} CPU s; ratio {theirs / mine:.1f}"
            )
            if asked.keep:
                asked.keep.mkdir(parents=True, exist_ok=True)
                (asked.keep / f"{name[:-4]}.png").write_bytes(pictures[0])
    print(f"mean ratio {sum(ratios) / len(ratios):.1f}, least {min(ratios):.1f}")


if __name__ == "__main__":
    main()
