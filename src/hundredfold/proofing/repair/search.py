"""Finding the least repair: on the reduced art, with the same judgement that found the fault."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from hundredfold.kernel.colour import Srgb, contrast_ratio, linear_of, relative_luminance
from hundredfold.proofing.profile import STANDARD, Limits
from hundredfold.proofing.reading.art import SmallArt
from hundredfold.proofing.reading.facts import ReadingFacts
from hundredfold.proofing.readings import Chance, Look, chance_of
from hundredfold.proofing.repair.changes import Change, Kind, Pixels, changed
from hundredfold.proofing.repair.verdicts import (
    STEADY,
    Measured,
    Verdict,
    measured,
    one_ink,
    premultiplied,
    straight,
    worse,
)

# Widths tried, in pixels of the smallest thumbnail wanted. Below 0.6 an outline is a faint hairline there,
# above 2 it swallows the letters it should save.
GRID_PX = (0.6, 0.8, 1.0, 1.25, 1.6, 2.0, 2.5)
# A repair must be read with more certainty than art that was drawn so: of many widths and inks the search
# finds the one that the predictor errs on, and an outline changes the letters most. Chosen on repaired art in
# fitted fonts: from these chances on nine in ten are read (tools/reading/margins.py).
SURE = {Kind.RECOLOUR: 0.85, Kind.OUTLINE: 0.95, Kind.PATCH: 0.9}
READABLE = 0.85  # the chance that black on white must reach, else the words are too small for any repair
WHITE_LUMINANCE = 0.8
STANDS_OUT = 3.0  # contrast that an ink must have with the ground (WCAG 2.2 SC 1.4.11 asks it of graphics)
PATCH_PX = 4.0  # margin of a patch, in thumbnail pixels
NO_INK = "no ink that this process prints stands out from these colours"
LOST_WORDS = "a line of words is too near these colours to be made out, and no outline or patch mends it"
LOST_ART = "the art is too near these colours to be made out, and no outline or patch mends it"
OTHERWISE = "draw a light or a dark version of the art, or leave these colours out"
_INKS = 3  # tried of each kind, those that stand out most first


@dataclass(frozen=True)
class Repair:
    """A change that makes all failing looks pass, but for those where no ink stands out: none serves them.

    An outline or a patch serves every other look where that harms none. Otherwise, and in another ink, it is
    for ``looks`` only, the failing ones, and the others keep the art as it is. ``thumbnail_px`` is its width
    in the narrowest of them. ``every_word``: the small words are read too, not only the main ones.
    """

    change: Change
    thumbnail_px: float
    looks: tuple[Look, ...]
    before: dict[Look, Verdict] = field(compare=False)
    after: dict[Look, Verdict] = field(compare=False)
    every_word: bool = True

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

    kinds: tuple[Kind, ...] = (Kind.RECOLOUR, Kind.OUTLINE, Kind.PATCH)
    palette: tuple[Srgb, ...] = (Srgb(255, 255, 255), Srgb(20, 20, 20))
    limits: Limits = STANDARD.limits


def least_repair(
    words: ReadingFacts, inks: Sequence[Srgb], looks: Sequence[Look], rules: Rules = Rules()
) -> Repair | Refusal | None:
    """The least repair for these looks; None where nothing fails.

    ``inks`` are the design's own. Kinds are tried in the order of the rules, first for a repair with which
    all words are read, then for one with which the main words are. Of an outline's widths, going up the grid,
    the smallest whose next wider step passes too is taken, in the ink that does best in its worst look.
    """
    if words.art is None or not looks:
        return None
    art = straight(words.art)
    limits = rules.limits
    before = _verdicts(words, art, looks, limits)
    failing = tuple(look for look, one in before.items() if not one.passes(limits, limits.read_doubt))
    if not failing:
        return None
    own = tuple(dict.fromkeys((*inks, *rules.palette)))
    bare = {look for look in failing if all(contrast_of(ink, look) < STANDS_OUT for ink in own)}
    failing = tuple(look for look in failing if look not in bare)
    if not failing:
        return Refusal(NO_INK, "leave these colours out")
    wanted = tuple(look for look in before if look not in bare)
    narrowest = min(look.art_px for look in wanted)
    search = _Search(art, words, before, failing, wanted, rules, narrowest)
    return _found(words, search, own)


def _found(words: ReadingFacts, search: "_Search", inks: Sequence[Srgb]) -> Repair | Refusal:
    """The first repair that serves, or why there is none."""
    narrowest = min(look.art_px for look in search.failing)
    read = any(search.before[look].chance is not None for look in search.failing)
    ideal = _at_best(words, narrowest) if read else None
    if ideal is not None and ideal.main < READABLE:
        small, lost = _too_small(words, narrowest), _lost(search)
        return _both(lost, small, narrowest) if lost else small
    for every_word in (True, False):
        for kind in search.rules.kinds:
            found = search.tried(kind, inks, every_word)
            if found is not None:
                return found
    if lost := _lost(search):
        return lost
    if ideal is not None and ideal.whole < READABLE:
        return _too_small(words, narrowest)
    return Refusal(
        "no outline, other ink or patch makes it pass on the colours where it fails",
        "leave these colours out, or redraw the art for them",
    )


def _verdicts(words: ReadingFacts, art: Pixels, looks: Sequence[Look], limits: Limits) -> dict[Look, Verdict]:
    seen = measured(words, art)
    return {look: seen.in_look(look, limits) for look in sorted(looks, key=lambda one: one.art_px)}


def contrast_of(ink: Srgb, look: Look) -> float:
    """Of an ink as it shows with the bare ground; 0 where the process does not print it."""
    light = float(relative_luminance(linear_of(ink)))
    ground = float(relative_luminance(linear_of(Srgb.parse(look.blank))))
    if look.tone or (look.transparent and light >= WHITE_LUMINANCE):
        return 0.0
    return float(contrast_ratio(light * ground if look.transparent else light, ground))


def _at_best(words: ReadingFacts, width: int) -> Chance | None:
    """The chance in black on white: where it is low, colour is not what is wrong."""
    assert words.art is not None
    plain = words.changed_to(SmallArt(_toned(words.art.pixels, Srgb(0, 0, 0))))
    return chance_of(plain, Look("#ffffff", False, "", width))


def _lost(search: "_Search") -> Refusal | None:
    """That ink is too near the grounds; None where all of it shows and only the reading fails."""
    hidden = [
        one for one in (search.before[look] for look in search.failing) if not one.shows(search.rules.limits)
    ]
    if not hidden:
        return None
    if any(one.words_lost for one in hidden):
        return Refusal(LOST_WORDS, "give that line an ink that shows on light and dark, " + OTHERWISE)
    return Refusal(LOST_ART, OTHERWISE)


def _both(lost: Refusal, small: Refusal, narrowest: int) -> Refusal:
    """Ink too near the grounds, of words that are too small besides: the ink comes first."""
    also = f"enlarge the words about {small.enlarge:.1f} times too where the art is {narrowest} px wide"
    return replace(lost, fix=f"{lost.fix}; {also}", enlarge=small.enlarge)


def _too_small(words: ReadingFacts, narrowest: int) -> Refusal:
    """How much the words would have to grow."""
    for wider in np.arange(1.2, 4.05, 0.2):
        grown = _at_best(words, round(narrowest * float(wider)))
        if grown is not None and grown.whole >= READABLE:
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
    words: ReadingFacts  # of the art as it is
    before: dict[Look, Verdict]
    failing: tuple[Look, ...]
    wanted: tuple[Look, ...]  # the failing ones and those that pass: not where no ink stands out
    rules: Rules
    narrowest: int
    made: "dict[Change, Measured]" = field(default_factory=dict)

    @cached_property
    def plain(self) -> bool:
        """The art is in one ink."""
        return one_ink(self.art)

    @property
    def has_words(self) -> bool:
        """Whether words were found in the art on any ground."""
        return any(one.chance is not None for one in self.before.values())

    def tried(self, kind: Kind, inks: Sequence[Srgb], every_word: bool) -> Repair | None:
        """The best change of this kind; one that serves every look goes before one for the failing looks."""
        usable = sorted((ink for ink in inks if self._usable(ink, kind)), key=self._stands_out, reverse=True)
        if kind is Kind.PATCH and not self.has_words:
            return None  # nothing tells whether a shape behind a drawing leaves the drawing to be seen
        if kind is Kind.RECOLOUR and not self.plain:
            return None
        if not every_word and (kind is Kind.OUTLINE or not self.plain):
            return None  # where small words blur, so may the main ones
        for served in (self.failing,) if kind is Kind.RECOLOUR else (self.wanted, self.failing):
            wish = _Wish(served, every_word)
            found = [self._least(kind, ink, wish) for ink in usable[:_INKS]]
            good = [one for one in found if one is not None]
            if good:
                return min(good, key=lambda one: (one.thumbnail_px, -one.worst))
        return None

    def _least(self, kind: Kind, ink: Srgb, wish: "_Wish") -> Repair | None:
        if kind is Kind.OUTLINE:
            return self._outline(ink, wish)
        width = PATCH_PX if kind is Kind.PATCH else 0.0
        return self._checked(Change(kind, ink, width / self.narrowest), width, wish)

    def _stands_out(self, ink: Srgb) -> float:
        return min(contrast_of(ink, look) for look in self.failing)

    def _usable(self, ink: Srgb, kind: Kind) -> bool:
        """The process prints it, and, but for a patch, it stands out from every failing ground."""
        least = self._stands_out(ink)
        return least >= STANDS_OUT or (kind is Kind.PATCH and least > 0)

    def _outline(self, ink: Srgb, wish: "_Wish") -> Repair | None:
        """The smallest width on the grid that passes together with the next."""
        passed: Repair | None = None
        for width in GRID_PX:
            found = self._checked(Change(Kind.OUTLINE, ink, width / self.narrowest), width, wish)
            if found is not None and passed is not None:
                return passed
            passed = found
        return None

    def _checked(self, change: Change, width: float, wish: "_Wish") -> Repair | None:
        """The repair, if every failing look passes for sure and none that was fine gets worse.

        What costs least and decides most comes first: contrast of the failing looks, then their words.
        """
        limits = self.rules.limits
        fresh = self._made(change)
        if not all(fresh.stands_in(look, limits).shows(limits) for look in self.failing):
            return None
        after: dict[Look, Verdict] = {}
        for look in sorted(wish.served, key=lambda one: (one not in self.failing, one.art_px, one)):
            was, now = self.before[look], fresh.in_look(look, limits)
            if look not in self.failing:
                if worse(was, now, limits):
                    return None
            elif not self._cured(change.kind, now, wish.every_word) or self._words_lost(
                was, now, fresh.words
            ):
                return None
            after[look] = now
        return Repair(change, width, tuple(after), self.before, after, wish.every_word)

    def _cured(self, kind: Kind, now: Verdict, every_word: bool) -> bool:
        """The outline shows, and the words are read for sure: all of them, or the main ones."""
        words = now.every_word if every_word else now.chance
        return now.shows(self.rules.limits) and (
            words is None or words >= (SURE[kind] if every_word else STEADY)
        )

    def _made(self, change: Change) -> "Measured":
        if change not in self.made:
            fresh = changed(self.art, change)
            self.made[change] = measured(self.words.changed_to(SmallArt(premultiplied(fresh))), fresh)
        return self.made[change]

    def _words_lost(self, was: Verdict, now: Verdict, words: ReadingFacts) -> bool:
        """Letters grown into one another are found as fewer lines, or as no text at all."""
        return was.chance is not None and (now.chance is None or len(words.lines) < len(self.words.lines))


@dataclass(frozen=True)
class _Wish:
    """What a repair is to do: the looks it is for, and whether small words are to be read too."""

    served: tuple[Look, ...]
    every_word: bool
