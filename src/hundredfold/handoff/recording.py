"""What the ledger keeps of a written pack: its manifest's digest, its rows, what each listing was told."""

from collections.abc import Iterable, Mapping

from hundredfold.handoff.rows import PackRow
from hundredfold.handoff.writing import Packed
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.keys import ListingKey, PackKey
from hundredfold.planning.listings import Action, PlannedListing


def packed_event(
    key: PackKey,
    packed: Packed,
    planned: Iterable[PlannedListing],
    content: Mapping[ListingKey, Mapping[str, str]],
) -> Event:
    """The event to append once every file of the pack is on disk.

    ``content`` is each listing's ``Candidate.content``, so that a later change of it is seen.
    """
    kept = {row.listing for row in packed.rows}
    listings = [
        {
            **entry.key.as_data(),
            "revision": entry.revision,
            "action": entry.action.value,
            "colours": list(entry.colours),
            "content": {} if entry.action is Action.END else dict(sorted(content.get(entry.key, {}).items())),
        }
        for entry in sorted(planned, key=lambda p: p.key)
        if entry.key in kept
    ]
    rows = [_row(row, packed.traces.get(row.sku, "")) for row in packed.rows]
    return Event(
        Happened.PACKED, str(key), {"manifest": packed.manifest_sha256, "rows": rows, "listings": listings}
    )


def _row(row: PackRow, trace: str) -> dict[str, object]:
    told = {"sku": row.sku, "revision": row.revision, "action": row.action.value, "trace": trace}
    return {**row.listing.as_data(), **told}
