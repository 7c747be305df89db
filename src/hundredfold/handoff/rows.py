"""The rows of a pack as records, and how a planned listing becomes rows."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.channels import Channel
from hundredfold.designs.design import Design
from hundredfold.kernel.money import Money
from hundredfold.ledger.keys import ListingKey, SkuKey
from hundredfold.ledger.state import LedgerState
from hundredfold.planning.listings import Action, PlannedListing
from hundredfold.planning.sizing import variants_of
from hundredfold.wording.write import Wording


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
    fields: Mapping[str, str] = field(default_factory=dict)


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


def sku_keys(planned: PlannedListing, blank: Blank, channel: Channel) -> tuple[SkuKey, ...]:
    """The SKUs a planned listing needs, the family head's first where the channel has families."""
    key = planned.key
    head = [("", "")] if channel.sheet.families else []
    pairs = head + [(v.colour, v.size) for v in variants_of(blank, planned.colours)]
    return tuple(SkuKey(key.channel, key.design, key.blank, colour, size) for colour, size in pairs)


def row_actions(
    planned: PlannedListing, wanted: Sequence[SkuKey], skus: Mapping[SkuKey, str], state: LedgerState
) -> list[tuple[SkuKey, Action]]:
    """What each row of a listing asks for: the wanted SKUs in order, then those to end.

    Within a changed listing a variant the channel never had is new, and one it has that is no longer wanted
    ends. ``skus`` are all SKUs given to this listing.
    """
    asked = []
    for key in wanted:
        known = skus[key] in state.existing or skus[key] in state.ended
        asked.append((key, Action.CHANGE if known else Action.NEW))
    offered = set(wanted)
    left = sorted(key for key in skus if key.listing == planned.key and key not in offered)
    return asked + [(key, Action.END) for key in left if skus[key] in state.existing]


def rows_for(parts: ListingParts, skus: Mapping[SkuKey, str], state: LedgerState) -> tuple[PackRow, ...]:
    """The rows of a listing: head first, offered variants next, variants to end last; see ``row_actions``."""
    planned = parts.planned
    wanted = () if planned.action is Action.END else sku_keys(planned, parts.blank, parts.channel)
    asked = row_actions(planned, wanted, skus, state)
    return tuple(_row(parts, key, skus[key], action) for key, action in asked)


def _row(parts: ListingParts, key: SkuKey, sku: str, action: Action) -> PackRow:
    families = parts.channel.sheet.families
    head = families and not key.colour and not key.size
    role = RowRole.HEAD if head else RowRole.MEMBER if families else RowRole.SINGLE
    pair = (key.colour, key.size)
    ending = action is Action.END
    return PackRow(
        action=action,
        revision=parts.planned.revision,
        sku=sku,
        listing=parts.planned.key,
        colour=key.colour,
        size=key.size,
        price=None if head or ending else parts.prices[pair],
        artwork={} if head or ending else parts.artwork[pair],
        pictures=() if ending else _pictures(parts, key.colour, head),
        role=role,
        fields=_fields(parts, key),
    )


def _pictures(parts: ListingParts, colour: str, head: bool) -> tuple[RowPicture, ...]:
    if head:  # the family shows its first colour
        offered = variants_of(parts.blank, parts.planned.colours)
        colour = offered[0].colour if offered else ""
    return tuple(parts.pictures.get(colour, ()))[: parts.channel.pictures.max_count]


def _fields(parts: ListingParts, key: SkuKey) -> dict[str, str]:
    design, blank, wording = parts.design, parts.blank, parts.wording
    variant = next((v for v in blank.variants if (v.colour, v.size) == (key.colour, key.size)), None)
    colour = next((c for c in blank.colours if c.code == key.colour), None)
    fields = {
        "title": wording.title,
        "description": wording.description,
        "search terms": wording.search_terms,
        "design title": design.title,
        "keywords": ", ".join(design.keywords),
        "niche": design.niche,
        "occasion": design.occasion,
        "blank name": blank.name,
        "material": blank.material.value,
        "process": blank.process.value,
        "partner code": variant.partner_code if variant else "",
        "colour name": colour.name if colour else "",
        "language": parts.channel.language,
    }
    fields |= {f"bullet {n}": bullet for n, bullet in enumerate(wording.bullets, start=1)}
    return fields


def by_listing(rows: Iterable[PackRow]) -> list[tuple[PackRow, ...]]:
    """The rows grouped by listing, groups in order of first appearance."""
    groups: dict[ListingKey, list[PackRow]] = {}
    for row in rows:
        groups.setdefault(row.listing, []).append(row)
    return [tuple(group) for group in groups.values()]
