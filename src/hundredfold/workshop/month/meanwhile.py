"""What came in while a month was prepared: short works need not wait for it, so it may have missed them."""

from dataclasses import dataclass

from hundredfold.kernel.counting import counted, some_of
from hundredfold.ledger.events import Happened
from hundredfold.workshop.shop.bench import Bench
from hundredfold.workshop.shop.files import changed_since

# What a month itself appends; of these, nobody else does while it holds the runner's lock.
_OWN = frozenset(
    {Happened.DESIGN_SEEN, Happened.SKU_GIVEN, Happened.PLANNED, Happened.UNPLANNED, Happened.PACKED}
)
_NEXT = "what of it is not in these packs comes with the next run of the month"


@dataclass(frozen=True)
class CameIn:
    """The newest row of the ledger that was looked at, and a sentence on each kind of thing that came in."""

    last_row: int
    sentences: tuple[str, ...]


def came_in(bench: Bench, since: int) -> CameIn:
    """What was decided after the row ``since``, and the files that changed since the month read them."""
    rows = bench.store.events(since)
    decided = {row.decision for row in rows if row.happened not in _OWN}
    sentences = []
    if decided:
        what = f"{counted(len(decided), 'decision')} came in while this run went on (hundredfold history)"
        sentences.append(f"{what}: {_NEXT}")
    files = changed_since(bench.shop.paths.root, bench.shop.files.notes(), bench.memo)
    if files:
        were = "was" if len(files) == 1 else "were"
        sentences.append(f"{some_of(list(files))} {were} changed while this run went on: {_NEXT}")
    return CameIn(rows[-1].number if rows else since, tuple(sentences))
