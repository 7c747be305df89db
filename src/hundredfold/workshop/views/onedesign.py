"""One design on every blank and colour, with what is known of it and what was chosen."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from hundredfold.catalogue.blanks import Blank, BlankColour
from hundredfold.designs.facts import DesignFacts
from hundredfold.designs.names import keywords_from, title_from
from hundredfold.designs.nudge import Nudge
from hundredfold.ledger.choices import Answer, Choice, ChoiceKey, refused
from hundredfold.placement.layout import AreaLayout
from hundredfold.proofing.readings import look_of
from hundredfold.proofing.repair.advice import Advice
from hundredfold.workshop.records.proofs import BlankRecord, ColourRecord, ProofRecord
from hundredfold.workshop.records.state import ListingRecord
from hundredfold.workshop.shop.files import ShopFiles
from hundredfold.workshop.shop.madelist import all_made
from hundredfold.workshop.shop.rights import Rights, rights_of
from hundredfold.workshop.views.artbook import ArtBook, KnownArt
from hundredfold.workshop.views.designs import listings_of
from hundredfold.workshop.views.looking import Glance, look_at
from hundredfold.workshop.views.pictures import layout_on, mock_up_of
from hundredfold.workshop.views.proofsums import proof_at

NO_REPAIR = -1


@dataclass(frozen=True)
class ColourSeen:
    """A design on a colour of a blank. ``state`` is passes, look or stop; ``repair`` the place of one that
    serves this colour, else ``NO_REPAIR``; ``struck`` says that the seller refused it."""

    number: int
    code: str
    name: str
    state: str
    why: str
    fix: str
    best: bool
    repair: int
    struck: bool


@dataclass(frozen=True)
class BlankSeen:
    """A design on a blank, its colours best first. ``settled`` says that the seller has judged it."""

    code: str
    name: str
    process: str
    colours: tuple[ColourSeen, ...]
    findings: tuple[str, ...]
    settled: bool
    nudge: Nudge | None

    @property
    def listed(self) -> int:
        """Colours that go out."""
        return sum(one.state != "stop" and not one.struck for one in self.colours)


@dataclass(frozen=True)
class ToldSeen:
    """One thing to know of the design, in words."""

    severity: str
    sentence: str
    fix: str
    check: str


@dataclass(frozen=True)
class DesignSeen:
    """A design."""

    id: str
    path: str
    title: str
    keywords: tuple[str, ...]
    niche: str
    art: str
    rights: Rights | None
    blanks: tuple[BlankSeen, ...]
    told: tuple[ToldSeen, ...]
    repairs: tuple[str, ...]
    listings: tuple[ListingRecord, ...]
    retired: bool
    judged: bool
    failures: tuple[str, ...]

    @property
    def listed(self) -> int:
        """Colours that go out, on all blanks."""
        return sum(blank.listed for blank in self.blanks)

    @property
    def colours(self) -> int:
        """Colours of all blanks."""
        return sum(len(blank.colours) for blank in self.blanks)


def design_seen(folder: Path, book: ArtBook, design: str) -> DesignSeen:
    """Look at a design, by id. Raises ShopError ``unknown-design`` and what opening the shop raises."""
    art = book.art(design)
    look = look_at(folder)
    proof = proof_at(look, art.path)
    made, _ = all_made(ShopFiles(look.shop.paths.root))
    row = made.get(art.path.partition("/")[2])
    name = art.path.rsplit("/", 1)[-1]
    facts = book.facts(art)
    failures = dict.fromkeys(one.sentence for one in look.moment.failures if one.item == art.path)
    told = proof.told if proof else ()
    return DesignSeen(
        art.id,
        art.path,
        row.title if row and row.title else title_from(name),
        tuple(dict.fromkeys((*(row.keywords if row else ()), *keywords_from(name)))),
        row.niche if row else "",
        _art_words(facts),
        rights_of(folder).get(art.path),
        tuple(blanks_seen(look, book, art, proof)) if proof else (),
        tuple(ToldSeen(one.severity, one.sentence, one.fix, one.check) for one in told),
        tuple(one.words for _, one in book.advice(art)),
        tuple(listings_of(look.state, art.id)),
        art.id in look.state.retired,
        proof is not None,
        tuple(failures),
    )


def blanks_seen(look: Glance, book: ArtBook, art: KnownArt, proof: ProofRecord) -> Iterator[BlankSeen]:
    """The design on each blank that is still sold."""
    goods = {blank.code: blank for blank in look.shop.blanks}
    advice = [one for _, one in book.advice(art)]
    choices = look.state.choices
    for record in proof.blanks:
        if record.blank in goods:
            yield blank_seen(goods[record.blank], record, art, advice, choices)


def blank_seen(
    blank: Blank,
    record: BlankRecord,
    art: KnownArt,
    advice: list[Advice],
    standing: Mapping[ChoiceKey, Choice],
) -> BlankSeen:
    """The design on one blank."""
    painted = {one.code: one for one in blank.colours}
    barred = [f for f in record.findings if f.severity == "stop"]
    colours = []
    for number, one in enumerate((c for c in record.colours if c.colour in painted), 1):
        key = ChoiceKey(art.id, blank.code, one.colour)
        repair = _repair_for(blank, painted[one.colour], advice) if one.stopped and not barred else NO_REPAIR
        state, why, fix = _state(one, bool(barred))
        struck = refused(standing, key)
        colours.append(ColourSeen(number, one.colour, one.name, state, why, fix, one.best, repair, struck))
    settled = standing.get(ChoiceKey(art.id, blank.code))
    return BlankSeen(
        blank.code,
        blank.name,
        blank.process.value,
        tuple(colours),
        tuple(f.what for f in record.findings if f.severity != "note"),
        settled is not None and settled.answer in (Answer.ALLOW, Answer.REFUSE),
        art.nudges.get(blank.code),
    )


def _state(one: ColourRecord, barred: bool) -> tuple[str, str, str]:
    order = {"stop": 0, "warn": 1, "note": 2}
    worst = min(one.findings, key=lambda f: order[f.severity], default=None)
    if barred or one.stopped:
        return "stop", worst.what if worst else "", worst.fix if worst else ""
    if worst is not None and worst.severity == "warn":
        return "look", worst.what, worst.fix
    return "passes", "", ""


def _repair_for(blank: Blank, colour: BlankColour, advice: list[Advice]) -> int:
    look = look_of(blank, colour, 160)
    return next((place for place, one in enumerate(advice) if one.serves(look)), NO_REPAIR)


def _art_words(facts: DesignFacts | None) -> str:
    if facts is None:
        return "not read yet"
    ground = "a ground of one colour" if facts.opaque_border else "a clear ground"
    if facts.vector:
        return f"a drawing that scales, {ground}"
    return f"{facts.width_px:,} by {facts.height_px:,} pixels, {ground}"


@dataclass(frozen=True)
class PlaceSeen:
    """Where a design lies on a blank's print area; millimetres, from the area's left and top edge."""

    area_width: float
    area_height: float
    safe: float
    bleed: float
    art: tuple[tuple[float, float, float, float], ...]  # left, top, width, height of each
    usual: tuple[tuple[float, float, float, float], ...]
    width_mm: float
    dpi: float
    area_dpi: int
    colour: str
    colours: tuple[tuple[str, str], ...]


def place_seen(book: ArtBook, design: str, blank: str, nudge: Nudge | None, colour: str = "") -> PlaceSeen:
    """The print area with the art on it. Raises ShopError as ``mock_up_of`` does."""
    shop = book.shop()
    goods = shop.blank(blank)
    code = colour or goods.colours[0].code
    wanted = mock_up_of(book, design, blank, code, 320, NO_REPAIR, nudge)
    usual = mock_up_of(book, design, blank, code, 320, NO_REPAIR, Nudge())
    laid = layout_on(wanted, goods)
    area, first = laid.area, laid.placements[0]
    return PlaceSeen(
        area.width_mm,
        area.height_mm,
        area.bleed_mm + area.safe_margin_mm,
        area.bleed_mm,
        _boxes(laid),
        _boxes(layout_on(usual, goods)),
        first.width_mm,
        first.effective_dpi,
        area.dpi,
        code,
        tuple((one.code, one.name) for one in goods.colours),
    )


def _boxes(laid: AreaLayout) -> tuple[tuple[float, float, float, float], ...]:
    across = laid.area.width_mm / laid.area.width_px
    down = laid.area.height_mm / laid.area.height_px
    return tuple(
        (p.left_px * across, p.top_px * down, p.width_px * across, p.height_px * down)
        for p in laid.placements
    )
