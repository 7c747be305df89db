from collections import Counter
from dataclasses import replace
from datetime import date, timedelta

import pytest
from goods import channel
from hypothesis import given, settings
from hypothesis import strategies as st

from hundredfold.catalogue.channels import CapCounts, Channel
from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import fold
from hundredfold.ledger.keys import ListingKey, PackKey, SkuKey
from hundredfold.ledger.state import LedgerState
from hundredfold.planning.listings import LOWEST_PRICE, Action, Candidate, Plan
from hundredfold.planning.month import held_back, later_packs, plan_month, planned_events, weight

START = date(2026, 12, 1)
NORTH = channel(code="north", cap_counts=CapCounts.ROWS, daily_cap=6)
QUAY = channel(code="quay", cap_counts=CapCounts.FAMILIES, daily_cap=2)


def one(
    design: str, blank: str = "MUG", to: str = "north", rows: int = 2, worth: float = 1.0, **content: str
) -> Candidate:
    return Candidate(ListingKey(to, design, blank), ("navy",), rows, worth, "made last week", content)


def ledger(*events: Event) -> LedgerState:
    return fold([Event(e.happened, e.subject, e.data, n) for n, e in enumerate(events, start=1)])


def handed_over(day: date, *candidates: Candidate, action: str = "new") -> list[Event]:
    pack = f"{candidates[0].key.channel}/{day}"
    rows, listings, events = [], [], []
    for c in candidates:
        sku = f"{c.key.design}-{c.key.blank}".upper()
        events.append(
            Event(
                Happened.SKU_GIVEN,
                sku,
                SkuKey(c.key.channel, c.key.design, c.key.blank, "navy", "").as_data(),
            )
        )
        rows.append({**c.key.as_data(), "sku": sku, "revision": 1, "action": action})
        listings.append(
            {
                **c.key.as_data(),
                "revision": 1,
                "action": action,
                "colours": list(c.colours),
                "content": dict(c.content),
            }
        )
    events.append(Event(Happened.PACKED, pack, {"manifest": "m", "rows": rows, "listings": listings}))
    events += [Event(Happened.HANDING_OVER, pack), Event(Happened.HANDED_OVER, pack)]
    return events


def by_day(plan: Plan, to: str) -> dict[str, list[str]]:
    days: dict[str, list[str]] = {}
    for p in plan.listings:
        if p.key.channel == to:
            days.setdefault(p.day.isoformat(), []).append(f"{p.key.design}/{p.key.blank}")
    return days


def test_the_most_worth_goes_first_and_a_design_is_spread() -> None:
    many = [one("bees", blank, worth=5 - n) for n, blank in enumerate(("CUP", "MUG", "TEE"))] + [
        one("bells", worth=1.5)
    ]
    plan = plan_month(many, [NORTH], LedgerState(), START, 30)
    assert by_day(plan, "north") == {
        "2026-12-01": ["bees/CUP", "bells/MUG"], "2026-12-02": ["bees/MUG"], "2026-12-03": ["bees/TEE"],
    }  # fmt: skip
    assert plan.listings[0].reason == (
        "made last week; first day with room with nothing of this design yet, 0 of 6 rows taken"
    )


def test_one_design_fills_a_day_only_when_every_day_has_it() -> None:
    many = [one("bees", f"B{n}") for n in range(5)]
    plan = plan_month(many, [NORTH], LedgerState(), START, 2)
    assert {day: len(items) for day, items in by_day(plan, "north").items()} == {
        "2026-12-01": 3,
        "2026-12-02": 2,
    }


def test_what_finds_no_day_is_listed_with_the_reason() -> None:
    plan = plan_month(
        [one(f"d{n}") for n in range(8)] + [one("huge", rows=7)], [NORTH], LedgerState(), START, 2
    )
    assert len(plan.listings) == 6
    assert plan.why_left[ListingKey("north", "d7", "MUG")] == "no room left in 2 days at 6 rows a day"
    assert (
        plan.why_left[ListingKey("north", "huge", "MUG")]
        == "its 7 rows are more than North Print takes in a day (6)"
    )
    assert plan.left_over == tuple(sorted(plan.why_left))


def test_a_channel_the_shop_does_not_have_is_said() -> None:
    plan = plan_month([one("bees", to="gone")], [NORTH], LedgerState(), START)
    assert plan.why_left == {ListingKey("gone", "bees", "MUG"): "the shop has no channel gone"}


def test_a_handed_over_day_takes_nothing_more() -> None:
    state = ledger(*handed_over(START, one("bees")))
    plan = plan_month([one("bees"), one("bells")], [NORTH], state, START, 2)
    assert by_day(plan, "north") == {"2026-12-02": ["bells/MUG"]}
    assert plan.left_over == ()


def test_a_changed_listing_goes_out_again_with_the_next_revision() -> None:
    state = ledger(*handed_over(START, one("bees", price="9.95", art="0" * 64)))
    now = one("bees", price="10.95", art="1" * 64)
    plan = plan_month([now], [NORTH], state, START, 3)
    (planned,) = plan.listings
    assert (planned.action, planned.revision, planned.day) == (Action.CHANGE, 2, START + timedelta(days=1))
    assert planned.reason.startswith("art changed, price changed: 9.95 -> 10.95; first day with room")


def test_a_change_does_not_wait_behind_a_full_month() -> None:
    """It takes the place of the new listing of least worth, which moves to the first room there is."""
    out = handed_over(START, one("bees", price="9.95"))
    many = [one(f"d{n}", worth=float(n)) for n in range(6)]
    first = plan_month([one("bees", price="9.95"), *many], [NORTH], ledger(*out), START, 3)
    assert by_day(first, "north") == {
        "2026-12-02": ["d3/MUG", "d4/MUG", "d5/MUG"], "2026-12-03": ["d0/MUG", "d1/MUG", "d2/MUG"],
    }  # fmt: skip
    state = ledger(*out, *planned_events(first, ledger(*out)))
    again = plan_month([one("bees", price="10.95"), *many], [NORTH], state, START, 4)
    assert by_day(again, "north") == {
        "2026-12-02": ["bees/MUG", "d4/MUG", "d5/MUG"], "2026-12-03": ["d0/MUG", "d1/MUG", "d2/MUG"],
        "2026-12-04": ["d3/MUG"],
    }  # fmt: skip
    assert "moved from 2026-12-02, where others had to go first" in again.listings[-1].reason
    later = ledger(*out, *planned_events(first, ledger(*out)), *planned_events(again, state))
    assert (
        planned_events(plan_month([one("bees", price="10.95"), *many], [NORTH], later, START, 4), later) == ()
    )


def test_a_pinned_listing_keeps_its_day_before_anything_urgent() -> None:
    """The same month as above with the listing of least worth pinned: the next one gives way."""
    out = handed_over(START, one("bees", price="9.95"))
    many = [one(f"d{n}", worth=float(n)) for n in range(6)]
    first = plan_month([one("bees", price="9.95"), *many], [NORTH], ledger(*out), START, 3)
    events = planned_events(first, ledger(*out))
    pinned = [replace(e, data={**e.data, "pinned": True}) if "d3" in e.subject else e for e in events]
    state = ledger(*out, *pinned)
    again = plan_month([one("bees", price="10.95"), *many], [NORTH], state, START, 4)
    assert by_day(again, "north")["2026-12-02"] == ["bees/MUG", "d3/MUG", "d5/MUG"]
    assert {each.key.design for each in again.listings if each.pinned} == {"d3"}
    kept = {event.subject: event.data.get("pinned") for event in planned_events(again, ledger(*out))}
    assert [subject for subject, held in kept.items() if held] == [
        subject for subject in kept if "d3" in subject
    ]


def test_colours_that_come_or_go_are_a_change() -> None:
    state = ledger(*handed_over(START, one("bees", price="1")))
    now = Candidate(ListingKey("north", "bees", "MUG"), ("white",), 1, 1.0, "", {"price": "1"})
    (planned,) = plan_month([now], [NORTH], state, START).listings
    assert planned.reason.startswith("colour white added, colour navy gone")
    assert planned.rows == 2  # the navy row ends in the same table


def test_ends_come_first_and_only_for_what_is_live() -> None:
    state = ledger(*handed_over(START, one("bees"), one("bells")))
    ends = {one("bees").key: "the blank is discontinued", one("never").key: "x"}
    plan = plan_month([one("bees"), one("bells"), one("new", worth=9)], [NORTH], state, START, 5, ends)
    first = plan.listings[0]
    assert (first.key.design, first.action, first.revision) == ("bees", Action.END, 2)
    assert first.reason.startswith("to be ended: the blank is discontinued")
    assert [p.key.design for p in plan.listings] == ["bees", "new"]


def test_refused_goes_out_again_only_once_changed() -> None:
    refused = Event(Happened.REFUSED, "BEES-MUG", {"reason": "blurred"})
    state = ledger(*handed_over(START, one("bees", art="old")), refused)
    plan = plan_month([one("bees", art="old")], [NORTH], state, START)
    assert plan.why_left == {one("bees").key: "refused by the channel: blurred"}
    (planned,) = plan_month([one("bees", art="new")], [NORTH], state, START).listings
    assert (planned.action, planned.revision) == (Action.NEW, 2)


def test_a_refused_change_is_not_forgotten() -> None:
    out = handed_over(START, one("bees", price="9.95"))
    state = ledger(*out, Event(Happened.REFUSED, "BEES-MUG", {"action": "change", "reason": "price too odd"}))
    plan = plan_month([one("bees", price="9.95")], [NORTH], state, START)
    assert plan.why_left == {one("bees").key: "the channel refused BEES-MUG: price too odd"}
    (planned,) = plan_month([one("bees", price="9.99")], [NORTH], state, START).listings
    assert (planned.action, planned.revision) == (Action.CHANGE, 2)


def test_what_is_held_back_is_told_by_reason() -> None:
    many = [one(f"d{n}") for n in range(3)]
    refused = [Event(Happened.REFUSED, f"D{n}-MUG", {"reason": "blurred"}) for n in range(3)]
    plan = plan_month(
        [*many, one("huge", rows=9)], [NORTH], ledger(*handed_over(START, *many), *refused), START
    )
    assert plan.left_over == (one("huge").key,)
    (found,) = held_back(plan)
    assert (found.item, found.what) == ("north/MUG/d0 and 2 more", "refused by the channel: blurred")
    assert (found.check, found.code) == ("plan/held-back", "held-back")


def test_adopted_and_ended_and_unsure_are_never_new() -> None:
    sku = SkuKey("north", "bees", "MUG", "navy", "")
    adopted = ledger(Event(Happened.ADOPTED, "OLD-1", sku.as_data()))
    assert plan_month([one("bees")], [NORTH], adopted, START).listings == ()
    ended = ledger(*handed_over(START, one("bees"), action="end"))
    assert "ended earlier" in plan_month([one("bees")], [NORTH], ended, START).why_left[one("bees").key]
    open_end = ledger(*handed_over(START, one("bees"))[:-1])
    assert "not seen" in plan_month([one("bees")], [NORTH], open_end, START).why_left[one("bees").key]


def test_a_missed_day_is_planned_anew() -> None:
    first = plan_month([one("bees")], [NORTH], LedgerState(), START, 3)
    state = ledger(*planned_events(first, LedgerState()))
    later = plan_month([one("bees")], [NORTH], state, START + timedelta(days=7), 3)
    assert [p.day for p in later.listings] == [START + timedelta(days=7)]


def test_a_shorter_plan_leaves_the_later_days_as_they_are() -> None:
    many = [one(name) for name in ("ants", "bats", "bees", "bells", "cats", "dogs", "eels")]
    state = ledger(*planned_events(plan_month(many, [NORTH], LedgerState(), START, 30), LedgerState()))
    before = {key: plan.day for key, plan in state.planned.items()}
    assert set(before.values()) == {"2026-12-01", "2026-12-02", "2026-12-03"}
    shorter = plan_month([*many, one("newts")], [NORTH], state, START, 2)
    assert shorter.later == {ListingKey("north", "eels", "MUG"): "2026-12-03"}
    assert shorter.left_over == (ListingKey("north", "newts", "MUG"),)
    assert later_packs(shorter) == (PackKey("north", "2026-12-03"),)
    assert planned_events(shorter, state) == ()
    gone = plan_month(many[:-1], [NORTH], state, START, 2)
    assert [event.happened for event in planned_events(gone, state)] == [Happened.UNPLANNED]


def test_an_earlier_month_is_filled_from_its_first_day() -> None:
    state = ledger(*planned_events(plan_month([one("bees")], [NORTH], LedgerState(), START), LedgerState()))
    earlier = START - timedelta(days=60)
    plan = plan_month([one("bees")], [NORTH], state, earlier, 7)
    assert ([p.day for p in plan.listings], plan.later) == ([earlier], {})


def test_a_plan_needs_a_day() -> None:
    with pytest.raises(ShopError) as caught:
        plan_month([], [NORTH], LedgerState(), START, 0)
    assert caught.value.slug == "bad-days"


def test_candidates_gone_are_unplanned() -> None:
    plan = plan_month([one("bees"), one("bells")], [NORTH], LedgerState(), START)
    state = ledger(*planned_events(plan, LedgerState()))
    again = plan_month([one("bells")], [NORTH], state, START)
    assert [(e.happened, e.subject) for e in planned_events(again, state)] == [
        (Happened.UNPLANNED, "north/MUG/bees")
    ]


designs = st.sampled_from([f"d{n}" for n in range(9)])
candidates = st.lists(
    st.builds(
        one, designs, st.sampled_from(["CUP", "MUG", "TEE"]), st.sampled_from(["north", "quay"]),
        st.integers(1, 7), st.integers(0, 3),
    ),
    max_size=60, unique_by=lambda c: c.key,
)  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(before=candidates, after=candidates, days=st.integers(1, 8))
def test_caps_hold_and_replanning_is_stable(
    before: list[Candidate], after: list[Candidate], days: int
) -> None:
    plan = plan_month(before, [NORTH, QUAY], LedgerState(), START, days)
    for to in (NORTH, QUAY):
        check_caps(plan, to)
    assert {p.key for p in plan.listings} | set(plan.left_over) == {c.key for c in before}
    state = ledger(*planned_events(plan, LedgerState()))
    assert planned_events(plan_month(reversed(before), [QUAY, NORTH], state, START, days), state) == ()
    old = {c.key for c in before}
    more = plan_month([*before, *(c for c in after if c.key not in old)], [NORTH, QUAY], state, START, days)
    check_caps(more, NORTH)
    stays = {p.key: p for p in more.listings}
    for p in plan.listings:
        assert stays[p.key] == p


def check_caps(plan: Plan, to: Channel) -> None:
    used: Counter[date] = Counter()
    for p in plan.listings:
        if p.key.channel == to.code:
            used[p.day] += weight(to.cap_counts, p.rows)
            assert plan.start <= p.day < plan.start + timedelta(days=plan.days)
    assert all(total <= to.daily_cap for total in used.values())


def test_ten_thousand_candidates_are_each_sized_once_or_twice(monkeypatch: pytest.MonkeyPatch) -> None:
    """Once to find a day, once to be put there: the work grows as the candidates do, not as their square."""
    many = [one(f"d{n // 11}", f"B{n % 11}", worth=float(n % 97)) for n in range(10_000)]
    sized: list[int] = []

    def counted(counts: CapCounts, rows: int) -> int:
        sized.append(rows)
        return weight(counts, rows)

    monkeypatch.setattr("hundredfold.planning.month.weight", counted)
    plan = plan_month(many, [channel(code="north", daily_cap=60)], LedgerState(), START, 30)
    assert len(sized) == len(many) + len(plan.listings)
    assert len(plan.listings) == 900
    assert len(plan.left_over) == 9100
    days = by_day(plan, "north")
    assert all(max(Counter(item.split("/")[0] for item in items).values()) == 1 for items in days.values())
    assert PackKey("north", "2026-12-01") not in LedgerState().frozen_days


def test_changes_go_by_the_money_that_each_sale_loses() -> None:
    out = [one(design, rows=3, price="12.95") for design in ("ants", "bees", "carp", "dogs")]
    lost = {"ants": 0.0, "bees": 55.0, "carp": 310.5, "dogs": 55.0}
    now = [replace(each, content={"price": "13.95"}, losing=lost[each.key.design]) for each in reversed(out)]
    plan = plan_month(now, [NORTH], ledger(*handed_over(START - timedelta(days=9), *out)), START, 2)
    assert [p.action for p in plan.listings] == [Action.CHANGE] * 4
    days = {p.key.design: (p.day - START).days for p in plan.listings}
    assert days == {"carp": 0, "bees": 0, "dogs": 1, "ants": 1}  # two listings of three rows a day


def test_the_lowest_of_several_prices_is_no_change_by_itself() -> None:
    (out,) = [one("ants", price="5f3a" * 16)]
    state = ledger(*handed_over(START - timedelta(days=9), out))
    known_now = replace(out, content={**out.content, LOWEST_PRICE: "12.95"})
    assert plan_month([known_now], [NORTH], state, START, 2).listings == ()


def test_changes_and_ends_take_the_first_day_with_room_though_it_has_their_design() -> None:
    """New listings of one design are spread over days; a wrong price on a live one does not wait for that."""
    blanks = ("CUP", "MUG", "TEE")
    out = [one("bees", blank, price="9.95") for blank in blanks]
    state = ledger(*handed_over(START - timedelta(days=9), *out))
    dearer = [replace(each, content={"price": "10.95"}) for each in out]
    changed = plan_month(dearer, [NORTH], state, START, 3)
    assert by_day(changed, "north") == {"2026-12-01": [f"bees/{blank}" for blank in blanks]}
    ended = plan_month([], [NORTH], state, START, 3, {each.key: "sold no more" for each in out})
    assert by_day(ended, "north") == {"2026-12-01": [f"bees/{blank}" for blank in blanks]}
    spread = plan_month(out, [NORTH], LedgerState(), START, 3)
    assert {p.day for p in spread.listings} == {START + timedelta(days=n) for n in range(3)}
