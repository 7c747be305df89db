"""Values of the seller's own about goods (origin, weight, customs code, maker) and where each is said.

What the law of a place asks a listing to say is among them. Which of these are needed, and in which words,
local rules decide: the program only tells what is missing of the names a channel wants, and never certifies.
"""

from collections.abc import Iterator, Mapping, Sequence

from hundredfold.catalogue.blanks import Blank, BlankVariant
from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.valueforms import KNOWN
from hundredfold.kernel.checks import CheckRecord
from hundredfold.kernel.findings import Finding, Severity

MUST_SAY = CheckRecord(
    id="catalogue/must-say",
    title="What a channel asks every listing to say is known of the blank.",
    looks_at="the [values] of shop, channel, blank, colour, size and variant, beside the channel's must_say",
    codes={"unsaid": Severity.STOP},
    why="Maker, origin, fibre content or safety lines that are missing cost the listing, and can break the "
    "law where it is sold.",
    example="A channel that asks for the country of origin, and a mug whose file has none.",
    fix="Write it under [values] in the blank's file, the channel's or shop.toml.",
    known_limits="Knows which names the channel's file asks for, not the law: local rules decide what a "
    "listing must say, and in which words.",
    source="the channel's file; the law of the place you sell to",
)
CAUTION = (
    "which of these a listing must say, and in which words, local rules decide; ask the trade body or the "
    "authority of the place you sell to"
)


def own_values(
    shop: Mapping[str, str], channel: Channel, blank: Blank, variant: BlankVariant | None
) -> dict[str, str]:
    """The values of one variant on one channel: the more special place wins.

    From the general to the special: the shop, the channel, the blank, its colour, its size, the variant.
    """
    found = {**shop, **channel.values, **dict(blank.values)}
    if variant is not None:
        found |= dict(next((c.values for c in blank.colours if c.code == variant.colour), ()))
        found |= dict(next((s.values for s in blank.sizes if s.size == variant.size), ()))
        found |= dict(variant.values)
    return {name: value for name, value in found.items() if value}


def unsaid(
    channel: Channel, blank: Blank, shop: Mapping[str, str], variants: Sequence[BlankVariant]
) -> Iterator[Finding]:
    """A stop for each value the channel asks for that a blank's variants lack, told once a blank."""
    lacking: dict[str, list[str]] = {}
    for variant in variants:
        values = own_values(shop, channel, blank, variant)
        for name in channel.must_say:
            if name not in values:
                lacking.setdefault(name, []).append(variant.partner_code)
    for name, codes in lacking.items():
        whole = len(codes) == len(variants)
        item = f"{blank.code} on {channel.code}" + ("" if whole else f", {', '.join(codes[:3])}")
        what = f"nothing says its {name}, which {channel.name} asks for"
        about = KNOWN.get(name, "a value of your own")
        fix = f"write {name!r} under [values] in the file of the blank or channel, or in shop.toml ({about})"
        fix = f"{fix}; {CAUTION}"
        yield MUST_SAY.finds("unsaid", item, what, fix)
