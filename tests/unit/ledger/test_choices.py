"""Which choice decides: the most exact one, and what a channel may have."""

from hundredfold.ledger.choices import Answer, Choice, ChoiceKey, on_channel, refused
from hundredfold.ledger.keys import ListingKey

LISTING = ListingKey("quayside", "D", "TEE")


def standing(*rows: tuple[tuple[str, str, str], Answer]) -> dict[ChoiceKey, Choice]:
    keys = {ChoiceKey("D", *where): answer for where, answer in rows}
    return {key: Choice(key, answer) for key, answer in keys.items()}


def test_the_most_exact_choice_decides() -> None:
    choices = standing((("", "", ""), Answer.REFUSE), (("TEE", "", ""), Answer.ALLOW))
    assert refused(choices, ChoiceKey("D", "MUG", "white"))
    assert not refused(choices, ChoiceKey("D", "TEE", "white"))
    assert not refused(choices, ChoiceKey("E", "MUG", "white"))


def test_refused_on_one_channel_is_refused_there_alone() -> None:
    choices = standing((("TEE", "black", "quayside"), Answer.REFUSE), (("", "red", ""), Answer.REFUSE))
    assert on_channel(("white", "black", "red"), (), LISTING, choices) == ("white",)
    elsewhere = ListingKey("north", "D", "TEE")
    assert on_channel(("white", "black", "red"), (), elsewhere, choices) == ("white", "black")


def test_what_passed_by_a_word_goes_only_where_the_word_was_given() -> None:
    choices = standing((("TEE", "black", "quayside"), Answer.ALLOW))
    assert on_channel(("white", "black"), ("black",), LISTING, choices) == ("white", "black")
    assert on_channel(("white", "black"), ("black",), ListingKey("north", "D", "TEE"), choices) == ("white",)
