"""Small words: articles, prepositions and conjunctions, which a reader says in one breath with the next word.

A line does not end on one where another break is near as good, and none is ever set larger than the words
that carry the sense. The lists are the commonest function words of each language; common practice, no
single source.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.typesetting.spans import plain

_LISTS = {
    "en": "a an the and or nor but so yet if as at by for from in into of off on onto out over per than "
    "to up upon "
    "via with is it’s my your his her our their",
    "de": "der die das den dem des ein eine einen einem einer eines und oder aber als am an auf aus bei "
    "beim bis "
    "durch für im in ins mit nach ob ohne seit so um vom von vor wie zu zum zur über unter",
    "fr": "le la les un une des du de et ou ni mais à au aux en par pour sans sous sur dans chez vers "
    "que qui",
    "es": "el la los las un una unos unas y e o u ni a al ante bajo con de del desde en entre hacia "
    "para por que "
    "se sin sobre",
    "it": "il lo la i gli le un uno una e ed o ma a ad al alla allo ai agli alle con da dal dalla dei "
    "del della "
    "di in nel nella per su sul sulla tra fra che",
    "pt": "o a os as um uma uns umas e ou mas ao à aos às com da das de do dos em na nas no nos para "
    "pela pelo "
    "por que se sem sob sobre",
    "nl": "de het een en of maar aan bij door in met naar op om over te tot uit van voor zonder",
    "sv": "en ett den det de och eller men av för från i in med om på till ur utan vid över",
    "da": "en et den det de og eller men af for fra i ind med om på til ud uden ved over",
    "nb": "en ei et den det de og eller men av for fra i inn med om på til ut uten ved over",
    "pl": "a i o u w z do na od po we ze za nad pod przy lub ale czy",
    "cs": "a i k o s u v z do na od po ve ze za nad pod při nebo ale",
}
_SIGNS = frozenset("&+/–—-·•×@")
_EDGES = re.compile(r"^\W+|\W+$")


def is_small(word: str, language: str) -> bool:
    """Whether a word, as written with its punctuation, carries no sense of its own."""
    word = plain(word).strip()
    if word and all(char in _SIGNS for char in word):
        return True
    if word[-1:] in ",;:.!?…)":
        return False
    return _EDGES.sub("", word).casefold().replace("'", "’") in _words(language)


def _words(language: str) -> frozenset[str]:
    return _SETS.get(language.split("-")[0].lower(), frozenset())


_SETS = {tongue: frozenset(words.split()) for tongue, words in _LISTS.items()}


@dataclass(frozen=True, eq=False)
class Sense:
    """What a reader would say of each run of pieces, row the first piece and column one past the last."""

    dangles: NDArray[np.bool_]  # the run's last word is small
    small: NDArray[np.bool_]  # all its words are small
    alone: NDArray[np.bool_]  # it is one word
    hyphened: NDArray[np.bool_]  # it ends inside a word
    pauses: NDArray[np.bool_]  # it ends with a mark at which a reader pauses
    linking: NDArray[np.bool_]  # small words all, and the words before and after are not


def sense_of(pieces: Sequence[str], language: str) -> Sense:
    """Read the pieces between places to break."""
    pieces = [plain(piece) for piece in pieces]
    count = len(pieces)
    ends_word = [piece != piece.rstrip() or index == count - 1 for index, piece in enumerate(pieces)]
    small = np.array(
        [ends_word[k] and is_small(piece, language) for k, piece in enumerate(pieces)], dtype=bool
    )
    inside = np.array([piece.endswith(("\u00ad", "\u200b")) for piece in pieces], dtype=bool)
    # A word broken by UAX 14 inside itself, such as one with a hyphen, is no small word.
    after_break = np.array([k > 0 and not ends_word[k - 1] for k in range(count)], dtype=bool)
    small &= ~after_break
    start, end = np.arange(count)[:, None], np.arange(count + 1)[None, :]
    valid = end > start
    bad = np.concatenate([[0], np.cumsum(~small)])
    words = np.concatenate([[0], np.cumsum(ends_word)])
    last = np.concatenate([[False], small])
    soft = np.concatenate([[False], inside])
    paused = np.array([False, *(piece.rstrip()[-1:] in ",;:.!?…–—" for piece in pieces)], dtype=bool)
    return Sense(
        dangles=valid & last[None, :],
        small=valid & (bad[None, :] - bad[:-1, None] == 0),
        alone=valid & (words[None, :] - words[:-1, None] <= 1),
        hyphened=valid & soft[None, :],
        pauses=valid & paused[None, :],
        linking=valid
        & (bad[None, :] - bad[:-1, None] == 0)
        & ~np.concatenate([[False], small[:-1]])[:, None]
        & ~np.concatenate([small, [False]])[None, :],
    )
