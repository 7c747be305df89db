"""How long a channel's table takes: 50,000 listings x 10 as CSV, and 50,000 rows in a partner's workbook.

Run: python -m benchmarks.tables. CPU seconds of this process, and the most memory it held.
"""

import io
import resource
import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal
from itertools import islice

import openpyxl

from hundredfold.catalogue.channels import CapCounts, Channel, PictureRules, TextLimits
from hundredfold.catalogue.charges import Fees
from hundredfold.catalogue.sheets import Column, Sheet, TableKind
from hundredfold.handoff.cells import Cell
from hundredfold.handoff.fields import RowContext
from hundredfold.handoff.rows import PackRow, RowPicture
from hundredfold.handoff.sheets import Filler
from hundredfold.handoff.tables import write_table
from hundredfold.kernel.money import Money
from hundredfold.ledger.keys import ListingKey
from hundredfold.planning.listings import Action

FILLS = (
    "{action}", "{sku}", "{title}", "{story}", "{point 1}", "{point 2}", "{point 3}", "{search words}",
    "{price}",
    "{currency}", "{stock}", "{colour name}", "{size}", "{partner code}", "{value origin}", "{picture 1}",
    "{picture 2}", "{artwork}", "Puddlewick Goods", "{colour name}, size {size}",
)  # fmt: skip
LISTINGS, VARIANTS, BOOK_ROWS = 50_000, 10, 50_000


class Nowhere(io.RawIOBase):
    """Counts the bytes it is given and keeps none."""

    size = 0

    def write(self, data: object) -> int:
        """Count."""
        length = len(data)  # type: ignore[arg-type]
        self.size += length
        return length


def channel() -> Channel:
    """A marketplace with twenty columns."""
    sheet = Sheet(TableKind.CSV, tuple(Column(f"c{n}", fill) for n, fill in enumerate(FILLS)))
    nothing = Money(Decimal(0), "GBP")
    return Channel(
        "bench", "Bench", "GBP", "en-GB", CapCounts.ROWS, 1, Fees(Decimal("0.1"), nothing, nothing),
        TextLimits(80, 5, 200, 2000, 250), PictureRules(1000, 1000, 1_000_000, 2), sheet, stock=50,
    )  # fmt: skip


def rows(to: Channel) -> Iterator[tuple[Cell, ...]]:
    """The lines of all listings, made as they are asked for."""
    filler = Filler(to)
    day = date(2026, 12, 1)
    words = {"title": "Proud Beekeeper Mug", "story": "A mug for beekeepers. " * 12, "colour name": "Navy"}
    points = {
        "points": ("Made to order", "Holds 325 ml", "Dishwasher safe"),
        "search words": ("bee", "mug", "gift"),
    }
    pictures = (RowPicture("main", "a.jpg"), RowPicture("more", "b.jpg"))
    one = PackRow(
        Action.NEW, 1, "", ListingKey("bench", "D", "B"), "navy", "M", Money(Decimal("14.95"), "GBP"),
        {"front": "art.png"}, pictures, fields={**words, **points, "partner code": "NF-1"},
        values={"origin": "GB"},
    )  # fmt: skip
    for listing in range(LISTINGS):
        for variant in range(VARIANTS):
            yield filler.row(RowContext(replace(one, sku=f"PG-{listing:05}-{variant}"), to, day))


def form() -> bytes:
    """A partner's empty workbook."""
    book = openpyxl.Workbook()
    page = book.active
    assert page is not None
    page.title = "Listings"
    page.append([f"c{n}" for n in range(len(FILLS))])
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def timed(name: str, work: object) -> None:
    """Run it, and say what it took."""
    start = time.process_time()
    work()  # type: ignore[operator]
    spent = time.process_time() - start
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"{name}: {spent:.1f} CPU s, at most {most:.0f} MB held so far")


def main() -> None:
    """Both, one after the other."""
    to = channel()
    timed("50,000 listings x 10 as CSV", lambda: write_table(to.sheet, rows(to), Nowhere()))  # type: ignore[arg-type]
    lines = islice(rows(to), BOOK_ROWS)
    filled = replace(to.sheet, kind=TableKind.XLSX, form="form.xlsx", first_row=2)
    timed("50,000 rows filled into a workbook", lambda: write_table(filled, lines, io.BytesIO(), form()))


if __name__ == "__main__":
    main()
