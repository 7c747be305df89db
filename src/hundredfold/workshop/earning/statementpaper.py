"""The statement on paper: the sums by channel, the caution, and every line behind them."""

import io
from collections.abc import Sequence
from decimal import Decimal
from typing import Any
from xml.sax.saxutils import escape

from reportlab.lib import colors
from reportlab.lib.pagesizes import A4, landscape
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import LongTable, PageBreak, Paragraph, SimpleDocTemplate, Spacer, Table

from hundredfold.kernel.money import Money
from hundredfold.results.amounts import PLACES
from hundredfold.results.statement import COLUMNS, INCOME, Statement, StatementLine

LINES_MOST = 5_000  # about 130 pages; the workbook holds all
_INK, _PALE = colors.HexColor("#1d2a33"), colors.HexColor("#8a949b")
_TITLE = ParagraphStyle("title", fontName="Helvetica-Bold", fontSize=15, leading=20, textColor=_INK)
_TEXT = ParagraphStyle("text", fontName="Helvetica", fontSize=9, leading=12, textColor=_INK)
_HEADS = (
    "channel",
    "day",
    "order",
    "SKU",
    "sold",
    "refunds",
    "fees",
    "adverts",
    "goods",
    "other",
    "total",
    "report, row",
)


def statement_paper(statement: Statement, caution: Sequence[str]) -> bytes:
    """The PDF's bytes; the same for the same statement."""
    out = io.BytesIO()
    title = f"{statement.shop}: profit and loss, {statement.title}"
    paper = SimpleDocTemplate(
        out, pagesize=landscape(A4), leftMargin=14 * mm, rightMargin=14 * mm,
        topMargin=14 * mm, bottomMargin=16 * mm,
        title=title, author=statement.shop, invariant=1,
    )  # fmt: skip
    tax = (
        "registered for tax: the tax inside sales is taken out"
        if statement.registered
        else "not registered for tax"
    )
    story: list[Any] = [
        Paragraph(escape(_plain(title)), _TITLE),
        Paragraph(f"{statement.first} to {statement.last}; {tax}", _TEXT),
        Spacer(1, 6 * mm),
        _summary(statement) if statement.parts else Paragraph("Reports tell of nothing in this time.", _TEXT),
        Spacer(1, 6 * mm),
        *(Paragraph(escape(text), _TEXT) for text in caution),
    ]
    if statement.lines:
        shown = statement.lines[:LINES_MOST]
        rest = len(statement.lines) - len(shown)
        more = f"; {rest} further lines are in the workbook" if rest else ""
        story += [
            PageBreak(),
            Paragraph(f"Lines, each from one row of one report{more}", _TITLE),
            Spacer(1, 3 * mm),
        ]
        story.append(_lines(shown))
    paper.build(story, onFirstPage=_foot, onLaterPages=_foot)
    return out.getvalue()


def _plain(text: str) -> str:
    """The paper's own fonts know the letters of Western Europe; others are in the workbook."""
    return text.encode("cp1252", "replace").decode("cp1252")


def _amount(amount: int, currency: str) -> str:
    return Money(Decimal(amount).scaleb(-PLACES), currency).plain()


def _foot(canvas: Any, paper: Any) -> None:
    canvas.setFont("Helvetica", 8)
    canvas.setFillColor(_PALE)
    canvas.drawRightString(landscape(A4)[0] - 14 * mm, 9 * mm, f"{_plain(paper.title)}, page {paper.page}")


def _summary(statement: Statement) -> Any:
    parts = statement.parts
    rows: list[list[str]] = [["", *(f"{_plain(part.channel)}, {part.currency}" for part in parts)]]
    rows += [["pieces", *(str(part.pieces) for part in parts)]]
    for at, name in enumerate(COLUMNS):
        if at == INCOME:
            rows.append(["sold", *(_amount(part.sold, part.currency) for part in parts)])
        rows.append([name, *(_amount(part.sums[at], part.currency) for part in parts)])
    rows.append(["profit told by reports", *(_amount(part.profit, part.currency) for part in parts)])
    sold, profit = INCOME + 2, len(rows) - 1
    style = [
        ("FONT", (0, 0), (-1, -1), "Helvetica", 9), ("FONT", (0, 0), (-1, 0), "Helvetica-Bold", 9),
        ("ALIGN", (1, 0), (-1, -1), "RIGHT"), ("LINEBELOW", (0, 0), (-1, 0), 0.6, _INK),
        *((name, (0, row), (-1, row), *rest) for row in (sold, profit)
          for name, rest in (("FONT", ("Helvetica-Bold", 9)), ("LINEABOVE", (0.6, _INK)))),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2), ("TOPPADDING", (0, 0), (-1, -1), 2),
    ]  # fmt: skip
    return Table(rows, colWidths=[60 * mm, *(34 * mm for _ in parts)], style=style, hAlign="LEFT")


def _lines(lines: Sequence[StatementLine]) -> Any:
    rows: list[Sequence[str]] = [_HEADS, *map(_line, lines)]
    style = [
        ("FONT", (0, 0), (-1, -1), "Helvetica", 6.5), ("FONT", (0, 0), (-1, 0), "Helvetica-Bold", 6.5),
        ("ALIGN", (4, 0), (10, -1), "RIGHT"), ("LINEBELOW", (0, 0), (-1, 0), 0.5, _INK),
        ("TOPPADDING", (0, 0), (-1, -1), 1), ("BOTTOMPADDING", (0, 0), (-1, -1), 1),
    ]  # fmt: skip
    widths = [18, 18, 30, 30, 18, 18, 18, 18, 18, 18, 18, 46]
    return LongTable(
        rows, colWidths=[width * mm for width in widths], repeatRows=1, style=style, hAlign="LEFT"
    )


def _line(line: StatementLine) -> tuple[str, ...]:
    a = line.amounts
    sums = (sum(a[:4]), a[4], a[5] + a[6], a[7], a[8] + a[9], a[10], line.total)
    shown = (_amount(amount, line.currency) if amount else "" for amount in sums)
    where = f"{_cut(line.file, 34)}, {line.row}"
    return (_cut(line.channel, 12), line.day, _cut(line.order, 22), _cut(line.sku, 22), *shown, where)


def _cut(text: str, most: int) -> str:
    text = _plain(text)
    return text if len(text) <= most else f"{text[: most - 3]}..."
