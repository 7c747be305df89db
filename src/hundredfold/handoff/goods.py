"""What a channel's tables say of the goods of a listing, as one digest: when it changes, a change is due."""

import hashlib
from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from hundredfold.catalogue.blanks import Blank, BlankVariant
from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.sheets import RowsOf, Sheet
from hundredfold.catalogue.values import own_values
from hundredfold.designs.design import Design
from hundredfold.handoff.fields import RowContext
from hundredfold.handoff.rows import PackRow, RowRole, ShopWords, goods_fields, measures_of
from hundredfold.handoff.sheets import Filler, fields_in
from hundredfold.ledger.keys import ListingKey
from hundredfold.planning.listings import Action

# Fields that speak of goods and design alone. Price, words and art are compared by themselves; a day, an
# action or a revision is another one each time.
_OF_GOODS = frozenset(
    {
        "design title", "keywords", "niche", "occasion", "blank", "blank name", "form", "material", "process",
        "partner code", "colour", "colour name", "size", "width", "height", "diameter", "capacity", "shop",
        "language", "destination",
    }
)  # fmt: skip
_ANY_DAY = date(2000, 1, 1)


class GoodsFacts:
    """One channel's columns that speak of the goods alone, ready to be read for every listing."""

    def __init__(self, channel: Channel, shop: ShopWords) -> None:
        self._channel = channel
        self._shop = shop
        self._fillers = [_of_goods(channel, sheet) for sheet in (channel.sheet, *channel.more_tables)]

    def digest(self, design: Design, blank: Blank, pairs: Iterable[tuple[str, str]]) -> str:
        """sha256 of these columns' cells for each colour and size."""
        variants = {(v.colour, v.size): v for v in blank.variants}
        lines = []
        for pair in sorted(pairs):
            row = self._row(design, blank, pair, variants.get(pair))
            context = RowContext(row, self._channel, _ANY_DAY)
            for filler in self._fillers:
                lines.append("\x1f".join(cell.text for cell in filler.row(context)))
        return hashlib.sha256("\x1e".join(lines).encode()).hexdigest()

    def _row(
        self, design: Design, blank: Blank, pair: tuple[str, str], variant: BlankVariant | None
    ) -> PackRow:
        channel = self._channel
        return PackRow(
            Action.NEW,
            1,
            "",
            ListingKey(channel.code, design.id, blank.code),
            *pair,
            None,
            role=RowRole.MEMBER if channel.sheet.families else RowRole.SINGLE,
            fields={**goods_fields(design, blank, channel, pair[0], variant), "shop": self._shop.name},
            values=own_values(self._shop.values, channel, blank, variant),
            measures=measures_of(blank, variant),
        )


def _of_goods(channel: Channel, sheet: Sheet) -> Filler:
    columns = tuple(c for c in sheet.columns if (names := fields_in(c)) and all(map(_is_of_goods, names)))
    return Filler(channel, replace(sheet, columns=columns, rows=RowsOf.VARIANTS))


def _is_of_goods(name: str) -> bool:
    return name in _OF_GOODS or name.startswith(("value ", "extra "))
