"""The seller's own places and sizes of designs on blanks: kept in the ledger, taken back by undo."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from hundredfold.designs.design import Design
from hundredfold.designs.nudge import Nudge
from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import standing_events
from hundredfold.store.shopstore import Store
from hundredfold.workshop.shop.desk import beside
from hundredfold.workshop.steps.identity import known_designs


def nudges_of(store: Store) -> dict[str, dict[str, Nudge]]:
    """By design id and blank code, what stands."""
    rows = standing_events(store.events(kinds={Happened.PLACED, Happened.UNDONE}))
    found: dict[str, dict[str, Nudge]] = {}
    for row in rows:
        nudge = Nudge.from_data(row.data)
        here = found.setdefault(row.subject, {})
        here.pop(str(row.data["blank"]), None)
        if not nudge.nothing:
            here[str(row.data["blank"])] = nudge
    return found


def placed_designs(
    designs: Sequence[Design], nudges: Mapping[str, Mapping[str, Nudge]]
) -> tuple[Design, ...]:
    """The designs with their own places."""
    return tuple(
        replace(design, nudges=dict(nudges[design.id])) if nudges.get(design.id) else design
        for design in designs
    )


def place(folder: Path, design: str, blank: str, nudge: Nudge) -> int:
    """Give a design (by id) its own place and size on a blank, and the number of that decision.

    A nudge that changes nothing gives it its usual place again. Raises ShopError ``unknown-design``,
    ``unknown-blank``, ``shop-in-use``.
    """
    with beside(folder, "place") as opened:
        goods = opened.shop.blank(blank)
        known = known_designs(opened.store.events(kinds={Happened.DESIGN_SEEN})).get(design)
        if known is None:
            raise ShopError(
                "unknown-design", f'no design has the id "{design[:40]}"', "look at the designs again"
            )
        row = Event(Happened.PLACED, design, {"blank": goods.code, "path": known.path, **nudge.as_data()})
        return opened.store.append([row])[0].decision
