"""The rows of a pack as records, and how a planned listing becomes rows."""

from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from hundredfold.catalogue.blanks import Blank, BlankVariant
from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.values import own_values
from hundredfold.designs.design import Design
from hundredfold.kernel.measures import Measure
from hundredfold.kernel.money import Money
from hundredfold.ledger.keys import ListingKey, SkuKey
from hundredfold.ledger.state import LedgerState
from hundredfold.planning.listings import Action, PlannedListing
from hundredfold.planning.sizing import resting_of, variants_of
from hundredfold.wording.wording import Wording


class RowRole(StrEnum):
    """What a row is in its listing."""

    SINGLE = "single"  # the channel has no families
    HEAD = "head"  # stands for the family; has no price and no art of its own
    MEMBER = "member"


@dataclass(frozen=True)
class RowPicture:
    """A picture of a row: ``main`` first, then ``more``. ``file`` is a member of pictures.zip."""

    role: str
    file: str


@dataclass(frozen=True)
class Member:
    """A file inside an archive. ``dpi`` is 0 where the file states none, as pictures do."""

    name: str
    sha256: str
    bytes: int
    width_px: int
    height_px: int
    dpi: int = 0


@dataclass(frozen=True)
class PackRow:
    """One row. ``fields`` holds the texts a sheet may ask for beyond what the row itself says."""

    action: Action
    revision: int
    sku: str
    listing: ListingKey
    colour: str
    size: str
    price: Money | None
    artwork: Mapping[str, str] = field(default_factory=dict)  # print area -> member of artwork.zip
    pictures: tuple[RowPicture, ...] = ()
    role: RowRole = RowRole.SINGLE
    fields: Mapping[str, str | tuple[str, ...]] = field(default_factory=dict)
    values: Mapping[str, str] = field(default_factory=dict)  # the goods' own, by name: {value NAME}
    measures: Mapping[str, Measure] = field(default_factory=dict)
    in_stock: bool = True


@dataclass(frozen=True)
class ShopWords:
    """What rows say of the shop itself."""

    name: str = ""
    values: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class ListingParts:
    """Everything the rows of one planned listing are made from.

    ``prices`` and ``artwork`` are by (colour, size), ``pictures`` by colour.
    """

    planned: PlannedListing
    design: Design
    blank: Blank
    channel: Channel
    wording: Wording
    prices: Mapping[tuple[str, str], Money]
    artwork: Mapping[tuple[str, str], Mapping[str, str]]
    pictures: Mapping[str, tuple[RowPicture, ...]]
    shop: ShopWords = ShopWords()
    barcodes: Mapping[tuple[str, str], str] = field(default_factory=dict)  # bought ones, by colour and size


def sku_keys(planned: PlannedListing, blank: Blank, channel: Channel) -> tuple[SkuKey, ...]:
    """The SKUs a planned listing needs, the family head's first where the channel has families."""
    key = planned.key
    head = [("", "")] if channel.sheet.families else []
    pairs = head + [(v.colour, v.size) for v in variants_of(blank, planned.colours)]
    return tuple(SkuKey(key.channel, key.design, key.blank, colour, size) for colour, size in pairs)


def row_actions(
    planned: PlannedListing,
    wanted: Sequence[SkuKey],
    skus: Mapping[SkuKey, str],
    state: LedgerState,
    resting: Container[tuple[str, str]] = (),
    told: bool = False,
) -> list[tuple[SkuKey, Action]]:
    """What each row of a listing asks for: the wanted SKUs in order, then those to end.

    Within a changed listing a variant the channel never had is new, and one it has that is no longer wanted
    ends. ``skus`` are all SKUs given to this listing. ``resting`` variants, by colour and size, are out of
    stock: they end never, and are changed where the channel is ``told`` its stock.
    """
    asked = []
    for key in wanted:
        known = skus[key] in state.existing or skus[key] in state.ended
        asked.append((key, Action.CHANGE if known else Action.NEW))
    offered = set(wanted)
    left = sorted(key for key in skus if key.listing == planned.key and key not in offered)
    for key in left:
        rests = (key.colour, key.size) in resting
        if skus[key] in state.existing and (told or not rests):
            asked.append((key, Action.CHANGE if rests else Action.END))
    return asked


def rows_for(parts: ListingParts, skus: Mapping[SkuKey, str], state: LedgerState) -> tuple[PackRow, ...]:
    """The rows of a listing: head first, offered variants next, variants to end last; see ``row_actions``."""
    planned = parts.planned
    wanted = () if planned.action is Action.END else sku_keys(planned, parts.blank, parts.channel)
    ending = planned.action is Action.END
    resting = set() if ending else {(v.colour, v.size) for v in resting_of(parts.blank, planned.colours)}
    asked = row_actions(planned, wanted, skus, state, resting, tells_stock(parts.channel))
    return tuple(_row(parts, key, skus[key], action) for key, action in asked)


def tells_stock(channel: Channel) -> bool:
    """Whether a column of the channel's tables says what is in stock."""
    return _holds(channel, "{stock}")


def tells_barcodes(channel: Channel) -> bool:
    """Whether a column of the channel's tables holds a barcode."""
    return _holds(channel, "{barcode}")


def _holds(channel: Channel, name: str) -> bool:
    sheets = (channel.sheet, *channel.more_tables)
    return any(name in (column.fill + column.if_empty) for sheet in sheets for column in sheet.columns)


def _row(parts: ListingParts, key: SkuKey, sku: str, action: Action) -> PackRow:
    families = parts.channel.sheet.families
    head = families and not key.colour and not key.size
    role = RowRole.HEAD if head else RowRole.MEMBER if families else RowRole.SINGLE
    pair = (key.colour, key.size)
    ending = action is Action.END
    variant = next((v for v in parts.blank.variants if (v.colour, v.size) == pair), None)
    values = own_values(parts.shop.values, parts.channel, parts.blank, variant)
    return PackRow(
        action=action,
        revision=parts.planned.revision,
        sku=sku,
        listing=parts.planned.key,
        colour=key.colour,
        size=key.size,
        price=None if head or ending else parts.prices[pair],
        artwork={} if head or ending else parts.artwork.get(pair, {}),
        pictures=() if ending else _pictures(parts, key.colour, head),
        role=role,
        fields=_fields(parts, key, values.get("barcode", "") or parts.barcodes.get(pair, "")),
        values=values,
        measures=measures_of(parts.blank, variant),
        in_stock=variant.in_stock if variant else True,
    )


def _pictures(parts: ListingParts, colour: str, head: bool) -> tuple[RowPicture, ...]:
    if head:  # the family shows its first colour
        offered = variants_of(parts.blank, parts.planned.colours)
        colour = offered[0].colour if offered else ""
    return tuple(parts.pictures.get(colour, ()))[: parts.channel.pictures.max_count]


def _fields(parts: ListingParts, key: SkuKey, barcode: str) -> dict[str, str | tuple[str, ...]]:
    wording = parts.wording.for_size(key.size)
    variant = next((v for v in parts.blank.variants if (v.colour, v.size) == (key.colour, key.size)), None)
    return {
        **goods_fields(parts.design, parts.blank, parts.channel, key.colour, variant),
        "title": wording.title,
        "story": wording.story,
        "points": wording.points,
        "search words": wording.search_words,
        "shop": parts.shop.name,
        "barcode": barcode,
    }


def goods_fields(
    design: Design, blank: Blank, channel: Channel, colour_code: str, variant: BlankVariant | None
) -> dict[str, str | tuple[str, ...]]:
    """What rows say of the design and the goods themselves."""
    colour = next((c for c in blank.colours if c.code == colour_code), None)
    return {
        "design title": design.title,
        "keywords": tuple(design.keywords),
        "niche": design.niche,
        "occasion": design.occasion,
        "blank name": blank.name,
        "form": blank.form.value,
        "material": blank.material.value,
        "process": blank.process.value,
        "partner code": blank.code_at(variant, channel.destination) if variant else "",
        "colour name": colour.name if colour else "",
    }


def measures_of(blank: Blank, variant: BlankVariant | None) -> dict[str, Measure]:
    """What the thing measures in this size; the body's measures are those of the size it is of."""
    blank = blank.measured()
    size = next((s for s in blank.sizes if variant is not None and s.size == variant.size), None)
    body = blank.body if variant is None or blank.body.size in ("", variant.size) else None
    found = {}
    for name in ("width", "height", "diameter"):
        value = getattr(size, f"{name}_mm", None) or getattr(body, f"{name}_mm", None)
        if value is not None:
            found[name] = Measure(Decimal(str(value)), "mm")
    held = getattr(size, "capacity_ml", None) or getattr(body, "capacity_ml", None)
    if held is not None:
        found["capacity"] = Measure(Decimal(str(held)), "ml")
    return found


def by_listing(rows: Iterable[PackRow]) -> list[tuple[PackRow, ...]]:
    """The rows grouped by listing, groups in order of first appearance."""
    groups: dict[ListingKey, list[PackRow]] = {}
    for row in rows:
        groups.setdefault(row.listing, []).append(row)
    return [tuple(group) for group in groups.values()]
