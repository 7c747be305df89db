"""A pack's key names each part that its bytes follow from, the channel's own words among them."""

from dataclasses import replace
from datetime import timedelta

import pytest
from goods import TinyPack, channel, design, mug

from hundredfold.handoff.writing import PackOrder
from hundredfold.runner.recipes import differences
from hundredfold.workshop.month.packing import recipe_of


@pytest.fixture
def order() -> PackOrder:
    pack = TinyPack(channel())
    pack.add(design(), mug())
    return pack.order([mug()])


def changed(order: PackOrder, what: str) -> PackOrder:
    first = order.rows[0]
    if what == "channel":
        return replace(order, channel=replace(order.channel, note="new words for the partner"))
    if what == "sheet":
        return replace(
            order, channel=replace(order.channel, sheet=replace(order.channel.sheet, worksheet="Goods"))
        )
    if what == "row":
        return replace(order, rows=(replace(first, revision=first.revision + 1), *order.rows[1:]))
    if what == "member":
        name, member = next(iter(sorted(order.members.items())))
        return replace(order, members={**order.members, name: replace(member, sha256="0" * 64)})
    return replace(order, day=order.day + timedelta(1))


@pytest.mark.parametrize(
    ("what", "said"),
    [
        ("channel", "channel note"),
        ("sheet", "channel sheet"),
        ("row", "rows "),
        ("member", "member "),
        ("day", "day: "),
    ],
)
def test_each_part_of_a_pack_counts_and_is_told(order: PackOrder, what: str, said: str) -> None:
    before, after = recipe_of(order), recipe_of(changed(order, what))
    assert before.key() != after.key()
    (reason,) = differences(before, after)
    assert reason.startswith(said), reason
