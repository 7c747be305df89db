"""Make docs/gallery: every blank of the sample in four colours, every picture role.

``hundredfold new --sample SHOP && python -m tools.gallery SHOP docs/gallery``
"""

import argparse
from pathlib import Path

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import Blank, PrintArea
from hundredfold.designs.facts import Box
from hundredfold.mockups.contact import contact_sheet
from hundredfold.mockups.files import as_jpeg
from hundredfold.mockups.registry import plate_for, roles_of
from hundredfold.placement.layout import lay_out, usual_wish
from hundredfold.runner.svgchild import rasterise_svg, svg_size
from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.steps.plates import Pictures, Shot
from tools.sampleart.finished import sample_designs

Bytes = NDArray[np.uint8]
CELL_PX, LARGE_PX = 420, 1500


def ink_box(art: Bytes) -> Box:
    """The inked part of the art."""
    inked = art[..., 3] > 0
    rows, columns = np.flatnonzero(inked.any(1)), np.flatnonzero(inked.any(0))
    return Box(int(columns[0]), int(rows[0]), int(columns[-1]) + 1, int(rows[-1]) + 1)


def spread_out(count: int, most: int = 4) -> list[int]:
    """Four of a blank's colours, first and last among them."""
    shown = min(most, count)
    return [round(k * (count - 1) / max(shown - 1, 1)) for k in range(shown)]


def areas_of(blank: Blank) -> list[tuple[str, PrintArea]]:
    """Areas that look different: each of a tumbler's sizes, else the last."""
    if any(area.cone for area in blank.areas) and len(blank.areas) > 1:
        return [(f" {area.for_sizes[0]}", area) for area in blank.areas]
    return [("", blank.areas[-1])]


def sheet_of(blank: Blank, area: PrintArea, art: Bytes) -> tuple[Bytes, Bytes]:
    """The contact sheet (a row a role, a column a colour) and one picture at full size."""
    box = ink_box(art)
    placements = lay_out(box, blank, area, usual_wish(blank)).placements
    pictures = Pictures(art)
    colours = [blank.colours[k] for k in spread_out(len(blank.colours))]
    roles = roles_of(plate_for(blank, area))
    cells = [pictures.picture(Shot(blank, area, c, r), placements) for r in roles for c in colours]
    return contact_sheet(cells, len(colours), CELL_PX), cells[len(colours) - 1]


def drawn(name: str, long_px: int = 2600) -> Bytes:
    """A design of the sample, drawn."""
    data = dict(sample_designs())[name]
    wide, high = svg_size(data, name)
    scale = long_px / max(wide, high)
    return rasterise_svg(data, round(wide * scale), round(high * scale), name=name)


def main() -> None:
    """Draw, picture, write the pages."""
    parser = argparse.ArgumentParser()
    parser.add_argument("shop", type=Path, help="a sample shop folder (hundredfold new --sample FOLDER)")
    parser.add_argument("out", type=Path)
    parser.add_argument("--dark", default="", help="design for goods that take opaque ink")
    parser.add_argument("--light", default="", help="design for goods whose ink is transparent")
    parser.add_argument("--large", action="store_true", help="also one picture of each at full size")
    asked = parser.parse_args()
    asked.out.mkdir(parents=True, exist_ok=True)
    lines = [
        "# Gallery",
        "",
        "Every blank of the sample, a row a picture role, a column a colour. Made by",
        "",
        "    hundredfold new --sample SHOP && python -m tools.gallery SHOP docs/gallery",
        "",
    ]
    names = [name for name, _ in sample_designs()]
    light, dark = asked.light or names[0], asked.dark or names[0]
    for blank in open_shop(asked.shop).blanks:
        transparent = not any(colour.underbase for colour in blank.colours)
        art = drawn(light if transparent else dark)
        for suffix, area in areas_of(blank):
            sheet, large = sheet_of(blank, area, art)
            stem = f"{blank.code}{suffix}".lower().replace(" ", "-")
            (asked.out / f"{stem}.jpg").write_bytes(as_jpeg(sheet, 86))
            if asked.large:
                (asked.out / f"{stem}.large.jpg").write_bytes(as_jpeg(large, 88))
            lines += [f"## {blank.name}{suffix}", "", f"![{blank.name}]({stem}.jpg)", ""]
            print(stem, flush=True)
    (asked.out / "README.md").write_text("\n".join(lines), encoding="utf-8")


if __name__ == "__main__":
    cv2.setNumThreads(1)
    main()
