"""Marks of hand-overs that stand outside the record, so that a lost or older record is noticed. Pure.

A mark holds all the ledger needs to know of one hand-over: where it went, the pack's own row, and who its
SKUs and designs are. It is written before the pack takes its name at the destination.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import standing_events
from hundredfold.ledger.keys import GoodsKey, PackKey
from hundredfold.ledger.state import LedgerState, Progress

# The rows that tell which hand-overs a record knows of; far fewer than all rows.
_GIVEN = frozenset({Happened.SKU_GIVEN, Happened.BARCODE_GIVEN})
TELLING = frozenset({Happened.HANDING_OVER, Happened.SETTLED, Happened.UNDONE})


@dataclass(frozen=True)
class Mark:
    """One hand-over.

    ``manifest`` is the sha256 of the pack's manifest.json, ``done`` whether it was seen to arrive, ``order``
    its place among the shop's hand-overs, ``rows`` what the ledger needs besides.
    """

    shop: str  # the shop's identity
    key: PackKey
    manifest: str
    destination: str
    done: bool
    order: int
    rows: tuple[Event, ...]

    def as_json(self) -> dict[str, object]:
        """Plain values."""
        rows = [{"happened": r.happened.value, "subject": r.subject, "data": dict(r.data)} for r in self.rows]
        return {
            "shop": self.shop,
            "pack": str(self.key),
            "manifest": self.manifest,
            "destination": self.destination,
            "handed_over": self.done,
            "order": self.order,
            "rows": rows,
        }

    @classmethod
    def from_json(cls, value: object) -> "Mark":
        """The inverse of ``as_json``. Raises ValueError, TypeError or KeyError for anything else."""
        if not isinstance(value, Mapping):
            raise TypeError("a mark is an object")
        rows = tuple(
            Event(Happened(row["happened"]), str(row["subject"]), dict(row["data"])) for row in value["rows"]
        )
        return cls(
            str(value["shop"]),
            PackKey.parse(value["pack"]),
            str(value["manifest"]),
            str(value["destination"]),
            value["handed_over"] is True,
            int(value["order"]),
            rows,
        )


def mark_of(shop: str, key: PackKey, state: LedgerState, rows: Sequence[Event]) -> Mark:
    """The mark of a pack whose handing over has begun.

    ``rows`` are the ledger's rows of kinds "packed", "handing over" and "design seen" or others.
    """
    pack = state.packs[key]
    mine = [row for row in rows if row.subject == str(key)]
    packed = [r for r in mine if r.happened is Happened.PACKED and r.data["manifest"] == pack.manifest]
    begun = [row.number for row in mine if row.happened is Happened.HANDING_OVER]
    seen = {row.subject: row for row in rows if row.happened is Happened.DESIGN_SEEN}
    designs = sorted({listing.key.design for listing in pack.listings} & set(seen))
    given = [
        Event(Happened.SKU_GIVEN, row.sku, state.owners[row.sku].as_data())
        for row in pack.rows
        if row.sku in state.owners
    ]
    goods = sorted({GoodsKey.of(state.owners[row.sku]) for row in pack.rows if row.sku in state.owners})
    barcodes = [
        Event(Happened.BARCODE_GIVEN, state.barcodes[one], one.as_data())
        for one in goods
        if one in state.barcodes
    ]
    kept = [*(seen[one] for one in designs), *given, *barcodes, *packed[-1:]]
    return Mark(
        shop,
        key,
        pack.manifest,
        pack.destination,
        pack.progress is Progress.HANDED_OVER,
        begun[-1] if begun else 0,
        tuple(Event(row.happened, row.subject, row.data) for row in kept),
    )


def forgotten(marks: Iterable[Mark], telling: Iterable[Event]) -> tuple[Mark, ...]:
    """The marks of hand-overs that a record knows nothing of, in their order.

    ``telling`` are the record's rows of the kinds in ``TELLING``.
    """
    known: dict[str, str] = {}
    for row in standing_events(telling):
        if row.happened is Happened.HANDING_OVER:
            known[row.subject] = str(row.data.get("manifest", ""))
        elif not row.data.get("happened"):
            known.pop(row.subject, None)
    lost = [mark for mark in marks if known.get(str(mark.key)) not in ("", mark.manifest)]
    return tuple(sorted(lost, key=lambda mark: (mark.order, mark.key)))


def rows_to_carry_over(marks: Iterable[Mark], state: LedgerState) -> tuple[Event, ...]:
    """The rows that make a record know these hand-overs; one that was not seen to arrive becomes unsure.

    A day that the record holds as handed over with other contents is left as it is: both went out.
    """
    rows: list[Event] = []
    given = {*state.owners, *state.barcodes.values()}
    for mark in marks:
        pack = state.packs.get(mark.key)
        if pack is not None and pack.progress is not Progress.PACKED:
            continue
        for row in mark.rows:
            if row.happened in _GIVEN and row.subject in given:
                continue
            given.add(row.subject)
            rows.append(row)
        data = {"destination": mark.destination, "manifest": mark.manifest, "seen": "a mark of the hand-over"}
        rows.append(Event(Happened.HANDING_OVER, str(mark.key), data))
        end = Happened.HANDED_OVER if mark.done else Happened.UNSURE
        rows.append(Event(end, str(mark.key), {"seen": "a mark of the hand-over"}))
    return tuple(rows)
