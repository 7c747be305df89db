"""What stands after undos, undos of undos and so on, against a plain reading of the rule."""

import random

from hundredfold.ledger.decisions import decisions_of
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import standing_numbers


def stands(events: dict[int, Event], number: int) -> bool:
    """A row stands unless an undo of it stands."""
    return not any(e.undoes == number and stands(events, e.number) for e in events.values())


def test_what_is_shown_as_standing_is_what_stands() -> None:
    for seed in range(200):
        chance = random.Random(seed)
        events: dict[int, Event] = {}
        for number in range(1, 16):
            may = [n for n in events if stands(events, n)]
            if may and chance.random() < 0.6:
                target = chance.choice(may)
                row = Event(Happened.UNDONE, "x", number=number, undoes=target, decision=number)
            else:
                row = Event(Happened.RETIRED, f"d{number}", number=number, decision=number)
            events[number] = row
        wanted = {number for number in events if stands(events, number)}
        assert standing_numbers(events.values()) == wanted
        assert {one.id for one in decisions_of(events.values()) if one.stands} == wanted


def test_a_taken_back_undo_no_longer_shows_as_standing() -> None:
    rows = [Event(Happened.RETIRED, "d", number=1, decision=1)]
    rows += [Event(Happened.UNDONE, "d", number=n, undoes=n - 1, decision=n) for n in (2, 3, 4)]
    assert [one.stands for one in decisions_of(rows)] == [False, True, False, True]
