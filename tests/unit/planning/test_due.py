"""What a listing is due and how that is said, each reason by itself."""

from dataclasses import replace
from datetime import date

import pytest

from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import fold
from hundredfold.ledger.keys import ListingKey, SkuKey
from hundredfold.ledger.state import LedgerState, Listed, Standing
from hundredfold.planning.due import Due, due_for, ends_due
from hundredfold.planning.listings import Action, Candidate

BEES = ListingKey("north", "bees", "MUG")
START = date(2027, 1, 1)
NOW = Candidate(BEES, ("navy", "white"), 4, 2.5, "made last week", {"title": "Bees"}, losing=7.0)
LIVE = Listed(Standing.LIVE, 3, ("navy", "white"), {"title": "Bees"})


def state_of(listed: Listed | None, *skus: SkuKey, **more: object) -> LedgerState:
    names = {key: f"{key.colour}-{key.size}".upper() for key in skus}
    existing = frozenset(names.values())
    book = LedgerState(skus=names, by_listing={BEES: names}, existing=existing)
    return replace(book, listed={BEES: listed} if listed else {}, **more)  # type: ignore[arg-type]


def variant(colour: str, size: str = "") -> SkuKey:
    return SkuKey("north", "bees", "MUG", colour, size)


def test_what_no_channel_has_is_new_with_its_own_reason() -> None:
    new = Due(BEES, Action.NEW, 1, ("navy", "white"), 4, 2.5, "made last week")
    assert due_for(NOW, state_of(None), START) == new
    assert due_for(replace(NOW, reason=""), state_of(None), START) == replace(new, reason="new listing")


@pytest.mark.parametrize(
    ("listed", "told"),
    [
        (LIVE, ""),
        (replace(LIVE, content={}, colours=()), ""),  # adopted: nothing is known to differ
        (replace(LIVE, standing=Standing.UNSURE), "in a hand-over whose end was not seen; settle it first"),
        (
            replace(LIVE, standing=Standing.ENDED),
            "ended earlier; an ended listing is not put up again by itself",
        ),
        (replace(LIVE, standing=Standing.REFUSED), "refused by the channel: no reason given"),
        (replace(LIVE, standing=Standing.REFUSED, why="too dark"), "refused by the channel: too dark"),
    ],
)
def test_what_is_left_says_why(listed: Listed, told: str) -> None:
    assert due_for(NOW, state_of(listed), START) == told


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("Bees", "Wasps", "title changed: Bees -> Wasps"),
        ("Bees", "b" * 40, "title changed"),
        ("Bees", "w" * 40, f"title changed: Bees -> {'w' * 40}"),
        ("Bees", "w" * 41, "title changed"),
        ("w" * 41, "Bees", "title changed"),
        ("w" * 40, "Bees", f"title changed: {'w' * 40} -> Bees"),
        ("A", "B", "title changed: A -> B"),
        ("Bees", "0123456789abcde?", "title changed: Bees -> 0123456789abcde?"),
        ("Bees", "", "title changed"),
        ("Bees", "0123456789abcdef", "title changed"),  # a digest says nothing to a person
        ("Bees", "0123456789abcde", "title changed: Bees -> 0123456789abcde"),
        ("Bees", "0123456789abcdeX", "title changed: Bees -> 0123456789abcdeX"),
    ],
)
def test_a_change_is_quoted_where_it_is_short(old: str, new: str, told: str) -> None:
    found = due_for(
        replace(NOW, content={"title": new}), state_of(replace(LIVE, content={"title": old})), START
    )
    assert found == Due(BEES, Action.CHANGE, 4, NOW.colours, 4, 2.5, told, 7.0)


def test_what_is_told_besides_says_nothing_of_before() -> None:
    now = replace(NOW, content={"title": "Bees", "other": "x"})
    assert due_for(now, state_of(replace(LIVE, content={"other": "x"})), START) == ""


def test_what_is_no_longer_told_is_a_change_that_is_not_quoted() -> None:
    found = due_for(replace(NOW, content={}), state_of(LIVE), START)
    assert isinstance(found, Due)
    assert found.reason == "title changed"


def test_what_is_gone_ends_in_the_same_table() -> None:
    skus = (variant(""), variant("navy"), variant("red"), variant("pink", "S"))
    listed = replace(LIVE, colours=("navy", "red", "pink"))
    found = due_for(NOW, state_of(listed, *skus), START)
    assert isinstance(found, Due)
    assert (found.rows, found.reason) == (4 + 2, "colour white added, colour pink gone, colour red gone")
    sizes = replace(NOW, variants=frozenset({("navy", "S"), ("white", "S")}), content={"title": "B"})
    found = due_for(
        sizes, state_of(LIVE, variant("navy", "S"), variant("navy", "L"), variant("white", "S")), START
    )
    assert isinstance(found, Due)
    assert found.rows == 4 + 1
    never_out = replace(state_of(listed, *skus), existing=frozenset({"NAVY-"}))
    found = due_for(NOW, never_out, START)
    assert isinstance(found, Due)
    assert found.rows == 4


def test_a_refused_listing_goes_out_again_once_changed() -> None:
    refused = replace(LIVE, standing=Standing.REFUSED, content={"title": "Wasps"})
    told = "refused earlier, since then title changed: Wasps -> Bees"
    assert due_for(NOW, state_of(refused), START) == Due(BEES, Action.NEW, 4, NOW.colours, 4, 2.5, told)


@pytest.mark.parametrize(
    ("answer", "told"),
    [
        (("refused", {"revision": 3, "reason": "odd"}), "the channel refused NAVY-: odd"),
        (("refused", {"revision": 3}), "the channel refused NAVY-: no reason given"),
        (("refused", {"reason": "odd"}), "the channel refused NAVY-: odd"),
        (("refused", {"revision": 2, "reason": "odd"}), ""),  # of an earlier revision
        (("accepted", {"revision": 3}), ""),
    ],
)
def test_a_refused_row_of_a_live_listing_is_told(answer: tuple[str, dict[str, object]], told: str) -> None:
    state = state_of(LIVE, variant("navy"), variant("white"), answers={"NAVY-": answer})
    assert due_for(NOW, state, START) == told


def test_only_what_is_live_can_end() -> None:
    skus = (variant(""), variant("navy"), variant("white"))
    end = Due(BEES, Action.END, 4, LIVE.colours, 3, 0.0, "to be ended: sold no more")
    wanted = {BEES: "sold no more", ListingKey("north", "wasps", "MUG"): "x"}
    assert list(ends_due(wanted, state_of(LIVE, *skus))) == [end]
    assert list(ends_due(wanted, state_of(LIVE))) == [replace(end, rows=1)]
    for standing in (Standing.REFUSED, Standing.ENDED, Standing.UNSURE):
        assert list(ends_due(wanted, state_of(replace(LIVE, standing=standing), *skus))) == []
    given = [Event(Happened.SKU_GIVEN, "A", variant("navy").as_data(), 1)]
    never_out = replace(fold(given), listed={BEES: LIVE})
    assert list(ends_due(wanted, never_out)) == [replace(end, rows=1)]


@pytest.mark.parametrize("name", ["Merry Xmas 2026", "Class reunion, summer 2025"])
def test_a_year_that_is_over_is_not_put_up_new(name: str) -> None:
    """ "Merry Xmas 2026" was planned for January 2027."""
    said = due_for(replace(NOW, name=name), state_of(None), START)
    assert isinstance(said, str)
    assert "which is over" in said
    assert isinstance(due_for(replace(NOW, name=name), state_of(None), date(2025, 12, 1)), Due)
    assert due_for(replace(NOW, name=name), state_of(LIVE), START) != said  # what is live stays


@pytest.mark.parametrize(
    "name", ["Sea Swimmer since 2024", "Est. 2025 Plot Holder", "Class of 2026", "Happy 2027", "Born 1985"]
)
def test_a_year_that_is_a_beginning_or_not_over_may_go_out(name: str) -> None:
    assert isinstance(due_for(replace(NOW, name=name), state_of(None), START), Due)
