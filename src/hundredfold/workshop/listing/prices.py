"""What each variant must cost in each channel, in that channel's currency."""

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from hundredfold.catalogue.blanks import Blank, BlankVariant
from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.settings import ShopSettings
from hundredfold.designs.design import Design
from hundredfold.kernel.findings import Finding
from hundredfold.kernel.money import Money
from hundredfold.planning.sizing import variants_of
from hundredfold.pricing.asking import asked_for
from hundredfold.pricing.price import Price, price_at
from hundredfold.pricing.sizes import Targets, prices_of, targets_for


@dataclass(frozen=True)
class Priced:
    """A variant in a channel: its price with the working, or the finding that says why there is none."""

    blank: Blank
    channel: Channel
    variant: BlankVariant
    answer: Price | Finding


def price_all(
    settings: ShopSettings, blanks: Iterable[Blank], channels: Sequence[Channel], design: Design | None = None
) -> Iterator[Priced]:
    """Every offered variant of the blanks in every channel that sells it, in that order."""
    books = [ChannelPrices(settings, channel) for channel in channels]
    for blank in blanks:
        for book in books:
            if not book.channel.blanks or blank.code in book.channel.blanks:
                colours = tuple(dict.fromkeys(variant.colour for variant in blank.offered()))
                answers = book.of(blank, colours, design)
                for variant in blank.offered():
                    yield Priced(blank, book.channel, variant, answers[variant.colour, variant.size])


def price_all_at(
    settings: ShopSettings, blank: Blank, channels: Iterable[Channel], amount: str
) -> tuple[tuple[Priced, ...], list[Finding]]:
    """What one price of the seller's own, in each channel's currency, leaves of the blank's variants.

    Raises ShopError ``bad-amount``.
    """
    priced: list[Priced] = []
    findings: dict[tuple[str, str], Finding] = {}  # once a channel, where variants cost the same
    for channel in channels:
        if not channel.blanks or blank.code in channel.blanks:
            targets = ChannelPrices(settings, channel).targets(blank)
            for variant in blank.offered():
                asked = asked_for(blank, variant, settings, channel, targets[variant.size])
                answer, finding = price_at(asked, Money.parse(amount, channel.currency))
                priced.append(Priced(blank, channel, variant, answer))
                if finding:
                    item = f"{blank.code} in {channel.code}"
                    findings[channel.code, finding.what] = replace(finding, item=item)
    return tuple(priced), list(findings.values())


class ChannelPrices:
    """Prices of one channel, each worked out once: most designs want the same of a blank."""

    def __init__(self, settings: ShopSettings, channel: Channel) -> None:
        self.channel = channel
        self._settings = settings
        self._by_niche = any(rule.niche for rule in settings.targets)
        self._by_design = any(rule.design for rule in settings.targets)
        self._known: dict[tuple[object, ...], dict[str, Price | Finding]] = {}
        self._targets: dict[tuple[str, str, str], Targets] = {}

    def of(
        self, blank: Blank, colours: Container[str], design: Design | None = None
    ) -> dict[tuple[str, str], Price | Finding]:
        """By colour and size, in the blank's order; for the design's targets where one is given."""
        targets = self.targets(blank, design)
        wanted = tuple((size, target.amount.amount, target.share) for size, target in targets.items())
        found: dict[tuple[str, str], Price | Finding] = {}
        for variant in variants_of(blank, colours):
            key = (blank.code, variant.colour, wanted)
            answers = self._known.get(key)
            if answers is None:
                answers = prices_of(blank, variant.colour, self._settings, self.channel, targets)
                self._known[key] = answers
            found[variant.colour, variant.size] = answers[variant.size]
        return found

    def targets(self, blank: Blank, design: Design | None = None) -> Targets:
        """What is wanted of each size of a blank."""
        niche = design.niche if design and self._by_niche else ""
        name = design.path.rpartition("/")[2] if design and self._by_design else ""
        key = (blank.code, niche, name)
        if key not in self._targets:
            self._targets[key] = targets_for(self._settings, self.channel, blank, niche, name)
        return self._targets[key]


def split_answers(
    answers: Mapping[tuple[str, str], Price | Finding],
) -> tuple[dict[tuple[str, str], Price], list[Finding]]:
    """The prices, and the findings that say why there are none."""
    prices = {pair: answer for pair, answer in answers.items() if isinstance(answer, Price)}
    return prices, [answer for answer in answers.values() if isinstance(answer, Finding)]
