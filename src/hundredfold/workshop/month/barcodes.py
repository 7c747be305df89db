"""Barcodes from a bought list, barcodes.csv: each goes to one thing, once, and is noted for good."""

import csv
import io
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from hundredfold.catalogue.values import own_values
from hundredfold.handoff.rows import sku_keys, tells_barcodes
from hundredfold.kernel.counting import counted
from hundredfold.kernel.findings import Finding
from hundredfold.learning.values import is_barcode
from hundredfold.ledger.events import Event
from hundredfold.ledger.give import give_barcodes
from hundredfold.ledger.keys import GoodsKey, SkuKey
from hundredfold.ledger.state import LedgerState
from hundredfold.planning.listings import Action, PlannedListing
from hundredfold.workshop.shop.checks import BARCODES
from hundredfold.workshop.shop.folder import Shop

_MOST_TOLD = 5


@dataclass(frozen=True)
class Barcodes:
    """The barcodes of all goods that have one, the rows to note first, and what is to be said."""

    given: Mapping[GoodsKey, str]
    events: tuple[Event, ...] = ()
    findings: tuple[Finding, ...] = ()


def barcodes_for(shop: Shop, plan: Iterable[PlannedListing], state: LedgerState) -> Barcodes:
    """Draw barcodes for the plan's goods whose channel wants one and that have none of their own."""
    goods = [GoodsKey.of(key) for planned in plan for key in _wanting(shop, planned)]
    path = shop.paths.barcodes
    if not shop.files.is_file(path):
        return Barcodes(state.barcodes)
    bought, findings = _bought(shop.files.text(path))
    given, events = give_barcodes(goods, state, bought)
    lacking = len(set(goods) - set(given))
    if lacking:
        findings.append(
            BARCODES.finds(
                "used-up",
                path.name,
                f"no barcode is left for {counted(lacking, 'row')} of this month",
                f"buy at least {lacking} more, and add them at the end of {path.name}",
                {"lacking": lacking, "bought": len(bought)},
            )
        )
    return Barcodes({**state.barcodes, **given}, events, tuple(findings))


def _wanting(shop: Shop, planned: PlannedListing) -> Iterator[SkuKey]:
    """The SKUs of a listing that need a barcode of the bought list; a family head is no goods."""
    channel, blank = shop.channel(planned.key.channel), shop.blank(planned.key.blank)
    if planned.action is Action.END or not tells_barcodes(channel):
        return
    variants = {(one.colour, one.size): one for one in blank.variants}
    for key in sku_keys(planned, blank, channel):
        variant = variants.get((key.colour, key.size))
        if variant is not None and not own_values(shop.settings.values, channel, blank, variant).get(
            "barcode"
        ):
            yield key


def _bought(text: str) -> tuple[list[str], list[Finding]]:
    """The barcodes of the list, in its order, and what is wrong with its lines.

    The first column that holds digits counts; lines without any (a heading, a remark) are passed over.
    """
    found: list[str] = []
    findings: list[Finding] = []
    sample = text.splitlines()[0] if text else ""
    mark = ";" if ";" in sample and "," not in sample else ","
    for number, row in enumerate(csv.reader(io.StringIO(text.lstrip("\ufeff")), delimiter=mark), start=1):
        digits = next((cell for each in row if (cell := each.strip().replace(" ", "")).isdecimal()), "")
        if is_barcode(digits):
            found.append(digits)
        elif digits and len(findings) < _MOST_TOLD:
            findings.append(
                BARCODES.finds(
                    "not-a-barcode",
                    f"barcodes.csv, row {number}",
                    f'"{digits}" is no barcode: its length or its last digit is wrong',
                    "compare it with the list you bought; it is passed over until then",
                    {"row": number},
                )
            )
    return found, findings
