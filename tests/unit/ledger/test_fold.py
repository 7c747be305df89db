from collections.abc import Mapping

from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import fold
from hundredfold.ledger.keys import ListingKey, PackKey, SkuKey
from hundredfold.ledger.state import LedgerState, Progress, Standing

KEY = ListingKey("north", "bees", "MUG")
SKU = "PG-N-BEES-MUG-NAVY"
PACK = PackKey("north", "2026-12-01")


class Book:
    def __init__(self) -> None:
        self.events: list[Event] = []

    def add(
        self,
        happened: Happened,
        subject: str,
        data: Mapping[str, object] | None = None,
        undoes: int | None = None,
    ) -> int:
        number = len(self.events) + 1
        self.events.append(Event(happened, subject, data or {}, number, undoes=undoes))
        return number

    def state(self) -> LedgerState:
        return fold(self.events)


def packed(action: str = "new", revision: int = 1) -> Book:
    book = Book()
    book.add(Happened.SKU_GIVEN, SKU, SkuKey("north", "bees", "MUG", "navy", "").as_data())
    book.add(
        Happened.PLANNED, str(KEY), {**KEY.as_data(), "day": PACK.day, "action": action, "revision": revision}
    )
    row = {**KEY.as_data(), "sku": SKU, "revision": revision, "action": action}
    listing = {
        **KEY.as_data(),
        "revision": revision,
        "action": action,
        "colours": ["navy"],
        "content": {"price": "9.95"},
    }
    book.add(Happened.PACKED, str(PACK), {"manifest": "ab", "rows": [row], "listings": [listing]})
    return book


def delivered(action: str = "new") -> Book:
    book = packed(action)
    book.add(Happened.HANDING_OVER, str(PACK), {"destination": "out"})
    book.add(Happened.HANDED_OVER, str(PACK))
    return book


def test_a_pack_goes_from_packed_to_handed_over() -> None:
    state = packed().state()
    assert state.packs[PACK].progress is Progress.PACKED
    assert not state.frozen_days
    assert KEY in state.planned
    state = delivered().state()
    assert state.packs[PACK].progress is Progress.HANDED_OVER
    assert state.frozen_days == {PACK}
    assert state.sent == {(SKU, 1): PACK}
    assert state.existing == {SKU}
    assert state.listed[KEY].content == {"price": "9.95"}
    assert state.planned == {}


def test_a_hand_over_without_an_end_is_unsure_and_frozen() -> None:
    book = packed()
    book.add(Happened.HANDING_OVER, str(PACK), {"destination": "out"})
    state = book.state()
    assert state.packs[PACK].progress is Progress.HANDING_OVER
    assert state.frozen_days == {PACK}
    assert state.listed[KEY].standing is Standing.UNSURE
    assert state.existing == {SKU}  # the channel may have it


def test_a_person_settles_it_either_way_and_may_think_again() -> None:
    book = packed()
    book.add(Happened.HANDING_OVER, str(PACK))
    book.add(Happened.UNSURE, str(PACK))
    settled = book.add(Happened.SETTLED, str(PACK), {"happened": False})
    state = book.state()
    assert state.packs[PACK].progress is Progress.PACKED
    assert (state.listed, state.existing, state.frozen_days) == ({}, frozenset(), frozenset())
    book.add(Happened.UNDONE, str(PACK), undoes=settled)
    assert book.state().packs[PACK].progress is Progress.UNSURE
    book.add(Happened.SETTLED, str(PACK), {"happened": True})
    assert book.state().sent == {(SKU, 1): PACK}


def test_a_handed_over_day_is_frozen_for_every_later_row() -> None:
    book = delivered()
    book.add(Happened.PACKED, str(PACK), {"manifest": "cd", "rows": [], "listings": []})
    book.add(Happened.HANDING_OVER, str(PACK))
    state = book.state()
    assert state.packs[PACK].manifest == "ab"
    assert state.packs[PACK].progress is Progress.HANDED_OVER


def test_what_went_out_cannot_be_undone() -> None:
    book = delivered()
    before = book.state()
    for number in range(1, len(book.events) + 1):
        if book.events[number - 1].happened is not Happened.PLANNED:
            book.add(Happened.UNDONE, "", undoes=number)
    assert (book.state().sent, book.state().skus) == (before.sent, before.skus)


def test_undo_and_undo_of_undo() -> None:
    book = Book()
    planned = book.add(
        Happened.PLANNED, str(KEY), {**KEY.as_data(), "day": PACK.day, "action": "new", "revision": 1}
    )
    undo = book.add(Happened.UNDONE, str(KEY), undoes=planned)
    assert book.state().planned == {}
    book.add(Happened.UNDONE, str(KEY), undoes=undo)
    assert KEY in book.state().planned


def test_refused_then_accepted() -> None:
    book = delivered()
    book.add(Happened.REFUSED, SKU, {"reason": "title too loud"})
    state = book.state()
    assert (state.listed[KEY].standing, state.listed[KEY].why) == (Standing.REFUSED, "title too loud")
    assert state.existing == frozenset()
    book.add(Happened.ACCEPTED, SKU, {"identifier": "N-77"})
    state = book.state()
    assert state.listed[KEY].standing is Standing.LIVE
    assert state.identifiers == {SKU: "N-77"}
    assert state.existing == {SKU}


def test_adopted_listings_are_live_with_their_own_sku() -> None:
    book = Book()
    book.add(Happened.SKU_GIVEN, SKU, SkuKey("north", "bees", "MUG", "navy", "").as_data())
    data = {**SkuKey("north", "bees", "MUG", "navy", "").as_data(), "identifier": "N-1"}
    adopted = book.add(Happened.ADOPTED, "OLD-7", data)
    state = book.state()
    assert state.listed[KEY].standing is Standing.LIVE
    assert state.listed[KEY].adopted
    assert state.skus[SkuKey("north", "bees", "MUG", "navy", "")] == "OLD-7"
    assert state.identifiers == {"OLD-7": "N-1"}
    book.add(Happened.UNDONE, "OLD-7", undoes=adopted)
    assert book.state().listed == {}


def test_ends() -> None:
    state = delivered("end").state()
    assert state.listed[KEY].standing is Standing.ENDED
    assert state.existing == set()
    assert state.ended == {SKU}
    book = delivered()
    book.add(Happened.ENDED, str(KEY), KEY.as_data())
    assert book.state().listed[KEY].standing is Standing.ENDED
