"""Takes in what is already live: each row of a seller's or channel's table becomes an adopted SKU.

A row's blank, colour and size are told by its own columns, by the partner's code, or by words in its SKU and
title; its design by a file name, by the seller's pattern for SKUs, by the file's name standing in the SKU, or
by the title's words. Where two would do equally well nothing is guessed: the row is a finding.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from hundredfold.catalogue.blanks import Blank
from hundredfold.kernel.findings import Finding
from hundredfold.kernel.grid import Grid, folded
from hundredfold.kernel.grid_rows import headers_of, rows_below
from hundredfold.ledger.answers import IDENTIFIER_WORDS, SKU_WORDS
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.keys import SkuKey
from hundredfold.ledger.state import LedgerState
from hundredfold.planning.checks import ADOPTED_ROW
from hundredfold.planning.matching import Known, best_by_letters, best_by_words, words_of
from hundredfold.planning.skupattern import sku_pattern

# Words sellers and channels use for these columns (common practice, no source).
SYNONYMS: dict[str, tuple[str, ...]] = {
    "sku": SKU_WORDS,
    "title": ("heading", "shop heading", "name", "item name", "product name", "listing title"),
    "blank": ("product", "product type", "item", "product code", "model", "type"),
    "partner code": (
        "northfold item",
        "maker item",
        "supplier code",
        "supplier sku",
        "base sku",
        "base code",
    ),
    "colour": ("color", "colour name", "color name", "variant colour"),
    "size": ("size name", "variant size"),
    "design": (
        "design file",
        "design name",
        "design id",
        "art",
        "artwork",
        "art file",
        "artwork file",
        "print",
        "print file",
        "file",
    ),
    "identifier": IDENTIFIER_WORDS,
    "status": ("state", "listing status"),
}
_NOT_LIVE = frozenset(
    ("ended", "inactive", "deleted", "removed", "closed", "draft", "expired", "sold out for good")
)


@dataclass(frozen=True)
class AdoptableDesign:
    """A design as adoption needs it: its id, the path of its art, its title."""

    id: str
    path: str
    title: str

    @cached_property
    def stem(self) -> str:
        """The art file's name without folders and ending."""
        return re.sub(r"\.[A-Za-z0-9]{2,4}$", "", self.path.rpartition("/")[2])


@dataclass(frozen=True)
class Shelf:
    """What rows are matched with: the channel they are live in, the designs and the blanks of the shop."""

    channel: str
    designs: Sequence[AdoptableDesign]
    blanks: Sequence[Blank]
    sku_pattern: str = ""  # like {blank}-{design}-{colour}; see planning.skupattern

    @cached_property
    def by_words(self) -> tuple[Known, ...]:
        """Designs by their words, for titles."""
        return tuple(Known(d.id, words_of(d.title or d.stem)) for d in self.designs)

    @cached_property
    def names(self) -> Mapping[str, list[str]]:
        """Design ids by everything a column may call them; a file named by a number alone has no title."""
        called: dict[str, list[str]] = {}
        for design in self.designs:
            names = (design.title, design.stem, design.path.rpartition("/")[2], design.path, design.id)
            for name in dict.fromkeys(map(folded, names)):
                if name:
                    called.setdefault(name, []).append(design.id)
        return called

    @cached_property
    def pattern(self) -> re.Pattern[str] | None:
        """The seller's SKU pattern. Raises ShopError ``bad-sku-pattern``."""
        return sku_pattern(self.sku_pattern, [b.code for b in self.blanks]) if self.sku_pattern else None


@dataclass(frozen=True)
class Adoption:
    """The events that adopt, how many rows were known or are not live, and the rows that cannot be told."""

    events: tuple[Event, ...]
    known: int
    not_live: int
    findings: tuple[Finding, ...]

    @property
    def listings(self) -> int:
        """Different listings adopted."""
        return len({SkuKey.from_data(event.data).listing for event in self.events})


def adopt(grid: Grid, shelf: Shelf, state: LedgerState, columns: Mapping[str, str] | None = None) -> Adoption:
    """Adopt every row of a table that can be told; adopting it again gives no events.

    ``columns`` maps our fields to the table's headers where they differ. Raises ShopError ``no-such-column``
    when there is no SKU column, ``bad-sku-pattern``.
    """
    headers = headers_of(grid, SYNONYMS, columns or {}, ("sku",))
    events: list[Event] = []
    findings: list[Finding] = []
    seen: dict[str, int] = {}
    taken = {key: sku for key, sku in state.skus.items() if sku in state.existing}
    known = not_live = 0
    for number, cells in rows_below(grid, headers):
        sku = cells["sku"]
        if folded(cells.get("status", "")) in _NOT_LIVE:
            not_live += 1
        elif sku and sku in state.existing:
            known += 1
        else:
            key = f"row {seen[sku]} has the same SKU" if sku in seen else _told(cells, shelf, state)
            twin = taken.get(key) if isinstance(key, SkuKey) else None
            if twin is not None and twin != sku:
                key = f"{twin} is the same design, blank, colour and size, as far as can be told"
            if isinstance(key, str):
                findings.append(_untold(grid, number, sku, key))
                continue
            seen[sku] = number
            taken[key] = sku
            events.append(_adopted(key, cells, grid, number))
    return Adoption(tuple(events), known, not_live, tuple(findings))


def _adopted(key: SkuKey, cells: Mapping[str, str], grid: Grid, number: int) -> Event:
    data = {
        **key.as_data(),
        "identifier": cells.get("identifier", ""),
        "title": cells.get("title", ""),
        "file": grid.file,
        "row": number,
    }
    return Event(Happened.ADOPTED, cells["sku"], data)


def _untold(grid: Grid, number: int, sku: str, why: str) -> Finding:
    item = f"{grid.file}, row {number}" + (f", {sku}" if sku else "")
    fix = "add columns with the design's file, blank, colour and size, or correct the row, and adopt again"
    return ADOPTED_ROW.finds("not-told", item, why, fix)


def _told(cells: Mapping[str, str], shelf: Shelf, state: LedgerState) -> SkuKey | str:
    """What the row is, or why that cannot be told."""
    sku = cells["sku"]
    if not sku:
        return "it has no SKU"
    if sku in state.owners:  # a SKU of ours: the ledger knows better than any words
        return state.owners[sku]
    if any(ord(letter) < 32 for letter in sku):
        return "its SKU holds a line break or a control character"
    named = _by_pattern(sku, shelf)
    blank = _blank(cells, named, shelf)
    if isinstance(blank, str):
        return blank
    variant = _variant(cells, named, blank)
    if isinstance(variant, str):
        return variant
    design = _design(cells, named, shelf)
    if design.startswith("?"):
        return design[1:]
    colour, size = variant
    return SkuKey(shelf.channel, design, blank.code, colour, size)


def _by_pattern(sku: str, shelf: Shelf) -> Mapping[str, str]:
    found = shelf.pattern.fullmatch(sku) if shelf.pattern else None
    return {name: text for name, text in found.groupdict().items() if text} if found else {}


def _blank(cells: Mapping[str, str], named: Mapping[str, str], shelf: Shelf) -> Blank | str:
    code = cells.get("partner code", "")
    by_code = [blank for blank in shelf.blanks for v in blank.variants if code and v.partner_code == code]
    if by_code:
        return by_code[0]
    for text in (named.get("blank", ""), cells.get("blank", "")):
        for blank in shelf.blanks:
            if text and _letters(text) in (_letters(blank.code), _letters(blank.name)):
                return blank
    by_letters = best_by_letters(cells["sku"], [Known(b.code, (b.code,)) for b in shelf.blanks])
    texts = f"{cells.get('blank', '')} {cells.get('title', '')}"
    by_words = best_by_words(texts, [Known(b.code, words_of(b.name)) for b in shelf.blanks])
    found = by_letters or by_words
    if len(found) == 1:
        return next(blank for blank in shelf.blanks if blank.code == found[0])
    return f"its blank may be {' or '.join(found)}" if found else "its blank cannot be told"


def _variant(cells: Mapping[str, str], named: Mapping[str, str], blank: Blank) -> tuple[str, str] | str:
    """Colour and size; both "" where the row speaks of the whole listing."""
    code = cells.get("partner code", "")
    for variant in blank.variants:
        if code and variant.partner_code == code:
            return variant.colour, variant.size
    colours = {c.code: (c.code, c.name) for c in blank.colours}
    sizes = {v.size: (v.size,) for v in blank.variants}
    colour = _one_of("colour", colours, named, cells)
    size = _one_of("size", sizes, named, cells)
    if colour is None or size is None:
        word = "colour" if colour is None else "size"
        return f"{blank.code} has no {word} {cells.get(word) or named.get(word)!r}"
    offered = {(v.colour, v.size) for v in blank.variants}
    if (colour, size) in offered:
        return colour, size
    fitting = [
        pair for pair in offered if (not colour or pair[0] == colour) and (not size or pair[1] == size)
    ]
    return fitting[0] if len(fitting) == 1 else (colour, size)


def _one_of(
    word: str, choices: Mapping[str, tuple[str, ...]], named: Mapping[str, str], cells: Mapping[str, str]
) -> str | None:
    """The choice the row names; "" where it names none, None where it names one there is not."""
    told = named.get(word) or cells.get(word, "")
    if told:
        return next((c for c, names in choices.items() if _letters(told) in map(_letters, names)), None)
    parts = {_letters(part) for part in re.split(r"[^A-Za-z0-9]+", cells["sku"])} - {""}
    found = [c for c, names in choices.items() if parts & set(map(_letters, names))]
    return found[0] if len(found) == 1 else ""


def _design(cells: Mapping[str, str], named: Mapping[str, str], shelf: Shelf) -> str:
    """The design's id; or "?" and the reason."""
    found: list[str] = []
    for text in (cells.get("design", ""), named.get("design", "")):
        stem = re.sub(r"\.[A-Za-z0-9]{2,4}$", "", text.rpartition("/")[2])
        found = found or shelf.names.get(folded(text)) or shelf.names.get(folded(stem), [])
    if not found:
        letters = [Known(d.id, (d.stem, d.id)) for d in shelf.designs]
        found = best_by_letters(named.get("design") or cells["sku"], letters)
    if not found:
        found = best_by_words(cells.get("title", ""), shelf.by_words)
    if len(found) == 1:
        return found[0]
    paths = {d.id: d.path for d in shelf.designs}
    may_be = " or ".join(paths[d] for d in found[:3])
    return f"?its design may be {may_be}" if found else "?its design cannot be told"


def _letters(text: str) -> str:
    return re.sub(r"[^a-z0-9]", "", text.casefold())
