"""Reads a manifest strictly: canonical bytes, the seal, every field of the right kind, none besides."""

import hashlib
import json
from typing import Annotated, Literal

from pydantic import Field, ValidationError, model_validator

from hundredfold.handoff.judge_checks import MANIFEST_ITSELF
from hundredfold.handoff.judge_common import MANIFEST, wrong
from hundredfold.handoff.money_shape import (
    ChargesEntry,
    CostEntry,
    FeesEntry,
    OptionalAmount,
    RateEntry,
    Strict,
    TargetEntry,
    WantedEntry,
    Whole,
)
from hundredfold.kernel.findings import Finding

Digest = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
# A file's name inside a pack or an archive: no folders, no way out of the folder, no reserved letters.
FileName = Annotated[str, Field(pattern=r'^[^/\\:*?"<>|\x00-\x1f.][^/\\:*?"<>|\x00-\x1f]{0,199}$')]
OptionalFileName = Annotated[str, Field(pattern=r'^([^/\\:*?"<>|\x00-\x1f.][^/\\:*?"<>|\x00-\x1f]{0,199})?$')]


Millimetres = Annotated[str, Field(pattern=r"^[0-9]{1,5}\.[0-9]{2}$")]


class MemberEntry(Strict):
    """A file inside an archive."""

    name: FileName
    sha256: Digest
    bytes: Whole
    width_px: Whole
    height_px: Whole
    dpi: Whole


class ArchiveEntry(Strict):
    """A ZIP of a part, or its loose files."""

    kind: Literal["artwork", "pictures"]
    file: OptionalFileName  # "" for files that lie beside the table
    sha256: Annotated[str, Field(pattern=r"^([0-9a-f]{64})?$")]
    members: list[MemberEntry]


class TableEntry(Strict):
    """The table of a part."""

    file: FileName
    rows: Whole
    sha256: Digest


class LineEntry(Strict):
    """A line of a further table: whose it is, and the digest of its cells."""

    sku: str
    cells: Digest


class MoreTableEntry(TableEntry):
    """A table beside the first; ``sheet`` counts the terms' further sheets from 1."""

    sheet: Annotated[int, Field(ge=1)]
    lines: list[LineEntry]


class PartEntry(Strict):
    """One numbered part."""

    table: TableEntry
    more: list[MoreTableEntry]
    archives: list[ArchiveEntry]


class PictureEntry(Strict):
    """A picture of a row."""

    role: str
    file: FileName


class RowEntry(Strict):
    """A row; ``line`` is its line in the table, ``cells`` the digest of its cells."""

    action: Literal["new", "change", "end"]
    in_stock: bool
    revision: Annotated[int, Field(ge=1)]
    sku: Annotated[str, Field(min_length=1)]
    role: Literal["single", "head", "member"]
    design: str
    blank: str
    colour: str
    size: str
    price: OptionalAmount
    currency: str
    artwork: dict[str, FileName]
    pictures: list[PictureEntry]
    part: Annotated[int, Field(ge=1)]
    line: Whole  # the first of its lines in the first table; 0 where it has none
    lines: Whole
    cells: Digest

    @property
    def listing(self) -> tuple[str, str]:
        """Design and blank: the listing inside this pack's channel."""
        return self.design, self.blank


class PicturedEntry(Strict):
    """Width and height of goods and of the body drawn for them; of vessels diameters at the print's edges."""

    goods_mm: Annotated[list[Millimetres], Field(min_length=2, max_length=2)]
    drawn_mm: Annotated[list[Millimetres], Field(min_length=2, max_length=2)]
    goods_ends_mm: Annotated[list[Millimetres], Field(max_length=2)]
    drawn_ends_mm: Annotated[list[Millimetres], Field(max_length=2)]


class AreaEntry(Strict):
    """A print area of a blank; no sizes means all."""

    blank: str
    name: str
    sizes: list[str]
    width_px: Whole
    height_px: Whole
    dpi: Whole
    file_kind: Literal["png", "jpeg", "tiff"]
    max_bytes: Whole
    pictured: PicturedEntry | None = None  # manifests from before have none


class LimitsEntry(Strict):
    """The channel's limits for wording."""

    title_chars: Whole
    points: Whole
    point_chars: Whole
    story_chars: Whole
    search_chars: Whole
    search_bytes: Whole
    search_words: Whole
    tags: Whole
    tag_chars: Whole
    counts: Literal["characters", "utf-16", "bytes"]

    @model_validator(mode="before")
    @classmethod
    def _as_now(cls, data: object) -> object:
        """Limits of a manifest from before their names were changed, as they would be written now."""
        if not isinstance(data, dict) or "bullets" not in data:
            return data
        renamed = {_FORMER_LIMITS.get(name, name): value for name, value in data.items()}
        return dict.fromkeys(("search_chars", "search_words", "tags", "tag_chars"), 0) | {
            "counts": "characters",
            **renamed,
        }


_FORMER_LIMITS = {"bullets": "points", "bullet_chars": "point_chars", "description_chars": "story_chars"}


class PicturesEntry(Strict):
    """The channel's rules for pictures."""

    width_px: Whole
    height_px: Whole
    max_bytes: Whole
    max_count: Whole


class ColumnEntry(Strict):
    """A column of the table: every option of ``Column``; null where it is not set."""

    header: str
    fill: str
    required: bool
    max_chars: Whole | None
    only_for: list[str]
    required_for: list[str]
    their_words: str
    if_empty: str
    join: str | None
    prefix: str
    items: Whole | None
    item_chars: Whole | None
    written: str
    unit: str
    decimals: Whole | None
    text: Literal["plain", "html"]
    cut: Literal["never", "at a word"]
    max_bytes: Whole | None
    cell: Literal["text", "number", "date"] | None


class SheetEntry(Strict):
    """A table's layout; null limits mean none."""

    kind: Literal["csv", "xlsx"]
    columns: list[ColumnEntry]
    byte_order_mark: bool
    worksheet: str
    lines_above: list[list[str]]
    max_rows: Whole | None
    max_bytes: Whole | None
    max_archive_bytes: Whole | None
    families: bool
    lines_below: list[list[str]]
    separator: Annotated[str, Field(min_length=1, max_length=1)]
    encoding: str
    line_end: Literal["\r\n", "\n"]
    quote_all: bool
    numbers_written: str
    days_written: str
    form: str
    first_row: Whole
    rows: Literal["variants", "listings", "pictures", "print files"]
    only_for: list[str]
    name: str

    @property
    def top(self) -> int:
        """Lines above the first of ours."""
        return self.first_row - 1 if self.form else len(self.lines_above) + 1 + len(self.lines_below)


class AsksEntry(Strict):
    """How the channel is asked to end and to change."""

    ends: Literal["rows", "stock 0", "table", "by hand"]
    changes: Literal["rows", "stock 0", "table", "by hand"]


class CapEntry(Strict):
    """The channel's daily cap."""

    counts: Literal["rows", "listings", "families"]
    a_day: Whole


class TermsEntry(Strict):
    """What the pack was made under."""

    currency: str
    target: TargetEntry
    wanted: list[WantedEntry]
    registered: bool
    fees: FeesEntry
    charges: ChargesEntry
    ending: Annotated[str, Field(pattern=r"^[0-9]{0,5}$")]
    floor: OptionalAmount
    ceiling: OptionalAmount
    rates: dict[str, RateEntry]
    costs: list[CostEntry]
    areas: list[AreaEntry]
    limits: LimitsEntry
    pictures: PicturesEntry
    sheet: SheetEntry
    more_sheets: list[SheetEntry]
    forms: dict[str, Digest]
    their_words: dict[str, dict[str, str]]
    asks: AsksEntry
    cap: CapEntry


class Manifest(Strict):
    """A whole manifest."""

    format: Literal[1]
    channel: str
    date: Annotated[str, Field(pattern=r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$")]
    terms: TermsEntry
    parts: list[PartEntry]
    rows: list[RowEntry]
    sha256: Digest


def read_manifest(data: bytes) -> tuple[Manifest | None, list[Finding]]:
    """The manifest, or None where it cannot be read, and what is wrong with it."""
    try:
        loose = json.loads(
            data.decode(), object_pairs_hook=_no_twins, parse_constant=_refuse, parse_float=_refuse
        )
    except (ValueError, RecursionError) as error:
        return None, [
            wrong(MANIFEST_ITSELF, "unreadable", MANIFEST, f"this is not a manifest any more: {error}")
        ]
    found = []
    if not isinstance(loose, dict) or _canonical(loose) != data:
        what = "its bytes are not the canonical form of what they say; something changed it"
        found.append(wrong(MANIFEST_ITSELF, "not-canonical", MANIFEST, what))
    if isinstance(loose, dict):
        bare = {key: value for key, value in loose.items() if key != "sha256"}
        if hashlib.sha256(_canonical(bare)).hexdigest() != loose.get("sha256"):
            what = "its seal does not match: something in it was changed after it was written"
            found.append(wrong(MANIFEST_ITSELF, "seal-broken", f"{MANIFEST}, sha256", what))
    try:
        return Manifest.model_validate(loose), found
    except ValidationError as error:
        return None, [*found, *_shape(error)]


def _canonical(value: object) -> bytes:
    try:
        return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()
    except UnicodeEncodeError:  # a lone surrogate, which no file of ours can hold
        return b""


def _shape(error: ValidationError) -> list[Finding]:
    findings = []
    for each in error.errors(include_url=False):
        field = ".".join(str(place + 1) if isinstance(place, int) else place for place in each["loc"])
        findings.append(wrong(MANIFEST_ITSELF, "wrong-field", f"{MANIFEST}, {field}", each["msg"].lower()))
    return findings


def _no_twins(pairs: list[tuple[str, object]]) -> dict[str, object]:
    found = dict(pairs)
    if len(found) != len(pairs):
        raise ValueError("a key stands twice in one object")
    return found


def _refuse(text: str) -> object:
    raise ValueError(f"a manifest has no number like {text}")
