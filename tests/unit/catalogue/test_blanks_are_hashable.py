"""Pictures keep what they worked out for a blank under the blank itself."""

from goods import mug, shirt


def test_a_blank_can_be_a_key() -> None:
    assert {mug(): "mug", shirt(): "shirt"}[mug()] == "mug"
