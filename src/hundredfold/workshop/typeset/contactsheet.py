"""The contact sheet of a word list: the 24 rows most likely to look wrong, on one page, PNG and PDF."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from reportlab.lib.pagesizes import A4
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from hundredfold.designs.alpha import over
from hundredfold.designs.layouts.fill import Filled
from hundredfold.designs.layouts.layout import Layout
from hundredfold.designs.layouts.quality import SetFacts
from hundredfold.designs.typesetting.fitting import fit_width
from hundredfold.designs.typesetting.outline import joined
from hundredfold.designs.typesetting.setting import set_line
from hundredfold.designs.typesetting.shaping import shape
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Severity
from hundredfold.placement.encode import jpeg, png
from hundredfold.runner.svgchild import rasterise_svg
from hundredfold.workshop.shop.typefaces import find_font

Bytes = NDArray[np.uint8]

MOST = 24
_ACROSS = 6
_TILE_W, _TILE_H, _CAPTION, _GAP, _HEAD = 520, 650, 78, 28, 150  # pixels
_GROUNDS = {"light": "#ffffff", "dark": "#20252e", "": "#f4f1ea"}
_PAPER, _INK, _SOFT = "#e9e5dc", "#2a2722", "#77716a"


@dataclass(frozen=True, eq=False)
class Worst:
    """A row on the sheet, and why it is there."""

    filled: Filled
    order: str
    why: str


def worst_rows(rows: Sequence[Filled], most: int = MOST) -> tuple[Worst, ...]:
    """What has findings, the worst first; then the longest, the shortest, the most shrunk and those with most
    lines, in turn, none twice.
    """
    judged = sorted(
        (row for row in rows if row.svg and _badness(row)), key=lambda row: (-_badness(row), row.row.number)
    )
    first = tuple(Worst(row, "findings", _told(row)) for row in judged[:most])
    if len(first) == most:
        return first
    rest = _by_orders([row for row in rows if not _badness(row)], most - len(first))
    return (*first, *rest)


def _badness(row: Filled) -> int:
    """A warning weighs more than any number of notes."""
    return sum(
        {Severity.STOP: 10_000, Severity.WARN: 100, Severity.NOTE: 1}[f.severity] for f in row.findings
    )


def _told(row: Filled) -> str:
    worst = max(row.findings, key=lambda finding: finding.severity)
    more = f" and {len(row.findings) - 1} more" if len(row.findings) > 1 else ""
    return f"{worst.severity.word}: {worst.code.replace('-', ' ')}{more}"


def _by_orders(rows: Sequence[Filled], most: int) -> tuple[Worst, ...]:
    good = [(row, row.facts) for row in rows if row.svg and row.facts is not None]
    orders: tuple[tuple[str, Callable[[SetFacts], float], Callable[[SetFacts], str]], ...] = (
        ("longest", lambda f: -f.characters, lambda f: f"longest: {f.characters} letters"),
        ("shortest", lambda f: f.characters, lambda f: f"shortest: {f.characters} letters"),
        (
            "smallest",
            lambda f: f.smallest_x_height_mm,
            lambda f: f"smallest letters: x-height {f.smallest_x_height_mm:.1f} mm",
        ),
        ("lines", lambda f: -f.most_lines, lambda f: f"most lines: {f.most_lines}"),
    )
    # An order in which all rows are equal says nothing.
    orders = tuple(order for order in orders if len({order[1](facts) for _, facts in good}) > 1) or orders[:1]
    queues = [
        sorted(good, key=lambda pair, key=key: (key(pair[1]), pair[0].row.number))  # type: ignore[misc]
        for _, key, _ in orders
    ]
    chosen: dict[int, Worst] = {}
    at = [0] * len(queues)
    wanted = min(most, len(good))
    while len(chosen) < wanted:
        for index, queue in enumerate(queues):
            while at[index] < len(queue) and id(queue[at[index]][0]) in chosen:
                at[index] += 1
            if at[index] < len(queue) and len(chosen) < wanted:
                row, facts = queue[at[index]]
                chosen[id(row)] = Worst(row, orders[index][0], orders[index][2](facts))
    rank = {order[0]: index for index, order in enumerate(orders)}
    return tuple(sorted(chosen.values(), key=lambda w: (rank[w.order], w.filled.row.number)))


def contact_sheet(layout: Layout, rows: Sequence[Worst], title: str) -> Bytes:
    """The sheet as height x width x 3 sRGB pixels."""
    down = -(-len(rows) // _ACROSS)
    width = _GAP + _ACROSS * (_TILE_W + _GAP)
    height = _HEAD + down * (_TILE_H + _CAPTION + _GAP) + _GAP
    sheet = np.empty((height, width, 3), dtype=np.uint8)
    sheet[:] = Srgb.parse(_PAPER)
    texts = [_text(title, "Rowdies", 700, 64, _GAP * 1.5, 100, width - 3 * _GAP, _INK)]
    for index, worst in enumerate(rows):
        left = _GAP + (index % _ACROSS) * (_TILE_W + _GAP)
        top = _HEAD + (index // _ACROSS) * (_TILE_H + _CAPTION + _GAP)
        sheet[top : top + _TILE_H, left : left + _TILE_W] = _tile(layout, worst.filled)
        base = top + _TILE_H + 34
        texts.append(_text(f"row {worst.filled.row.number}", "Josefin Sans", 700, 28, left, base, 110, _INK))
        texts.append(_text(worst.why, "Josefin Sans", 400, 27, left + 118, base, _TILE_W - 118, _SOFT))
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" '
        f'viewBox="0 0 {width} {height}">{"".join(texts)}</svg>'
    )
    return _laid(sheet, rasterise_svg(svg.encode(), width, height, name="captions"))


def save_sheet(sheet: Bytes, base: Path, save: Callable[[Path, bytes], None]) -> tuple[Path, Path]:
    """Write ``base`` with .png and .pdf."""
    opaque = np.dstack([sheet, np.full(sheet.shape[:2], 255, dtype=np.uint8)])
    save(base.with_suffix(".png"), png(opaque, 200))
    save(base.with_suffix(".pdf"), sheet_pdf(sheet))
    return base.with_suffix(".png"), base.with_suffix(".pdf")


def sheet_pdf(sheet: Bytes) -> bytes:
    """One A4 page, upright or across as the sheet is; the same bytes every run."""
    height, width = sheet.shape[:2]
    page = A4 if height >= width else (A4[1], A4[0])
    scale = min((page[0] - 36) / width, (page[1] - 36) / height)
    out = BytesIO()
    canvas = Canvas(out, pagesize=page, invariant=1, pageCompression=1)
    canvas.setTitle("Contact sheet")
    picture = ImageReader(BytesIO(jpeg(sheet, 200, 92)))
    left, low = (page[0] - width * scale) / 2, (page[1] - height * scale) / 2
    canvas.drawImage(picture, left, low, width * scale, height * scale)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def _tile(layout: Layout, filled: Filled) -> Bytes:
    """The design on a ground of its kind of goods."""
    ground = Srgb.parse(_GROUNDS.get(filled.version, _GROUNDS[""]))
    tile = np.empty((_TILE_H, _TILE_W, 3), dtype=np.uint8)
    tile[:] = ground
    view = layout.drawing.view
    scale = min((_TILE_W - 40) / view[2], (_TILE_H - 40) / view[3])
    width, height = max(1, round(view[2] * scale)), max(1, round(view[3] * scale))
    art = over(
        rasterise_svg(filled.svg, width, height, name=f"row {filled.row.number}"),
        (ground.red, ground.green, ground.blue),
    )
    top, left = (_TILE_H - height) // 2, (_TILE_W - width) // 2
    tile[top : top + height, left : left + width] = art[..., :3]
    return tile


def _laid(under: Bytes, art: Bytes) -> Bytes:
    cover = art[..., 3:].astype(np.uint16)
    mixed = (art[..., :3].astype(np.uint16) * cover + under.astype(np.uint16) * (255 - cover) + 127) // 255
    return mixed.astype(np.uint8)


def _text(
    text: str, family: str, weight: int, size: float, x: float, y: float, room: float, fill: str
) -> str:
    """A caption as a path; what the font lacks is left out, since a caption must never stop the sheet."""
    font = find_font(family, weight)
    known = "".join(c for c in text if font.covers(c)) or "?"
    try:
        line = shape(known, [font])
    except ShopError:
        return ""
    size = min(size, fit_width(line, room))
    outline = joined([set_line(line, size, x, y, "start")])
    return f'<path d="{outline.path_data(1)}" fill="{fill}"/>'
