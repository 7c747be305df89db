"""What waits for the seller, from what a run found."""

from hundredfold.workshop.records.common import FindingRecord
from hundredfold.workshop.views.proofsums import in_short
from hundredfold.workshop.views.waiting import SettledAt, _of_run


def found(item: str, severity: str = "stop", what: str = "it could not be made") -> FindingRecord:
    return FindingRecord("shop/not-made", "failed", severity, item, what, "mend it", {})


def test_many_of_a_kind_are_one_thing_that_waits() -> None:
    (one,) = _of_run([found(f"designs/bee.png on MUG, {n}") for n in range(479)], {"designs/bee.png": "BEE"})
    assert one.name == "479 things alike"
    assert "designs/bee.png on MUG, 0" in one.sentence
    assert (one.design, one.place) == ("BEE", SettledAt.DESIGN)


def test_what_says_something_else_waits_by_itself() -> None:
    both = [*_of_run([found("a"), found("b", what="the disk was full")], {})]
    assert [one.name for one in both] == ["a", "b"]


def test_a_sentence_names_the_first_of_its_places() -> None:
    long = "It is lost, at worst on Mug in Navy; also on Shirt in Black; Bag in Navy."
    assert in_short(long) == "It is lost, at worst on Mug in Navy."
    every = (
        "It is lost: every colour of Cushion, Enamel mug, Ceramic mug, Towel; Bag in Natural; Mug in Sand."
    )
    assert in_short(every).endswith("Towel and 2 more.")
