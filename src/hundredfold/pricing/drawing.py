"""Prices drawn as bars in an SVG: each part as wide as it is dear, the target marked. Pure text."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from xml.sax.saxutils import escape

from hundredfold.pricing.explain import PricePart
from hundredfold.pricing.price import Price

_WIDTH, _ROW, _TOP, _LEFT, _RIGHT = 920, 44, 76, 250, 90
# Fill by kind: told apart without colour too, by hatching and by a border.
_FILLS = {
    "goods": "#454b53",
    "postage": "#8b9197",
    "fees": "url(#hatch)",
    "tax": "url(#dots)",
    "adverts": "url(#cross)",
    "returns": "#c9cbc7",
    "profit": "#1d5a3b",
}
_WORDS = {"goods": "blank", "postage": "postage", "fees": "fees", "tax": "tax"}
_STYLE = (
    "text{font:14px Helvetica,Arial,sans-serif;fill:#1b2027}.s{font-size:12px;fill:#454b53}"
    ".t{font-size:18px;font-weight:700}.n{text-anchor:end}.p{stroke:#1b2027;stroke-width:1}.low{fill:#a61b1b}"
)
_DEFS = (
    '<defs><pattern id="hatch" width="5" height="5" patternUnits="userSpaceOnUse">'
    '<rect width="5" height="5" fill="#fbfbf9"/><path d="M1 0v5" stroke="#1b2027"/></pattern>'
    '<pattern id="dots" width="6" height="6" patternUnits="userSpaceOnUse"><rect width="6" height="6" '
    'fill="#fbfbf9"/><circle cx="3" cy="3" r="1.3" fill="#0f5c7e"/></pattern>'
    '<pattern id="cross" width="6" height="6" patternUnits="userSpaceOnUse"><rect width="6" height="6" '
    'fill="#fbfbf9"/><path d="M0 0l6 6M6 0l-6 6" stroke="#7a4f00" stroke-width="1"/></pattern></defs>'
)


@dataclass(frozen=True)
class Bar:
    """One line of the drawing."""

    label: str
    below: str
    price: Price


def draw_bars(bars: Sequence[Bar], title: str) -> str:
    """An SVG of the bars, all to one scale within a currency. Raises ValueError where there are none."""
    longest: dict[str, Decimal] = {}
    for bar in bars:
        currency = bar.price.price.currency
        longest[currency] = max(longest.get(currency, Decimal(1)), _total(bar.price))
    if not longest:
        raise ValueError("nothing to draw")
    height = _TOP + _ROW * len(bars) + 16
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_WIDTH}" height="{height}" '
        f'viewBox="0 0 {_WIDTH} {height}" role="img" aria-label="{escape(title, {chr(34): "&quot;"})}">',
        f"<style>{_STYLE}</style>{_DEFS}",
        f'<rect width="{_WIDTH}" height="{height}" fill="#fbfbf9"/>',
        f'<text x="16" y="28" class="t">{escape(title)}</text>',
        _key(bars),
    ]
    for number, bar in enumerate(bars):
        lines.append(_bar(bar, _TOP + number * _ROW, longest[bar.price.price.currency]))
    return "\n".join([*lines, "</svg>", ""])


def _key(bars: Sequence[Bar]) -> str:
    kinds = {part.kind for bar in bars for part in bar.price.parts}
    drawn, x = [], 16
    for kind, fill in _FILLS.items():
        if kind in kinds:
            drawn.append(f'<rect class="p" x="{x}" y="42" width="18" height="12" fill="{fill}"/>')
            word = _WORDS.get(kind, kind)
            drawn.append(f'<text class="s" x="{x + 24}" y="53">{word}</text>')
            x += 44 + 7 * len(word)
    drawn.append(f'<path d="M{x + 9} 40v16" stroke="#a61b1b" stroke-width="2"/>')
    drawn.append(f'<text class="s" x="{x + 24}" y="53">what is wanted</text>')
    drawn.append(f'<text class="s n" x="{_WIDTH - 16}" y="53">profit</text>')
    return "".join(drawn)


def _bar(bar: Bar, y: int, longest: Decimal) -> str:
    scale = Decimal(_WIDTH - _LEFT - _RIGHT) / longest
    drawn = [
        f'<text x="16" y="{y + 15}">{escape(bar.label)}</text>',
        f'<text class="s" x="16" y="{y + 31}">{escape(bar.below)}</text>',
    ]
    x = Decimal(_LEFT)
    for part in bar.price.parts:
        width = max(Decimal(0), part.amount.amount) * scale
        drawn.append(
            f'<rect class="p" x="{x:.2f}" y="{y}" width="{width:.2f}" height="26" fill="{_FILLS[part.kind]}">'
            f"<title>{escape(_told(part))}</title></rect>"
        )
        if part.kind != "profit":
            x += width
    aim = x + bar.price.wanted.amount * scale
    drawn.append(f'<path d="M{aim:.2f} {y - 4}v34" stroke="#a61b1b" stroke-width="2"/>')
    profit = bar.price.parts[-1].amount
    low = ' low"' if bar.price.profit < bar.price.wanted else '"'
    drawn.append(f'<text class="n{low} x="{_WIDTH - 16}" y="{y + 18}">{profit.plain()}</text>')
    return "".join(drawn)


def _told(part: PricePart) -> str:
    return f"{part.name} {part.amount.plain()}" + (f" ({part.how})" if part.how else "")


def _total(price: Price) -> Decimal:
    positive = sum((part.amount.amount for part in price.parts if part.amount.amount > 0), Decimal(0))
    return max(positive, price.wanted.amount)
