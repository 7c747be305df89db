"""The terms a pack was made under, frozen into its manifest so that it can be judged on its own."""

from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, fields
from decimal import Decimal
from enum import StrEnum

from hundredfold.catalogue.blanks import Blank, PrintArea
from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.charges import NO_EXTRAS, MakingCosts
from hundredfold.catalogue.settings import Rate
from hundredfold.catalogue.sheets import Sheet
from hundredfold.catalogue.sizeorder import sizes_in_order
from hundredfold.handoff.asking import tables_of
from hundredfold.handoff.frozen_money import charges_json, cost_json, exact, fees_json, rates_json
from hundredfold.kernel.money import Money
from hundredfold.mockups.fitting import outlines, shown_areas
from hundredfold.pricing.sale import Target


@dataclass(frozen=True)
class VariantCost:
    """What one variant costs us, in the blank's currency as its file has it.

    ``smaller`` is the next smaller size in the same colour, whose price this one may not be under.
    """

    blank: str
    colour: str
    size: str
    base: Money
    postage: Money
    making: MakingCosts = NO_EXTRAS
    smaller: str | None = None


def variant_costs(blank: Blank, priced: Container[tuple[str, str, str]]) -> Iterator[VariantCost]:
    """The costs of those variants of a blank, by (blank, colour, size), that have a price."""
    last: dict[str, str] = {}  # by colour, the next smaller size
    by_size = {size: rank for rank, size in enumerate(sizes_in_order(blank))}
    for variant in sorted(blank.variants, key=lambda v: by_size[v.size]):
        if (blank.code, variant.colour, variant.size) in priced:
            smaller = last.get(variant.colour)
            cost = variant.base_cost
            yield VariantCost(
                blank.code, variant.colour, variant.size, cost, blank.postage, blank.making, smaller
            )
            last[variant.colour] = variant.size


@dataclass(frozen=True)
class Wanted:
    """Another target than the channel's usual one, for one size of a design on a blank."""

    design: str
    blank: str
    size: str
    target: Target


@dataclass(frozen=True)
class Terms:
    """What a pack's prices follow from (targets, costs, fees, rates), and the areas and limits it keeps.

    ``target`` is the usual one, in the channel's currency; ``wanted`` holds those that differ.
    """

    channel: Channel
    target: Target
    costs: tuple[VariantCost, ...]
    blanks: tuple[Blank, ...]
    rates: Mapping[tuple[str, str], Rate] = field(default_factory=dict)
    wanted: tuple[Wanted, ...] = ()
    registered: bool = False
    forms: Mapping[str, str] = field(default_factory=dict)  # the partner's own files -> their sha256

    @property
    def tax(self) -> Decimal | None:
        """The share of tax in a price at the channel's destination; None where none is in it."""
        places = self.channel.charges.destinations
        named = [place for place in places if place.code == self.channel.destination]
        place = (named or places)[0] if places else None
        return place.tax if place is not None and place.tax_included else None

    def as_json(self) -> dict[str, object]:
        """Plain values; amounts are text."""
        channel, limits, pictures = self.channel, self.channel.limits, self.channel.pictures
        return {
            "currency": channel.currency,
            "target": _target(self.target),
            "wanted": [
                {"design": one.design, "blank": one.blank, "size": one.size, **_target(one.target)}
                for one in sorted(set(self.wanted), key=lambda one: (one.design, one.blank, one.size))
            ],
            "registered": self.registered,
            "fees": fees_json(channel.fees),
            "charges": charges_json(channel.charges),
            "ending": channel.price_ending,
            "floor": exact(channel.min_price),
            "ceiling": exact(channel.max_price),
            "rates": rates_json(self.rates),
            "costs": [_cost(cost) for cost in _sorted(self.costs)],
            "areas": [area for blank in sorted(self.blanks, key=lambda b: b.code) for area in _areas(blank)],
            "limits": {
                "title_chars": limits.title_chars,
                "points": limits.points,
                "point_chars": limits.point_chars,
                "story_chars": limits.story_chars,
                "search_chars": limits.search_chars,
                "search_bytes": limits.search_bytes,
                "search_words": limits.search_words,
                "tags": limits.tags,
                "tag_chars": limits.tag_chars,
                "counts": limits.counts.value,
            },
            "pictures": {
                "width_px": pictures.width_px,
                "height_px": pictures.height_px,
                "max_bytes": pictures.max_bytes,
                "max_count": pictures.max_count,
            },
            "sheet": _sheet(channel.sheet),
            "more_sheets": [_sheet(sheet) for sheet in tables_of(channel)],
            "forms": dict(sorted(self.forms.items())),
            "their_words": {name: dict(words) for name, words in sorted(channel.their_words.items())},
            "asks": {"ends": channel.ends.value, "changes": channel.changes.value},
            "cap": {"counts": channel.cap_counts.value, "a_day": channel.daily_cap},
        }


def _target(target: Target) -> dict[str, object]:
    return {"amount": exact(target.amount), "share": format(target.share, "f")}


def _cost(cost: VariantCost) -> dict[str, object]:
    variant = (cost.blank, cost.colour, cost.size)
    return cost_json(variant, cost.base, cost.postage, cost.making, cost.smaller)


def _sorted(costs: Iterable[VariantCost]) -> list[VariantCost]:
    return sorted(
        {(c.blank, c.colour, c.size): c for c in costs}.values(), key=lambda c: (c.blank, c.colour, c.size)
    )


def _sheet(sheet: Sheet) -> dict[str, object]:
    """Every setting of a table by its name; what is not set is null."""
    told = {entry.name: _json(getattr(sheet, entry.name)) for entry in fields(sheet)}
    columns = [
        {each.name: _json(getattr(column, each.name)) for each in fields(column)} for column in sheet.columns
    ]
    return {**told, "columns": columns}


def _json(value: object) -> object:
    if isinstance(value, StrEnum):
        return value.value
    return [_json(each) for each in value] if isinstance(value, tuple) else value


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
            "pictured": _pictured(blank, area),
        }
        for area in blank.areas
    ]


def _pictured(blank: Blank, area: PrintArea) -> dict[str, object] | None:
    """The goods beside the body that their pictures show; null where pictures show another area."""
    both = outlines(blank, area) if area in shown_areas(blank) else None
    if both is None:
        return None
    pairs = {
        "goods_mm": both.goods,
        "drawn_mm": both.drawn,
        "goods_ends_mm": both.goods_ends or (),
        "drawn_ends_mm": both.drawn_ends or (),
    }
    return {name: [f"{mm:.2f}" for mm in pair] for name, pair in pairs.items()}
