"""Judges a pack against what the shop's ledger says happened."""

from collections.abc import Iterator

from hundredfold.handoff.judge_checks import HISTORY
from hundredfold.handoff.judge_common import MANIFEST, wrong
from hundredfold.handoff.manifest_shape import Manifest, RowEntry
from hundredfold.kernel.findings import Finding
from hundredfold.ledger.keys import PackKey
from hundredfold.ledger.state import LedgerState, Progress


def judge_history(manifest: Manifest, digest: str, state: LedgerState) -> Iterator[Finding]:
    """The manifest is the recorded one; no (SKU, revision) goes twice; what is new never existed."""
    key = PackKey(manifest.channel, manifest.date)
    pack = state.packs.get(key)
    if pack is None:
        what = "the ledger knows no pack of this channel and day"
        yield wrong(HISTORY, "unknown-pack", str(key), what)
    elif pack.manifest != digest:
        frozen = (
            "; that day was handed over and stays as it was" if pack.progress is not Progress.PACKED else ""
        )
        what = f"this is not the manifest the ledger recorded{frozen}"
        yield wrong(HISTORY, "other-manifest", MANIFEST, what)
    out = pack is not None and pack.manifest == digest and pack.progress is not Progress.PACKED
    for row in manifest.rows:
        yield from _owner(row, manifest.channel, state)
        earlier = state.sent.get((row.sku, row.revision))
        if earlier is not None and earlier != key:
            what = (
                f"revision {row.revision} of this SKU was handed over on {earlier.day} to {earlier.channel}"
            )
            yield wrong(HISTORY, "handed-over-before", row.sku, what)
        if out:
            continue  # its own rows are part of the history by now
        if row.action == "new" and row.sku in state.existing | state.ended:
            yield wrong(HISTORY, "new-but-exists", row.sku, "a new row for a SKU the channel has or had")
        if row.action != "new" and row.sku not in state.existing | state.ended:
            what = f"a row to {row.action} a SKU the channel never had"
            yield wrong(HISTORY, "never-existed", row.sku, what)


def _owner(row: RowEntry, channel: str, state: LedgerState) -> Iterator[Finding]:
    owner = state.owners.get(row.sku)
    if owner is None:
        yield wrong(HISTORY, "sku-not-given", row.sku, "the ledger never gave this SKU")
        return
    was = (owner.channel, owner.design, owner.blank, owner.colour, owner.size)
    now = (channel, row.design, row.blank, row.colour, row.size)
    if was != now:
        given, here = (" / ".join(filter(None, parts)) for parts in (was, now))
        what = f"the SKU was given to {given}, the row is {here}"
        yield wrong(HISTORY, "sku-of-another", row.sku, what)
