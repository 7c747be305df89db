"""Files named as the channel wants them: by SKU and number, say. Two different files never get one name."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date

from hundredfold.catalogue.channels import Channel
from hundredfold.handoff.checks import FILES
from hundredfold.handoff.rows import Member, PackRow, RowPicture
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.findings import Finding
from hundredfold.kernel.nearest import did_you_mean

FILE_FIELDS: tuple[tuple[str, str], ...] = (
    ("sku", "the row's SKU"),
    ("design", "the design's id"),
    ("blank", "the blank's code"),
    ("colour", "the colour's code"),
    ("size", "the size"),
    ("area", "the print area; empty for a picture"),
    ("role", "main or more; empty for a print file"),
    ("number", "which of the row's pictures or print files it is, from 1"),
    ("date", "the day of the pack"),
    ("channel", "the channel's code"),
)
TABLE_FIELDS = ("date", "channel")
_FIELD = re.compile(r"\{([^{}]*)\}")
_UNSAFE = re.compile(r"[^\w.\-]+")


def check_names(channel: Channel, file: str = "") -> None:
    """Raises ShopError ``unknown-field`` for a pattern that names a field there is not."""
    known = tuple(name for name, _ in FILE_FIELDS)
    names = channel.files
    patterns = [("files.print_file", names.print_file, known), ("files.picture", names.picture, known)]
    patterns += [
        ("files.artwork", names.artwork, TABLE_FIELDS),
        ("files.pictures", names.pictures, TABLE_FIELDS),
    ]
    patterns += [("name", sheet.name, TABLE_FIELDS) for sheet in (channel.sheet, *channel.more_tables)]
    for key, pattern, fields in patterns:
        for name in _FIELD.findall(pattern):
            if name not in fields:
                hint = did_you_mean(name, fields)
                raise ShopError(
                    "unknown-field", f"there is no field {{{name}}}", hint, Where(file, field=key)
                )


def table_name(pattern: str, channel: Channel, day: date) -> str:
    """The name of a table or an archive, without its ending."""
    values = {"date": day.isoformat(), "channel": channel.code}
    return _FIELD.sub(lambda found: values.get(found[1], ""), pattern)


class Renamer:
    """Gives the files of rows their names, and keeps what each name is."""

    def __init__(self, channel: Channel, day: date, members: Mapping[str, Member]) -> None:
        self._channel = channel
        self._day = day
        self._old = members
        self.members: dict[str, Member] = {}
        self.sources: dict[str, str] = {}  # new name -> the name its bytes are known by
        self._folded: dict[str, str] = {}

    def listing(self, rows: Sequence[PackRow]) -> tuple[tuple[PackRow, ...], list[Finding]]:
        """The rows with new names, and a stop where a name is another file's already."""
        problems: list[Finding] = []
        return tuple(self._row(row, problems) for row in rows), problems

    def _row(self, row: PackRow, problems: list[Finding]) -> PackRow:
        names = self._channel.files
        art = {
            area: self._named(names.print_file, file, row, problems, area=area, number=number)
            for number, (area, file) in enumerate(sorted(row.artwork.items()), start=1)
        }
        pictures = tuple(
            RowPicture(
                picture.role,
                self._named(names.picture, picture.file, row, problems, role=picture.role, number=number),
            )
            for number, picture in enumerate(row.pictures, start=1)
        )
        return replace(row, artwork=art, pictures=pictures)

    def _named(
        self, pattern: str, file: str, row: PackRow, problems: list[Finding], *,
        number: int, area: str = "", role: str = "",
    ) -> str:  # fmt: skip
        name = file
        if pattern:
            values = {
                "sku": row.sku, "design": row.listing.design, "blank": row.listing.blank,
                "colour": row.colour,
                "size": row.size, "area": area, "role": role, "number": str(number),
                "date": self._day.isoformat(), "channel": self._channel.code,
            }  # fmt: skip
            stem = _UNSAFE.sub("-", _FIELD.sub(lambda found: values[found[1]], pattern)).strip("-.")
            name = f"{stem or 'file'}.{file.rpartition('.')[2]}"
        member = replace(self._old[file], name=name)
        known = self.members.get(self._folded.get(name.casefold(), ""))
        if known is not None and (known.sha256 != member.sha256 or known.name != name):
            problems.append(_twice(row, name))
            return name
        self.members[name] = member
        self.sources[name] = file
        self._folded[name.casefold()] = name
        return name


def _twice(row: PackRow, name: str) -> Finding:
    fix = "put {sku}, {area} or {number} into the pattern under [files], so that each file has its own name"
    what = f"two different files would be named {name}"
    return FILES.finds("name-twice", row.sku, what, fix)


def patterns_used(channel: Channel) -> Iterator[str]:
    """The patterns of a channel that rename files."""
    yield from filter(None, (channel.files.print_file, channel.files.picture))
