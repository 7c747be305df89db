"""What a run found out, kept for readers like any other output: bytes in the vault, a row that names them."""

import zlib
from collections.abc import Mapping
from typing import TypeVar

from hundredfold.runner.cache import Vault
from hundredfold.runner.recipes import canonical_json
from hundredfold.workshop.records.shape import as_bytes, from_bytes
from hundredfold.workshop.shop.bench import Bench

PLAN, MONTH, PROOFS = "plan", "month", "proofs"
Kind = TypeVar("Kind")


def keep(bench: Bench, records: Mapping[str, object]) -> None:
    """Keep these records in place of those of their names, with the notes of all files read so far."""
    notes = canonical_json(bench.shop.files.notes().as_json()).encode()
    outputs = {name: bench.vault.put(packed(record)) for name, record in records.items()}
    bench.store.kept.save(bench.run_number, bench.vault.put(zlib.compress(notes)), outputs)


def packed(record: object) -> bytes:
    """A record's bytes as they lie in the vault."""
    return zlib.compress(as_bytes(record))


def unpacked(kind: type[Kind], vault: Vault, digest: str) -> Kind | None:
    """The record with this digest; None where the cache was deleted, or holds an older shape."""
    data = vault.get(digest)
    if data is None:
        return None
    try:
        return from_bytes(kind, zlib.decompress(data))
    except (ValueError, zlib.error):
        return None
