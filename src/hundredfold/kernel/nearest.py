"""The known word nearest to a mistyped one."""

from collections.abc import Iterable
from difflib import get_close_matches


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word most like ``word``, or None when nothing comes close. Case does not count."""
    by_folded = {choice.casefold(): choice for choice in sorted(known, reverse=True)}
    found = get_close_matches(word.casefold(), sorted(by_folded), n=1, cutoff=0.5)
    return by_folded[found[0]] if found else None


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Advice in words: the nearest known word where there is one, and else all of them."""
    choices = tuple(known)
    close = nearest(word, choices)
    if close is not None:
        return f'did you mean "{close}"?'
    return "use one of " + ", ".join(f'"{choice}"' for choice in choices) if choices else "leave it out"
