"""The words of a listing, inside a channel's limits by construction. First versions, in English.

Only facts the shop's own files state are told: what the blank is, holds and measures, how it is printed.
Nothing is promised about care, safety or delivery.
"""

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from functools import partial

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.processes import Process
from hundredfold.designs.design import Design
from hundredfold.wording.clean import fit_sentences, fit_words, one_line
from hundredfold.wording.titles import said, stem, title_of

_PRINTED = {
    Process.SUBLIMATION: "dye sublimation",
    Process.DTG: "direct-to-garment printing",
    Process.DTF: "a printed film transfer",
    Process.UV: "UV printing",
    Process.ENGRAVING: "laser engraving",
}


@dataclass(frozen=True)
class Wording:
    """What a listing says. ``search_terms`` are words apart by spaces."""

    title: str
    bullets: tuple[str, ...]
    description: str
    search_terms: str


def write(design: Design, blank: Blank, channel: Channel, colours: Collection[str] | None = None) -> Wording:
    """The wording of a design on a blank for a channel, inside ``channel.limits``.

    ``colours`` are the blank's colours that the listing offers; None for all.
    """
    limits, language = channel.limits, channel.language
    keywords = _unique([*design.keywords, *blank.words, design.niche, design.occasion])
    facts = _facts(design, blank, colours, language)

    def fitted(make: Callable[[int], str], room: int) -> str:
        text = make(room)
        added = len(channel.sheet.kind.as_read(text)) - len(text)  # the channel counts an apostrophe too
        return make(room - added) if added else text

    title = fitted(
        lambda room: title_of(design.title, blank.name, keywords, room, language), limits.title_chars
    )
    bullets = [fitted(partial(fit_words, one_line(fact)), limits.bullet_chars) for fact in facts]
    sentences = [f"{fact}." for fact in facts]
    return Wording(
        title=title,
        bullets=tuple(bullet for bullet in bullets if bullet)[: limits.bullets],
        description=fitted(partial(fit_sentences, sentences), limits.description_chars),
        search_terms=fitted(lambda room: search_terms(keywords, room, already=title), limits.search_bytes),
    )


def search_terms(phrases: Iterable[str], room_bytes: int, already: str = "") -> str:
    """Single words from the phrases, none twice, in at most ``room_bytes`` bytes of UTF-8.

    Words the title has not said come first, the rest follow where there is room; shorter words fill
    what is left. Order is otherwise the phrases' own.
    """
    words: dict[str, str] = {}
    for phrase in phrases:
        for word in one_line(phrase).casefold().split():
            bare = word.strip(".,;:!?\"'()[]{}|&")
            if bare:
                words.setdefault(stem(bare), bare)
    in_title = said(already)
    order = [w for s, w in words.items() if s not in in_title] + [
        w for s, w in words.items() if s in in_title
    ]
    chosen: list[str] = []
    used = 0
    for word in order:
        size = len(word.encode()) + (1 if chosen else 0)
        if used + size <= room_bytes:
            chosen.append(word)
            used += size
    return " ".join(chosen)


def _facts(design: Design, blank: Blank, colours: Collection[str] | None, language: str) -> list[str]:
    """True sentences without their full stop, the most useful first."""
    name = _inside(one_line(blank.name))
    facts = [f"{one_line(design.title)} on {_article(name)} {name}"]
    facts.append(f"Made to order with {_PRINTED[blank.process]} on {blank.material.value}")
    facts += [
        fact
        for fact in (_measures(blank), _colours(blank, colours, language), _sizes(blank, colours))
        if fact
    ]
    if design.occasion:
        facts.append(f"Chosen for {one_line(design.occasion)}")
    if design.niche:
        facts.append(f"For {one_line(design.niche)}")
    return [fact[:1].upper() + fact[1:] for fact in facts]


def _measures(blank: Blank) -> str:
    body, parts = blank.body, []
    if body.capacity_ml:
        parts.append(f"holds {body.capacity_ml:g} ml")
    if body.height_mm and body.width_mm:
        parts.append(f"{body.width_mm:g} x {body.height_mm:g} mm")
    elif body.height_mm:
        parts.append(f"{body.height_mm:g} mm high")
    if body.diameter_mm:
        parts.append(f"{body.diameter_mm:g} mm across")
    text = ", ".join(parts)
    return text[:1].upper() + text[1:]


def _colours(blank: Blank, colours: Collection[str] | None, language: str) -> str:
    offered = {v.colour for v in blank.offered() if colours is None or v.colour in colours}
    names = [one_line(colour.name) for colour in blank.colours if colour.code in offered]
    word = "Colors" if language.casefold() == "en-us" else "Colours"
    return f"{word}: {', '.join(names)}" if len(names) > 1 else ""


def _sizes(blank: Blank, colours: Collection[str] | None) -> str:
    sizes = _unique(v.size for v in blank.offered() if colours is None or v.colour in colours)
    return f"Sizes: {', '.join(sizes)}" if len(sizes) > 1 else ""


def _inside(name: str) -> str:
    """A name inside a sentence: its first capital small, unless the word has more or is one (T-shirt)."""
    first = name.split(" ")[0].split("-")[0]
    return name[:1].lower() + name[1:] if len(first) > 1 and first[1:].islower() else name


def _article(name: str) -> str:
    return "an" if name[:1].casefold() in "aeiou" else "a"


def _unique(texts: Iterable[str]) -> list[str]:
    """The texts that say something, each once, in order."""
    return list(dict.fromkeys(text for text in map(one_line, texts) if text))
