"""Prices as bars on a terminal: each part of a price as many letters long as it is dear."""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from hundredfold.cli.printing import say

if TYPE_CHECKING:
    from hundredfold.pricing.price import Price

# A letter for each kind: the bar is read without colour as well.
LETTERS = {
    "tax": "x", "goods": "B", "postage": "p", "fees": "f", "adverts": "a", "returns": "r", "profit": "#"
}  # fmt: skip
_COLOURS = {
    "tax": "cyan", "goods": "white", "postage": "bright_black", "fees": "yellow", "adverts": "magenta",
    "returns": "red", "profit": "green",
}  # fmt: skip
_WORDS = {"goods": "blank", "fees": "fees", "profit": "profit"}
BAR = 46


def show_bars(bars: Iterable[tuple[str, "Price"]]) -> None:
    """One line a price: its label, its bar, its price; then what the letters mean."""
    from rich.console import Console
    from rich.text import Text

    drawn = list(bars)
    if not drawn:
        return
    console = Console(highlight=False, emoji=False)
    wide = max(len(label) for label, _ in drawn)
    longest: dict[str, float] = {}
    for _, price in drawn:
        paid = float(sum(part.amount.amount for part in price.parts if part.amount.amount > 0))
        longest[price.price.currency] = max(longest.get(price.price.currency, 0.0), paid)
    seen: dict[str, None] = {}
    for label, price in drawn:
        line = Text(f"  {label:<{wide}} ")
        kinds = _lengths(price, longest[price.price.currency])
        for kind, length in kinds:
            line.append(LETTERS[kind] * length, style=_COLOURS[kind])
            seen[kind] = None
        line.append(" " * (BAR - sum(length for _, length in kinds)) + f" {price.price.plain():>7}")
        console.print(line, no_wrap=True, crop=False)
    say("  " + "  ".join(f"{LETTERS[kind]} {_WORDS.get(kind, kind)}" for kind in LETTERS if kind in seen))


def _lengths(price: "Price", longest: float) -> Sequence[tuple[str, int]]:
    """How many letters each kind gets; ends are rounded, so that equal prices are equally long."""
    kinds: dict[str, float] = {}
    for part in price.parts:
        kinds[part.kind] = kinds.get(part.kind, 0.0) + max(0.0, float(part.amount.amount))
    found, end, before = [], 0.0, 0
    for kind, amount in kinds.items():
        end += amount / longest * BAR
        found.append((kind, min(round(end), BAR) - before))
        before = min(round(end), BAR)
    return found
