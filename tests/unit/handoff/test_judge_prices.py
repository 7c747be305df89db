"""The judge of prices, on frozen terms with every fee and tax drawn at random, against trying every cent."""

import json
from collections.abc import Iterator

import pytest
from brute_prices import NAMES, as_records, brute
from fee_sets import Dice, Drawn, draw

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.settings import ShopSettings
from hundredfold.handoff.judge_prices import judge_prices
from hundredfold.handoff.manifest_shape import Manifest
from hundredfold.handoff.terms import Terms, Wanted, variant_costs
from hundredfold.kernel.findings import Finding
from hundredfold.pricing.asking import usual_target
from hundredfold.pricing.sizes import targets_for

DESIGN = "d-1"


def terms_of(blank: Blank, settings: ShopSettings, to: Channel) -> Terms:
    targets = targets_for(settings, to, blank, NAMES[1], NAMES[0])
    wanted = tuple(Wanted(DESIGN, blank.code, size, target) for size, target in targets.items())
    every = {(blank.code, variant.colour, variant.size) for variant in blank.variants}
    return Terms(
        to, usual_target(settings, to), tuple(variant_costs(blank, every)), (blank,), settings.rates, wanted,
        settings.tax_registered,
    )  # fmt: skip


def row(size: str, cents: int) -> dict[str, object]:
    return {
        "action": "new", "revision": 1, "sku": f"SKU-{size}", "role": "single", "design": DESIGN,
        "blank": NAMES[3], "colour": "white", "size": size, "price": f"{cents / 100:.2f}",
        "currency": "GBP", "artwork": {}, "pictures": [], "part": 1, "line": 2, "lines": 1,
        "in_stock": True, "cells": "0" * 64,
    }  # fmt: skip


def judged(terms: Terms, rows: list[dict[str, object]]) -> list[Finding]:
    text = json.dumps(
        {
            "format": 1, "channel": terms.channel.code, "date": "2026-12-01", "terms": terms.as_json(),
            "parts": [], "rows": rows, "sha256": "0" * 64,
        }
    )  # fmt: skip
    return list(judge_prices(Manifest.model_validate(json.loads(text))))


def drawn_and_priced(seed: int, sets: int) -> Iterator[tuple[Drawn, Terms, list[int]]]:
    dice = Dice(seed)
    for _ in range(sets):
        drawn = draw(dice)
        prices = brute(drawn)
        if None not in prices:
            yield drawn, terms_of(*as_records(drawn)), [price for price in prices if price is not None]


@pytest.mark.parametrize("seed", range(30, 38))
def test_right_prices_pass_and_the_next_ones_do_not(seed: int) -> None:
    """Every least price passes; the next lower and the next higher with the same ending are named."""
    told: set[str] = set()
    for drawn, terms, prices in drawn_and_priced(seed, sets=12):
        sizes = "AB"[: len(prices)]
        good = [row(size, price) for size, price in zip(sizes, prices, strict=True)]
        assert judged(terms, good) == [], drawn
        step = 10 ** len(drawn.ending)
        for by in (step, -step):
            cents = prices[0] + by
            if cents > 0:
                codes = {found.code for found in judged(terms, [row("A", cents)])} - {"above-ceiling"}
                expected = {"above-least"} if by > 0 else {"below-target", "below-floor"}
                assert codes, (drawn, cents)
                assert codes <= expected | {"below-target"}, (drawn, cents, codes)
                told |= codes
    assert {"above-least", "below-target"} <= told


def test_a_larger_size_under_the_smaller_one_is_named() -> None:
    seen = 0
    for drawn, terms, prices in drawn_and_priced(seed=12, sets=200):
        if len(prices) == 2 and drawn.bases[1] < drawn.bases[0] / 2 and not drawn.floor:
            cheaper = prices[1] - 10 ** len(drawn.ending)
            codes = {found.code for found in judged(terms, [row("B", cheaper)])} if cheaper > 0 else set()
            seen += codes == {"below-floor"}
    assert seen >= 3


def test_terms_without_a_rate_for_the_cost_are_named() -> None:
    for drawn, terms, prices in drawn_and_priced(seed=13, sets=20):
        if drawn.rate:
            bare = Terms(terms.channel, terms.target, terms.costs, terms.blanks, {}, terms.wanted)
            (found,) = judged(bare, [row("A", prices[0])])
            assert found.code == "no-rate"
            return
    raise AssertionError("no set had another currency")
