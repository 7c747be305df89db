"""Gives SKUs to those keys that have none yet, and the events that make them last."""

from collections.abc import Iterable

from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.keys import SkuKey
from hundredfold.ledger.skus import new_sku
from hundredfold.ledger.state import LedgerState


def give_skus(
    keys: Iterable[SkuKey], state: LedgerState, prefix: str
) -> tuple[dict[SkuKey, str], tuple[Event, ...]]:
    """The SKU of every key, old ones as they are, and the events to append before a new one is used."""
    taken = set(state.owners) | set(state.skus.values())
    given: dict[SkuKey, str] = {}
    events = []
    for key in keys:
        sku = state.skus.get(key) or given.get(key)
        if sku is None:
            sku = new_sku(key, prefix, taken)
            taken.add(sku)
            events.append(Event(Happened.SKU_GIVEN, sku, key.as_data()))
        given[key] = sku
    return given, tuple(events)
