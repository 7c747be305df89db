"""Prices: where each price goes, and what would change, before anything is kept."""

from collections.abc import Sequence
from decimal import Decimal

from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ShopError
from hundredfold.web.asking import Ask, Shown, action, screen
from hundredfold.web.pricelines import PriceLine, price_lines
from hundredfold.web.said import Said
from hundredfold.workshop.shop.beginning import set_settings
from hundredfold.workshop.shop.folder import Shop, open_shop
from hundredfold.workshop.views.prices import own_price_view, prices_view, tried_view

KINDS = ("goods", "postage", "fees", "adverts", "returns", "tax", "profit")


def prices(ask: Ask) -> Shown:
    """All prices; with amounts to try in the query, what they would become."""
    shop = open_shop(ask.shop)
    tries = _tries(ask, shop)
    channel = ask.query.get("channel", "")
    kept = prices_view(ask.shop, "", channel).prices
    tried = tried_view(ask.shop, tries, "", channel).prices if tries else kept
    lines = price_lines(tried, kept)
    seen = {part.kind for line in lines for part in line.bar}
    values = {
        "lines": lines,
        "names": {one.code: one.name for one in shop.blanks},
        "channels": {one.code: one.name for one in shop.channels},
        "channel": channel,
        "kinds": [kind for kind in KINDS if kind in seen],
        "target": ask.query.get("target", "").strip() or shop.settings.target_profit.plain(),
        "now": shop.settings.target_profit.plain(),
        "currency": shop.settings.currency,
        "given": {name: ask.query.get(name, "0") for name in ("cost", "postage", "adverts", "fee")},
        "trying": bool(tries),
        "sentence": _sentence(lines, bool(tries)),
    }
    return Shown("prices.html", values)


def _tries(ask: Ask, shop: Shop) -> dict[str, str]:
    """The amounts of the form that differ from what is kept."""
    found: dict[str, str] = {}
    target = ask.query.get("target", "").strip().replace(",", ".")
    if target and target != shop.settings.target_profit.plain():
        found["target"] = target
    for name, ending in (("cost", "%"), ("fee", "%"), ("postage", ""), ("adverts", "")):
        text = ask.query.get(name, "").strip().replace(",", ".")
        if text.strip("0."):
            found[name] = f"+{text}{ending}" if text[0] not in "+-" else f"{text}{ending}"
    return found


def _sentence(lines: Sequence[PriceLine], trying: bool) -> str:
    if not lines:
        return "Nothing to price yet."
    without = sum(bool(line.trouble) for line in lines)
    short = sum(line.short for line in lines)
    if trying:
        changed = [line for line in lines if line.was and not line.trouble]
        if without:
            return f"{counted(without, 'line')} of {len(lines)} would have no price."
        if not changed:
            return "No price would change."
        most = max((abs(line.step) for line in changed), default=Decimal(0))
        return f"{len(changed)} of {counted(len(lines), 'price')} would change, the most by {most}."
    if without:
        return f"{counted(without, 'line')} of {len(lines)} {'has' if without == 1 else 'have'} no price."
    if short:
        return f"{short} of {counted(len(lines), 'price')} would earn too little."
    return (
        f"All {counted(len(lines), 'price')} earn what a sale must earn."
        if len(lines) > 1
        else "It earns enough."
    )


def one_blank(ask: Ask) -> Shown:
    """The sums of one blank, and what a price of one's own leaves."""
    shop = open_shop(ask.shop)
    blank = shop.blank(ask.parts["blank"])
    own = ask.query.get("at", "").strip().replace(",", ".")
    tried = own_price_view(ask.shop, blank.code, own) if own else None
    values = {
        "blank": blank,
        "lines": price_lines(prices_view(ask.shop, blank.code).prices),
        "channels": {one.code: one.name for one in shop.channels},
        "own": own,
        "tried": price_lines(tried.prices) if tried else (),
        "findings": tried.findings if tried else (),
    }
    return Shown("price.html", values)


def keep_target(ask: Ask) -> Said:
    """Keep what a sale must earn. Raises as ``set_settings`` does."""
    text = ask.form.text("target").replace(",", ".")
    try:
        good = bool(text) and Decimal(text).is_finite() and Decimal(text) >= 0
    except ArithmeticError:
        good = False
    if not good:
        raise ShopError("bad-form", f'"{text[:40]}" is no amount', "write it like 3.00")
    before = open_shop(ask.shop).settings.target_profit
    after = set_settings(ask.shop, {"target_profit": text}).settings.target_profit
    if before == after:
        return Said(f"A sale must earn {after} already.", "/prices")
    more = f"Before it was {before}. Preparing the month takes the new prices in; what is live gets a change."
    return Said(f"A sale must earn {after} from now on.", "/prices", 0, (more,))


ROUTES = (
    screen("/prices", prices),
    screen("/prices/{blank}", one_blank),
    action("/prices/target", keep_target),
)
