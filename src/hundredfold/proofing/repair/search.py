"""Finding the least repair: on the reduced art, with the same judgement that found the fault."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from hundredfold.kernel.colour import Srgb, contrast_ratio, linear_of, relative_luminance, to_linear
from hundredfold.kernel.difference import colour_difference
from hundredfold.proofing.art.facts import EdgeWindow
from hundredfold.proofing.art.windows import edge_windows, reduced
from hundredfold.proofing.profile import STANDARD, Limits
from hundredfold.proofing.reading.art import SmallArt
from hundredfold.proofing.reading.facts import ReadingFacts, facts_of
from hundredfold.proofing.readings import Look, chance_of
from hundredfold.proofing.repair.changes import Change, Kind, Pixels, changed
from hundredfold.proofing.visible import Standing, stands_on

# Widths tried, in pixels of the smallest thumbnail wanted. Below 0.6 an outline is a faint hairline there.
GRID_PX = (0.6, 0.8, 1.0, 1.25, 1.6, 2.0, 2.5, 3.2, 4.0)
# A repair must be read with more certainty than art that was drawn so: measured on our own labelled set, a
# bare pass of the predictor was confirmed by machine readers in half the cases only.
SURE = 0.85
SLIPS = 0.05  # a chance may fall by so much and not count as worse
WHITE_LUMINANCE = 0.8
PATCH_PX = 4.0  # margin of a patch, in thumbnail pixels


@dataclass(frozen=True)
class Verdict:
    """How art fares in one look."""

    chance: float | None
    stands: Standing | None

    def passes(self, limits: Limits, sure: float) -> bool:
        """Its words are read and its outline shows."""
        reads = self.chance is None or self.chance >= sure
        shows = self.stands is None or (
            self.stands.lost < limits.lost_edge_share and self.stands.weak < limits.weak_edge_share
        )
        return reads and shows


@dataclass(frozen=True)
class Repair:
    """A change that makes all failing looks pass. An outline or a patch serves every look; another ink is
    for ``looks`` only, and the others keep the art as it is. ``thumbnail_px`` is its width there."""

    change: Change
    thumbnail_px: float
    looks: tuple[Look, ...]
    before: dict[Look, Verdict] = field(compare=False)
    after: dict[Look, Verdict] = field(compare=False)


@dataclass(frozen=True)
class Refusal:
    """Why there is no repair. ``enlarge``: how much the words would have to grow; 1 where size is not it."""

    what: str
    fix: str
    enlarge: float = 1.0


@dataclass(frozen=True)
class Rules:
    """What the seller allows: kinds in the order of preference, and inks besides the design's own."""

    kinds: tuple[Kind, ...] = (Kind.OUTLINE, Kind.RECOLOUR, Kind.PATCH)
    palette: tuple[Srgb, ...] = (Srgb(255, 255, 255), Srgb(20, 20, 20))
    limits: Limits = STANDARD.limits


def least_repair(
    words: ReadingFacts, inks: Sequence[Srgb], looks: Sequence[Look], rules: Rules = Rules()
) -> Repair | Refusal | None:
    """The least repair for these looks; None where nothing fails.

    ``inks`` are the design's own. Widths go up the grid; the smallest whose next wider step passes too is
    taken, in the ink that does best in its worst look.
    """
    if words.art is None or not looks:
        return None
    art = straight(words.art)
    _, windows = edge_windows(reduced(art))
    limits = rules.limits
    before = {look: judged(words, windows, look, limits) for look in looks}
    failing = tuple(look for look, one in before.items() if not one.passes(limits, limits.read_doubt))
    if not failing:
        return None
    if all(before[look].chance is not None for look in failing):
        refusal = _too_small(words, failing)
        if refusal is not None:
            return refusal
    search = _Search(art, words, before, failing, rules, min(look.art_px for look in looks))
    for kind in rules.kinds:
        found = search.tried(kind, tuple(dict.fromkeys((*inks, *rules.palette))))
        if found is not None:
            return found
    names = ", ".join(look.blank for look in failing[:4])
    return Refusal(
        f"no outline, version or patch makes it pass on {names}",
        "leave these colours out, or redraw the art for them",
    )


def _too_small(words: ReadingFacts, failing: Sequence[Look]) -> Refusal | None:
    """Where even black on white is not read at this size, colour is not what is wrong."""
    assert words.art is not None
    plain = facts_of(SmallArt(_toned(words.art.pixels, Srgb(0, 0, 0))))
    narrowest = min(look.art_px for look in failing)
    ideal = Look("#ffffff", False, "", narrowest)
    chance = chance_of(plain, ideal)
    if chance is None or chance >= SURE:
        return None
    for wider in np.arange(1.1, 4.05, 0.1):
        grown = chance_of(plain, ideal._replace(art_px=round(narrowest * float(wider))))
        if grown is not None and grown >= SURE:
            return Refusal(
                f"the words are too small for a picture {narrowest} px wide; no outline can help",
                f"enlarge: the words must grow about {wider:.1f} times, or be fewer",
                round(float(wider), 1),
            )
    return Refusal(
        f"the words are not read even in black on white at {narrowest} px",
        "enlarge: set fewer words, far larger or in a plainer face",
        4.0,
    )


def _toned(premultiplied: Pixels, tone: Srgb) -> Pixels:
    cover = premultiplied[:, :, 3:].astype(np.float32) / 255
    colour = np.rint(np.array(tone, np.float32) * cover).astype(np.uint8)
    return np.dstack([colour, premultiplied[:, :, 3]])


@dataclass
class _Search:
    art: Pixels
    words: ReadingFacts
    before: dict[Look, Verdict]
    failing: tuple[Look, ...]
    rules: Rules
    narrowest: int

    def tried(self, kind: Kind, inks: Sequence[Srgb]) -> Repair | None:
        usable = [ink for ink in inks if self._usable(ink, kind)]
        if kind is Kind.RECOLOUR:
            found = [self._recolour(ink) for ink in usable] if _one_ink(self.art) else []
        elif kind is Kind.OUTLINE:
            found = [self._outline(ink) for ink in usable]
        else:
            found = [self._checked(Change(kind, ink, PATCH_PX / self.narrowest), PATCH_PX) for ink in usable]
        good = [one for one in found if one is not None]
        return min(good, key=lambda one: (one.thumbnail_px, -self._worst(one)), default=None)

    def _usable(self, ink: Srgb, kind: Kind) -> bool:
        """The process can print it, and it stands out from every failing ground (3:1, WCAG 2.2 SC 1.4.11)."""
        light = float(relative_luminance(linear_of(ink)))
        for look in self.failing:
            ground = float(relative_luminance(linear_of(Srgb.parse(look.blank))))
            seen = light * ground if look.transparent else light
            if look.tone or (look.transparent and light >= WHITE_LUMINANCE):
                return False
            if kind is not Kind.PATCH and contrast_ratio(seen, ground) < 3.0:
                return False
        return True

    def _outline(self, ink: Srgb) -> Repair | None:
        """The smallest width on the grid that passes together with the next."""
        passed: Repair | None = None
        for width in GRID_PX:
            found = self._checked(Change(Kind.OUTLINE, ink, width / self.narrowest), width)
            if found is None:
                passed = None
            elif passed is not None:
                return passed
            else:
                passed = found
        return None

    def _recolour(self, ink: Srgb) -> Repair | None:
        return self._checked(Change(Kind.RECOLOUR, ink), 0.0, self.failing)

    def _checked(self, change: Change, width: float, looks: tuple[Look, ...] | None = None) -> Repair | None:
        """The repair, if every look passes for sure and none that was fine gets worse."""
        limits = self.rules.limits
        fresh = changed(self.art, change)
        small = SmallArt(premultiplied(fresh))
        facts = facts_of(small)
        _, windows = edge_windows(reduced(fresh))
        served = tuple(self.before) if looks is None else looks
        after = {}
        # The failing ones first: they decide most often.
        for look in sorted(served, key=lambda one: one not in self.failing):
            after[look] = judged(facts, windows, look, limits)
            was = self.before[look]
            if look in self.failing:
                if not after[look].passes(limits, SURE):
                    return None
            elif _worse(was, after[look]):
                return None
        return Repair(change, width, served, self.before, after)

    def _worst(self, repair: Repair) -> float:
        return min((one.chance for one in repair.after.values() if one.chance is not None), default=1.0)


def _worse(was: Verdict, now: Verdict) -> bool:
    chance = (now.chance if now.chance is not None else 1.0) < (was.chance or 0.0) - SLIPS
    stands = now.stands is not None and was.stands is not None and now.stands.weak > was.stands.weak + SLIPS
    return chance or stands


def _one_ink(art: Pixels) -> bool:
    """Nine tenths of the ink lie within 12 CIEDE2000 of its mean colour."""
    solid = art[art[:, :, 3] > 200][:, :3]
    if not solid.size:
        return False
    light = to_linear(solid[:: max(1, len(solid) // 4000)] / 255.0)
    return bool(np.quantile(colour_difference(light, light.mean(axis=0)), 0.9) <= 12)


def judged(words: ReadingFacts, windows: Sequence[EdgeWindow], look: Look, limits: Limits) -> Verdict:
    """How art fares in a look: its words by the reader, its outline by contrast."""
    return Verdict(chance_of(words, look), stands_on(windows, look, limits))


def straight(art: SmallArt) -> Pixels:
    """Straight-alpha RGBA of the reduced art."""
    pixels = art.pixels.astype(np.float32)
    colour = pixels[:, :, :3] * 255 / np.maximum(pixels[:, :, 3:], 1)
    return np.dstack([np.clip(np.rint(colour), 0, 255), pixels[:, :, 3]]).astype(np.uint8)


def premultiplied(pixels: Pixels) -> Pixels:
    """Premultiplied RGBA, as the reader keeps it."""
    cover = pixels[:, :, 3:].astype(np.float32) / 255
    return np.dstack([np.rint(pixels[:, :, :3] * cover), pixels[:, :, 3]]).astype(np.uint8)
