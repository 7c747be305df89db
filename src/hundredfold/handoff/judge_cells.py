"""What the manifest says must stand in a cell, worked out by itself: no code of what filled it."""

from collections.abc import Callable
from decimal import Decimal

from hundredfold.handoff.manifest_shape import ColumnEntry, Manifest, RowEntry, SheetEntry

Known = dict[str, str | tuple[str, ...]]
_MARKS = {
    "": ("", "."), "1234.50": ("", "."), "1234,50": ("", ","), "1,234.50": (",", "."), "1.234,50": (".", ","),
    "1 234,50": (" ", ","), "1'234.50": ("'", "."), "1234": ("", ""),
}  # fmt: skip
_DAYS: dict[str, Callable[[str, str, str], str]] = {
    "": lambda y, m, d: f"{y}-{m}-{d}",
    "2026-12-31": lambda y, m, d: f"{y}-{m}-{d}",
    "31.12.2026": lambda y, m, d: f"{d}.{m}.{y}",
    "31/12/2026": lambda y, m, d: f"{d}/{m}/{y}",
    "31-12-2026": lambda y, m, d: f"{d}-{m}-{y}",
    "12/31/2026": lambda y, m, d: f"{m}/{d}/{y}",
    "20261231": lambda y, m, d: f"{y}{m}{d}",
}


def known_of(row: RowEntry, manifest: Manifest) -> Known:
    """What the manifest says of a row, by field."""
    files = [picture.file for picture in row.pictures]
    known: Known = {f"picture {n}": "" for n in range(1, 51)}
    known |= {f"picture {n}": file for n, file in enumerate(files, start=1)}
    known |= {f"artwork {area}": file for area, file in row.artwork.items()}
    known |= {
        "sku": row.sku,
        "action": row.action,
        "role": row.role,
        "revision": str(row.revision),
        "price": row.price,
        "currency": row.currency,
        "design": row.design,
        "blank": row.blank,
        "colour": row.colour,
        "size": row.size,
        "date": manifest.date,
        "artwork": tuple(sorted(set(row.artwork.values()))),
        "areas": tuple(sorted(row.artwork)),
        "pictures": tuple(files),
        "other pictures": tuple(files[1:]),
    }
    if row.action == "end" or not row.in_stock:
        known["stock"] = "0"
    return known


def field_of(column: ColumnEntry) -> str:
    """The field that alone fills the column, or "" where there is more to it."""
    fill = column.fill.strip()
    inner = fill[1:-1]
    alone = fill.startswith("{") and fill.endswith("}") and "{" not in inner and "}" not in inner
    return inner.strip() if alone else ""


def wanted(
    column: ColumnEntry, row: RowEntry, known: Known, manifest: Manifest, sheet: SheetEntry
) -> str | None:
    """The text that must stand in a cell; None where the manifest does not say."""
    fits = applies(column.only_for, row)
    if fits is False:
        return ""
    field = field_of(column)
    value = known.get(field)
    if fits is None or value is None or column.text == "html" or column.cut != "never":
        return None
    if isinstance(value, tuple):
        return _list(value, field, column, manifest)
    if not value:
        return None if column.if_empty or column.their_words else ""
    if field == "date":
        value = _DAYS[column.written or sheet.days_written if column.cell != "date" else ""](
            *value.split("-")
        )
    elif field == "price":
        value = _money(value, column, sheet)
    if column.their_words:
        return _theirs(value, column, manifest)
    return f"{column.prefix}{value}"


def applies(words: list[str], row: RowEntry) -> bool | None:
    """Whether row words speak of the row; None where the manifest does not tell."""
    kinds: dict[str, list[str]] = {}
    for word in words:
        kind, _, value = word.partition(" ")
        group = "role" if word in ("head", "member", "single") else "action" if not value else kind
        kinds.setdefault(group, []).append(value or word)
    own = {
        "action": row.action,
        "blank": row.blank,
        "colour": row.colour,
        "size": row.size,
        "design": row.design,
    }
    told: bool | None = True
    for group, values in kinds.items():
        if group == "role":
            if row.role != "single" and row.role not in values:
                return False
        elif group not in own:
            told = None
        elif own[group] not in values:
            return False
    return told


def _list(items: tuple[str, ...], field: str, column: ColumnEntry, manifest: Manifest) -> str | None:
    if column.their_words:
        said = [_theirs(item, column, manifest) for item in items]
        if None in said:
            return None
        items = tuple(word for word in said if word)
    kept = [item for item in items if not column.item_chars or len(item) <= column.item_chars]
    kept = kept if column.items is None else kept[: column.items]
    return (";" if column.join is None else column.join).join(column.prefix + item for item in kept)


def _theirs(value: str, column: ColumnEntry, manifest: Manifest) -> str | None:
    table = manifest.terms.their_words.get(column.their_words, {})
    if value in table:
        return table[value]
    lowered = {ours.casefold(): theirs for ours, theirs in reversed(table.items())}
    return lowered.get(value.casefold(), table.get("*"))


def _money(amount: str, column: ColumnEntry, sheet: SheetEntry) -> str:
    if sheet.kind == "xlsx" and column.cell in (None, "number"):
        return format(Decimal(amount).normalize(), "f")
    thousands, point = _MARKS.get(column.written or sheet.numbers_written, ("", "."))
    if column.decimals is not None:
        amount = format(round(Decimal(amount), column.decimals), "f")
    whole, _, rest = amount.partition(".")
    groups: list[str] = []
    while thousands and len(whole) > 3:
        whole, last = whole[:-3], whole[-3:]
        groups.insert(0, last)
    whole = thousands.join([whole, *groups])
    return f"{whole}{point}{rest}" if rest and point else whole
