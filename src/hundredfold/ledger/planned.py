"""What is planned for each channel's day, and whether a pack that is made still says the same."""

from collections.abc import Mapping, Set

from hundredfold.ledger.keys import ListingKey, PackKey
from hundredfold.ledger.state import LedgerState, Progress

Planned = Mapping[PackKey, Set[ListingKey]]


def by_day(state: LedgerState) -> Planned:
    """The planned listings of every channel's day."""
    found: dict[PackKey, set[ListingKey]] = {}
    for key, entry in state.planned.items():
        found.setdefault(PackKey(key.channel, entry.day), set()).add(key)
    return found


def holds_moved(state: LedgerState, key: PackKey, planned: Planned) -> bool:
    """Whether a pack that is made and still here holds listings that are not planned for its day any more."""
    pack = state.packs.get(key)
    if pack is None or pack.progress is not Progress.PACKED:
        return False
    return not {sent.key for sent in pack.listings} <= planned.get(key, frozenset())


def lacks_planned(state: LedgerState, key: PackKey, planned: Planned) -> bool:
    """Whether the plan has listings on a day whose pack was made without them."""
    pack = state.packs.get(key)
    if pack is None or pack.progress is not Progress.PACKED:
        return False
    return bool(planned.get(key, frozenset()) - {sent.key for sent in pack.listings})
