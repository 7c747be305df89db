"""Fill every starter from a word list, measure what came out, and draw contact sheets of forty rows.

``python -m tools.layouts.look_over LIST.csv [--layout NAME] [--sheets FOLDER] [--rows N]``

Letters that weld together are counted on the drawn picture, by code that shares nothing with the setting: the
separate pieces of ink of a slot as it was set, against those of the same words set flat by HarfBuzz alone.
"""

import argparse
import csv
from collections import Counter
from collections.abc import Mapping, Sequence
from pathlib import Path

import cv2
import numpy as np
import resvg
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont
from resvg import usvg

from hundredfold.designs.alpha import over
from hundredfold.designs.checks import ROW
from hundredfold.designs.layouts.fill import Filled, Fonts, _Filling
from hundredfold.designs.layouts.layout import Layout, parse_layout
from hundredfold.designs.layouts.rowcells import item_of, judge_cells
from hundredfold.designs.layouts.rows import Row
from hundredfold.designs.layouts.slots import TextSlot
from hundredfold.designs.typesetting.fonts import Font
from hundredfold.designs.typesetting.outline import Bounds, Outline
from hundredfold.designs.typesetting.shaping import shape
from hundredfold.designs.typesetting.smallwords import is_small
from hundredfold.designs.typesetting.spans import plain
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Severity
from hundredfold.runner.svgchild import rasterise_svg
from hundredfold.workshop.shop.starterlayouts import starter_layouts
from hundredfold.workshop.shop.typefaces import find_font
from hundredfold.workshop.typeset.typework import spares_for
from tools.sampleart.pictures import sample_pictures

PIXELS_PER_EM = 160
TILE, CAPTION, ACROSS = 150, 18, 10
MASK, SHARED = 900, 8  # pixels along the page, and how many of two slots may fall together at their edges
GROUNDS = {"light": (255, 255, 255), "dark": (32, 37, 46), "": (255, 255, 255)}


def read_rows(path: Path) -> list[Row]:
    """The rows of a CSV as a layout takes them."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        return [
            Row(path.name, number, {key.casefold(): value.strip(" \t") for key, value in cells.items()})
            for number, cells in enumerate(csv.DictReader(file), start=2)
        ]


def pieces_of_ink(outline: Outline, scale: float) -> int:
    """Separate pieces of a drawn outline, at ``scale`` pixels to a unit, as resvg draws it."""
    bounds = outline.bounds()
    if bounds is None:
        return 0
    width, height = int(bounds.width * scale) + 8, int(bounds.height * scale) + 8
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" viewBox="{bounds.left - 4 / scale} '
        f'{bounds.top - 4 / scale} {width / scale} {height / scale}"><path d="{outline.path_data(5)}"/></svg>'
    )
    tree = usvg.Tree.from_str(svg, usvg.Options.default())
    drawn = cv2.imdecode(
        np.frombuffer(bytes(resvg.render(tree, (1, 0, 0, 0, 1, 0))), np.uint8), cv2.IMREAD_UNCHANGED
    )
    assert drawn is not None
    return int(cv2.connectedComponents((drawn[..., 3] > 127).astype(np.uint8), connectivity=4)[0]) - 1


def flat_pieces(text: str, slot: TextSlot, fonts: Sequence[Font], language: str, pixels: int) -> int:
    """The same for the words put down flat, as the shaper places them, at ``pixels`` to the em."""
    outline = shape(
        text, fonts, tracking=min(max(0.0, slot.tracking[0]), slot.tracking[1]), language=language
    ).outline
    return pieces_of_ink(outline.affine(1, 0, 0, -1, 0, 0), pixels)


def merged(layout: Layout, filling: _Filling) -> dict[str, int]:
    """By slot, how many pieces of ink the setting welded to a neighbour.

    Letters that a face puts a hair apart fall together on some grids and not on others: what looks welded is
    looked at again four times as finely.
    """
    found: dict[str, int] = {}
    for slot, done in filling.set:
        if not done.lines:
            continue
        size = min(line.size_mm for line in done.lines) / slot.mm_per_unit
        lost = 0
        for pixels in (PIXELS_PER_EM, 4 * PIXELS_PER_EM):
            fonts = filling._fonts_of(slot)
            flat = sum(flat_pieces(line.text, slot, fonts, layout.language, pixels) for line in done.lines)
            lost = flat - pieces_of_ink(done.outline, pixels / size)
            if lost <= 0:
                break
        if lost > 0:
            found[slot.label] = lost
    return found


def _mask(outline: Outline, view: tuple[float, float, float, float]) -> NDArray[np.bool_]:
    """A drawn outline as pixels of the page, ``MASK`` of them along its width."""
    wide, tall = MASK, max(1, round(MASK * view[3] / view[2]))
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}" height="{tall}" '
        f'viewBox="{" ".join(f"{value:g}" for value in view)}"><path d="{outline.path_data(2)}"/></svg>'
    )
    tree = usvg.Tree.from_str(svg, usvg.Options.default())
    drawn = cv2.imdecode(
        np.frombuffer(bytes(resvg.render(tree, (1, 0, 0, 0, 1, 0))), np.uint8), cv2.IMREAD_UNCHANGED
    )
    assert drawn is not None
    covered: NDArray[np.bool_] = drawn[..., 3] > 127
    return covered


def overlapping(layout: Layout, filling: _Filling) -> bool:
    """Whether the drawn letters of two slots share more than ``SHARED`` pixels."""
    view = layout.drawing.view
    placed = [done.outline.affine(*slot.matrix) for slot, done in filling.set]
    boxes = [(one, box) for one in placed if (box := one.bounds()) is not None]
    for k, (one, box) in enumerate(boxes):
        for other, over_there in boxes[k + 1 :]:
            apart = (
                box.right <= over_there.left
                or over_there.right <= box.left
                or box.bottom <= over_there.top
                or over_there.bottom <= box.top
            )
            if not apart and int((_mask(one, view) & _mask(other, view)).sum()) > SHARED:
                return True
    return False


def count_lines(layout: Layout, filling: _Filling) -> Counter[str]:
    """Texts of several lines, those whose last line is a lone short word, and those led by small words."""
    counts: Counter[str] = Counter()
    for _, done in filling.set:
        full = [line for line in done.lines if not line.catch]
        if len(done.lines) < 2 or not full:
            continue
        counts["broken texts"] += 1
        words = " ".join(plain(line.text) for line in done.lines).split()
        last = done.lines[-1]
        widest = max(line.ink.width for line in full)
        lone = len(plain(last.text).split()) == 1 and last.ink.width < widest / 2
        counts["widows"] += lone and len(words) > 2
        largest = max(line.size_mm for line in done.lines)
        counts["largest line of small words"] += all(
            all(is_small(word, layout.language) for word in plain(line.text).split())
            for line in done.lines
            if line.size_mm > largest * 0.999
        )
    return counts


def look(layout: Layout, rows: Sequence[Row], measured: bool = True) -> tuple[Counter[str], list[Filled]]:
    """Counts over the rows, and what was filled."""
    fonts = {key: find_font(*key) for key in layout.fonts()}
    art = dict(sample_pictures())
    counts: Counter[str] = Counter()
    pictures, palettes = sorted(art), sorted(next(iter(layout.roles.values()), {"": {}}))
    done = []
    for row in rows:
        version = layout.versions[row.number % len(layout.versions)]
        usual = {
            "picture": pictures[row.number % len(pictures)],
            "palette": palettes[row.number % len(palettes)],
        }
        wanted = {name.casefold(): "" for name in layout.columns()}
        known = Row(row.file, row.number, {**wanted, **usual, **row.cells})
        filling, filled = _filled(layout, known, fonts, art, version)
        counts["rows"] += 1
        counts.update(f"{f.severity.name.lower()} {f.code}" for f in filled.findings)
        done.append(filled)
        if not filled.svg:
            counts.update({f"refused for {f.code}" for f in filled.findings if f.severity is Severity.STOP})
            continue
        counts["made"] += 1
        if measured and filling is not None:
            counts.update(_measured(layout, filling, filled))
    return counts, done


def _filled(
    layout: Layout, row: Row, fonts: Fonts, art: Mapping[str, bytes], version: str
) -> tuple[_Filling | None, Filled]:
    """A row as ``fill_layout`` fills it, with what was set."""
    spares = spares_for(layout, row, fonts, Path("nowhere"))
    findings = list(judge_cells(layout, row))
    if any(finding.severity is Severity.STOP for finding in findings):
        return None, Filled(row, version, b"", None, tuple(findings))
    filling = _Filling(layout, row, fonts, art, version, findings, spares)
    try:
        return filling, filling.run()
    except ShopError as error:
        return None, Filled(
            row, version, b"", None, (*findings, ROW.finds_error(error, item_of(layout, row)))
        )


def _measured(layout: Layout, filling: _Filling, filled: Filled) -> Counter[str]:
    counts = count_lines(layout, filling)
    welded = merged(layout, filling)
    counts["merged pairs"] += sum(welded.values())
    counts["designs with merged pairs"] += bool(welded)
    view = layout.drawing.view
    page = Bounds(view[0], view[1], view[0] + view[2], view[1] + view[3])
    counts["slots off the page"] += sum(not page.holds(ink, 0.5) for _, ink in filled.inks)
    if overlapping(layout, filling):
        counts["overlaps"] += 1
        counts["overlaps unremarked"] += not any(f.code == "overlap" for f in filled.findings)
    return counts


def contact(layout: Layout, rows: Sequence[Filled], title: str) -> Image.Image:
    """Small pictures side by side with their row numbers."""
    view = layout.drawing.view
    wide = view[2] > view[3] * 1.2
    tile_w = TILE if not wide else int(TILE * 1.6)
    across = ACROSS if not wide else 6
    tile_h = round(tile_w * view[3] / view[2])
    down = -(-len(rows) // across)
    sheet = Image.new("RGB", (across * (tile_w + 8) + 8, 34 + down * (tile_h + CAPTION + 8)), (226, 222, 212))
    pen = ImageDraw.Draw(sheet)
    pen.text((8, 6), title, fill=(20, 20, 20), font=ImageFont.load_default(20))
    for k, one in enumerate(rows):
        x, y = 8 + k % across * (tile_w + 8), 34 + k // across * (tile_h + CAPTION + 8)
        if one.svg:
            tile = over(rasterise_svg(one.svg, tile_w, tile_h, name="tile"), GROUNDS[one.version])[..., :3]
            sheet.paste(Image.fromarray(np.ascontiguousarray(tile)), (x, y))
        codes = ", ".join(f.code for f in one.findings)
        pen.text(
            (x, y + tile_h + 4),
            f"{one.row.number} {codes}"[:26],
            fill=(90, 30, 30) if codes else (90, 90, 90),
            font=ImageFont.load_default(11),
        )
    return sheet


def main() -> None:
    """Print the counts and write the sheets."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("words", type=Path)
    parser.add_argument("--layout", action="append")
    parser.add_argument("--rows", type=int, default=0, help="only so many rows, evenly spread")
    parser.add_argument("--sheets", type=Path)
    parser.add_argument("--prefix", default="")
    parser.add_argument("--only-sheets", action="store_true", help="draw, and count nothing")
    asked = parser.parse_args()
    rows = read_rows(asked.words)
    if asked.rows:
        step = len(rows) / asked.rows
        rows = [rows[int(k * step)] for k in range(asked.rows)]
    for name, data in starter_layouts():
        if asked.layout and name[:-4] not in asked.layout:
            continue
        layout = parse_layout(data, name)
        counts, done = look(layout, rows, not asked.only_sheets)
        print(
            f"{name[:-4]:18}",
            ", ".join(f"{key} {value}" for key, value in sorted(counts.items())),
            flush=True,
        )
        if asked.sheets:
            asked.sheets.mkdir(parents=True, exist_ok=True)
            picture = contact(layout, done[:40], f"{name[:-4]} , {asked.words.stem}")
            picture.save(asked.sheets / f"{asked.prefix}{name[:-4]}.jpg", quality=80)


if __name__ == "__main__":
    main()
