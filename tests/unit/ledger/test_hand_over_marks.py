"""What a mark of a hand-over holds, which marks a record knows nothing of, and what mends the record."""

import json
from dataclasses import replace

import pytest

from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import fold
from hundredfold.ledger.keys import ListingKey, PackKey, SkuKey
from hundredfold.ledger.marks import TELLING, Mark, forgotten, mark_of, rows_to_carry_over
from hundredfold.ledger.state import LedgerState, Progress

BEES, WASPS = ListingKey("north", "bees", "MUG"), ListingKey("north", "wasps", "MUG")
FIRST, SECOND = PackKey("north", "2026-12-01"), PackKey("north", "2026-12-02")
MARKED = {"seen": "a mark of the hand-over"}


def seen(design: str, path: str) -> Event:
    return Event(Happened.DESIGN_SEEN, design, {"path": path})


def given(sku: str, listing: ListingKey, colour: str = "navy") -> Event:
    return Event(Happened.SKU_GIVEN, sku, {**listing.as_data(), "colour": colour, "size": ""})


def packed(key: PackKey, manifest: str, *skus: str, listing: ListingKey = BEES) -> Event:
    about = {**listing.as_data(), "revision": 1, "action": "new"}
    rows = [{**about, "sku": sku} for sku in skus]
    return Event(Happened.PACKED, str(key), {"manifest": manifest, "rows": rows, "listings": [about]})


def handing(key: PackKey, **more: object) -> Event:
    return Event(Happened.HANDING_OVER, str(key), {"destination": f"/out/{key}", **more})


def numbered(*events: Event) -> list[Event]:
    return [replace(event, number=number) for number, event in enumerate(events, start=1)]


SEEN = (seen("bees", "old.png"), seen("wasps", "wasps.png"), seen("bees", "bees.png"))
MADE = (
    *SEEN,
    given("NAVY", BEES),
    given("WHITE", BEES, "white"),
    given("WASP", WASPS),
    packed(FIRST, "m0", "NAVY"),
    packed(SECOND, "m1", "WASP", listing=WASPS),
    packed(FIRST, "m1", "NAVY", "WHITE", "NOBODYS"),
    packed(FIRST, "m1", "NAVY", "WHITE", "NOBODYS"),
)
WHOLE = numbered(*MADE, handing(FIRST, manifest="m1"), Event(Happened.HANDED_OVER, str(FIRST)))


def marked(rows: list[Event], key: PackKey = FIRST) -> Mark:
    return mark_of("shop-1", key, fold(rows), rows)


def bare(events: tuple[Event, ...]) -> list[tuple[Happened, str, object]]:
    return [(event.happened, event.subject, event.data) for event in events]


def test_a_mark_holds_the_pack_its_designs_as_last_seen_and_its_skus() -> None:
    mark = marked(WHOLE)
    assert (mark.shop, mark.key, mark.manifest, mark.destination, mark.done, mark.order) == (
        "shop-1", FIRST, "m1", "/out/north/2026-12-01", True, 11,
    )  # fmt: skip
    assert bare(mark.rows) == bare((MADE[2], MADE[3], MADE[4], MADE[9]))
    assert {(row.number, row.at, row.decision) for row in mark.rows} == {(0, None, 0)}
    begun = marked(WHOLE[:-1])
    assert (begun.done, begun.order) == (False, 11)
    tried_twice = numbered(*MADE, handing(FIRST), Event(Happened.SETTLED, str(FIRST)), handing(FIRST))
    assert marked(tried_twice).order == 13


def test_a_mark_of_a_pack_not_begun_and_of_unknown_designs() -> None:
    rows = numbered(*MADE[3:])
    mark = marked(rows)
    assert (mark.destination, mark.done, mark.order) == ("", False, 0)
    assert bare(mark.rows) == bare((MADE[3], MADE[4], MADE[9]))


def test_a_mark_is_written_and_read_back() -> None:
    mark = marked(WHOLE)
    text = json.dumps(mark.as_json())
    assert Mark.from_json(json.loads(text)) == mark
    assert {name: value for name, value in mark.as_json().items() if name != "rows"} == {
        "shop": "shop-1", "pack": "north/2026-12-01", "manifest": "m1",
        "destination": "/out/north/2026-12-01", "handed_over": True, "order": 11,
    }  # fmt: skip
    assert not Mark.from_json({**mark.as_json(), "handed_over": 1}).done  # only a plain yes says so
    for lost in mark.as_json():
        with pytest.raises((KeyError, TypeError)):
            Mark.from_json({name: value for name, value in mark.as_json().items() if name != lost})
    wrong: object
    for wrong in (None, [], "mark"):
        with pytest.raises(TypeError, match="a mark is an object"):
            Mark.from_json(wrong)
    for name, value in (("pack", "north"), ("order", "first"), ("rows", [{"happened": "dreamt"}])):
        with pytest.raises((ValueError, KeyError)):
            Mark.from_json({**mark.as_json(), name: value})


def mark(key: PackKey, manifest: str, order: int = 1) -> Mark:
    return Mark("shop-1", key, manifest, f"/out/{key}", True, order, ())


def test_which_hand_overs_a_record_knows_nothing_of() -> None:
    begun = handing(FIRST, manifest="m1")
    no, yes = (Event(Happened.SETTLED, str(FIRST), {"happened": said}) for said in (False, True))
    one = mark(FIRST, "m1")
    for rows, lost in (
        ((), True),
        ((begun,), False),
        ((handing(FIRST),), False),  # rows of before there were marks name no manifest
        ((handing(FIRST, manifest="m2"),), True),
        ((handing(SECOND, manifest="m1"),), True),
        ((begun, no), True),
        ((begun, yes), False),
        ((begun, no, begun), False),
        ((begun, no, Event(Happened.UNDONE, "", undoes=2)), False),
        ((no,), True),
    ):
        told = [row for row in numbered(*rows) if row.happened in TELLING]
        assert forgotten([one], told) == ((one,) if lost else ()), rows


def test_what_was_forgotten_comes_in_the_order_it_left() -> None:
    early, late, with_it = (
        mark(SECOND, "m", 3),
        mark(FIRST, "m", 12),
        mark(PackKey("south", "2026-12-01"), "m", 3),
    )
    assert forgotten([late, with_it, early], []) == (early, with_it, late)


def carried(*rows: Event, marks: tuple[Mark, ...]) -> LedgerState:
    return fold(numbered(*rows, *rows_to_carry_over(marks, fold(numbered(*rows)))))


def test_a_record_that_forgot_all_knows_again_what_it_knew() -> None:
    before, after = fold(WHOLE), carried(marks=(marked(WHOLE),))
    assert after.packs == {FIRST: before.packs[FIRST]}
    assert (after.sent, after.existing, after.listed) == (before.sent, before.existing, before.listed)
    assert after.owners == {sku: before.owners[sku] for sku in ("NAVY", "WHITE")}
    assert after.skus[SkuKey("north", "bees", "MUG", "navy", "")] == "NAVY"
    assert after.frozen_days == {FIRST}


def test_one_that_was_not_seen_to_arrive_is_unsure() -> None:
    (*_, begun, end) = rows_to_carry_over((marked(WHOLE[:-1]),), LedgerState())
    where = {"destination": "/out/north/2026-12-01", "manifest": "m1"}
    assert bare((begun, end)) == [
        (Happened.HANDING_OVER, "north/2026-12-01", {**where, **MARKED}),
        (Happened.UNSURE, "north/2026-12-01", MARKED),
    ]
    assert carried(marks=(marked(WHOLE[:-1]),)).packs[FIRST].progress is Progress.UNSURE


def test_a_sku_is_given_once_whoever_remembers_it() -> None:
    both = numbered(*MADE, handing(FIRST, manifest="m1"), packed(SECOND, "m2", "NAVY"), handing(SECOND))
    marks = (marked(both), marked(both, SECOND))
    for known in ((), MADE[3:4]):
        rows = rows_to_carry_over(marks, fold(numbered(*known)))
        skus = [row.subject for row in rows if row.happened is Happened.SKU_GIVEN]
        assert skus == (["WHITE"] if known else ["NAVY", "WHITE"])
        assert sum(row.happened is Happened.PACKED for row in rows) == 2
        assert [row.subject for row in rows if row.happened is Happened.HANDING_OVER] == [
            str(FIRST),
            str(SECOND),
        ]


def test_a_day_made_anew_is_taken_back_to_what_left_and_one_that_left_stays() -> None:
    mine = marked(WHOLE)
    anew = packed(FIRST, "m9", "NAVY")
    assert carried(anew, marks=(mine,)).packs[FIRST].manifest == "m1"
    other = marked([*WHOLE[:7], *numbered(*MADE[:8], handing(SECOND, manifest="m1"))], SECOND)
    state = carried(anew, handing(FIRST, manifest="m9"), marks=(mine, other))
    assert (state.packs[FIRST].manifest, state.packs[FIRST].progress) == ("m9", Progress.HANDING_OVER)
    assert state.packs[SECOND].progress is Progress.UNSURE  # the next mark is still looked at
