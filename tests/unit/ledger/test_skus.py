import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hundredfold.ledger.events import Happened
from hundredfold.ledger.fold import fold
from hundredfold.ledger.give import give_skus
from hundredfold.ledger.keys import SkuKey
from hundredfold.ledger.skus import new_sku, readable
from hundredfold.ledger.state import LedgerState

# Names that shorten alike, that are too long, and that hold no letter of ours; drawn whole, which is quick.
NAMES = (
    "navy", "Navy!", "nävy", "d" * 40, "d" * 41, "mug-325", "mug 325 ml", "a-b-c-d", "0042", "L", "北風",
    "👩🌾", "!!!", " ", "ﬁne", "-x-",
)  # fmt: skip
word = st.sampled_from(("", *NAMES))
name = st.sampled_from(NAMES)
keys = st.builds(SkuKey, name, name, word, word, word)


def test_a_sku_can_be_read() -> None:
    key = SkuKey("quayside-market", "proud-beekeeper", "MUG-325", "navy", "L")
    assert readable(key, "PG") == "PG-QM-PROUDBEEKEEPER-MUG325-NAVY-L"


def test_a_trailing_number_survives_shortening() -> None:
    key = SkuKey("quayside-market", "a-very-long-design-name-without-end-0042", "MUG-325", "navy", "XL")
    assert re.fullmatch(r"PG-QM-AVERY[A-Z]*0042-MUG325-NAVY-XL", readable(key, "PG"))


@given(st.lists(keys, max_size=10, unique=True), word)
def test_skus_are_unique_short_and_plain(wanted: list[SkuKey], prefix: str) -> None:
    given_, events = give_skus(wanted, LedgerState(), prefix)
    assert len(set(given_.values())) == len(wanted) == len(events)
    for sku in given_.values():
        assert re.fullmatch(r"[A-Z0-9]+(-[A-Z0-9]+)*", sku), sku
        assert len(sku) <= 40


def test_given_skus_stay_whatever_comes_later() -> None:
    first = SkuKey("q", "bees", "MUG", "navy", "")
    given_, events = give_skus([first], LedgerState(), "PG")
    again, more = give_skus([first, SkuKey("q", "bees", "MUG", "white", "")], fold(events), "ZZ")
    assert again[first] == given_[first] == "PG-Q-BEES-MUG-NAVY"
    assert [(e.happened, e.subject) for e in more] == [(Happened.SKU_GIVEN, "ZZ-Q-BEES-MUG-WHITE")]


def test_keys_that_shorten_alike_get_different_skus() -> None:
    one, two = SkuKey("q", "bee.s", "MUG", "", ""), SkuKey("q", "bees", "MUG", "", "")
    assert readable(one, "PG") == readable(two, "PG")
    assert re.fullmatch(r"PG-Q-BEES-MUG-[0-9A-HJKMNP-TV-Z]{3}", new_sku(two, "PG", {readable(one, "PG")}))


def test_each_sku_is_given_once_in_one_go_too() -> None:
    one, two = SkuKey("q", "bee.s", "MUG", "", ""), SkuKey("q", "bees", "MUG", "", "")
    given_, events = give_skus([one, two, one], LedgerState(), "PG")
    assert [event.subject for event in events] == [given_[one], given_[two]]
    assert given_[one] == readable(one, "PG") != given_[two]
    owned = LedgerState(owners={"PG-Q-BEES-MUG": one})
    assert give_skus([two], owned, "PG")[0][two] != "PG-Q-BEES-MUG"
    named = LedgerState(skus={one: "PG-Q-BEES-MUG"})
    assert give_skus([two], named, "PG")[0][two] != "PG-Q-BEES-MUG"


@pytest.mark.parametrize(
    ("key", "sku"),
    [
        (SkuKey("n", "!!!", "MUG", "", ""), "PG-N-X-MUG"),  # a design without letters has a place
        # forty characters just hold all; one more, and the rest is cut so that eight of the design stay
        (SkuKey("north", "abcdefgh", "B" * 14, "C" * 5, "S" * 4), f"PG-NO-ABCDEFGH-{'B' * 14}-CCCCC-SSSS"),
        (SkuKey("north", "abcdefgh", "B" * 14, "C" * 7, "S" * 4), f"PG-NO-ABCDEFGH-{'B' * 12}-CCCCCCC-SSSS"),
        (SkuKey("north", "abcdefgh", "B" * 14, "C" * 7, "S" * 5), f"PG-NO-ABCDEFGH-{'B' * 9}-CCCCCC-SSSS"),
        (SkuKey("n", "d" * 90, "M" * 20, "c" * 20, "ABCDEFGHI1"), f"PG-N-{'D' * 13}-{'M' * 9}-CCCCCC-ABC1"),
        (SkuKey("n", "d" * 90, "M" * 20, "c" * 20, "ABCDEFGHI12"), f"PG-N-{'D' * 13}-{'M' * 9}-CCCCCC-ABCD"),
    ],
)
def test_what_is_cut_and_what_stays(key: SkuKey, sku: str) -> None:
    assert readable(key, "PG") == sku
