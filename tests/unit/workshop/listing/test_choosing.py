"""The seller's own yes or no."""

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from goods import design, mug

from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.choices import Answer, Choice, ChoiceKey, on_channel, refused
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import fold
from hundredfold.ledger.keys import ListingKey
from hundredfold.workshop.listing.choices import choose, chosen
from hundredfold.workshop.listing.offers import Proof
from hundredfold.workshop.shop.desk import desk
from hundredfold.workshop.shop.history import undo
from hundredfold.workshop.shop.newshop import new_shop

NO, YES, OPEN = Answer.REFUSE, Answer.ALLOW, Answer.OPEN


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    new_shop(tmp_path / "shop", sample=True)
    with desk(tmp_path / "shop", "test") as opened:
        opened.store.append([Event(Happened.DESIGN_SEEN, "BEE", {"path": "designs/bee.png", "digest": "0"})])
    return tmp_path / "shop"


def standing(shop: Path) -> dict[ChoiceKey, Answer]:
    with desk(shop, "") as opened:
        return {key: one.answer for key, one in opened.ledger().choices.items()}


def test_choices_made_together_are_one_decision_and_one_undo(shop: Path) -> None:
    keys = [ChoiceKey("BEE", "MUG-325", colour) for colour in ("white", "cream")]
    number = choose(shop, [Choice(key, NO, "too pale") for key in keys])
    assert standing(shop) == dict.fromkeys(keys, NO)
    undo(shop, [number])
    assert standing(shop) == {}


def test_open_leaves_the_thing_to_the_proof_again(shop: Path) -> None:
    key = ChoiceKey("BEE", "MUG-325")
    choose(shop, [Choice(key, NO)])
    choose(shop, [Choice(key, OPEN)])
    assert standing(shop) == {}


@pytest.mark.parametrize(
    ("key", "slug"),
    [
        (ChoiceKey("GNU", "MUG-325"), "unknown-design"),
        (ChoiceKey("BEE", "MUG-1"), "unknown-blank"),
        (ChoiceKey("BEE", "MUG-325", "puce"), "unknown-colour"),
        (ChoiceKey("BEE", "", "", "nowhere"), "unknown-channel"),
    ],
)
def test_a_choice_on_what_is_not_there_is_refused_whole(shop: Path, key: ChoiceKey, slug: str) -> None:
    with pytest.raises(ShopError) as caught:
        choose(shop, [Choice(ChoiceKey("BEE", "MUG-325"), NO), Choice(key, NO)])
    assert caught.value.slug == slug
    assert standing(shop) == {}


def test_the_most_exact_choice_decides() -> None:
    every, blank, colour = ChoiceKey("D"), ChoiceKey("D", "M"), ChoiceKey("D", "M", "red")
    choices = {every: Choice(every, NO), blank: Choice(blank, YES), colour: Choice(colour, NO)}
    assert refused(choices, colour)
    assert not refused(choices, ChoiceKey("D", "M", "blue"))
    assert refused(choices, ChoiceKey("D", "T", "blue"))
    assert not refused(choices, ChoiceKey("E", "M", "red"))


def test_a_refused_colour_leaves_the_month() -> None:
    proof = Proof(design(), mug(), {}, ("white", "navy"), ("navy",), {})
    key = ChoiceKey(proof.design.id, proof.blank.code, "navy")
    (kept,) = chosen([proof], {key: Choice(key, NO)})
    assert (kept.colours, kept.best) == (("white",), ())
    assert [*chosen([proof], {})] == [proof]


def test_a_yes_on_one_channel_stands_against_a_no_everywhere() -> None:
    """The more exact word decides; what the other channels may have is told channel by channel."""
    proof = Proof(design(), mug(), {}, ("white", "navy"), ("navy",), {})
    one = ChoiceKey(proof.design.id)
    everywhere = {one: Choice(one, NO)}
    assert [kept.colours for kept in chosen([proof], everywhere)] == [()]
    for there, colours in (
        (one._replace(channel="quayside"), ("white", "navy")),
        (one._replace(blank="MUG-325", colour="navy", channel="quayside"), ("navy",)),
        (one._replace(colour="white", channel="quayside"), ("white",)),
        (one._replace(blank="TEE", channel="quayside"), ()),
        (one._replace(design="another", channel="quayside"), ()),
    ):
        choices = {**everywhere, there: Choice(there, YES)}
        assert [kept.colours for kept in chosen([proof], choices)] == [colours], there
        for channel, listed in (("quayside", colours), ("north", ())):
            key = ListingKey(channel, proof.design.id, "MUG-325")
            assert on_channel(colours, (), key, choices) == listed
    no_there = one._replace(channel="quayside")
    (kept,) = chosen([proof], {no_there: Choice(no_there, NO)})
    assert kept is proof
    key = ListingKey("quayside", proof.design.id, "MUG-325")
    assert on_channel(proof.colours, (), key, {no_there: Choice(no_there, NO)}) == ()


def test_choices_are_folded_from_the_ledgers_rows() -> None:
    choice = Choice(ChoiceKey("D", "M", "red"), NO, "why")
    row = Event(Happened.CHOSEN, "D", choice.as_data(), number=1)
    assert fold([row]).choices == {choice.key: choice}


def test_two_windows_that_decide_at_once_both_get_their_turn(shop: Path) -> None:
    colours = ("white", "cream", "sky", "sage")
    with ThreadPoolExecutor(4) as windows:
        keys = [ChoiceKey("BEE", "MUG-325", colour) for colour in colours]
        numbers = [*windows.map(lambda key: choose(shop, [Choice(key, NO)]), keys)]
    assert len(set(numbers)) == len(colours)
    assert set(standing(shop)) == set(keys)
