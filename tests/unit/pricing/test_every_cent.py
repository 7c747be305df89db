"""Least prices against trying every cent in whole numbers, with every fee, tax and target drawn at random."""

from dataclasses import asdict

import pytest
from brute_prices import brute, ours
from fee_sets import HIGHEST, LOWEST, Dice, Drawn, draw

SAMPLE, PARTS = 600, 12
MILLION = 1_000_000


def compare(seed: int, sets: int) -> tuple[list[int], dict[str, set[object]]]:
    """The prices found, and which values each drawn feature had. Any mismatch fails, with its set."""
    dice = Dice(seed)
    prices: list[int] = []
    seen: dict[str, set[object]] = {}
    for number in range(sets):
        drawn = draw(dice)
        expected = brute(drawn)
        assert ours(drawn) == expected, (number, drawn)
        prices += [price for price in expected if price is not None]
        if number < SAMPLE:
            note(drawn, seen)
    return prices, seen


def note(drawn: Drawn, seen: dict[str, set[object]]) -> None:
    for name, value in asdict(drawn).items():
        seen.setdefault(name, set()).add(value if isinstance(value, bool | str) else bool(value))
    for _, inside, who, _ in drawn.destinations:
        seen.setdefault("tax", set()).add((inside, who))


def check(prices: list[int], seen: dict[str, set[object]]) -> None:
    assert min(prices) < LOWEST
    assert max(prices) > HIGHEST * 0.8
    assert len(seen["tax"]) == 6
    flags = ("by_whole", "on_postage", "on_tax", "pay_on_tax", "registered", "cost_tax_inside", "forward")
    assert all(seen[name] == {True, False} for name in flags)
    sums = (
        "side", "packaging", "cost_tax", "rate", "spread", "target", "share", "minimum", "fixed", "fee_tax",
        "pay_rate", "pay_fixed", "advert_amount", "advert_share", "returns", "floor", "ruled",
    )  # fmt: skip
    assert all(seen[name] == {True, False} for name in sums)
    assert len(seen["ending"]) == 7


@pytest.mark.parametrize("part", range(PARTS))
def test_a_part_of_the_sample(part: int) -> None:
    compare(part, SAMPLE // PARTS)


def test_the_sample_has_everything_in_it() -> None:
    prices: list[int] = []
    seen: dict[str, set[object]] = {}
    for part in range(PARTS):
        dice = Dice(part)
        for _ in range(SAMPLE // PARTS):
            drawn = draw(dice)
            note(drawn, seen)
            prices += [price for price in ours(drawn) if price is not None]
    check(prices, seen)


@pytest.mark.big
def test_a_million() -> None:
    prices, seen = compare(seed=20261130, sets=MILLION)
    check(prices, seen)
    print(f"{MILLION} sets, {len(prices)} prices from {min(prices)} to {max(prices)} cents, no mismatch")  # noqa: T201
