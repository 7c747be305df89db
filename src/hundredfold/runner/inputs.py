"""Where a worker gets what it needs, by digest: from a folder it shares with us, or out of its own work.

Neither work nor recipes name a path. Which of the two a worker uses is decided where the executor is chosen.
"""

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from hundredfold.kernel.errors import ExitCode, ShopError
from hundredfold.runner.cache import Vault


class Inputs(Protocol):
    """What workers read. Picklable."""

    def get(self, digest: str) -> bytes:
        """The content with this sha256. Raises ShopError ``art-missing`` or ``art-changed``."""


GONE = "what it is made from is gone from the cache"


@dataclass(frozen=True)
class SharedInputs:
    """For workers on this computer: the vault's folder, and where the seller's own files lie, by digest."""

    vault: str
    files: Mapping[str, str]

    def get(self, digest: str) -> bytes:
        """See ``Inputs``; a file is hashed as it is read."""
        if digest in self.files:
            return _from_file(Path(self.files[digest]), digest)
        data = Vault(Path(self.vault)).get(digest)
        if data is None:
            raise ShopError("art-missing", GONE, "run the command again")
        return data


@dataclass(frozen=True)
class CarriedInputs:
    """For workers without a folder in common with us: the content itself, or why there is none."""

    held: Mapping[str, bytes | ShopError]

    def get(self, digest: str) -> bytes:
        """See ``Inputs``."""
        found = self.held[digest]
        if isinstance(found, ShopError):
            raise found
        return found


def carried(shared: SharedInputs, digests: Iterable[str]) -> CarriedInputs:
    """These contents read now, to travel with the work."""
    held: dict[str, bytes | ShopError] = {}
    for digest in digests:
        try:
            held[digest] = shared.get(digest)
        except ShopError as error:
            held[digest] = error
    return CarriedInputs(held)


def _from_file(path: Path, digest: str) -> bytes:
    try:
        data = path.read_bytes()
    except OSError as error:
        what = f"the file cannot be read ({error.strerror})"
        fix = "put it back, or take the design out of the plan"
        raise ShopError("art-missing", what, fix, exit_code=ExitCode.PROBLEMS) from None
    if hashlib.sha256(data).hexdigest() != digest:
        what = "the file changed while the run was using it"
        raise ShopError("art-changed", what, "run the command again", exit_code=ExitCode.PROBLEMS)
    return data
