"""One channel's pack of one day: written from the cache, and on disk only where something changed."""

import hashlib
import os
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import BinaryIO

from hundredfold.handoff.recording import packed_event
from hundredfold.handoff.rows import ListingParts, Member, PackRow, rows_for
from hundredfold.handoff.terms import Terms, Wanted, variant_costs
from hundredfold.handoff.writing import PackOrder, write_pack
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Finding
from hundredfold.ledger.keys import GoodsKey, ListingKey, PackKey, SkuKey
from hundredfold.ledger.state import LedgerState
from hundredfold.planning.listings import PlannedListing
from hundredfold.pricing.asking import usual_target
from hundredfold.runner.atomic import replace_patiently, sweep_parts, sync_folder, writing_part
from hundredfold.runner.recipes import Recipe, in_short, plain
from hundredfold.runner.rows import MadeRow
from hundredfold.runner.tasks import Counts, Output
from hundredfold.workshop.listing.offers import Offer, shop_words
from hundredfold.workshop.listing.prices import ChannelPrices
from hundredfold.workshop.shop.bench import Bench
from hundredfold.workshop.shop.folder import Shop
from hundredfold.workshop.steps.allsteps import PACK
from hundredfold.workshop.steps.making import Pieces
from hundredfold.workshop.steps.packfiles import (
    Contents,
    known_contents,
    pack_folder,
    same_file,
)

Outputs = Mapping[tuple[str, str], Output]


@dataclass(frozen=True)
class Load:
    """A planned listing with all that its rows are made from."""

    planned: PlannedListing
    offer: Offer
    pieces: Pieces


@dataclass(frozen=True)
class PackDone:
    """A pack on disk. ``files`` maps each file name to its sha256."""

    key: PackKey
    folder: Path
    files: Mapping[str, str]
    counts: Counts
    findings: tuple[Finding, ...]
    written: Mapping[str, os.stat_result] = field(default_factory=dict)  # of files written in this run


class Packer:
    """Writes the packs of one run. ``skus`` and ``barcodes`` are all of the shop, new ones included."""

    def __init__(
        self,
        bench: Bench,
        state: LedgerState,
        skus: Mapping[SkuKey, str],
        barcodes: Mapping[GoodsKey, str],
    ) -> None:
        self._bench = bench
        self._state = state
        self._barcodes = barcodes
        self._skus: dict[ListingKey, dict[SkuKey, str]] = {}
        for key, sku in skus.items():
            self._skus.setdefault(key.listing, {})[key] = sku
        self._keys = {row.item: row.key for row in bench.store.builds.made() if row.step == PACK.name}
        self._before = known_contents(bench.store, bench.vault)

    def pack(self, key: PackKey, loads: Sequence[Load], outputs: Outputs) -> PackDone:
        """Write what is missing or different of a pack, then note it in the ledger.

        A listing that lacks an output is left out; the run has told why. Raises ShopError ``disk-full``,
        ``cannot-write``, ``file-in-use``.
        """
        whole = [load for load in loads if _has_all(load, outputs)]
        order = self._order(key, whole, outputs)
        recipe = recipe_of(order)
        folder = pack_folder(self._bench.shop.paths, key)
        before = self._before.get(str(key))
        sweep_parts(folder)
        if before and self._keys[str(key)] == recipe.key() and self._all_there(folder, before):
            self._bench.store.builds.touch(self._bench.run_number, [(str(key), PACK.name)])
            return PackDone(key, folder, before.files, Counts(reused=len(before.files)), before.findings)
        return self._write(key, folder, order, whole, recipe, outputs)

    def _all_there(self, folder: Path, contents: Contents) -> bool:
        memo = self._bench.memo
        return all(same_file(memo, folder / name, digest) for name, digest in contents.files.items())

    def _order(self, key: PackKey, loads: Sequence[Load], outputs: Outputs) -> PackOrder:
        shop = self._bench.shop
        channel = shop.channel(key.channel)
        rows: list[PackRow] = []
        members: dict[str, Member] = {}
        for load in loads:
            rows += rows_for(
                _parts(load, shop, self._barcodes), self._skus.get(load.planned.key, {}), self._state
            )
            for piece in load.pieces.pieces:
                made = outputs[(piece.item, piece.step)]
                members[piece.member] = Member(
                    piece.member, made.digest, made.bytes, piece.width_px, piece.height_px, piece.dpi
                )
        forms = shop.forms_of(channel)
        terms = _terms(shop, key, loads, forms)
        return PackOrder(channel, date.fromisoformat(key.day), terms, tuple(rows), members, forms)

    def _write(
        self,
        key: PackKey,
        folder: Path,
        order: PackOrder,
        loads: Sequence[Load],
        recipe: Recipe,
        outputs: Outputs,
    ) -> PackDone:
        vault = self._bench.vault
        writer = _ChangedOnly(folder, self._bench)

        @contextmanager
        def open_member(name: str) -> Iterator[BinaryIO]:
            with vault.path_of(order.members[name].sha256).open("rb") as file:
                yield file

        try:
            packed = write_pack(order, open_member, writer.open)
        except ShopError:
            # A byte of the cache may have rotten behind its seal: what is not what it was is let go, so that
            # the next run makes it anew.
            for member in order.members.values():
                vault.prove(member.sha256)
            raise
        for stray in sorted(folder.iterdir()):
            if stray.name not in packed.files and stray.is_file():
                stray.unlink()  # a part of an earlier, longer pack
        contents = Contents(writer.digests, packed.findings)
        digest = vault.put(contents.as_bytes())
        content = {load.planned.key: load.offer.content for load in loads}
        event = packed_event(key, packed, [load.planned for load in loads], content)
        known = self._state.packs.get(key)
        if known is None or known.manifest != packed.manifest_sha256:
            self._bench.store.append([event])
        made = MadeRow(str(key), PACK.name, recipe.key(), digest, len(contents.as_bytes()), recipe.json())
        self._bench.store.builds.save(self._bench.run_number, [made], [])
        made_files = len(writer.written)
        counts = Counts(made=made_files, reused=len(writer.digests) - made_files)
        return PackDone(key, folder, writer.digests, counts, packed.findings, writer.written)


class _ChangedOnly:
    """Opens a pack's files for writing; a file that comes out as it was is left as it lies."""

    def __init__(self, folder: Path, bench: Bench) -> None:
        self._folder = folder
        self._bench = bench
        self.digests: dict[str, str] = {}
        self.written: dict[str, os.stat_result] = {}

    @contextmanager
    def open(self, name: str) -> Iterator[BinaryIO]:
        path = self._folder / name
        with writing_part(path) as part:
            with part.open("x+b") as file:
                yield file
                file.flush()
                file.seek(0)
                self.digests[name] = hashlib.file_digest(file, "sha256").hexdigest()
                os.fsync(file.fileno())
            if same_file(self._bench.memo, path, self.digests[name]):
                part.unlink()
            else:
                replace_patiently(part, path)
                sync_folder(path.parent)
                self.written[name] = os.stat(path)


def _has_all(load: Load, outputs: Outputs) -> bool:
    return all((piece.item, piece.step) in outputs for piece in load.pieces.pieces)


def _parts(load: Load, shop: Shop, barcodes: Mapping[GoodsKey, str]) -> ListingParts:
    offer = load.offer
    pairs = [(variant.colour, variant.size) for variant in offer.blank.variants]
    goods = {pair: GoodsKey(offer.design.id, offer.blank.code, *pair) for pair in pairs}
    return ListingParts(
        load.planned,
        offer.design,
        offer.blank,
        offer.channel,
        offer.wording,
        {pair: price.price for pair, price in {**offer.prices, **offer.resting}.items()},
        load.pieces.artwork,
        load.pieces.pictures,
        shop_words(shop),
        {pair: barcodes[key] for pair, key in goods.items() if key in barcodes},
    )


def _terms(shop: Shop, key: PackKey, loads: Sequence[Load], forms: Mapping[str, bytes]) -> Terms:
    channel, settings = shop.channel(key.channel), shop.settings
    blanks = {load.offer.blank.code: load.offer.blank for load in loads}
    priced = {
        (load.offer.blank.code, *pair)
        for load in loads
        for pair in {**load.offer.prices, **load.offer.resting}
    }
    costs = [cost for blank in blanks.values() for cost in variant_costs(blank, priced)]
    usual, book = usual_target(settings, channel), ChannelPrices(settings, channel)
    wanted = [
        Wanted(load.offer.design.id, load.offer.blank.code, size, target)
        for load in loads
        for size, target in book.targets(load.offer.blank, load.offer.design).items()
        if target != usual
    ]
    rates = {pair: rate for pair, rate in settings.rates.items() if channel.currency in pair}
    return Terms(
        channel,
        usual,
        tuple(costs),
        tuple(blanks.values()),
        rates,
        tuple(wanted),
        settings.tax_registered,
        forms={name: hashlib.sha256(data).hexdigest() for name, data in forms.items()},
    )


def recipe_of(order: PackOrder) -> Recipe:
    """Everything the pack's bytes follow from, under its name: rows by SKU, members, terms, the channel."""
    rows = {f"{row.sku} {row.role.value}": in_short(_row_json(row), 0) for row in order.rows}
    params = {
        "rows": {"order": in_short([row.sku for row in order.rows], 0), **rows},
        "terms": in_short(order.terms.as_json(), 2),
        "channel": plain(order.channel),
        "day": order.day.isoformat(),
    }
    members = {f"member {m.name} at {m.dpi} dpi": m.sha256 for m in order.members.values()}
    return PACK.recipe(members, params)


def _row_json(row: PackRow) -> list[object]:
    price = row.price.plain() if row.price else ""
    pictures = [[picture.role, picture.file] for picture in row.pictures]
    return [
        row.action.value, row.revision, row.sku, row.role.value, row.colour, row.size, price,
        dict(row.artwork), pictures, dict(row.fields), dict(row.values), row.in_stock,
    ]  # fmt: skip
