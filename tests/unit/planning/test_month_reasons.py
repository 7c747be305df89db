"""The calendar's reasons word by word, and the bounds of days, caps and moves."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from goods import channel

from hundredfold.catalogue.channels import CapCounts
from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import fold
from hundredfold.ledger.keys import ListingKey, PackKey
from hundredfold.ledger.state import LedgerState, Listed, PackState, PlannedDay, Progress, Standing
from hundredfold.planning.listings import Action, Candidate, Plan, PlannedListing
from hundredfold.planning.month import held_back, plan_month, planned_events, weight

START = date(2026, 12, 1)
NORTH = channel(code="north", cap_counts=CapCounts.ROWS, daily_cap=6)
EMPTY = LedgerState()


def one(design: str, blank: str = "MUG", rows: int = 2, to: str = "north", worth: float = 1.0) -> Candidate:
    return Candidate(
        ListingKey(to, design, blank), ("navy",), rows, worth, "made last week", {"price": "9.95"}
    )


def day(number: int) -> date:
    return START + timedelta(days=number)


def live(*candidates: Candidate) -> LedgerState:
    listed = {c.key: Listed(Standing.LIVE, 1, c.colours, {"price": "8.95"}) for c in candidates}
    return replace(EMPTY, listed=listed)


def test_the_days_of_a_plan_are_1_to_366() -> None:
    for days in (1, 366):
        assert plan_month([], [NORTH], EMPTY, START, days).days == days
    for days in (-1, 0, 367):
        with pytest.raises(ShopError) as caught:
            plan_month([], [NORTH], EMPTY, START, days)
        assert caught.value.slug == "bad-days"
        assert str(days) in str(caught.value)
    assert plan_month([], [NORTH], EMPTY, START).days == 30


def test_a_listing_of_just_the_cap_has_a_day_and_one_row_more_has_none() -> None:
    plan = plan_month([one("bees", rows=6), one("wasps", rows=7)], [NORTH], EMPTY, START, 2)
    assert [(p.key.design, p.day) for p in plan.listings] == [("bees", START)]
    assert plan.why_left == {one("wasps").key: f"its 7 rows are more than {NORTH.name} takes in a day (6)"}
    assert plan_month([one("a"), one("b", rows=5)], [NORTH], EMPTY, START, 1).left_over == (one("b").key,)


def test_reasons_of_new_listings() -> None:
    plan = plan_month([one("bees", f"B{n}", worth=-n) for n in range(4)], [NORTH], EMPTY, START, 2)
    assert [p.reason.removeprefix("made last week; first day with room ") for p in plan.listings] == [
        "with nothing of this design yet, 0 of 6 rows taken",
        "with fewest of this design (1), 2 of 6 rows taken",
        "with nothing of this design yet, 0 of 6 rows taken",
        "with fewest of this design (1), 2 of 6 rows taken",
    ]
    assert [(p.day, p.key.blank) for p in plan.listings] == [
        (day(0), "B0"), (day(0), "B2"), (day(1), "B1"), (day(1), "B3"),
    ]  # fmt: skip


def test_reasons_of_changes_and_ends() -> None:
    out = [one("ants"), one("bees")]
    plan = plan_month(out, [NORTH], live(*out), START, 2, {one("cats").key: "x"})
    assert [p.reason for p in plan.listings] == [
        f"price changed: 8.95 -> 9.95; first day with room, {taken} of 6 rows taken" for taken in (0, 2)
    ]
    assert [(p.action, p.revision, p.rows, p.colours) for p in plan.listings] == [
        (Action.CHANGE, 2, 2, ("navy",))
    ] * 2
    ended = plan_month(out, [NORTH], live(*out), START, 2, {out[0].key: "sold no more"})
    assert ended.listings[0].reason == "to be ended: sold no more; first day with room, 0 of 6 rows taken"
    assert [p.action for p in ended.listings] == [Action.END, Action.CHANGE]


def planned(plan: Plan, state: LedgerState = EMPTY) -> LedgerState:
    events = planned_events(plan, state)
    held = fold([replace(event, number=n) for n, event in enumerate(events, start=1)])
    return replace(state, planned=held.planned)


def test_a_listing_keeps_its_day_and_its_reason_until_it_is_due_otherwise() -> None:
    first = plan_month([one("ants"), one("bees", worth=0)], [NORTH], EMPTY, START, 3)
    state = planned(first)
    assert state.planned[one("bees").key] == PlannedDay(
        "2026-12-01", "new", 1, ("navy",), 2,
        "made last week; first day with room with nothing of this design yet, 2 of 6 rows taken",
    )  # fmt: skip
    again = plan_month([replace(one("bees"), reason="other words")], [NORTH], state, START, 3)
    assert again.listings == first.listings[1:]
    now_live = replace(state, listed=live(one("bees")).listed)
    (changed,) = plan_month([one("bees")], [NORTH], now_live, START, 3).listings
    assert changed.reason == "price changed: 8.95 -> 9.95; first day with room, 0 of 6 rows taken"
    packs = {PackKey("north", "2026-12-01"): PackState(Progress.HANDED_OVER, "m", (), ())}
    (moved,) = plan_month([one("bees")], [NORTH], replace(state, packs=packs), START, 3).listings
    assert (moved.day, "moved" in moved.reason) == (day(1), False)  # the day is closed; nobody pushed it
    elsewhere = {PackKey("quay", "2026-12-01"): PackState(Progress.HANDED_OVER, "m", (), ())}
    (stays,) = plan_month([one("bees")], [NORTH], replace(state, packs=elsewhere), START, 3).listings
    assert stays.day == START


def test_a_listing_that_was_pushed_says_from_where() -> None:
    state = planned(plan_month([one("bees", rows=6)], [NORTH], EMPTY, START, 3))
    urgent = one("ants", rows=1)
    plan = plan_month(
        [one("bees", rows=6), urgent], [NORTH], replace(state, listed=live(urgent).listed), START, 3
    )
    assert plan.listings[1].reason == (
        "made last week; moved from 2026-12-01, where others had to go first; "
        "first day with room with nothing of this design yet, 0 of 6 rows taken"
    )


def test_what_stands_for_a_later_day_is_left_only_as_part_of_the_same_month() -> None:
    key, last = one("bees").key, PlannedDay("2026-12-03", "new", 1, ("navy",), 2, "why")
    first = PlannedDay("2026-12-02", "new", 1, ("navy",), 2, "why")
    both = replace(EMPTY, planned={key: last, one("ants").key: first})
    plan = plan_month([one("ants"), one("bees")], [NORTH], both, START, 2)
    assert (plan.later, [p.key.design for p in plan.listings]) == ({key: "2026-12-03"}, ["ants"])
    for other in (replace(last, revision=2), replace(last, action="change"), replace(last, day="2026-12-02")):
        state = replace(both, planned={**both.planned, key: other})
        plan = plan_month([one("ants"), one("bees")], [NORTH], state, START, 2)
        assert (plan.later, len(plan.listings)) == ({}, 2)
    alone = replace(EMPTY, planned={key: last})
    assert plan_month([one("bees")], [NORTH], alone, START, 2).later == {}
    packs = {PackKey("north", "2026-12-02"): PackState(Progress.PACKED, "m", (), ())}
    assert plan_month([one("bees")], [NORTH], replace(alone, packs=packs), START, 2).later == {
        key: "2026-12-03"
    }
    packs = {PackKey("quay", "2026-12-02"): PackState(Progress.PACKED, "m", (), ())}
    assert plan_month([one("bees")], [NORTH], replace(alone, packs=packs), START, 2).later == {}


def test_what_the_ledger_is_told_of_a_plan() -> None:
    key = one("bees").key
    entry = PlannedListing(key, START, Action.NEW, 1, ("navy",), 2, "why")
    plan = Plan(START, 2, (entry,), (), {}, {one("ants").key: "2026-12-09"})
    day_of_it = {"day": "2026-12-01", "action": "new", "revision": 1}
    told = {**key.as_data(), **day_of_it, "colours": ["navy"], "rows": 2, "reason": "why"}
    (event,) = planned_events(plan, EMPTY)
    assert event == Event(Happened.PLANNED, "north/MUG/bees", told)
    old = PlannedDay("2026-12-09", "new", 1, ("navy",), 2, "why")
    held = replace(
        EMPTY, planned={key: replace(old, day="2026-12-01"), one("ants").key: old, one("cats").key: old}
    )
    gone = one("cats").key
    assert planned_events(plan, held) == (Event(Happened.UNPLANNED, str(gone), gone.as_data()),)


def test_what_is_held_back_is_gathered_by_channel_and_reason() -> None:
    why = {
        one("a").key: "x",
        one("b").key: "x",
        one("c").key: "y",
        one("d", to="quay").key: "x",
        one("e").key: "z",
    }
    found = held_back(Plan(START, 1, (), (one("e").key,), why))
    assert [(f.item, f.what, f.numbers["listings"]) for f in found] == [
        ("north/MUG/a and 1 more", "x", 2), ("north/MUG/c", "y", 1), ("quay/MUG/d", "x", 1),
    ]  # fmt: skip
    assert {(f.check, f.code) for f in found} == {("plan/held-back", "held-back")}
    assert found[0].fix == (
        "answer what it says; a refused listing goes out again once its art, price or words have changed"
    )


def test_what_a_listing_takes_of_a_cap() -> None:
    assert [weight(counts, 5) for counts in CapCounts] == [5 if c is CapCounts.ROWS else 1 for c in CapCounts]


def test_an_end_goes_before_its_own_change() -> None:
    bees = one("bees")
    plan = plan_month([bees, one("ants", to="gone")], [NORTH], live(bees), START, 2, {bees.key: "x"})
    assert [p.action for p in plan.listings] == [Action.END]
    assert plan.why_left == {one("ants", to="gone").key: "the shop has no channel gone"}
