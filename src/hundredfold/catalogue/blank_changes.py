"""What a price list changes in the blanks a shop has: the difference in words, and the edited files."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from hundredfold.catalogue.blank_toml import colour_pairs, variant_pairs
from hundredfold.catalogue.blanks import Blank, BlankColour, BlankVariant
from hundredfold.catalogue.cells import Stock
from hundredfold.catalogue.codes import code_from
from hundredfold.catalogue.pricelist import PriceList, PriceRow
from hundredfold.catalogue.toml_edits import TomlEditor
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.errors import ShopError


class ChangeKind(StrEnum):
    """What became of a blank, a colour or a variant."""

    NEW = "new"
    CHANGED = "changed"
    OUT = "out of stock"
    BACK = "back in stock"
    ENDED = "discontinued"
    RETURNED = "sold again"


@dataclass(frozen=True)
class BlankChange:
    """One difference. ``item`` is a partner code, or a colour; ``what`` the setting that differs."""

    kind: ChangeKind
    blank: str
    item: str
    what: str = ""
    was: str = ""
    now: str = ""


@dataclass(frozen=True)
class Updated:
    """A blank with a list applied to it, and everything that differs from before."""

    blank: Blank
    changes: tuple[BlankChange, ...]
    unchanged: int  # variants the list confirms as they are


def update_blank(
    blank: Blank, rows: Sequence[PriceRow], price_list: PriceList, palette: Mapping[str, Srgb]
) -> Updated:
    """Apply a list's rows of one blank; variants the list leaves out are discontinued, never deleted.

    A row is the variant of its colour and size, since SKUs go by these; else the one with its partner code,
    which then has a new colour or size. ``palette`` gives the hex of new colours by folded name, where the
    list has none. Raises one ShopError that carries every row that cannot be used.
    """
    colours, changes = _colours(blank, rows, price_list, palette)
    matched = _match(blank, rows, colours)
    errors: list[ShopError] = []
    updated: dict[str, BlankVariant] = {}
    added = []
    for row, (pair, before) in zip(rows, matched, strict=True):
        try:
            now = _variant(row, pair, before, blank.code, price_list)
        except ShopError as error:
            errors.append(error)
            continue
        if before is None:
            added.append(now)
            changes.append(BlankChange(ChangeKind.NEW, blank.code, now.partner_code, now=_described(now)))
        else:
            updated[before.partner_code] = now
            changes += _differences(blank.code, before, now)
    kept = []
    for variant in blank.variants:
        now = updated.get(variant.partner_code) or replace(variant, discontinued=True)
        if variant.partner_code not in updated:
            changes += _differences(blank.code, variant, now)
        kept.append(now)
    errors += _taken([*kept, *added], rows, price_list)
    if errors:
        raise ShopError.several(errors)
    confirmed = sum(now == before for before, now in zip(blank.variants, kept, strict=True))
    result = replace(blank, colours=tuple(colours), variants=(*kept, *added))
    return Updated(result, tuple(changes), confirmed)


def _match(
    blank: Blank, rows: Sequence[PriceRow], colours: Sequence[BlankColour]
) -> list[tuple[tuple[str, str], BlankVariant | None]]:
    """For each row its colour code and size, and the variant it speaks of; no variant twice."""
    known = {(variant.colour, variant.size): variant for variant in blank.variants}
    codes = {variant.partner_code: variant for variant in blank.variants}
    pairs = []
    for row in rows:
        colour = _known_colour(row, colours)
        pairs.append((colour.code if colour else "", row.size))
    claimed = {known[pair].partner_code for pair in pairs if pair in known}
    matched = []
    for row, pair in zip(rows, pairs, strict=True):
        by_code = codes.get(row.partner_code) if row.partner_code not in claimed else None
        matched.append((pair, known.get(pair) or by_code))
    return matched


def _taken(
    variants: Sequence[BlankVariant], rows: Sequence[PriceRow], price_list: PriceList
) -> Iterator[ShopError]:
    """A row that takes over the partner code of a variant that the list no longer has."""
    row_of = {row.partner_code: row for row in rows}
    seen: dict[str, BlankVariant] = {}
    for variant in variants:
        other = seen.setdefault(variant.partner_code, variant)
        row = row_of.get(variant.partner_code)
        if other is not variant and row is not None:
            old = other if other.discontinued else variant
            what = f'"{variant.partner_code}" is already the code of {_described(old)} in your shop'
            fix = "give that one another code in its blank's file, or add it to the list with its new code"
            yield ShopError("code-taken", what, fix, price_list.where(row, "partner code"))


def edit_blank_file(text: str, before: Blank, after: Blank) -> str:
    """The blank's file with the colours and variants of ``after``; all else stays as the seller wrote it."""
    editor = TomlEditor(text)
    for was, colour in zip(before.colours, after.colours, strict=False):
        pairs, old_pairs = colour_pairs(colour), colour_pairs(was)
        for key, value in pairs.items():
            if old_pairs.get(key) != value:
                editor.set(("colours", was.code, key), value)
        if was.underbase and not colour.underbase:
            editor.set(("colours", was.code, "underbase"), False)
    for colour in after.colours[len(before.colours) :]:
        editor.add_table("colours", colour.code, colour_pairs(colour))
    for old, now in zip(before.variants, after.variants, strict=False):
        _edit_variant(editor, old, now)
    for variant in after.variants[len(before.variants) :]:
        editor.add_table("variants", variant.partner_code, variant_pairs(variant))
    return editor.text()


def _edit_variant(editor: TomlEditor, old: BlankVariant, now: BlankVariant) -> None:
    path = ("variants", old.partner_code)
    if now.base_cost != old.base_cost:
        editor.set((*path, "base_cost"), now.base_cost.plain())
    if now.colour != old.colour:
        editor.set((*path, "colour"), now.colour)
    if now.size != old.size:
        editor.set((*path, "size"), now.size)
    if now.in_stock != old.in_stock:
        editor.set((*path, "in_stock"), now.in_stock)
    if now.discontinued != old.discontinued:
        editor.set((*path, "discontinued"), now.discontinued)
    if now.partner_code != old.partner_code:
        editor.rename(path, now.partner_code)


def _colours(
    blank: Blank, rows: Sequence[PriceRow], price_list: PriceList, palette: Mapping[str, Srgb]
) -> tuple[list[BlankColour], list[BlankChange]]:
    colours = list(blank.colours)
    changes = []
    errors = []
    for row in rows:
        known = _known_colour(row, colours)
        if known is None:
            try:
                colour = _new_colour(row, price_list, palette)
            except ShopError as error:
                errors.append(error)
                continue
            colours.append(colour)
            described = f"{colour.name} {colour.srgb.hex}"
            changes.append(BlankChange(ChangeKind.NEW, blank.code, f"colour {colour.code}", now=described))
            continue
        now = replace(
            known,
            srgb=row.srgb or known.srgb,
            second=row.second or known.second,
            underbase=known.underbase if row.underbase is None else row.underbase,
        )
        colours[colours.index(known)] = now
        changes += _colour_differences(blank.code, known, now)
    if errors:
        raise ShopError.several(errors)
    return colours, changes


def _new_colour(row: PriceRow, price_list: PriceList, palette: Mapping[str, Srgb]) -> BlankColour:
    srgb = row.srgb or palette.get(row.colour.casefold())
    if srgb is None:
        what = f'the colour "{row.colour}" is new, and the list has no hex for it'
        fix = 'add a "Hex" column with values such as #1b2a4e'
        raise ShopError("missing-cell", what, fix, price_list.where(row, "hex"))
    code = row.colour_code or code_from(row.colour) or f"colour-{srgb.hex[1:]}"
    return BlankColour(code, row.colour, srgb, row.second, bool(row.underbase))


def _known_colour(row: PriceRow, colours: Sequence[BlankColour]) -> BlankColour | None:
    wanted = {row.colour_code.casefold(), row.colour.casefold(), code_from(row.colour)} - {""}
    for colour in colours:
        if colour.code.casefold() in wanted or colour.name.casefold() == row.colour.casefold():
            return colour
    return None


def _variant(
    row: PriceRow, pair: tuple[str, str], before: BlankVariant | None, blank: str, price_list: PriceList
) -> BlankVariant:
    cost = row.base_cost or (before.base_cost if before else None)
    if cost is None:
        where = price_list.where(row, "base cost")
        raise ShopError("missing-cell", "a new variant needs its cost", "fill it in", where)
    own = "-".join(part for part in (blank, pair[0], code_from(pair[1])) if part)
    stocked = before.in_stock if before else True
    return BlankVariant(
        colour=pair[0],
        size=pair[1],
        partner_code=row.partner_code or (before.partner_code if before else own),
        base_cost=cost,
        in_stock=stocked if row.stock in (None, Stock.ENDED) else row.stock is Stock.IN,
        discontinued=row.stock is Stock.ENDED,
    )


def _differences(blank: str, before: BlankVariant, now: BlankVariant) -> Iterator[BlankChange]:
    item = before.partner_code
    if now.discontinued != before.discontinued:
        kind = ChangeKind.ENDED if now.discontinued else ChangeKind.RETURNED
        yield BlankChange(kind, blank, item, now=_described(now))
    if now.in_stock != before.in_stock:
        kind = ChangeKind.BACK if now.in_stock else ChangeKind.OUT
        yield BlankChange(kind, blank, item, now=_described(now))
    if now.base_cost != before.base_cost:
        was, cost = before.base_cost.plain(), now.base_cost.plain()
        yield BlankChange(ChangeKind.CHANGED, blank, item, "base cost", was, cost)
    for what, was, new in (
        ("partner code", before.partner_code, now.partner_code),
        ("colour", before.colour, now.colour),
        ("size", before.size, now.size),
    ):
        if was != new:
            yield BlankChange(ChangeKind.CHANGED, blank, item, what, was, new)


def _colour_differences(blank: str, before: BlankColour, now: BlankColour) -> Iterator[BlankChange]:
    for what, was, new in (
        ("hex", before.srgb, now.srgb),
        ("second hex", before.second, now.second),
    ):
        if was != new:
            yield BlankChange(ChangeKind.CHANGED, blank, f"colour {now.code}", what, _hex(was), _hex(new))
    if before.underbase != now.underbase:
        words = ("no", "yes")
        was_word, now_word = words[before.underbase], words[now.underbase]
        yield BlankChange(ChangeKind.CHANGED, blank, f"colour {now.code}", "underbase", was_word, now_word)


def _hex(colour: Srgb | None) -> str:
    return colour.hex if colour else ""


def _described(variant: BlankVariant) -> str:
    return " ".join(part for part in (variant.colour, variant.size, variant.base_cost.plain()) if part)
