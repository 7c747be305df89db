"""A repair as it is kept and told: plain values, and a sentence."""

import json
from dataclasses import dataclass

from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.readings import Look
from hundredfold.proofing.repair.changes import Change, Kind
from hundredfold.proofing.repair.search import Refusal, Repair

# Raised by hand when another repair comes out of the same facts, looks and rules.


@dataclass(frozen=True)
class Advice:
    """What is proposed for a design on one blank: a change for some looks, or a refusal in words."""

    change: Change | None
    thumbnail_px: float
    looks: tuple[Look, ...]
    chances: tuple[tuple[float | None, float | None], ...]  # before and after, one for each look
    what: str
    fix: str
    enlarge: float = 1.0
    every_word: bool = True  # the small words are read too

    def serves(self, look: Look) -> bool:
        """Whether it holds for this blank colour and kind of ink, whatever the width."""
        return any((one.blank, one.transparent) == (look.blank, look.transparent) for one in self.looks)

    @property
    def words(self) -> str:
        """The proposal in words."""
        if self.change is None:
            return f"{self.what}; {self.fix}"
        return _told(self.change) + ("" if self.every_word else "; its small words stay too small to be read")


def _told(change: Change) -> str:
    ink = _named(change.ink)
    if change.kind is Kind.OUTLINE:
        return f"{ink} outline, {change.share:.1%} of the art's width"
    if change.kind is Kind.RECOLOUR:
        light = sum(change.ink) > 382
        return f"a {'light' if light else 'dark'} version of the art, in {ink.split(' ', 1)[1]}"
    return f"{ink} patch behind the art"


def _named(ink: Srgb) -> str:
    """``a white (#ffffff)``."""
    if min(ink) >= 235:
        return f"a white ({ink.hex})"
    return f"a black ({ink.hex})" if max(ink) <= 40 else f"an {ink.hex}"


def advice_of(found: Repair | Refusal | None, asked: tuple[Look, ...] = ()) -> Advice | None:
    """The advice to keep; None where nothing failed. A refusal holds for the looks ``asked``."""
    if found is None:
        return None
    if isinstance(found, Refusal):
        return Advice(None, 0.0, asked, (), found.what, found.fix, found.enlarge)
    chances = tuple((found.before[look].chance, found.after[look].chance) for look in found.looks)
    return Advice(found.change, found.thumbnail_px, found.looks, chances, "", "", every_word=found.every_word)


def advice_as_json(advice: Advice | None) -> bytes:
    """Canonical JSON; ``null`` where nothing failed."""
    if advice is None:
        return b"null"
    change = advice.change
    plain = {
        "change": [change.kind.value, change.ink.hex, change.share] if change else None,
        "thumbnail_px": advice.thumbnail_px,
        "looks": [list(look) for look in advice.looks],
        "chances": [list(pair) for pair in advice.chances],
        "what": advice.what,
        "fix": advice.fix,
        "enlarge": advice.enlarge,
        "every_word": advice.every_word,
    }
    return json.dumps(plain, sort_keys=True, separators=(",", ":")).encode()


def advice_from_json(data: bytes) -> Advice | None:
    """The inverse. Raises ValueError, KeyError or TypeError on another shape."""
    plain = json.loads(data)
    if plain is None:
        return None
    change = plain["change"]
    return Advice(
        Change(Kind(change[0]), Srgb.parse(change[1]), change[2]) if change else None,
        plain["thumbnail_px"],
        tuple(Look(*look) for look in plain["looks"]),
        tuple((before, after) for before, after in plain["chances"]),
        plain["what"],
        plain["fix"],
        plain["enlarge"],
        plain["every_word"],
    )
