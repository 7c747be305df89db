"""What could be listed: each design on each blank of each channel, judged, priced and worded."""

import hashlib
import re
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from functools import cached_property

from hundredfold.catalogue.blanks import Blank, BlankVariant
from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.settings import ShopSettings
from hundredfold.catalogue.values import unsaid
from hundredfold.designs.design import Design
from hundredfold.handoff.goods import GoodsFacts
from hundredfold.handoff.rows import ShopWords, tells_stock
from hundredfold.kernel.findings import Finding
from hundredfold.ledger.choices import on_channel
from hundredfold.ledger.keys import ListingKey
from hundredfold.ledger.state import LedgerState, Listed, Standing
from hundredfold.placement.layout import AreaLayout
from hundredfold.planning.listings import LOWEST_PRICE, Candidate
from hundredfold.planning.sizing import resting_of, rows_needed
from hundredfold.pricing.price import Price
from hundredfold.pricing.sale import coin
from hundredfold.proofing.designproof import DesignProof, usual_layout
from hundredfold.runner.recipes import canonical_json
from hundredfold.screening.blocked import blocked_findings
from hundredfold.wording.wording import NO_WORDING, Wording
from hundredfold.workshop.listing.prices import ChannelPrices, split_answers
from hundredfold.workshop.listing.texts import Texts, WordsWanted
from hundredfold.workshop.shop.folder import Shop
from hundredfold.workshop.shop.naming import nameless

_AMOUNT_CHARS = 16  # a longer text is a digest


@dataclass(frozen=True)
class Proof:
    """What listing needs of one design's proof on one blank.

    ``layouts`` are by variant size, ``colours`` those that passed, best first, ``best`` the marked ones;
    ``scores`` say how well the art sits on each of them, 0 to 1; ``overruled`` passed by the seller's word.
    """

    design: Design
    blank: Blank
    layouts: Mapping[str, AreaLayout]
    colours: tuple[str, ...] = ()
    best: tuple[str, ...] = ()
    scores: Mapping[str, float] = field(default_factory=dict)
    overruled: tuple[str, ...] = ()


@dataclass(frozen=True)
class Offer:
    """A listing that could go out."""

    key: ListingKey
    proof: Proof
    channel: Channel
    colours: tuple[str, ...]
    wording: Wording
    prices: Mapping[tuple[str, str], Price]  # by (colour, size)
    resting: Mapping[tuple[str, str], Price] = field(default_factory=dict)  # of a live listing, out of stock
    facts: str = ""  # digest of what the channel's tables say of the goods

    @property
    def design(self) -> Design:
        """Whose art it is."""
        return self.proof.design

    @property
    def blank(self) -> Blank:
        """What it is printed on."""
        return self.proof.blank

    @cached_property
    def content(self) -> Mapping[str, str]:
        """What the channel is told, in short: compared later to see whether a change is due."""
        every = {**self.prices, **self.resting}
        amounts = {f"{colour}/{size}": price.price.plain() for (colour, size), price in sorted(every.items())}
        different = sorted(set(amounts.values()))
        words = [
            self.wording.title,
            *self.wording.points,
            self.wording.story,
            *self.wording.search_words,
        ]
        for size, one in sorted(self.wording.sizes.items()):
            words += [size, one.title, *one.points, one.story, *one.search_words]
        content = {
            "art": self.design.facts.digest,
            "price": different[0] if len(different) == 1 else _digest(amounts),
            "wording": _digest(words),
            "facts": self.facts,
            "stock": _digest(sorted(self.resting)) if self.resting and tells_stock(self.channel) else "",
        }
        if len(different) > 1:
            content[LOWEST_PRICE] = self._cheapest().price.plain()
        return content

    def _cheapest(self) -> Price:
        every = {**self.prices, **self.resting}
        return min(every.values(), key=lambda price: price.price.amount)

    def candidate(self, told: Mapping[str, str]) -> Candidate:
        """What planning needs to know of it; ``told`` is what the channel was told of it last."""
        rows = rows_needed(self.blank, self.colours, self.channel)
        rows += len(self.resting) if tells_stock(self.channel) else 0
        return Candidate(
            self.key,
            self.colours,
            rows,
            content=self.content,
            name=self.design.title,
            variants=frozenset({**self.prices, **self.resting}),
            losing=self._losing(told) if told and self.prices else 0.0,
        )

    def _losing(self, told: Mapping[str, str]) -> float:
        """Coins that each sale at the lowest price the channel shows is short of the target by."""
        shown = told.get(LOWEST_PRICE, told.get("price", ""))
        cheapest = self._cheapest()
        if not re.fullmatch(r"[0-9]+(\.[0-9]+)?", shown) or len(shown) > _AMOUNT_CHARS:
            return 0.0  # a digest of several prices: not known
        coins = Decimal(shown) / coin(cheapest.price.currency)
        split = cheapest.sums.split(int(coins))
        return max(0.0, float(split.wanted - split.profit))


def _digest(value: object) -> str:
    return hashlib.sha256(canonical_json(value).encode()).hexdigest()


def short_proofs(proof: DesignProof, blanks: Sequence[Blank]) -> Iterator[Proof]:
    """A design's proof, blank by blank, without its findings: thousands are held at once."""
    design = proof.design
    if proof.stopped:
        yield from (Proof(design, blank, {}) for blank in blanks)
        return
    for found in proof.blanks:
        layouts = layouts_of(design, found.blank)
        listable = found.listable if len(layouts) == len(_sizes(found.blank)) else ()
        best = tuple(one.colour.code for one in found.colours if one.best and one.colour.code in listable)
        scores = {one.colour.code: one.score for one in found.colours if one.colour.code in listable}
        forced = tuple(
            one.colour.code for one in found.colours if one.overruled and one.colour.code in scores
        )
        yield Proof(design, found.blank, layouts, listable, best, scores, forced)


def _sizes(blank: Blank) -> tuple[str, ...]:
    return tuple(dict.fromkeys(variant.size for variant in blank.offered()))


def layouts_of(design: Design, blank: Blank) -> dict[str, AreaLayout]:
    """The usual layout of each size; a size without room for the art is left out."""
    laid = {size: usual_layout(design, blank, blank.areas_for(size)[0]) for size in _sizes(blank)}
    return {size: layout for size, layout in laid.items() if isinstance(layout, AreaLayout)}


def barred(shop: Shop, designs: Sequence[Design], blanks: Sequence[Blank]) -> dict[str, tuple[Finding, ...]]:
    """Designs (by path) and blanks (by code) that may not be listed for their words.

    Their words hold a phrase that the seller has blocked, or say nothing at all.
    """
    found = {d.path: _blocked(shop, d.path, d.title, d.keywords) for d in designs}
    found |= {b.code: _blocked(shop, b.code, b.name, b.words) for b in blanks}
    found |= {path: (finding,) for path, finding in nameless(designs).items()}
    return {item: findings for item, findings in found.items() if findings}


def allowed(proved: Iterable[Proof], held: Container[str], retired: Container[str]) -> tuple[Proof, ...]:
    """The proofs whose design and blank are both not held back, and whose design (by id) is not retired."""
    return tuple(
        one
        for one in proved
        if one.design.path not in held and one.blank.code not in held and one.design.id not in retired
    )


def _blocked(shop: Shop, item: str, name: str, words: Sequence[str]) -> tuple[Finding, ...]:
    texts = (("name", name), ("words", "\n".join(words)))
    return tuple(blocked_findings(item, texts, shop.blocked))


def offers(
    shop: Shop, proved: Sequence[Proof], state: LedgerState, when: date | None = None
) -> tuple[tuple[Offer, ...], tuple[Finding, ...]]:
    """A priced and worded offer for each proof that left a colour, in each channel that sells the blank.

    ``when`` is the day that the words are for: an occasion's phrases stand in its weeks only.
    """
    made: list[Offer] = []
    findings: list[Finding] = []
    texts = Texts(shop, state, when)
    for channel in shop.channels:
        here = _Channel(shop, channel, state)
        unworded = [found for judged in proved if (found := here.offer(judged)) is not None]
        words, wrong = texts.of_channel(channel, [wanted for wanted, _ in unworded])
        findings += [*here.findings, *wrong]
        made += [replace(o, wording=words[o.key].wording) for _, o in unworded if o.key in words]
    return tuple(made), tuple(dict.fromkeys(findings))


class _Channel:
    """What one channel can be offered, design by design; ``findings`` say why not."""

    def __init__(self, shop: Shop, channel: Channel, state: LedgerState) -> None:
        self._shop, self._channel, self._state = shop, channel, state
        self._sold = {blank.code for blank in shop.sold_on(channel)}
        self._prices = ChannelPrices(shop.settings, channel)
        self._with_resting = ChannelPrices(shop.settings, channel)
        self._untold: dict[str, tuple[Finding, ...]] = {}
        self._goods = GoodsFacts(channel, shop_words(shop))
        self.findings: list[Finding] = []

    def offer(self, judged: Proof) -> tuple[WordsWanted, Offer] | None:
        """A priced offer with what its words are to be of; None where there is none."""
        proof = replace(judged, blank=_taken(judged.blank, self._channel))
        key = ListingKey(self._channel.code, proof.design.id, proof.blank.code)
        colours = self._colours(proof, key)
        if not colours or proof.blank.code not in self._sold or self._leaves_unsaid(proof.blank):
            return None
        rests = () if key not in self._state.listed else resting_of(proof.blank, colours)
        blank = _as_listed(proof.blank, rests)
        prices = self._with_resting if rests else self._prices
        every, unpriced = split_answers(prices.of(blank, colours, proof.design))
        pairs = [(variant.colour, variant.size) for variant in rests]
        resting = {pair: every.pop(pair) for pair in pairs if pair in every}
        self.findings += unpriced
        if unpriced or not (every or (resting and tells_stock(self._channel))):
            return None
        facts = self._goods.digest(proof.design, proof.blank, [*every, *resting])
        offer = Offer(key, proof, self._channel, colours, NO_WORDING, every, resting, facts)
        return WordsWanted(key, proof.design, blank, colours), offer

    def _colours(self, proof: Proof, key: ListingKey) -> tuple[str, ...]:
        colours = _colours(proof, self._state.listed.get(key), self._shop.settings)
        colours = tuple(c for c in colours if not self._channel.colours or c in self._channel.colours)
        return on_channel(colours, proof.overruled, key, self._state.choices)

    def _leaves_unsaid(self, blank: Blank) -> bool:
        """Whether the channel asks for what nobody says of the blank."""
        if blank.code not in self._untold:
            found = unsaid(self._channel, blank, self._shop.settings.values, blank.offered())
            self._untold[blank.code] = tuple(found)
        self.findings += self._untold[blank.code]
        return bool(self._untold[blank.code])


def _taken(blank: Blank, channel: Channel) -> Blank:
    """The blank in the sizes that the channel takes."""
    if not channel.sizes:
        return blank
    return replace(blank, variants=tuple(v for v in blank.variants if v.size in channel.sizes))


def _as_listed(blank: Blank, resting: Sequence[BlankVariant]) -> Blank:
    """The blank as a live listing speaks of it: what is out of stock for now changes no word."""
    if not resting:
        return blank
    return replace(
        blank, variants=tuple(replace(v, in_stock=True) if v in resting else v for v in blank.variants)
    )


def shop_words(shop: Shop) -> ShopWords:
    """What rows say of the shop."""
    return ShopWords(shop.settings.name, dict(shop.settings.values))


def _colours(proof: Proof, listed: Listed | None, settings: ShopSettings) -> tuple[str, ...]:
    """The best few; a listing that is out already keeps the colours it has, less those that fail now.

    A ranking that shifts a little must not shuffle what buyers already see.
    """
    if listed is not None and listed.colours and listed.standing is not Standing.ENDED:
        offered = {variant.colour for variant in proof.blank.offered()}
        rests = {variant.colour for variant in resting_of(proof.blank, listed.colours)} - offered
        return tuple(colour for colour in listed.colours if colour in proof.colours or colour in rests)
    return proof.best if settings.colours_to_list else proof.colours


def endings(shop: Shop, state: LedgerState) -> dict[ListingKey, str]:
    """Live listings that have to end, with the reason: design retired, or blank no longer made at all."""
    known = {blank.code for blank in shop.blanks}
    gone = {blank.code for blank in shop.blanks if all(variant.discontinued for variant in blank.variants)}
    ends = {}
    for key, listed in state.listed.items():
        if listed.standing is Standing.LIVE and key.design in state.retired and key.blank in known:
            ends[key] = "the design is retired"
        elif listed.standing is Standing.LIVE and key.blank in gone:
            ends[key] = "the blank is discontinued"
    return ends


def ending_offer(shop: Shop, texts: Texts, design: Design, key: ListingKey) -> Offer:
    """What the end rows of a listing are written from: no colour, no price."""
    blank, channel = shop.blank(key.blank), shop.channel(key.channel)
    wording = texts.alone(WordsWanted(key, design, blank), channel)
    return Offer(key, Proof(design, blank, {}), channel, (), wording, {})
