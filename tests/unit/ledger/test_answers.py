from dataclasses import replace

import pytest

from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.grid import Cell, Grid
from hundredfold.ledger.answers import read_answers
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import fold
from hundredfold.ledger.keys import ListingKey, SkuKey
from hundredfold.ledger.state import LedgerState, Standing

PACK = "north/2026-12-01"
BEES = ListingKey("north", "bees", "MUG")


def handed_over() -> list[Event]:
    events = []
    rows = []
    for colour in ("navy", "white"):
        sku = f"BEES-{colour.upper()}"
        events.append(Event(Happened.SKU_GIVEN, sku, SkuKey("north", "bees", "MUG", colour, "").as_data()))
        rows.append({**BEES.as_data(), "sku": sku, "revision": 1, "action": "new"})
    listing = {**BEES.as_data(), "revision": 1, "action": "new", "colours": ["navy", "white"], "content": {}}
    events.append(Event(Happened.PACKED, PACK, {"manifest": "m", "rows": rows, "listings": [listing]}))
    return [*events, Event(Happened.HANDING_OVER, PACK), Event(Happened.HANDED_OVER, PACK)]


def state_of(*events: Event) -> LedgerState:
    return fold([replace(event, number=n) for n, event in enumerate(events, start=1)])


def grid(*rows: tuple[Cell, ...]) -> Grid:
    return Grid("answers.csv", "", rows)


HEADER = ("Your reference", "Result", "Message", "Item number")


def test_accepted_and_refused() -> None:
    table = grid(
        ("Northern answers of today",), HEADER,
        ("BEES-NAVY", "Accepted", None, 771.0),
        ("BEES-WHITE", "REJECTED", "picture too dark", None), (None, None),
    )  # fmt: skip
    found = read_answers(table, "north", state_of(*handed_over()))
    assert (found.accepted, found.refused, found.known, found.findings) == (1, 1, 0, ())
    state = state_of(*handed_over(), *found.events)
    assert state.identifiers == {"BEES-NAVY": "771"}
    assert state.listed[BEES].standing is Standing.LIVE  # one of its variants is in
    assert state.existing == {"BEES-NAVY"}
    again = read_answers(table, "north", state)
    assert (again.events, again.known) == ((), 2)


def test_what_is_kept_of_an_answer() -> None:
    """Which revision it answers, so that a later one is not taken for answered."""
    table = grid(HEADER, ("BEES-NAVY", "ok"), ("BEES-WHITE", "no"))
    short = read_answers(table, "north", state_of(*handed_over()))
    about = {"channel": "north", "revision": 1, "action": "new"}
    assert [(event.happened, event.subject, dict(event.data)) for event in short.events] == [
        (Happened.ACCEPTED, "BEES-NAVY", {**about, "identifier": ""}),
        (Happened.REFUSED, "BEES-WHITE", {**about, "reason": ""}),
    ]
    bare = read_answers(grid(("SKU", "Status"), ("BEES-NAVY", "ok")), "north", state_of(*handed_over()))
    assert dict(bare.events[0].data) == {**about, "identifier": ""}
    assert read_answers(table, "south", state_of(*handed_over())).events == ()


def test_a_listing_wholly_refused() -> None:
    table = grid(HEADER, *((f"BEES-{c}", "no", "too loud", None) for c in ("NAVY", "WHITE")))
    found = read_answers(table, "north", state_of(*handed_over()))
    listed = state_of(*handed_over(), *found.events).listed[BEES]
    assert (listed.standing, listed.why) == (Standing.REFUSED, "too loud")


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ((None, "ok"), "it names no SKU"),
        (("WASPS", "ok"), "WASPS was never handed over to north"),
        (("BEES-NAVY", "perhaps"), "'perhaps' for BEES-NAVY says neither accepted nor refused"),
        (("BEES-NAVY",), "'' for BEES-NAVY says neither accepted nor refused"),
    ],
)
def test_rows_that_cannot_be_used_are_named(row: tuple[Cell, ...], why: str) -> None:
    found = read_answers(grid(HEADER, ("BEES-WHITE", "ok"), row), "north", state_of(*handed_over()))
    assert (found.accepted, [(f.item, f.what) for f in found.findings]) == (1, [("answers.csv, row 3", why)])
    assert [(f.check, f.code) for f in found.findings] == [("answers/row", "unusable")]


def test_columns_of_another_name_are_told() -> None:
    table = grid(("Thing", "Verdict"), ("BEES-NAVY", "ok"))
    with pytest.raises(ShopError) as caught:
        read_answers(table, "north", state_of(*handed_over()))
    assert caught.value.slug == "no-such-column"
    found = read_answers(table, "north", state_of(*handed_over()), {"sku": "thing", "status": "Verdict"})
    assert found.accepted == 1
