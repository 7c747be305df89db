"""Gives SKUs and bought barcodes to what has none yet, and the events that make them last."""

from collections.abc import Iterable

from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.keys import GoodsKey, SkuKey
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


def give_barcodes(
    goods: Iterable[GoodsKey], state: LedgerState, bought: Iterable[str]
) -> tuple[dict[GoodsKey, str], tuple[Event, ...]]:
    """The barcode of all goods that have or get one, and the events to append before a new one is used.

    Each of the bought list is given once, in its order, and never again, whatever becomes of the goods. Goods
    for which none is left are missing from the answer.
    """
    used = set(state.barcodes.values())
    free = (barcode for barcode in dict.fromkeys(bought) if barcode not in used)
    given: dict[GoodsKey, str] = {}
    events = []
    for key in dict.fromkeys(goods):
        barcode = state.barcodes.get(key)
        if barcode is None:
            barcode = next(free, None)
            if barcode is None:
                continue
            events.append(Event(Happened.BARCODE_GIVEN, barcode, key.as_data()))
        given[key] = barcode
    return given, tuple(events)
