"""How long prices take: 50,000 listings of 10 variants in a channel with every fee; what sharing saves.

    python -m benchmarks.prices

Prints CPU seconds. ``one by one`` prices a sample of the variants anew each, for the ratio.
"""

import sys
import time
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "support"))

from brute_prices import as_records
from fee_sets import Dice, draw
from goods import design

from hundredfold.catalogue.blanks import Blank, BlankColour, BlankVariant
from hundredfold.catalogue.settings import ShopSettings, TargetRule
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.money import Money
from hundredfold.pricing.asking import asked_for
from hundredfold.pricing.price import price_for
from hundredfold.workshop.listing.prices import ChannelPrices

LISTINGS, COLOURS, SIZES, SAMPLE = 50_000, 5, ("S", "M"), 2_000
NICHES = [f"niche-{number}" for number in range(40)]


def wide(blank: Blank) -> Blank:
    """The blank in 10 variants, each at a cost of its own."""
    base = blank.variants[0].base_cost
    colours = tuple(BlankColour(f"c{n}", f"Colour {n}", Srgb(n, n, n)) for n in range(COLOURS))
    variants = tuple(
        BlankVariant(colour.code, size, f"{colour.code}-{size}", Money(base.amount + n, base.currency))
        for n, colour in enumerate(colours)
        for size in SIZES
    )
    return replace(blank, colours=colours, variants=variants)


def priced(settings: ShopSettings, blank: Blank, book: ChannelPrices) -> float:
    """CPU seconds for all listings; niches take turns."""
    designs = [replace(design(), niche=niche) for niche in NICHES]
    colours = [colour.code for colour in blank.colours]
    start = time.process_time()
    for number in range(LISTINGS):
        book.of(blank, colours, designs[number % len(designs)])
    return time.process_time() - start


def main() -> None:
    """Measure and print."""
    dice = Dice(3)
    while len((drawn := draw(dice)).tiers) < 3 or not drawn.rate or len(drawn.destinations) < 3:
        pass
    blank, settings, channel = as_records(drawn)
    settings, blank = replace(settings, targets=()), wide(blank)
    one = priced(settings, blank, ChannelPrices(settings, channel))
    rules = tuple(
        TargetRule(niche=niche, profit=Money(Decimal(n), settings.currency)) for n, niche in enumerate(NICHES)
    )
    many = replace(settings, targets=rules)
    by_niche = priced(many, blank, ChannelPrices(many, channel))
    target = ChannelPrices(settings, channel).targets(blank)
    start = time.process_time()
    for number in range(SAMPLE):
        variant = blank.variants[number % len(blank.variants)]
        price_for(asked_for(blank, variant, settings, channel, target[variant.size]))
    each = (time.process_time() - start) / SAMPLE
    variants = LISTINGS * COLOURS * len(SIZES)
    print(f"{LISTINGS} listings x {COLOURS * len(SIZES)} variants, one target: {one:.2f} s CPU")
    print(f"{LISTINGS} listings, a target a niche ({len(NICHES)}): {by_niche:.2f} s CPU")
    whole = each * variants
    print(f"one by one: {each * 1e6:.0f} us a variant, {whole:.0f} s for all; {whole / one:.0f} x")


if __name__ == "__main__":
    main()
