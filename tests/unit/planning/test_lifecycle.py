"""A shop's life at random: planned, handed over, cut off, refused, changed, ended.

The test keeps its own truth of what the channel has, and holds every row that goes out against it.
"""

from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from goods import channel, mug, sheet
from hypothesis import given, settings
from hypothesis import strategies as st

from hundredfold.catalogue.sheets import TableKind
from hundredfold.handoff.rows import row_actions
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import fold
from hundredfold.ledger.give import give_skus
from hundredfold.ledger.keys import ListingKey, PackKey, SkuKey
from hundredfold.ledger.state import LedgerState
from hundredfold.planning.listings import Action, Candidate, Plan
from hundredfold.planning.month import plan_month, planned_events
from hundredfold.planning.sizing import rows_needed

NORTH = channel(code="north", daily_cap=5, sheet=sheet(TableKind.CSV, families=True))
START = date(2026, 12, 1)
COLOURS = ("navy", "white")


@dataclass
class Life:
    events: list[Event] = field(default_factory=list)
    prices: dict[str, int] = field(default_factory=dict)
    colours: dict[str, tuple[str, ...]] = field(default_factory=dict)
    ends: set[str] = field(default_factory=set)
    day: date = START
    plan: Plan | None = None
    # The truth, kept by the test alone:
    there: set[str] = field(default_factory=set)
    gone: set[str] = field(default_factory=set)
    sent: set[tuple[str, int]] = field(default_factory=set)
    days: set[str] = field(default_factory=set)

    def state(self) -> LedgerState:
        return fold([replace(event, number=n) for n, event in enumerate(self.events, start=1)])

    def note(self, *events: Event) -> None:
        self.events += events

    def add(self, design: str) -> None:
        self.prices.setdefault(design, 10)
        self.colours.setdefault(design, COLOURS)

    def candidates(self) -> list[Candidate]:
        return [
            Candidate(
                ListingKey("north", design, "MUG-325"), self.colours[design],
                rows_needed(mug(), self.colours[design], NORTH), content={"price": str(price)},
            )
            for design, price in self.prices.items()
        ]  # fmt: skip

    def replan(self) -> None:
        ends = {ListingKey("north", design, "MUG-325"): "asked for" for design in self.ends}
        before = self.state()
        self.plan = plan_month(self.candidates(), [NORTH], before, self.day, 4, ends)
        self.note(*planned_events(self.plan, before))
        assert (
            planned_events(
                plan_month(self.candidates(), [NORTH], self.state(), self.day, 4, ends), self.state()
            )
            == ()
        )

    def rows(self, day: date) -> tuple[list[dict[str, object]], list[dict[str, object]]]:
        """The rows and listings of a day's pack, in the ledger's form, with the writer's own actions."""
        assert self.plan is not None
        rows: list[dict[str, object]] = []
        listings: list[dict[str, object]] = []
        for planned in (p for p in self.plan.listings if p.day == day):
            key, state = planned.key, self.state()
            pairs = [] if planned.action is Action.END else [("", ""), *((c, "") for c in planned.colours)]
            wanted = [SkuKey(key.channel, key.design, key.blank, *pair) for pair in pairs]
            skus, fresh = give_skus(wanted, state, "PG")
            self.note(*fresh)
            every = dict(state.skus_of(key)) | skus
            asked = [(every[k], action.value) for k, action in row_actions(planned, wanted, every, state)]
            assert len(asked) <= planned.rows
            revision = planned.revision
            rows += [
                {**key.as_data(), "sku": sku, "revision": revision, "action": action} for sku, action in asked
            ]
            content = {} if planned.action is Action.END else {"price": str(self.prices[key.design])}
            listings.append(
                {
                    **key.as_data(), "revision": revision, "action": planned.action.value,
                    "colours": list(planned.colours), "content": content,
                }
            )  # fmt: skip
        return rows, listings

    def hand_over(self, end: str) -> None:
        state = self.state()
        waiting = [p.day for p in self.plan.listings] if self.plan else []
        if not waiting or any(
            pack.progress.value != "packed"
            for pack in state.packs.values()
            if pack.progress.value != "handed over"
        ):
            return
        day = min(waiting)
        pack = str(PackKey("north", day.isoformat()))
        rows, listings = self.rows(day)
        self.note(Event(Happened.PACKED, pack, {"manifest": "m", "rows": rows, "listings": listings}))
        self.note(Event(Happened.HANDING_OVER, pack))
        if end == "lost":
            self.note(Event(Happened.UNSURE, pack), Event(Happened.SETTLED, pack, {"happened": False}))
        else:
            last = (
                Event(Happened.SETTLED, pack, {"happened": True})
                if end == "asked"
                else Event(Happened.HANDED_OVER, pack)
            )
            self.note(last)
            self.arrived(day, rows)
        self.replan()

    def arrived(self, day: date, rows: list[dict[str, object]]) -> None:
        assert day.isoformat() not in self.days, "a day is handed over once"
        self.days.add(day.isoformat())
        assert len(rows) <= NORTH.daily_cap
        for row in rows:
            sku, revision, action = str(row["sku"]), int(str(row["revision"])), row["action"]
            assert (sku, revision) not in self.sent, "the same revision of a SKU goes out once"
            assert (sku in self.there | self.gone) == (action != "new"), (action, sku)
            self.sent.add((sku, revision))
            (self.gone if action == "end" else self.there).add(sku)
            (self.there if action == "end" else self.gone).discard(sku)

    def refuse(self, place: int) -> None:
        last = dict(sorted(self.sent))
        firsts = sorted(sku for sku, revision in last.items() if revision == 1 and sku in self.there)
        if firsts:
            sku = firsts[place % len(firsts)]
            self.note(Event(Happened.REFUSED, sku, {"reason": "no", "action": "new"}))
            self.there.discard(sku)


steps = st.one_of(
    st.tuples(st.just("add"), st.sampled_from("abcd")),
    st.tuples(st.just("price"), st.sampled_from("abcd")),
    st.tuples(st.just("colours"), st.sampled_from("abcd")),
    st.tuples(st.just("end"), st.sampled_from("abcd")),
    st.tuples(st.just("refuse"), st.integers(0, 9)),
    st.tuples(st.just("hand over"), st.sampled_from(["seen", "asked", "lost", "seen"])),
    st.tuples(st.just("next day"), st.integers(1, 2)),
)


@settings(max_examples=300, deadline=None)
@given(st.lists(steps, min_size=12, max_size=40))
def test_no_life_of_a_shop_sends_anything_twice_or_wrongly(life_steps: list[tuple[str, object]]) -> None:
    life = Life()
    for design in "abc":
        life.add(design)
    for step, what in life_steps:
        name = str(what)
        if step == "add":
            life.add(name)
        elif step == "price" and name in life.prices:
            life.prices[name] += 1
        elif step == "colours" and name in life.colours:
            life.colours[name] = ("navy",) if len(life.colours[name]) == 2 else COLOURS
        elif step == "end":
            life.ends.add(name)
        elif step == "refuse":
            life.refuse(int(name))
        elif step == "next day":
            life.day += timedelta(days=int(name))
        elif step == "hand over":
            life.replan()
            life.hand_over(name)
    state = life.state()
    assert state.existing == life.there
    assert state.ended == life.gone
    assert set(state.sent) == life.sent
