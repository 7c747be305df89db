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
from hundredfold.proofing.readings import Chance, Look, chance_of
from hundredfold.proofing.repair.changes import Change, Kind, Pixels, changed
from hundredfold.proofing.visible import Standing, stands_on

# Widths tried, in pixels of the smallest thumbnail wanted. Below 0.6 an outline is a faint hairline there,
# above 2 it swallows the letters it should save.
GRID_PX = (0.6, 0.8, 1.0, 1.25, 1.6, 2.0, 2.5)
# A repair must be read with more certainty than art that was drawn so: of many widths and inks the search
# finds the one that the predictor errs on. At 0.85, with lines of words lost, machine readers confirmed three
# repairs in four; at 0.9, with none lost, nine in ten (docs/accuracy.md).
SURE = 0.9
SLIPS = 0.05  # a chance may fall by so much and not count as worse
WHITE_LUMINANCE = 0.8
PATCH_PX = 4.0  # margin of a patch, in thumbnail pixels
_INKS = 3  # tried of each kind, those that stand out most first


@dataclass(frozen=True)
class Verdict:
    """How art fares in one look."""

    reading: Chance | None
    stands: Standing | None

    @property
    def chance(self) -> float | None:
        """That the main words are read."""
        return self.reading.main if self.reading else None

    def shows(self, limits: Limits) -> bool:
        """Its outline stands out."""
        return self.stands is None or not self.stands.fails(limits)

    def passes(self, limits: Limits, sure: float) -> bool:
        """Its main words are read and its outline shows."""
        return (self.chance is None or self.chance >= sure) and self.shows(limits)


@dataclass(frozen=True)
class Repair:
    """A change that makes all failing looks pass.

    An outline or a patch serves every look; another ink is for ``looks`` only, and the others keep the art as
    it is. ``thumbnail_px`` is its width in the narrowest of them.
    """

    change: Change
    thumbnail_px: float
    looks: tuple[Look, ...]
    before: dict[Look, Verdict] = field(compare=False)
    after: dict[Look, Verdict] = field(compare=False)

    @property
    def worst(self) -> float:
        """The chance in the worst look."""
        return min((one.chance for one in self.after.values() if one.chance is not None), default=1.0)


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
    limits = rules.limits
    before = _verdicts(words, art, looks, limits)
    failing = tuple(look for look, one in before.items() if not one.passes(limits, limits.read_doubt))
    if not failing:
        return None
    if any(before[look].chance is not None for look in failing):
        refusal = _too_small(words, failing)
        if refusal is not None:
            return refusal
    narrowest = min(look.art_px for look in looks)
    search = _Search(art, len(words.lines), before, failing, rules, narrowest)
    own = tuple(dict.fromkeys((*inks, *rules.palette)))
    for kind in rules.kinds:
        found = search.tried(kind, own)
        if found is not None:
            return found
    return Refusal(
        "no outline, other ink or patch makes it pass on the colours where it fails",
        "leave these colours out, or redraw the art for them",
    )


def _verdicts(words: ReadingFacts, art: Pixels, looks: Sequence[Look], limits: Limits) -> dict[Look, Verdict]:
    _, windows = edge_windows(reduced(art))
    return {look: judged(words, windows, look, limits) for look in sorted(looks, key=lambda one: one.art_px)}


def judged(words: ReadingFacts, windows: Sequence[EdgeWindow], look: Look, limits: Limits) -> Verdict:
    """How art fares in a look: its words by the reader, its outline by contrast."""
    return Verdict(chance_of(words, look), stands_on(windows, look, limits))


def _too_small(words: ReadingFacts, failing: Sequence[Look]) -> Refusal | None:
    """Where even black on white is not read at this size, colour is not what is wrong."""
    assert words.art is not None
    plain = facts_of(SmallArt(_toned(words.art.pixels, Srgb(0, 0, 0))))
    narrowest = min(look.art_px for look in failing)
    ideal = Look("#ffffff", False, "", narrowest)
    chance = chance_of(plain, ideal)
    if chance is None or chance.main >= SURE:
        return None
    for wider in np.arange(1.2, 4.05, 0.2):
        grown = chance_of(plain, ideal._replace(art_px=round(narrowest * float(wider))))
        if grown is not None and grown.main >= SURE:
            return Refusal(
                f"the words are too small where the art is {narrowest} px wide; no outline can help",
                f"enlarge: the words must grow about {wider:.1f} times, or be fewer",
                round(float(wider), 1),
            )
    return Refusal(
        f"the words are not read even in black on white at {narrowest} px",
        "enlarge: set fewer words, far larger or in a plainer face",
        4.0,
    )


def _toned(pixels: Pixels, tone: Srgb) -> Pixels:
    """Premultiplied art, all ink in one tone."""
    cover = pixels[:, :, 3:].astype(np.float32) / 255
    colour = np.rint(np.array(tone, np.float32) * cover).astype(np.uint8)
    return np.dstack([colour, pixels[:, :, 3]])


@dataclass
class _Search:
    art: Pixels
    lines: int  # of words, in the art as it is
    before: dict[Look, Verdict]
    failing: tuple[Look, ...]
    rules: Rules
    narrowest: int

    @property
    def has_words(self) -> bool:
        """Whether words were found in the art on any ground."""
        return any(one.chance is not None for one in self.before.values())

    def tried(self, kind: Kind, inks: Sequence[Srgb]) -> Repair | None:
        usable = sorted((ink for ink in inks if self._usable(ink, kind)), key=self._stands_out, reverse=True)
        if kind is Kind.PATCH and not self.has_words:
            return None  # nothing tells whether a shape behind a drawing leaves the drawing to be seen
        if kind is Kind.RECOLOUR:
            wanted = usable[:_INKS] if _one_ink(self.art) else []
            found = [self._checked(Change(kind, ink), 0.0, self.failing) for ink in wanted]
        elif kind is Kind.OUTLINE:
            found = [self._outline(ink) for ink in usable[:_INKS]]
        else:
            wide = PATCH_PX / self.narrowest
            found = [self._checked(Change(kind, ink, wide), PATCH_PX) for ink in usable[:_INKS]]
        good = [one for one in found if one is not None]
        return min(good, key=lambda one: (one.thumbnail_px, -one.worst), default=None)

    def _contrasts(self, ink: Srgb) -> list[float]:
        light = float(relative_luminance(linear_of(ink)))
        grounds = [float(relative_luminance(linear_of(Srgb.parse(look.blank)))) for look in self.failing]
        return [
            float(contrast_ratio(light * ground if look.transparent else light, ground))
            for look, ground in zip(self.failing, grounds, strict=True)
        ]

    def _stands_out(self, ink: Srgb) -> float:
        return min(self._contrasts(ink))

    def _usable(self, ink: Srgb, kind: Kind) -> bool:
        """The process can print it, and it stands out from every failing ground (3:1, WCAG 2.2 SC 1.4.11)."""
        white = float(relative_luminance(linear_of(ink))) >= WHITE_LUMINANCE
        if any(look.tone or (look.transparent and white) for look in self.failing):
            return False
        return kind is Kind.PATCH or self._stands_out(ink) >= 3.0

    def _outline(self, ink: Srgb) -> Repair | None:
        """The smallest width on the grid that passes together with the next."""
        passed: Repair | None = None
        for width in GRID_PX:
            found = self._checked(Change(Kind.OUTLINE, ink, width / self.narrowest), width)
            if found is not None and passed is not None:
                return passed
            passed = found
        return None

    def _checked(self, change: Change, width: float, served: tuple[Look, ...] = ()) -> Repair | None:
        """The repair, if every failing look passes for sure and none that was fine gets worse.

        What costs least and decides most comes first: contrast of the failing looks, then their words.
        """
        limits = self.rules.limits
        fresh = changed(self.art, change)
        _, windows = edge_windows(reduced(fresh))
        stands = {look: stands_on(windows, look, limits) for look in served or tuple(self.before)}
        if not all(Verdict(None, stands[look]).shows(limits) for look in self.failing):
            return None
        facts = facts_of(SmallArt(premultiplied(fresh)))
        after: dict[Look, Verdict] = {}
        for look in sorted(stands, key=lambda one: (one not in self.failing, one.art_px, one)):
            after[look] = Verdict(chance_of(facts, look), stands[look])
            if look in self.failing:
                if not after[look].passes(limits, SURE) or self._words_lost(look, after[look], facts):
                    return None
            elif _worse(self.before[look], after[look]):
                return None
        return Repair(change, width, tuple(stands), self.before, after)

    def _words_lost(self, look: Look, now: Verdict, facts: ReadingFacts) -> bool:
        """Letters grown into one another are found as fewer lines, or as no text at all."""
        had_words = self.before[look].chance is not None
        return had_words and (now.chance is None or len(facts.lines) < self.lines)


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


def straight(art: SmallArt) -> Pixels:
    """Straight-alpha RGBA of the reduced art."""
    pixels = art.pixels.astype(np.float32)
    colour = pixels[:, :, :3] * 255 / np.maximum(pixels[:, :, 3:], 1)
    return np.dstack([np.clip(np.rint(colour), 0, 255), pixels[:, :, 3]]).astype(np.uint8)


def premultiplied(pixels: Pixels) -> Pixels:
    """Premultiplied RGBA, as the reader keeps it."""
    cover = pixels[:, :, 3:].astype(np.float32) / 255
    return np.dstack([np.rint(pixels[:, :, :3] * cover), pixels[:, :, 3]]).astype(np.uint8)
