"""A shop's TOML texts to records. Every mistake in every file is named in one go."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Protocol, TypeVar

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.parse_blanks import parse_blank
from hundredfold.catalogue.parse_channels import parse_channel
from hundredfold.catalogue.parse_settings import FILE, parse_settings
from hundredfold.catalogue.settings import ShopSettings, missing_rate
from hundredfold.catalogue.toml_table import Source
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.nearest import did_you_mean


class _Coded(Protocol):
    @property
    def code(self) -> str: ...


Record = TypeVar("Record")
Coded = TypeVar("Coded", bound=_Coded)


@dataclass(frozen=True)
class Catalogue:
    """What a shop's files say: its settings, and its blanks and channels sorted by code.

    ``blank_files`` and ``channel_files`` give the file of each, by code.
    """

    settings: ShopSettings
    blanks: tuple[Blank, ...]
    channels: tuple[Channel, ...]
    blank_files: Mapping[str, str]
    channel_files: Mapping[str, str]


def read_text(text: str, file: str, parse: Callable[[Source], Record]) -> Record:
    """One file's record. Raises a ShopError that carries every mistake of the file."""
    source = Source(text, file)
    record = parse(source)
    source.settle()
    return record


def read_catalogue(settings: str, blanks: Mapping[str, str], channels: Mapping[str, str]) -> Catalogue:
    """Read all of a shop's files, given as text by file name.

    Raises one ShopError that carries every mistake of every file; ``shop.toml`` first, since its currency
    decides how the amounts of the others are read.
    """
    shop = read_text(settings, FILE, parse_settings)
    errors: list[ShopError] = []
    found_blanks = _read_all(blanks, lambda source: parse_blank(source, shop.currency), errors)
    found_channels = _read_all(channels, lambda source: parse_channel(source, shop.price_ending), errors)
    errors += _duplicates("blank", found_blanks)
    errors += _duplicates("channel", found_channels)
    if len(found_blanks) == len(blanks):
        errors += _unknown_blanks(found_channels, found_blanks)
    errors += _missing_rates(shop, found_blanks, found_channels)
    if len(found_blanks) == len(blanks) and len(found_channels) == len(channels):
        errors += _unknown_targets(shop, found_blanks, found_channels)
        errors += _unknown_destinations(found_blanks, found_channels)
    if errors:
        raise ShopError.several(errors)
    return Catalogue(
        shop,
        tuple(sorted((blank for _, blank in found_blanks), key=lambda blank: blank.code)),
        tuple(sorted((channel for _, channel in found_channels), key=lambda channel: channel.code)),
        {blank.code: file for file, blank in found_blanks},
        {channel.code: file for file, channel in found_channels},
    )


def _read_all(
    texts: Mapping[str, str], parse: Callable[[Source], Record], errors: list[ShopError]
) -> list[tuple[str, Record]]:
    found = []
    for file, text in sorted(texts.items()):
        try:
            found.append((file, read_text(text, file, parse)))
        except ShopError as error:
            errors.append(error)
    return found


def _duplicates(kind: str, records: Iterable[tuple[str, Coded]]) -> Iterator[ShopError]:
    first: dict[str, str] = {}
    for file, record in records:
        folded = record.code.casefold()  # codes name files, and some disks do not tell cases apart
        if folded in first:
            what = f'the {kind} code "{record.code}" is already used in {first[folded]}'
            fix = f"give one of the two another code, or delete {file} or {first[folded]}"
            yield ShopError("duplicate-code", what, fix, Where(file, field="code"))
        first.setdefault(folded, file)


def _unknown_blanks(
    channels: Iterable[tuple[str, Channel]], blanks: Iterable[tuple[str, Blank]]
) -> Iterator[ShopError]:
    known = [blank.code for _, blank in blanks]
    for file, channel in channels:
        for code in channel.blanks:
            if code not in known:
                what = f'the channel sells "{code}", and no blank has that code'
                yield ShopError("unknown-value", what, did_you_mean(code, known), Where(file, field="blanks"))


def _unknown_targets(
    shop: ShopSettings, blanks: Iterable[tuple[str, Blank]], channels: Iterable[tuple[str, Channel]]
) -> Iterator[ShopError]:
    """Targets for a blank, a channel or a size that the shop does not have would never count."""
    known = {
        "blank": [blank.code for _, blank in blanks],
        "channel": [channel.code for _, channel in channels],
        "size": sorted({variant.size for _, blank in blanks for variant in blank.variants}),
    }
    for number, rule in enumerate(shop.targets):
        for name, values in known.items():
            value = getattr(rule, name)
            if value and value not in values:
                what = f'a target is for the {name} "{value}", and there is none'
                where = Where(FILE, field=f"targets.{number}.{name}")
                yield ShopError("unknown-value", what, did_you_mean(value, values), where)


def _unknown_destinations(
    blanks: Iterable[tuple[str, Blank]], channels: Iterable[tuple[str, Channel]]
) -> Iterator[ShopError]:
    """Postage to a destination that no channel has would never be reckoned."""
    known = sorted({to.code for _, channel in channels for to in channel.charges.destinations if to.code})
    for file, blank in blanks:
        for name in blank.making.postage_to:
            if known and name not in known:
                what = f'postage is given to "{name}", and no channel has that destination'
                where = Where(file, field=f"postage_to.{name}")
                yield ShopError("unknown-value", what, did_you_mean(name, known), where)


def _missing_rates(
    shop: ShopSettings, blanks: Iterable[tuple[str, Blank]], channels: Iterable[tuple[str, Channel]]
) -> Iterator[ShopError]:
    """Costs and the target are turned into each channel's currency; each pair needs a rate."""
    sources = sorted({shop.currency, *(blank.postage.currency for _, blank in blanks)})
    for file, channel in channels:
        for currency in sources:
            try:
                shop.rate(currency, channel.currency)
            except ShopError:
                yield missing_rate(currency, channel.currency, Where(file, field="currency"))
