"""A shop's month up to the plan: gathered, proved, offered, planned, numbered."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import partial

from hundredfold.handoff.rows import sku_keys
from hundredfold.kernel.counting import counted
from hundredfold.kernel.findings import Finding
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.give import give_skus
from hundredfold.ledger.keys import GoodsKey, ListingKey, SkuKey
from hundredfold.ledger.state import LedgerState
from hundredfold.planning.listings import Action, Plan
from hundredfold.planning.month import held_back, plan_month, planned_events
from hundredfold.runner.running import Runner
from hundredfold.runner.tasks import Counts, Failed
from hundredfold.workshop.handover.retiring import missing_design, missing_findings, retired_findings
from hundredfold.workshop.listing.choices import chosen
from hundredfold.workshop.listing.lightdark import better_versions
from hundredfold.workshop.listing.offers import (
    Offer,
    Proof,
    allowed,
    barred,
    ending_offer,
    endings,
    offers,
)
from hundredfold.workshop.listing.texts import Texts
from hundredfold.workshop.month.barcodes import barcodes_for
from hundredfold.workshop.month.packing import PackDone
from hundredfold.workshop.proof.listable import judge_all
from hundredfold.workshop.proof.onedesign import asked_of, once_a_blank, read_all, sold_blanks
from hundredfold.workshop.proof.printsizes import print_sizes
from hundredfold.workshop.shop.bench import Bench
from hundredfold.workshop.shop.checks import NOT_MADE
from hundredfold.workshop.shop.folder import Shop
from hundredfold.workshop.shop.stillmissing import still_missing
from hundredfold.workshop.steps.gathering import Gathered, gather
from hundredfold.workshop.steps.identity import known_designs
from hundredfold.workshop.steps.soundcache import with_sound_cache


@dataclass(frozen=True)
class Telling:
    """What the caller hears while the month is prepared."""

    stage: Callable[[str], None] = lambda _: None
    progress: Callable[[int, int], None] = lambda _done, _all: None
    pack_done: Callable[[PackDone], None] = lambda _: None


SILENT = Telling()


@dataclass(frozen=True)
class Prepared:
    """A shop's month up to the plan."""

    gathered: Gathered
    proved: tuple[Proof, ...]
    offers: Mapping[ListingKey, Offer]
    plan: Plan
    state: LedgerState
    skus: Mapping[SkuKey, str]
    barcodes: Mapping[GoodsKey, str]
    findings: tuple[Finding, ...]
    counts: Counts


def prepare(
    bench: Bench,
    runner: Runner,
    start: date,
    days: int,
    telling: Telling = SILENT,
    look_only: bool = False,
) -> Prepared:
    """Gather, proof, price, word and plan; the plan and new SKUs are noted in the ledger.

    With ``look_only`` they are not: the plan that stands, and packs made by it, stay as they are. Raises
    ShopError ``cache-rotten``.
    """
    work = partial(_prepare, bench, runner, start, days, telling, look_only)
    return with_sound_cache(bench.vault, work, telling.stage)


def _prepare(
    bench: Bench, runner: Runner, start: date, days: int, telling: Telling, look_only: bool
) -> Prepared:
    telling.stage("reading designs")
    gathered = gather(bench, runner, telling.progress)
    shop = bench.shop
    telling.stage("judging every design on every blank")
    state = bench.ledger()
    blanks, asked = sold_blanks(shop), asked_of(shop)
    readings, counts = read_all(runner, gathered, blanks, asked, telling.progress)
    sizes, weighed = print_sizes(bench, runner, gathered, blanks, telling.progress)
    bench.vault.check_read()
    held = barred(shop, gathered.designs, blanks)
    proved, judged = judge_all(bench, runner, gathered, readings, sizes, blanks, asked, telling.progress)
    bench.vault.check_read()
    kept_to = tuple(chosen(allowed(proved, held, state.retired), state.choices))
    may_go = better_versions(kept_to, state.listed)
    offered, unpriced = offers(shop, may_go, state, start)
    told = {key: listed.content for key, listed in state.listed.items()}
    candidates = [offer.candidate(told.get(offer.key, {})) for offer in offered]
    plan = plan_month(candidates, shop.channels, state, start, days, endings(shop, state))
    by_key = {offer.key: offer for offer in offered} | _end_offers(bench, gathered, plan, state)
    barcodes = barcodes_for(shop, plan.listings, state)
    skus = _numbered(bench, plan, state, barcodes.events, look_only)
    stopped = (finding for findings in held.values() for finding in findings)
    laid = ((one.blank, layout) for one in may_go if one.colours for layout in one.layouts.values())
    findings = (
        *_of_designs(shop, gathered, state, once_a_blank(laid, asked.profile)),
        *map(not_made, judged.failures),
        *stopped,
        *unpriced,
        *held_back(plan),
        *barcodes.findings,
    )
    counts += gathered.counts + weighed + judged.counts
    return Prepared(gathered, proved, by_key, plan, state, skus, barcodes.given, findings, counts)


def _of_designs(
    shop: Shop, gathered: Gathered, state: LedgerState, cautions: Iterable[Finding]
) -> Iterator[Finding]:
    """What the shop's files and designs say by themselves, with the cautions of its blanks."""
    yield from shop.findings
    if not state.listed:
        yield from still_missing(shop, len(gathered.designs))
    yield from cautions
    yield from gathered.findings
    yield from missing_findings(shop, gathered.gone, state)
    yield from retired_findings(gathered.designs, state)


def _numbered(
    bench: Bench, plan: Plan, state: LedgerState, barcodes: Sequence[Event], look_only: bool
) -> dict[SkuKey, str]:
    """Every SKU of the shop, those of the plan included; plan, new SKUs and barcodes are noted."""
    shop = bench.shop
    wanted = [
        key
        for planned in plan.listings
        if planned.action is not Action.END
        for key in sku_keys(planned, shop.blank(planned.key.blank), shop.channel(planned.key.channel))
    ]
    given, new_skus = give_skus(wanted, state, shop.settings.sku_prefix)
    if not look_only:
        bench.store.append([*planned_events(plan, state), *new_skus, *barcodes])
    return {**state.skus, **given}


def _end_offers(bench: Bench, gathered: Gathered, plan: Plan, state: LedgerState) -> dict[ListingKey, Offer]:
    """What ends are written from; a design's file may be missing by then, or broken."""
    ends = [planned.key for planned in plan.listings if planned.action is Action.END]
    if not ends:
        return {}
    known = known_designs(bench.store.events(kinds={Happened.DESIGN_SEEN}))
    designs = {key: missing_design(one) for key, one in known.items()}
    designs |= {design.id: design for design in gathered.designs}
    texts = Texts(bench.shop, state)
    known_ends = [key for key in ends if key.design in designs]
    return {key: ending_offer(bench.shop, texts, designs[key.design], key) for key in known_ends}


def summary_of(prepared: Prepared) -> tuple[str, ...]:
    """The month in a few lines."""
    plan, proved = prepared.plan, prepared.proved
    stopped = sum(1 for proof in proved if not proof.colours)
    designs = counted(len(prepared.gathered.designs), "design")
    pairs = counted(len(proved), "pair of design and blank", "pairs of design and blank")
    held = f", {stopped} stopped by the proof (hundredfold proof says why)" if stopped else ""
    lines = [f"{designs}, {pairs}: {len(proved) - stopped} can be listed{held}"]
    for channel in sorted({listing.key.channel for listing in plan.listings}):
        here = [listing for listing in plan.listings if listing.key.channel == channel]
        rows, used = sum(one.rows for one in here), len({listing.day for listing in here})
        goods = f"{counted(len(here), 'listing')} with {counted(rows, 'row')}"
        lines.append(f"{channel}: {goods} on {counted(used, 'day')}")
    if plan.later:
        stand = counted(len(plan.later), "listing stands", "listings stand")
        first, last = min(plan.later.values()), max(plan.later.values())
        lines.append(
            f"{stand} as planned for later days ({first if first == last else f'{first} to {last}'}); "
            "this run left those days alone"
        )
    if plan.left_over:
        wait = counted(len(plan.left_over), "more listing waits", "more listings wait")
        lines.append(f"{wait}: the daily caps are full in these {counted(plan.days, 'day')}")
    return tuple(lines)


def not_made(failed: Failed) -> Finding:
    """A failure as a finding."""
    what, fix = failed.why.what or failed.why.sentence, failed.why.fix or "mend what it says"
    return NOT_MADE.finds("failed", failed.item, what, f"{fix}; it is tried again next time")
