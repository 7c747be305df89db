"""Fills a channel's sheet: each column's fill, with fields in braces, becomes the text of a cell."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from hundredfold.catalogue.channels import Channel, Column, Sheet, TableKind
from hundredfold.handoff.checks import CELLS
from hundredfold.handoff.rows import PackRow, RowRole
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.findings import Finding
from hundredfold.kernel.nearest import did_you_mean
from hundredfold.planning.listings import Action
from hundredfold.wording.clean import one_line

# Every field a fill may name, with its meaning; docs/channels.md shows this table (a test compares them).
FIELDS: tuple[tuple[str, str], ...] = (
    ("sku", "our SKU of the row"),
    ("family sku", "the SKU of the family head; empty where the channel has no families"),
    ("role", "head, member or single; [extra] may translate them as `role head` and so on"),
    ("action", "new, change or end; [extra] may translate them as `action new` and so on"),
    ("revision", "1 for a new listing, one more with each change"),
    ("title", "the listing's title"),
    ("description", "the listing's description"),
    ("bullet N", "the Nth bullet point"),
    ("search terms", "search words apart by spaces"),
    ("price", "the price, like 14.95; a number in XLSX"),
    ("currency", "the channel's currency code"),
    ("design", "the design's id"),
    ("design title", "the design's own title"),
    ("keywords", "the design's keywords, apart by commas"),
    ("niche", "the design's niche"),
    ("occasion", "the design's occasion"),
    ("blank", "the blank's code"),
    ("blank name", "the blank's name"),
    ("material", "what the blank is made of"),
    ("process", "how it is decorated"),
    ("partner code", "the partner's own code of the variant"),
    ("colour", "the colour's code"),
    ("colour name", "the colour's name"),
    ("size", "the size"),
    ("language", "the channel's language"),
    ("date", "the day of the pack, YYYY-MM-DD"),
    ("artwork AREA", "the file name of the art for that print area, like `{artwork front}`"),
    ("artwork", "the art's file names, apart by semicolons"),
    ("picture N", "the file name of the Nth picture; 1 is the main one"),
    ("pictures", "all picture file names, apart by semicolons"),
    ("other pictures", "all picture file names but the first, apart by semicolons"),
    ("extra NAME", "a fixed word from the channel's own [extra] table"),
)
_PLAIN = frozenset(name for name, _ in FIELDS if not re.search(r" (N|AREA|NAME)$", name))
_NUMBERED = ("bullet", "picture")
_TOKEN = re.compile(r"\{\{|\}\}|\{([^{}]*)\}|[{}]")


@dataclass(frozen=True)
class Cell:
    """A cell's text, and whether a spreadsheet should hold it as a number."""

    text: str
    number: bool = False

    def as_read(self, kind: TableKind) -> str:
        """The text a reader of the finished table gets."""
        return self.text if self.number else kind.as_read(self.text)


def check_sheet(channel: Channel, file: str = "") -> None:
    """Raises ShopError ``unknown-field`` for a fill that names a field there is not."""
    for column in channel.sheet.columns:
        for name in fields_in(column, file):
            if not _known(name, channel.extra):
                hint = did_you_mean(name, [*sorted(_PLAIN), *_open_names(channel)])
                where = Where(file, field=column.header)
                raise ShopError("unknown-field", f"there is no field {{{name}}}", hint, where)


def fields_in(column: Column, file: str = "") -> tuple[str, ...]:
    """The fields a column's fill names. Raises ShopError ``bad-fill`` for a brace without its partner."""
    names = []
    for token in _TOKEN.finditer(column.fill):
        if token.group() in ("{", "}"):
            where = Where(file, field=column.header)
            fix = "close every { with }, and double a brace you mean as itself"
            raise ShopError("bad-fill", f"{column.fill!r} has a single brace", fix, where)
        if token.group(1) is not None:
            names.append(token.group(1).strip())
    return tuple(names)


def fill_row(row: PackRow, channel: Channel, day: date, family_sku: str = "") -> tuple[Cell, ...]:
    """The cells of one row in the sheet's column order; values on one line, nothing cut."""
    values = _values(row, channel, day, family_sku)
    return tuple(_cell(column, row, values, channel.extra) for column in channel.sheet.columns)


def problems(row: PackRow, cells: tuple[Cell, ...], sheet: Sheet) -> list[Finding]:
    """What keeps a filled row out of the table: an empty required cell, a text that is too long."""
    found = []
    for column, cell in zip(sheet.columns, cells, strict=True):
        item = f"{row.sku}, column {column.header}"
        if column.required and not cell.text and _applies(column, row.role) and row.action is not Action.END:
            fix = "give the value in the shop's files or mark the column as not required"
            found.append(CELLS.finds("required-empty", item, "a required cell is empty", fix))
        chars = len(cell.as_read(sheet.kind))
        if column.max_chars is not None and chars > column.max_chars:
            what = f"{chars} characters where {column.max_chars} are allowed"
            numbers = {"chars": chars, "max_chars": column.max_chars}
            fix = "shorten the text; nothing is cut silently"
            found.append(CELLS.finds("too-long", item, what, fix, numbers))
    return found


def _cell(column: Column, row: PackRow, values: Mapping[str, str], extra: Mapping[str, str]) -> Cell:
    if not _applies(column, row.role):
        return Cell("")

    def value(token: re.Match[str]) -> str:
        if token.group(1) is None:
            return token.group()[:1]
        name = token.group(1).strip()
        return extra[name[6:]] if name.startswith("extra ") else values.get(name, "")

    text = one_line(_TOKEN.sub(value, column.fill))
    return Cell(text, number=column.fill.strip() == "{price}" and bool(text))


def _applies(column: Column, role: RowRole) -> bool:
    return not column.only_for or role is RowRole.SINGLE or column.only_for == role.value


def _values(row: PackRow, channel: Channel, day: date, family_sku: str) -> dict[str, str]:
    action = row.action.value
    files = [picture.file for picture in row.pictures]
    values = dict(row.fields)
    values |= {f"artwork {area}": file for area, file in row.artwork.items()}
    values |= {f"picture {n}": picture.file for n, picture in enumerate(row.pictures, start=1)}
    return values | {
        "sku": row.sku,
        "family sku": family_sku,
        "role": channel.extra.get(f"role {row.role.value}", row.role.value),
        "action": channel.extra.get(f"action {action}", action),
        "revision": str(row.revision),
        "price": row.price.plain() if row.price else "",
        "currency": row.price.currency if row.price else "",
        "design": row.listing.design,
        "blank": row.listing.blank,
        "colour": row.colour,
        "size": row.size,
        "date": day.isoformat(),
        "artwork": ";".join(sorted(set(row.artwork.values()))),
        "pictures": ";".join(files),
        "other pictures": ";".join(files[1:]),
    }


def _known(name: str, extra: Mapping[str, str]) -> bool:
    kind, _, rest = name.partition(" ")
    if kind == "extra":
        return rest in extra
    if kind in _NUMBERED and rest:
        return rest.isdigit() and int(rest) >= 1
    return name in _PLAIN or (kind == "artwork" and bool(rest))


def _open_names(channel: Channel) -> list[str]:
    numbered = [f"{kind} {n}" for kind in _NUMBERED for n in range(1, 10)]
    return numbered + [f"extra {name}" for name in sorted(channel.extra)]
