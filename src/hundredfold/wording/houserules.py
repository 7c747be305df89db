"""House rules: forbidden words, claims that need proof, characters that are refused."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache

from hundredfold.catalogue.blanks import Blank
from hundredfold.screening.blocked import blocked_in

# Claims a buyer or an authority may ask to see proved, by what they claim. Common practice, no source: rules
# on advertising (in the EU, Directive 2005/29/EC; on green claims, 2024/825) want evidence for such words;
# local rules have the last word.
CLAIMS: tuple[tuple[str, str], ...] = (
    ("dishwasher safe", r"dishwasher[- ]?(?:safe|proof)|spülmaschinen\w*|lave[- ]vaisselle|lavavajillas"),
    ("microwave safe", r"microwave[- ]?(?:safe|proof)|mikrowellen\w*|micro[- ]ondes|microondas"),
    ("oven safe", r"oven[- ]?(?:safe|proof)|ofenfest\w*|backofen\w*|passe au four|apto para horno"),
    ("organic", r"organic|bio|biologi\w+|ökologi\w+|ecológic\w+|écologi\w+|gots"),
    ("handmade", r"hand[- ]?(?:made|crafted|painted|drawn|printed)|handgemacht\w*|handgefertigt\w*|fait main"
                 r"|hecho a mano|hecha a mano|artisanal\w*|artesanal\w*"),
    ("eco", r"eco[- ]?(?:friendly)?|sustainable|green product|umweltfreundlich\w*|nachhaltig\w*|durable"
            r"|sostenible\w*|biodegradable|recycled|recycelt\w*|recyclé\w*|reciclad\w*|carbon neutral"
            r"|climate neutral|klimaneutral\w*|plastic[- ]free|compostable"),
    ("vegan", r"vegan\w*"),
    ("fair trade", r"fair[- ]?trade|fairtrade"),
    ("bpa free", r"bpa[- ]?(?:free|frei)|sans bpa|sin bpa"),
    ("food safe", r"food[- ]?(?:safe|grade)|lebensmittelecht\w*|contact alimentaire|uso alimentario"),
    ("leak-proof", r"leak[- ]?proof|spill[- ]?proof|auslaufsicher\w*|étanche\w*|antigoteo"),
    ("fade-proof", r"fade[- ]?(?:proof|resistant)|never fades?|lichtecht\w*|waterproof|wasserfest\w*"),
    ("hypoallergenic", r"hypo-?allergen\w*"),
    ("premium", r"best[- ]?sell(?:er|ing)|number one|#1|award[- ]winning|guarantee[d]?|garantiert\w*"
                r"|garanti\w*|lifetime warranty|limited edition"),
    ("free delivery", r"free (?:delivery|shipping|returns)|kostenloser? versand|livraison gratuite"
                      r"|envío gratis"),
    ("made in", r"(?:made|printed|designed) in (?:the )?\w+|hergestellt in \w+|fabriqué en \w+|hecho en \w+"),
    ("child safe", r"child[- ]?(?:safe|proof)|baby[- ]?safe|kindersicher\w*"),
)  # fmt: skip
_CLAIMS = tuple((name, re.compile(rf"(?<!\w)(?:{pattern})(?!\w)", re.IGNORECASE)) for name, pattern in CLAIMS)
_PLAIN = str.maketrans("“”„«»’‘–—…×", '"""""\'\'--.x')


def claims_in(text: str) -> tuple[tuple[str, str], ...]:
    """Each claim a text makes, with the words that make it."""
    return tuple((name, found[0]) for name, pattern in _CLAIMS if (found := pattern.search(text)))


def proved(words: str, name: str, claims: Mapping[str, str]) -> bool:
    """Whether a blank's file states this claim with its source."""
    told = [claim.casefold() for claim, source in claims.items() if source.strip()]
    return any(name in claim or words.casefold() in claim for claim in told)


@dataclass(frozen=True)
class HouseRules:
    """What may stand in the texts of one blank in one channel.

    ``never`` are phrases of the channel and of the seller, each with who refuses it.
    """

    never: tuple[tuple[str, str], ...] = ()
    characters: str = ""
    claims: Mapping[str, str] = field(default_factory=dict)

    def refusal(self, text: str) -> str:
        """Why the text may not stand there; "" when it may."""
        why = _refused(text, self.never)
        if why:
            return why
        for name, words in _claims_of(text):
            if not proved(words, name, self.claims):
                return f'"{words}" is a claim ({name}) that the blank\'s file does not prove'
        return ""

    def banned(self, text: str) -> str:
        """The channel's or the seller's phrase in the text, with who refuses it; "" when there is none."""
        return _refused(text, self.never)

    def tidy(self, text: str) -> str:
        """The text without the characters that the channel refuses: plain signs for them where there are."""
        return _tidy(text, self.characters) if self.characters else text


def rules_for(blank: Blank, forbidden: Iterable[str], characters: str, blocked: Iterable[str]) -> HouseRules:
    """The rules of a blank in a channel: the channel's forbidden phrases, and the seller's own."""
    phrases = (
        *((phrase, "the channel refuses it") for phrase in forbidden),
        *((phrase, "it stands in blocked.txt") for phrase in blocked),
    )
    return HouseRules(phrases, characters, blank.claims)


@lru_cache(maxsize=4096)
def _claims_of(text: str) -> tuple[tuple[str, str], ...]:
    return claims_in(text)


@lru_cache(maxsize=4096)
def _refused(text: str, never: tuple[tuple[str, str], ...]) -> str:
    if not never:
        return ""
    reasons = dict(never)
    found = next(blocked_in(text, reasons), None)
    return f'"{found}": {reasons[found]}' if found is not None else ""


@lru_cache(maxsize=4096)
def _tidy(text: str, characters: str) -> str:
    kept = []
    for letter in text:
        plain = letter.translate(_PLAIN) if letter in characters else letter
        kept.append("" if plain in characters else plain)
    return " ".join("".join(kept).split())
