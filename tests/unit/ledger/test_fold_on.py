"""Going on from a folded ledger gives what folding all gives; what reaches back is not gone on from."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import fold, fold_on

DESIGNS, BLANKS, DAYS = ("AAAA", "BBBB"), ("MUG", "BAG"), ("2027-01-01", "2027-01-02")


def _key(draw: st.DrawFn) -> dict[str, object]:
    return {
        "channel": "north",
        "design": draw(st.sampled_from(DESIGNS)),
        "blank": draw(st.sampled_from(BLANKS)),
    }


@st.composite
def added(draw: st.DrawFn) -> Event:
    key = _key(draw)
    kind = draw(st.sampled_from(("chosen", "planned", "unplanned", "placed", "worded")))
    if kind == "chosen":
        data = {"blank": key["blank"], "answer": draw(st.sampled_from(("allow", "refuse", "open")))}
        return Event(Happened.CHOSEN, str(key["design"]), data)
    if kind == "planned":
        day = draw(st.sampled_from(DAYS))
        more = {"day": day, "action": "new", "revision": 1, "pinned": draw(st.booleans())}
        return Event(Happened.PLANNED, "x", key | more)
    if kind == "unplanned":
        return Event(Happened.UNPLANNED, "x", key)
    if kind == "placed":
        return Event(Happened.PLACED, str(key["design"]), {"blank": key["blank"], "scale": 0.5})
    words = {
        "field": draw(st.sampled_from(("title", "story"))),
        "text": draw(st.sampled_from(("", "one", "two"))),
        "below": "",
    }
    return Event(Happened.WORDED, "x", key | words)


def numbered(events: list[Event]) -> list[Event]:
    return [
        Event(one.happened, one.subject, one.data, number, None, one.undoes, number)
        for number, one in enumerate(events, 1)
    ]


@given(st.lists(added(), max_size=12), st.lists(added(), max_size=12))
def test_going_on_is_folding_all(before: list[Event], after: list[Event]) -> None:
    every = numbered([*before, *after])
    first, more = every[: len(before)], every[len(before) :]
    state = fold(first)
    assert fold_on(state, more) == fold(every)
    assert state == fold(first)


@pytest.mark.parametrize("kind", [Happened.UNDONE, Happened.PACKED, Happened.HANDED_OVER, Happened.ADOPTED])
def test_what_reaches_back_is_folded_anew(kind: Happened) -> None:
    assert fold_on(fold([]), [Event(kind, "x", {}, 1, None, 1, 1)]) is None
