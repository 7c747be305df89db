"""Bought barcodes: each is given once, stays with its goods, and is never used again."""

from hypothesis import given
from hypothesis import strategies as st

from hundredfold.ledger.decisions import STAYS
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import LASTING, fold
from hundredfold.ledger.give import give_barcodes
from hundredfold.ledger.keys import GoodsKey, ListingKey, PackKey, SkuKey
from hundredfold.ledger.marks import mark_of, rows_to_carry_over
from hundredfold.ledger.state import LedgerState, PackState, Progress, RowSent

goods = st.builds(GoodsKey, *[st.sampled_from(["a", "b", ""])] * 4)
BEES = GoodsKey("bees", "MUG", "navy", "")


@given(
    st.lists(st.lists(goods, max_size=12), max_size=5), st.lists(st.sampled_from("123456789"), max_size=12)
)
def test_month_after_month_each_is_given_once(months: list[list[GoodsKey]], bought: list[str]) -> None:
    events: list[Event] = []
    first: dict[GoodsKey, str] = {}
    for wanted in months:
        held, fresh = give_barcodes(wanted, fold(events), bought)
        events += fresh
        for key, barcode in held.items():
            assert first.setdefault(key, barcode) == barcode  # what it has it keeps
        assert set(held) <= set(wanted)
        if len(held) < len(set(wanted)):  # some went without: then nothing was left
            assert {event.subject for event in events} == set(bought)
    given_out = [event.subject for event in events]
    assert len(given_out) == len(set(given_out)) <= len(set(bought))
    assert given_out == list(dict.fromkeys(bought))[: len(given_out)]  # in the list's order


def test_a_given_barcode_is_a_fact_and_cannot_be_taken_back() -> None:
    assert Happened.BARCODE_GIVEN in LASTING & STAYS
    rows = [
        Event(Happened.BARCODE_GIVEN, "96385074", BEES.as_data(), 1, decision=1),
        Event(Happened.UNDONE, "96385074", {}, 2, undoes=1, decision=2),
    ]
    assert fold(rows).barcodes == {BEES: "96385074"}


def test_an_older_record_learns_from_a_mark_which_barcodes_went_out() -> None:
    key, listing = PackKey("north", "2027-01-01"), ListingKey("north", "bees", "MUG")
    sku = SkuKey("north", "bees", "MUG", "navy", "")
    pack = PackState(Progress.HANDED_OVER, "m", (RowSent("PG-1", 1, "new", listing),), ())
    state = LedgerState(owners={"PG-1": sku}, packs={key: pack}, barcodes={BEES: "96385074"})
    packed = Event(Happened.PACKED, str(key), {"manifest": "m"}, 3)
    mark = mark_of("shop", key, state, [packed])
    carried = rows_to_carry_over([mark], LedgerState())
    assert fold(carried[:2]).barcodes == {BEES: "96385074"}
    again = rows_to_carry_over([mark], LedgerState(barcodes={BEES: "96385074"}))
    assert Happened.BARCODE_GIVEN not in {row.happened for row in again}
