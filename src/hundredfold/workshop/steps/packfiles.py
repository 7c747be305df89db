"""What a pack's folder holds, as the build remembers it."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Finding, Severity
from hundredfold.ledger.keys import PackKey
from hundredfold.runner.cache import Vault
from hundredfold.runner.memo import PathMemo
from hundredfold.runner.recipes import canonical_json
from hundredfold.store.shopstore import Store
from hundredfold.workshop.shop.paths import ShopPaths
from hundredfold.workshop.steps.allsteps import PACK


@dataclass(frozen=True)
class Contents:
    """The files of a written pack by name with their sha256, and what was said of the listings left out."""

    files: Mapping[str, str]
    findings: tuple[Finding, ...]

    def as_bytes(self) -> bytes:
        """Canonical JSON."""
        value = {"files": dict(self.files), "findings": [finding.as_json() for finding in self.findings]}
        return canonical_json(value).encode()

    @classmethod
    def from_bytes(cls, data: bytes) -> "Contents":
        """The inverse of ``as_bytes``."""
        value = json.loads(data)
        return cls(value["files"], tuple(map(finding_from_json, value["findings"])))


def finding_from_json(held: Mapping[str, object]) -> Finding:
    """The inverse of ``Finding.as_json``."""
    severity = Severity[str(held["severity"]).upper()]
    check, code, item, what, fix = (str(held[name]) for name in ("check", "code", "item", "what", "try"))
    numbers = held["numbers"]
    assert isinstance(numbers, dict)
    return Finding(check, code, severity, item, what, fix, numbers)


def same_file(memo: PathMemo, path: Path, digest: str) -> bool:
    """Whether a file is there with this content; one that cannot be read is not."""
    try:
        return path.is_file() and memo.digest(path) == digest
    except ShopError:
        return False


def pack_folder(paths: ShopPaths, key: PackKey) -> Path:
    """packs/CHANNEL/YYYY-MM-DD."""
    return paths.packs / key.channel / key.day


def known_contents(store: Store, vault: Vault) -> dict[str, Contents]:
    """What every pack that was written should hold, by channel/day; empty where the cache was deleted."""
    rows = (row for row in store.builds.made() if row.step == PACK.name)
    held = {row.item: vault.get(row.output) for row in rows}
    return {item: Contents.from_bytes(data) for item, data in sorted(held.items()) if data is not None}
