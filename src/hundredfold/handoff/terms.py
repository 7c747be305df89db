"""The terms a pack was made under, frozen into its manifest so that it can be judged on its own."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.channels import Channel, Sheet
from hundredfold.kernel.money import Money
from hundredfold.pricing.price import Target


@dataclass(frozen=True)
class VariantCost:
    """What one variant costs us, in the channel's currency."""

    blank: str
    colour: str
    size: str
    base: Money
    postage: Money


@dataclass(frozen=True)
class Terms:
    """What a pack's prices follow from (target, costs, fees, rates), and the areas and limits it keeps."""

    channel: Channel
    target: Target
    costs: tuple[VariantCost, ...]
    blanks: tuple[Blank, ...]
    rates: Mapping[tuple[str, str], Decimal] = field(default_factory=dict)
    postage_charged: Money | None = None

    def as_json(self) -> dict[str, object]:
        """Plain values; amounts are text."""
        channel, limits, pictures = self.channel, self.channel.limits, self.channel.pictures
        return {
            "currency": channel.currency,
            "target": {"amount": _plain(self.target.amount), "share": format(self.target.share, "f")},
            "fees": {
                "rate": format(channel.fees.rate, "f"),
                "minimum": _plain(channel.fees.minimum),
                "fixed": _plain(channel.fees.fixed),
            },
            "ending": channel.price_ending,
            "ceiling": _plain(channel.max_price) if channel.max_price else "",
            "postage_charged": _plain(self.postage_charged) if self.postage_charged else "",
            "rates": {f"{a}/{b}": format(rate, "f") for (a, b), rate in sorted(self.rates.items())},
            "costs": [_cost(cost) for cost in _sorted(self.costs)],
            "areas": [area for blank in sorted(self.blanks, key=lambda b: b.code) for area in _areas(blank)],
            "limits": {
                "title_chars": limits.title_chars,
                "bullets": limits.bullets,
                "bullet_chars": limits.bullet_chars,
                "description_chars": limits.description_chars,
                "search_bytes": limits.search_bytes,
            },
            "pictures": {
                "width_px": pictures.width_px,
                "height_px": pictures.height_px,
                "max_bytes": pictures.max_bytes,
                "max_count": pictures.max_count,
            },
            "sheet": _sheet(channel.sheet),
            "translated": {
                k: v for k, v in sorted(channel.extra.items()) if k.startswith(("action ", "role "))
            },
            "cap": {"counts": channel.cap_counts.value, "a_day": channel.daily_cap},
        }


def _sheet(sheet: Sheet) -> dict[str, object]:
    return {
        "kind": sheet.kind.value,
        "byte_order_mark": sheet.byte_order_mark,
        "worksheet": sheet.worksheet,
        "lines_above": [list(line) for line in sheet.lines_above],
        "max_rows": sheet.max_rows or 0,
        "max_bytes": sheet.max_bytes or 0,
        "max_archive_bytes": sheet.max_archive_bytes or 0,
        "columns": [
            {
                "header": column.header,
                "fill": column.fill,
                "required": column.required,
                "max_chars": column.max_chars or 0,
                "only_for": column.only_for,
            }
            for column in sheet.columns
        ],
    }


def _plain(money: Money) -> str:
    """The exact amount, never in exponent form."""
    return format(money.amount, "f")


def _sorted(costs: Iterable[VariantCost]) -> list[VariantCost]:
    return sorted(set(costs), key=lambda c: (c.blank, c.colour, c.size))


def _cost(cost: VariantCost) -> dict[str, object]:
    return {
        "blank": cost.blank,
        "colour": cost.colour,
        "size": cost.size,
        "base": _plain(cost.base),
        "postage": _plain(cost.postage),
    }


def _areas(blank: Blank) -> list[dict[str, object]]:
    return [
        {
            "blank": blank.code,
            "name": area.name,
            "sizes": sorted(area.for_sizes),
            "width_px": area.width_px,
            "height_px": area.height_px,
            "dpi": area.dpi,
            "file_kind": area.file_kind.value,
            "max_bytes": area.max_bytes or 0,
        }
        for area in blank.areas
    ]
