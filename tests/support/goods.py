"""A small shop in memory for tests: one mug, one shirt, two channels, tiny art."""

import hashlib
import io
import struct
import zlib
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from decimal import Decimal
from typing import BinaryIO

from hundredfold.catalogue.blanks import (
    Blank,
    BlankColour,
    BlankVariant,
    Body,
    FileKind,
    Orientation,
    PrintArea,
)
from hundredfold.catalogue.channels import CapCounts, Channel, PictureRules, TextLimits
from hundredfold.catalogue.charges import Fees
from hundredfold.catalogue.forms import Form
from hundredfold.catalogue.processes import Material, Process
from hundredfold.catalogue.settings import ShopSettings
from hundredfold.catalogue.sheets import Column, Sheet, TableKind
from hundredfold.designs.design import Design
from hundredfold.designs.facts import Box, DesignFacts
from hundredfold.handoff.rows import ListingParts, Member, PackRow, RowPicture, rows_for, sku_keys
from hundredfold.handoff.terms import Terms, variant_costs
from hundredfold.handoff.writing import MANIFEST, Packed, PackOrder, write_pack
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.money import Money
from hundredfold.ledger.give import give_skus
from hundredfold.ledger.keys import ListingKey
from hundredfold.ledger.state import LedgerState
from hundredfold.planning.listings import Action, PlannedListing
from hundredfold.planning.sizing import variants_of
from hundredfold.pricing.asking import asked_for
from hundredfold.pricing.price import Price, price_for
from hundredfold.pricing.sale import Target
from hundredfold.wording.books import book_for
from hundredfold.wording.wording import Wording
from hundredfold.wording.write import ShopVoice, Writer
from hundredfold.workshop.shop.phrases import starter_books

DAY = date(2026, 12, 1)


def gbp(text: str) -> Money:
    """An amount in pounds."""
    return Money.parse(text, "GBP")


TARGET = Target(gbp("3.00"))
SETTINGS = ShopSettings("Puddlewick Goods", "GBP", TARGET.amount)


def mug() -> Blank:
    """A mug in two colours, one size, one print area of 40 x 20 px."""
    return Blank(
        code="MUG-325",
        name="ceramic mug 325 ml",
        form=Form.MUG,
        material=Material.COATED_CERAMIC,
        process=Process.SUBLIMATION,
        orientation=Orientation.LANDSCAPE,
        areas=(PrintArea("wrap", 40, 20, 300),),
        colours=(
            BlankColour("white", "White", Srgb(255, 255, 255)),
            BlankColour("navy", "Navy", Srgb(27, 42, 78)),
        ),
        variants=(
            BlankVariant("white", "", "NP-M1W", gbp("4.20")),
            BlankVariant("navy", "", "NP-M1N", gbp("4.60")),
        ),
        postage=gbp("3.10"),
        body=Body(diameter_mm=82, height_mm=95, capacity_ml=325),
        drinkware=True,
        words=("coffee mug", "tea cup"),
    )


def shirt() -> Blank:
    """A shirt in one colour and two sizes, whose small size has an area of its own."""
    return Blank(
        code="TEE",
        name="T-shirt",
        form=Form.T_SHIRT,
        material=Material.COTTON,
        process=Process.DTG,
        orientation=Orientation.PORTRAIT,
        areas=(
            PrintArea("front", 30, 36, 150, for_sizes=("L",)),
            PrintArea("front", 24, 30, 150, for_sizes=("S",)),
        ),
        colours=(BlankColour("black", "Black", Srgb(0, 0, 0), underbase=True),),
        variants=(
            BlankVariant("black", "S", "00123", gbp("5.00")),
            BlankVariant("black", "L", "00124", gbp("5.50")),
        ),
        postage=gbp("2.90"),
        words=("tee",),
    )


def channel(**changes: object) -> Channel:
    """A channel that takes CSV rows; any field may be given another value."""
    fields: dict[str, object] = {
        "code": "north-print",
        "name": "North Print",
        "currency": "GBP",
        "language": "en-GB",
        "cap_counts": CapCounts.ROWS,
        "daily_cap": 6,
        "fees": Fees(Decimal("0.15"), gbp("0.30"), gbp("0.20")),
        "price_ending": "95",
        "limits": TextLimits(60, 3, 80, 300, search_bytes=60),
        "pictures": PictureRules(16, 12, 5000, 2),
        "sheet": sheet(),
        "extra": {"shop": "Puddlewick Goods"},
        "their_words": {"action": {"new": "add", "*": "other"}},
    }
    return Channel(**(fields | changes))  # type: ignore[arg-type]


def sheet(kind: TableKind = TableKind.CSV, **changes: object) -> Sheet:
    """A sheet that names most fields."""
    fields: dict[str, object] = {
        "kind": kind,
        "columns": (
            Column("Do", "{action}", required=True, their_words="action"),
            Column("Ref", "{sku}", required=True, max_chars=40),
            Column("Code", "{partner code}", only_for=("member",)),
            Column("Heading", "{title}", required=True),
            Column("Point 1", "{point 1}"),
            Column("About", "{story}"),
            Column("Words", "{search words}"),
            Column("Price", "{price}", only_for=("member",), required=True),
            Column("Print", "{artwork}"),
            Column("Picture", "{picture 1}"),
            Column("More", "{other pictures}"),
            Column("Note", "by {extra shop}, {{made}} to order"),
        ),
    }
    return Sheet(**(fields | changes))  # type: ignore[arg-type]


def design(name: str = "proud-beekeeper", title: str = "proud beekeeper") -> Design:
    """A design with plausible facts."""
    facts = DesignFacts(
        digest=hashlib.sha256(name.encode()).hexdigest(),
        pixel_digest="",
        file_format="png",
        file_bytes=1,
        width_px=40,
        height_px=20,
        vector=False,
        dpi=300.0,
        profile="",
        bits=8,
        has_alpha=True,
        ink=Box(0, 0, 40, 20),
        ink_share=1.0,
        soft_share=0.0,
        edge_share=0.0,
        specks=0,
        opaque_border=False,
        inks=(),
        outline=(),
        look="",
    )
    return Design(name, f"designs/{name}.png", facts, title, ("beekeeper", "honey", "gift"), "beekeeping")


def png(width: int, height: int, dpi: int, shade: int = 0) -> bytes:
    """A real RGBA PNG of one colour with a pHYs chunk."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    line = b"\0" + bytes((shade, 99, 7, 255)) * width
    per_metre = round(dpi / 0.0254)
    return b"".join(
        (
            b"\x89PNG\r\n\x1a\n",
            chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 6, 0, 0, 0)),
            chunk(b"pHYs", struct.pack(">IIB", per_metre, per_metre, 1)),
            chunk(b"IDAT", zlib.compress(line * height)),
            chunk(b"IEND", b""),
        )
    )


def jpeg(width: int, height: int, shade: int = 0) -> bytes:
    """A real JPEG of one colour."""
    from PIL import Image

    out = io.BytesIO()
    Image.new("RGB", (width, height), (shade, 120, 80)).save(out, "JPEG")
    return out.getvalue()


def price_of(blank: Blank, colour: str, size: str, to: Channel) -> Money:
    """The price the terms below give."""
    variant = next(v for v in blank.variants if (v.colour, v.size) == (colour, size))
    answer = price_for(asked_for(blank, variant, SETTINGS, to, TARGET))
    assert isinstance(answer, Price)
    return answer.price


def terms(to: Channel, blanks: Iterable[Blank]) -> Terms:
    """Terms with every variant's cost."""
    blanks = tuple(blanks)
    every = {(b.code, v.colour, v.size) for b in blanks for v in b.variants}
    return Terms(to, TARGET, tuple(cost for b in blanks for cost in variant_costs(b, every)), blanks)


class TinyPack:
    """A pack being put together in memory: rows, and the bytes of their files."""

    def __init__(self, to: Channel, state: LedgerState | None = None) -> None:
        self.to, self.state = to, state or LedgerState()
        self.rows: list[PackRow] = []
        self.files: dict[str, bytes] = {}
        self.members: dict[str, Member] = {}
        self.planned: list[PlannedListing] = []
        self.given: dict[str, object] = {}

    def add(
        self, what: Design, blank: Blank, action: Action = Action.NEW, revision: int = 1, day: date = DAY
    ) -> None:
        """Adds a listing of all the blank's colours."""
        key = ListingKey(self.to.code, what.id, blank.code)
        colours = tuple(colour.code for colour in blank.colours)
        planned = PlannedListing(key, day, action, revision, colours, 9, "for a test")
        skus, _ = give_skus(sku_keys(planned, blank, self.to), self.state, "PG")
        offered = variants_of(blank, colours)
        art = {(v.colour, v.size): self._art(what, blank, v) for v in offered}
        pictures = {colour: self._pictures(what, blank, colour) for colour in colours}
        prices = {(v.colour, v.size): price_of(blank, v.colour, v.size, self.to) for v in offered}
        words = words_of(what, blank, self.to)
        parts = ListingParts(planned, what, blank, self.to, words, prices, art, pictures)
        self.rows += rows_for(parts, skus, self.state)
        self.planned.append(planned)

    def order(self, blanks: Iterable[Blank], day: date = DAY) -> PackOrder:
        """The order of everything added."""
        return PackOrder(self.to, day, terms(self.to, blanks), tuple(self.rows), self.members)

    @contextmanager
    def open_member(self, name: str) -> Iterator[BinaryIO]:
        """A member's bytes."""
        yield io.BytesIO(self.files[name])

    def _art(self, what: Design, blank: Blank, variant: BlankVariant) -> Mapping[str, str]:
        names = {}
        for area in blank.areas_for(variant.size):
            assert area.file_kind is FileKind.PNG
            name = f"{what.id}-{blank.code}-{area.name}-{area.width_px}x{area.height_px}.png"
            shade = sum(what.id.encode()) % 256
            self._keep(
                name,
                png(area.width_px, area.height_px, area.dpi, shade),
                area.width_px,
                area.height_px,
                area.dpi,
            )
            names[area.name] = name
        return names

    def _pictures(self, what: Design, blank: Blank, colour: str) -> tuple[RowPicture, ...]:
        found = []
        for role in ("main", "more"):
            name = f"{what.id}-{blank.code}-{colour}-{role}.jpg"
            rules = self.to.pictures
            shade = sum(name.encode()) % 256
            self._keep(name, jpeg(rules.width_px, rules.height_px, shade), rules.width_px, rules.height_px, 0)
            found.append(RowPicture(role, name))
        return tuple(found)

    def _keep(self, name: str, data: bytes, width: int, height: int, dpi: int) -> None:
        self.files[name] = data
        self.members[name] = Member(name, hashlib.sha256(data).hexdigest(), len(data), width, height, dpi)


def written(pack: TinyPack, blanks: Iterable[Blank]) -> tuple[dict[str, bytes], Packed]:
    """The pack's files in memory, and what the writer said."""
    files: dict[str, bytes] = {}

    @contextmanager
    def open_output(name: str) -> Iterator[BinaryIO]:
        out = io.BytesIO()
        yield out
        files[name] = out.getvalue()

    packed = write_pack(pack.order(blanks), pack.open_member, open_output)
    assert MANIFEST in files
    return files, packed


class InMemory:
    """A pack's files held in a dictionary, for the verifier."""

    def __init__(self, files: Mapping[str, bytes]) -> None:
        self.files = files

    def names(self) -> list[str]:
        """The files' names."""
        return list(self.files)

    @contextmanager
    def open(self, name: str) -> Iterator[BinaryIO]:
        """One file."""
        yield io.BytesIO(self.files[name])


def words_of(what: Design, blank: Blank, to: Channel) -> Wording:
    """The words of one listing, from the phrase books that come with the program."""
    book = book_for(to.language, starter_books())
    assert book is not None
    return Writer(to, book, ShopVoice()).write(what, blank).wording
