"""What the next month would make again of a design's files, and why, from the shop's files as they are."""

import hashlib
from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

from hundredfold.designs.design import Design
from hundredfold.designs.measure import facts_from_json
from hundredfold.ledger.keys import ListingKey
from hundredfold.runner.cache import Vault
from hundredfold.runner.rows import BuildRows
from hundredfold.runner.tasks import Task
from hundredfold.runner.why import reasons
from hundredfold.wording.wording import Wording
from hundredfold.workshop.listing.offers import Offer, Proof, layouts_of
from hundredfold.workshop.shop.folder import Shop
from hundredfold.workshop.steps.allsteps import MEASURE, SMALL_ART
from hundredfold.workshop.steps.gathering import facts_tasks
from hundredfold.workshop.steps.items import on_blank
from hundredfold.workshop.steps.making import Groups, Pieces, pieces_of


class Remaking:
    """Answers for single designs; nothing is made and nothing is written."""

    def __init__(self, shop: Shop, rows: BuildRows) -> None:
        self._shop = shop
        self._rows = rows
        self._vault = Vault(shop.paths.cache)
        self._made = {(row.item, row.step): row for row in rows.made()}
        self._digests: dict[str, str] = {}

    def why_again(self, design_id: str, path: str, items: Collection[str]) -> Iterator[tuple[str, str]]:
        """Item and reason for each of these items of a design that a month would make again.

        Only what was made before: a colour that was never pictured is no reason to picture it.
        """
        for task in self._tasks(design_id, path, items):
            row = self._made.get((task.item, task.recipe.step))
            if row is None or task.item not in items:
                continue
            if row.key != task.recipe.key() or not self._vault.holds(row.output, row.bytes):
                yield task.item, "; ".join(reasons(self._rows, self._vault, task.item, task.recipe))

    def item_of(self, design_id: str, path: str, member: str) -> str:
        """The item that is packed under this name; empty where there is none."""
        pieces = (piece for made in self._pieces(design_id, path) for piece in made.pieces)
        return next((piece.item for piece in pieces if piece.member == member), "")

    def _tasks(self, design_id: str, path: str, items: Collection[str]) -> Iterator[Task]:
        digest = self._digest(path)
        if digest:
            yield from facts_tasks(path, digest)
        for pieces in self._pieces(design_id, path, items):
            yield from pieces.tasks

    def _pieces(self, design_id: str, path: str, items: Collection[str] | None = None) -> Iterator[Pieces]:
        """What each blank and colour would have of the design; only blanks that one of the items is on."""
        design, small = self._design(design_id, path), self._small(path)
        if design is None:
            return
        for blank in self._shop.blanks:
            on_it = on_blank(path, blank.code)
            if items is not None and not any(item.startswith(on_it) for item in items):
                continue
            layouts = layouts_of(design, blank)
            if layouts.keys() == {variant.size for variant in blank.offered()}:
                for offer in self._offers(Proof(design, blank, layouts)):
                    yield pieces_of(offer, small, Groups("", ""))

    def _offers(self, proof: Proof) -> Iterator[Offer]:
        """One for each channel and colour: extra pictures are made of a listing's first colour only."""
        for channel in self._shop.channels:
            key = ListingKey(channel.code, proof.design.id, proof.blank.code)
            for colour in dict.fromkeys(variant.colour for variant in proof.blank.offered()):
                words = Wording(proof.design.title, (), "", ())  # pictures do not ask for them
                yield Offer(key, proof, channel, (colour,), words, {})

    def _design(self, design_id: str, path: str) -> Design | None:
        """The design as it was measured last, with the art that lies there now."""
        row = self._made.get((path, MEASURE.name))
        data = self._vault.get(row.output) if row is not None else None
        if data is None:
            return None
        facts = facts_from_json(data)
        facts = replace(facts, digest=self._digest(path) or facts.digest)
        return Design.named_by_file(design_id, path, facts)

    def _small(self, path: str) -> str:
        small = self._made.get((path, SMALL_ART.name))
        return small.output if small else ""

    def _digest(self, path: str) -> str:
        if path not in self._digests:
            file = self._shop.paths.root / path
            self._digests[path] = hashlib.sha256(file.read_bytes()).hexdigest() if file.is_file() else ""
        return self._digests[path]


def in_groups(found: Mapping[str, str]) -> Iterator[str]:
    """One line for each reason, with the first item and the number of the others."""
    groups: dict[str, list[str]] = {}
    for item, reason in found.items():
        groups.setdefault(reason, []).append(item)
    for reason, items in groups.items():
        others = f" and {len(items) - 1} more" if len(items) > 1 else ""
        yield f"the next month makes {items[0]}{others} again: {reason}"
