"""What a ledger's rows come to where they come in another order, twice, or about something unknown."""

import pytest

from hundredfold.ledger.choices import Answer, Choice, ChoiceKey, refused
from hundredfold.ledger.decisions import decisions_of
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import fold, standing_events
from hundredfold.ledger.keys import ListingKey, PackKey, SkuKey
from hundredfold.ledger.planned import by_day, holds_moved, lacks_planned
from hundredfold.ledger.state import HandText, LedgerState, Listed, PlannedDay, Progress, Standing

BEES = ListingKey("north", "bees", "MUG")
FIRST, SECOND = PackKey("north", "2026-12-01"), PackKey("north", "2026-12-02")


def variant(colour: str) -> SkuKey:
    return SkuKey("north", "bees", "MUG", colour, "")


def given(sku: str, colour: str) -> Event:
    return Event(Happened.SKU_GIVEN, sku, variant(colour).as_data())


def adopted(sku: str, colour: str, **more: object) -> Event:
    return Event(Happened.ADOPTED, sku, {**variant(colour).as_data(), **more})


def packed(key: PackKey, revision: int, *skus: str, action: str = "new", price: str = "9.95") -> Event:
    about = {**BEES.as_data(), "revision": revision, "action": action}
    rows = [{**about, "sku": sku} for sku in skus]
    listing = {**about, "colours": ["navy"], "content": {"price": price}}
    return Event(Happened.PACKED, str(key), {"manifest": f"m{revision}", "rows": rows, "listings": [listing]})


def handing(key: PackKey) -> Event:
    return Event(Happened.HANDING_OVER, str(key), {"destination": f"out/{key}"})


def handed(key: PackKey) -> Event:
    return Event(Happened.HANDED_OVER, str(key))


def settled(key: PackKey, happened: bool) -> Event:
    return Event(Happened.SETTLED, str(key), {"happened": happened})


def numbered(*events: Event) -> list[Event]:
    return [
        Event(e.happened, e.subject, e.data, number, undoes=e.undoes, decision=e.decision or number)
        for number, e in enumerate(events, start=1)
    ]


def after(*events: Event) -> LedgerState:
    return fold(numbered(*events))


OUT = (
    given("NAVY", "navy"),
    given("WHITE", "white"),
    packed(FIRST, 1, "NAVY"),
    handing(FIRST),
    handed(FIRST),
)


def test_an_open_hand_over_holds_the_listing_and_no_brings_it_back_as_it_was() -> None:
    before = after(*OUT)
    change = (*OUT, packed(SECOND, 2, "NAVY", "WHITE", action="change", price="10.95"), handing(SECOND))
    opened = after(*change)
    assert opened.listed[BEES] == Listed(Standing.UNSURE, 1, ("navy",), {"price": "9.95"})
    assert opened.existing == {"NAVY", "WHITE"}
    assert opened.packs[SECOND].destination == "out/north/2026-12-02"
    no = after(*change, settled(SECOND, happened=False))
    assert no.listed == before.listed
    assert no.existing == before.existing == {"NAVY"}
    assert (no.packs[SECOND].progress, no.packs[SECOND].destination) == (Progress.PACKED, "")
    yes = after(*change, settled(SECOND, happened=True))
    assert yes.listed[BEES] == Listed(Standing.LIVE, 2, ("navy",), {"price": "10.95"})
    assert yes.sent == {("NAVY", 1): FIRST, ("NAVY", 2): SECOND, ("WHITE", 2): SECOND}
    assert yes.existing == {"NAVY", "WHITE"}


def test_a_first_hand_over_that_is_open_is_unsure_from_nothing() -> None:
    assert after(*OUT[:4]).listed == {BEES: Listed(Standing.UNSURE, 0)}


def test_keys_go_into_rows_and_come_back() -> None:
    key = SkuKey("north", "bees", "MUG", "navy", "L")
    told = {"channel": "north", "design": "bees", "blank": "MUG", "colour": "navy", "size": "L"}
    assert key.as_data() == told
    assert SkuKey.from_data(told) == key
    assert SkuKey.from_data(BEES.as_data()) == SkuKey("north", "bees", "MUG", "", "")
    assert PackKey.parse("a/b/2026-12-01") == PackKey("a/b", "2026-12-01")
    for wrong in ("north", "north/", "/2026-12-01", ""):
        with pytest.raises(ValueError, match="is not channel/YYYY-MM-DD"):
            PackKey.parse(wrong)


def test_a_pack_against_the_plan_as_it_is_now() -> None:
    plan = Event(
        Happened.PLANNED, str(BEES), {**BEES.as_data(), "day": FIRST.day, "action": "new", "revision": 1}
    )
    empty = Event(Happened.PACKED, str(FIRST), {"manifest": "m"})
    away = Event(Happened.UNPLANNED, str(BEES), BEES.as_data())
    for rows, moved, lacking in (
        ((plan,), False, False),  # no pack yet
        ((plan, packed(FIRST, 1, "NAVY")), False, False),
        ((plan, packed(FIRST, 1, "NAVY"), away), True, False),
        ((plan, empty), False, True),
        ((plan, packed(FIRST, 1, "NAVY"), handing(FIRST), away), False, False),  # it is not here any more
        ((plan, empty, handing(FIRST)), False, False),
    ):
        state = after(*rows)
        planned = by_day(state)
        assert planned == ({} if away in rows else {FIRST: {BEES}})
        assert (holds_moved(state, FIRST, planned), lacks_planned(state, FIRST, planned)) == (moved, lacking)


def test_no_then_handed_over_again_is_as_if_it_went_at_once() -> None:
    again = after(*OUT[:4], settled(FIRST, happened=False), handing(FIRST), handed(FIRST))
    once = after(*OUT)
    assert (again.listed, again.existing, again.sent) == (once.listed, once.existing, once.sent)


@pytest.mark.parametrize(
    "stray",
    [
        handed(FIRST),
        Event(Happened.UNSURE, str(FIRST)),
        settled(FIRST, happened=False),
        settled(FIRST, happened=True),
    ],
)
@pytest.mark.parametrize("known", [True, False])
def test_an_end_without_its_beginning_says_nothing(stray: Event, known: bool) -> None:
    rows = OUT[:3] if known else OUT[:2]
    with_it, without = after(*rows, stray), after(*rows)
    assert (with_it.packs, with_it.listed, with_it.sent, with_it.existing) == (
        without.packs, without.listed, without.sent, without.existing,
    )  # fmt: skip


@pytest.mark.parametrize("happened", [True, False])
def test_what_was_handed_over_is_settled_no_more(happened: bool) -> None:
    late = after(*OUT, settled(FIRST, happened), Event(Happened.UNSURE, str(FIRST)))
    assert late.packs == after(*OUT).packs
    assert late.listed == after(*OUT).listed


def test_unsure_then_settled_either_way() -> None:
    unsure = (*OUT[:4], Event(Happened.UNSURE, str(FIRST)))
    assert after(*unsure).packs[FIRST].progress is Progress.UNSURE
    assert after(*unsure).frozen_days == {FIRST}
    assert after(*unsure, handing(FIRST)).packs[FIRST].progress is Progress.UNSURE  # not begun anew
    assert after(*unsure, settled(FIRST, happened=True)).packs[FIRST].progress is Progress.HANDED_OVER
    back = after(*unsure, settled(FIRST, happened=False))
    assert (back.packs[FIRST].progress, back.frozen_days, back.listed) == (Progress.PACKED, frozenset(), {})


def test_an_open_day_is_packed_anew() -> None:
    state = after(*OUT[:3], packed(FIRST, 2, "WHITE"))
    assert (state.packs[FIRST].manifest, [row.sku for row in state.packs[FIRST].rows]) == ("m2", ["WHITE"])
    assert after(packed(FIRST, 1), handing(FIRST), packed(FIRST, 2)).packs[FIRST].manifest == "m1"


def test_what_is_adopted_is_live_in_all_its_colours_and_no_longer_planned() -> None:
    told = {
        "day": "2026-12-01",
        "action": "new",
        "revision": 1,
        "colours": ["navy"],
        "rows": 3,
        "reason": "new",
    }
    plan = Event(Happened.PLANNED, str(BEES), {**BEES.as_data(), **told})
    assert after(plan).planned == {BEES: PlannedDay("2026-12-01", "new", 1, ("navy",), 3, "new")}
    state = after(plan, adopted("OLD-W", "white"), adopted("OLD-N", "navy"), adopted("OLD-N2", "navy"),
                  adopted("OLD", "", identifier="771"))  # fmt: skip
    assert state.listed[BEES] == Listed(Standing.LIVE, 0, ("navy", "white"), {}, adopted=True)
    assert state.planned == {}
    assert state.existing == {"OLD-W", "OLD-N", "OLD-N2", "OLD"}
    assert state.identifiers == {"OLD": "771"}
    assert state.skus[variant("navy")] == "OLD-N"  # the first that the channel has
    assert state.owners["OLD-N2"] == variant("navy")
    assert [sku for _, sku in state.skus_of(BEES)] == ["OLD", "OLD-N", "OLD-W"]
    assert state.skus_of(ListingKey("north", "wasps", "MUG")) == ()


def test_what_a_channel_has_takes_the_place_of_a_sku_that_never_went_out_and_of_no_other() -> None:
    assert after(given("NEW", "navy"), adopted("OLD", "navy")).skus[variant("navy")] == "OLD"
    assert after(adopted("OLD", "navy"), given("NEW", "navy")).skus[variant("navy")] == "OLD"
    assert after(*OUT, adopted("OLD", "navy")).skus[variant("navy")] == "NAVY"
    assert after(given("ONE", "navy"), given("TWO", "navy")).skus[variant("navy")] == "ONE"


def test_adopting_what_we_sent_keeps_what_is_known_of_it() -> None:
    (listed,) = after(*OUT, adopted("OLD-W", "white")).listed.values()
    assert listed == Listed(Standing.LIVE, 1, ("navy", "white"), {"price": "9.95"}, adopted=True)
    assert not after(*OUT).listed[BEES].adopted
    sent_later = after(adopted("NAVY", "navy"), packed(FIRST, 1, "NAVY"), handing(FIRST), handed(FIRST))
    assert sent_later.listed[BEES].adopted


def test_a_refusal_takes_away_only_what_was_new() -> None:
    both = (*OUT[:2], packed(FIRST, 1, "NAVY", "WHITE"), handing(FIRST), handed(FIRST))
    one = after(*both, Event(Happened.REFUSED, "NAVY", {"action": "new", "reason": "dark"}))
    assert (one.existing, one.listed[BEES].standing, one.listed[BEES].why) == (
        frozenset({"WHITE"}), Standing.LIVE, "dark",
    )  # fmt: skip
    change = after(*OUT, Event(Happened.REFUSED, "NAVY", {"action": "change", "reason": "odd"}))
    assert (change.existing, change.listed[BEES].standing, change.listed[BEES].why) == (
        frozenset({"NAVY"}), Standing.LIVE, "odd",
    )  # fmt: skip
    assert change.answers == {"NAVY": ("refused", {"action": "change", "reason": "odd"})}
    whole = after(*OUT, Event(Happened.REFUSED, "NAVY", {}))
    assert (whole.existing, whole.listed[BEES].standing, whole.listed[BEES].why) == (
        frozenset(), Standing.REFUSED, "",
    )  # fmt: skip
    again = after(*OUT, Event(Happened.REFUSED, "NAVY", {"reason": "x"}), Event(Happened.ACCEPTED, "NAVY"))
    assert (again.existing, again.listed[BEES].standing, again.listed[BEES].why) == (
        frozenset({"NAVY"}), Standing.LIVE, "",
    )  # fmt: skip


def test_answers_about_what_nobody_knows_change_nothing_else() -> None:
    for happened in (Happened.ACCEPTED, Happened.REFUSED):
        state = after(*OUT, Event(happened, "WASPS", {}))
        assert state.answers == {"WASPS": (happened.value, {})}
        assert (state.listed, state.existing, state.identifiers) == (
            after(*OUT).listed,
            frozenset({"NAVY"}),
            {},
        )
        early = after(given("NAVY", "navy"), Event(happened, "NAVY", {}))
        assert early.listed == {}


def test_an_answer_does_not_bring_back_what_ended() -> None:
    end = Event(Happened.ENDED, str(BEES), BEES.as_data())
    plan = Event(
        Happened.PLANNED,
        str(BEES),
        {**BEES.as_data(), "day": "2026-12-09", "action": "change", "revision": 2},
    )
    assert after(plan).planned[BEES] == PlannedDay("2026-12-09", "change", 2, (), 1, "")
    state = after(*OUT, plan, end, Event(Happened.ACCEPTED, "NAVY", {"identifier": "N-1"}))
    assert (state.existing, state.ended, state.planned) == (frozenset(), frozenset({"NAVY"}), {})
    assert state.listed[BEES] == Listed(Standing.ENDED, 1, ("navy",), {"price": "9.95"})
    assert state.identifiers == {"NAVY": "N-1"}
    assert after(end).listed[BEES] == Listed(Standing.ENDED, 0)
    put_up_again = after(*OUT, end, packed(SECOND, 2, "NAVY"), handing(SECOND), handed(SECOND))
    assert (put_up_again.existing, put_up_again.ended) == (frozenset({"NAVY"}), frozenset())
    by_pack = after(*OUT, packed(SECOND, 2, "NAVY", action="end"), handing(SECOND), handed(SECOND))
    assert (by_pack.existing, by_pack.ended, by_pack.listed[BEES].standing) == (
        frozenset(), frozenset({"NAVY"}), Standing.ENDED,
    )  # fmt: skip


def test_plans_go_and_facts_stay() -> None:
    plan = Event(
        Happened.PLANNED, str(BEES), {**BEES.as_data(), "day": "2026-12-01", "action": "new", "revision": 1}
    )
    gone = Event(Happened.UNPLANNED, str(BEES), BEES.as_data())
    assert after(plan, gone).planned == {}
    assert after(gone).planned == {}
    state = after(plan, Event(Happened.RETIRED, "bees"), Event(Happened.DESIGN_SEEN, "wasps"))
    assert state.retired == {"bees": 2}
    assert state.last_number == 3
    assert fold([]).last_number == 0
    placed = Event(Happened.PLACED, "bees", {"blank": "MUG", "scale": 2})
    assert after(placed).placed == {("bees", "MUG"): {"blank": "MUG", "scale": 2}}


def undone(number: int) -> Event:
    return Event(Happened.UNDONE, "", undoes=number)


def test_only_an_earlier_row_that_did_not_go_out_is_undone() -> None:
    retired = Event(Happened.RETIRED, "bees")
    for rows, standing in (
        ((retired, undone(1)), []),
        ((undone(2), retired), [2]),  # it names a row to come
        ((retired, undone(1), undone(2)), [1]),
        ((retired, undone(1), undone(2), undone(3)), []),
        ((retired, undone(9)), [1]),
        ((retired, Event(Happened.UNDONE, "")), [1]),
        ((retired, undone(1), undone(1)), []),
        ((given("NAVY", "navy"), undone(1)), [1]),
    ):
        assert [event.number for event in standing_events(numbered(*rows))] == standing, rows


def test_a_decision_is_told_in_a_few_words() -> None:
    rows = [
        Event(Happened.ADOPTED, "A", variant("navy").as_data(), 1, decision=1),
        Event(Happened.ADOPTED, "B", variant("white").as_data(), 2, decision=1),
        Event(Happened.SKU_GIVEN, "A", variant("navy").as_data(), 3, decision=1),
        Event(Happened.UNDONE, "A", {}, 4, undoes=1, decision=4),
        Event(Happened.DESIGN_SEEN, "bees", {}, 5, decision=5),
        Event(Happened.HANDING_OVER, str(FIRST), {}, 6, decision=6),
        Event(Happened.UNDONE, "A", {}, 7, undoes=4, decision=7),
    ]
    table = decisions_of(rows[:6])
    facts = [Event(Happened.DESIGN_SEEN, "bees", {}, 1), Event(Happened.SKU_GIVEN, "A", {}, 2)]
    assert [d.lasting for d in decisions_of(facts)] == [True]
    assert [(d.id, d.what, d.about, d.standing, d.stands, d.lasting, d.undoes) for d in table] == [
        (1, "adopted (2 rows), sku given", "A and 1 more", 2, True, False, 0),
        (4, "took back 1", "A", 1, True, False, 1),
        (5, "design seen", "bees", 1, True, True, 0),
        (6, "handing over", "north/2026-12-01", 1, True, True, 0),
    ]
    back = {d.id: d for d in decisions_of(rows)}
    assert (back[1].standing, back[4].standing, back[4].stands, back[7].what) == (3, 0, False, "took back 4")


def test_a_choice_is_told_with_where_and_why() -> None:
    def told(key: ChoiceKey, answer: Answer, reason: str, **more: str) -> tuple[str, str]:
        data = {**more, **Choice(key, answer, reason).as_data()}
        (one,) = decisions_of([Event(Happened.CHOSEN, key.design, data, 1, decision=1)])
        return one.what, one.about

    path = "designs/bees.png"
    whole = ChoiceKey("bees", "MUG", "navy", "north")
    assert told(whole, Answer.REFUSE, "too dark", path=path) == (
        "chose: refuse",
        "designs/bees.png (MUG, navy, north): too dark",
    )
    assert told(ChoiceKey("bees"), Answer.ALLOW, "") == ("chose: allow", "bees (everywhere)")
    assert told(ChoiceKey("bees", colour="navy"), Answer.OPEN, "") == ("chose: open", "bees (navy)")
    bare = Event(Happened.CHOSEN, "bees", {}, 1, decision=1)
    assert (decisions_of([bare])[0].what, decisions_of([bare])[0].about) == ("chosen", "bees (everywhere)")
    plain = Event(Happened.RETIRED, "bees", {"answer": "allow", "blank": "MUG"}, 1, decision=1)
    assert (decisions_of([plain])[0].what, decisions_of([plain])[0].about) == ("retired", "bees")
    read = Choice.from_data("bees", {"answer": "allow"})
    assert read == Choice(ChoiceKey("bees"), Answer.ALLOW, "")


def test_a_text_by_hand_stands_until_it_is_taken_back() -> None:
    def worded(field: str, text: str) -> Event:
        return Event(
            Happened.WORDED, str(BEES), {**BEES.as_data(), "field": field, "text": text, "below": "b"}
        )

    rows = (worded("title", "one"), worded("story", "two"), worded("title", "three"))
    assert after(*rows).by_hand == {
        BEES: {"title": HandText("three", "b", 3), "story": HandText("two", "b", 2)},
    }
    assert after(*rows, undone(3)).by_hand[BEES]["title"] == HandText("one", "b", 1)


def test_a_hand_over_without_a_destination_has_none() -> None:
    assert after(*OUT[:3], Event(Happened.HANDING_OVER, str(FIRST))).packs[FIRST].destination == ""


def test_the_most_exact_choice_decides() -> None:
    every, navy = ChoiceKey("bees", "MUG"), ChoiceKey("bees", "MUG", "navy")
    there, both = ChoiceKey("bees", "MUG", "", "north"), ChoiceKey("bees", "MUG", "navy", "north")
    whole = ChoiceKey("bees")

    def kept_back(*answers: tuple[ChoiceKey, Answer]) -> bool:
        rows = [
            Event(Happened.CHOSEN, key.design, Choice(key, answer, "why").as_data())
            for key, answer in answers
        ]
        return refused(after(*rows).choices, both)

    for narrow, wide in ((both, navy), (navy, there), (there, every), (every, whole)):
        assert kept_back((narrow, Answer.REFUSE), (wide, Answer.ALLOW))
        assert not kept_back((narrow, Answer.ALLOW), (wide, Answer.REFUSE))
        assert kept_back((narrow, Answer.ALLOW), (wide, Answer.REFUSE), (narrow, Answer.OPEN))
    assert not kept_back()
    assert not kept_back((ChoiceKey("wasps"), Answer.REFUSE), (ChoiceKey("bees", "TEE"), Answer.REFUSE))
    choice = Choice(both, Answer.REFUSE, "too dark")
    assert Choice.from_data("bees", choice.as_data()) == choice
