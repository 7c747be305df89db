"""A design: one finished piece of art with its name, keywords, rights and facts."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Self

from hundredfold.designs.facts import DesignFacts
from hundredfold.designs.names import keywords_from, title_from
from hundredfold.designs.nudge import Nudge


@dataclass(frozen=True)
class OwnWords:
    """A design's own words in one language, given by the seller: what it shows, and words to search by."""

    shows: str = ""
    keywords: tuple[str, ...] = ()
    source: str = ""


NO_WORDS = OwnWords()


@dataclass(frozen=True)
class Design:
    """One finished piece of art.

    ``id`` is given when the art is first seen and stays with it: a file replaced in place is the same
    design with new facts. ``path`` is relative to the shop folder, with forward slashes.
    """

    id: str
    path: str
    facts: DesignFacts
    title: str
    keywords: tuple[str, ...]
    niche: str = ""
    occasion: str = ""
    rights: str = ""
    languages: tuple[str, ...] = ()
    row: str = ""  # of a word list with its layout: what its light and its dark version share
    version: str = ""  # "light" or "dark": the goods this version is for
    smallest_type: float = 0.0  # least x-height by the file's width, of art set by us; 0 where not known
    nudges: Mapping[str, Nudge] = field(default_factory=dict)  # by blank code: not in its usual place there
    allowed: tuple[tuple[str, str], ...] = ()  # (blank, colour), "" for all: to be listed against the proof
    lines: tuple[str, ...] = ()  # what the art says, line by line; empty where only its name is known
    own_words: Mapping[str, OwnWords] = field(default_factory=dict)  # by language, such as "de"

    def words_in(self, language: str) -> OwnWords:
        """The design's own words in a language; empty ones where the seller gave none."""
        return self.own_words.get(language, NO_WORDS)

    @classmethod
    def named_by_file(cls, design_id: str, path: str, facts: DesignFacts) -> Self:
        """A design whose title and keywords are read from its file's name."""
        name = path.rsplit("/", 1)[-1]
        return cls(design_id, path, facts, title_from(name), keywords_from(name))
