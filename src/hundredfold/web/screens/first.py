"""First run: an empty folder, or none, becomes a month in six steps; the help stands beside each."""

import contextlib
from decimal import Decimal

from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ShopError
from hundredfold.web.asking import Ask, Shown, action, screen
from hundredfold.web.said import Said
from hundredfold.web.screens.working import seen
from hundredfold.workshop.shop.beginning import begin_shop, examples, set_settings, take_examples
from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.shop.newshop import is_shop, new_shop
from hundredfold.workshop.shop.opennote import note_page
from hundredfold.workshop.shop.rights import Rights, rights_of, set_rights
from hundredfold.workshop.views.artheaps import art_heaps
from hundredfold.workshop.views.begun import Begun, begun
from hundredfold.workshop.work.background import Work

STEPS = (
    ("Name the shop", "and the currency you count in"),
    ("Bring your designs", "a folder, as it is"),
    ("Say what you decorate", "your partner’s goods"),
    ("Show where you sell", "a partner or a market"),
    ("Say what a sale must earn", "after every cost and fee"),
    ("See the month", "checked, pictured, priced"),
)
_SHOWN = 8
CURRENCIES = ("GBP", "EUR", "USD", "CHF", "SEK", "DKK", "NOK", "PLN", "CAD", "AUD", "NZD", "JPY")


def first_page(ask: Ask) -> Shown:
    """Step one, where there is no shop yet."""
    return _step(ask, 1)


def step(ask: Ask) -> Shown:
    """One step by its number; without a number, the first that is not done."""
    number = ask.parts.get("number", "")
    if not is_shop(ask.shop):
        return _step(ask, 1)
    return _step(ask, int(number) if number in ("1", "2", "3", "4", "5", "6") else begun(ask.shop).next_step)


def _step(ask: Ask, number: int) -> Shown:
    there = begun(ask.shop) if is_shop(ask.shop) else Begun()
    work = seen(ask)
    values = {"number": number, "steps": STEPS, "there": there, "work": work, "currencies": CURRENCIES}
    values["folder"] = str(ask.shop.resolve())
    if number == 2 and there.designs:
        rights = rights_of(ask.shop)
        values["heaps"] = art_heaps(ask.shop, ask.keeping.pictures.book)
        values["whose"] = next((one.whose for one in rights.values() if one.whose), "")
    if number in (3, 4):
        values["examples"] = examples()
    if number == 6:
        values["shown"] = _some_art(ask, there)
        values["channels"] = [one.name for one in open_shop(ask.shop).channels] if there.name else []
    return Shown(f"first-{number}.html", values)


def _some_art(ask: Ask, there: Begun) -> list[tuple[str, str]]:
    """Designs that can be shown already, a few from all over the list."""
    book, found = ask.keeping.pictures.book, []
    for path in there.paths[:: max(1, len(there.paths) // _SHOWN)]:
        with contextlib.suppress(ShopError):
            art = book.art(path)
            if art.small:
                found.append((art.id, path))
    return found[:_SHOWN]


def name(ask: Ask) -> Said:
    """Make the shop, or give it another name. Raises as ``begin_shop`` does."""
    form = ask.form
    if is_shop(ask.shop):
        set_settings(ask.shop, {"name": form.text("name"), "currency": form.text("currency", "GBP")})
        return Said("", "/begin")
    shop = begin_shop(ask.shop, form.text("name"), form.text("currency", "GBP"))
    note_page(ask.shop, ask.keeping.address)
    return Said(f"{shop.settings.name} is made; everything in it is a plain file.", "/begin/2")


def sample(ask: Ask) -> Said:
    """Make the sample shop here. Raises as ``new_shop`` does."""
    shop = new_shop(ask.shop, sample=True)
    note_page(ask.shop, ask.keeping.address)
    ask.keeping.work.start(Work.MONTH)
    return Said(
        f"{shop.settings.name} is an invented shop to try things on; its month is being prepared.", "/"
    )


def mine(ask: Ask) -> Said:
    """Say whose work the designs are that have no row yet."""
    whose = ask.form.text("whose") or open_shop(ask.shop).settings.name
    known = rights_of(ask.shop)
    fresh = [Rights(path, whose, "own work") for path in begun(ask.shop).paths if path not in known]
    set_rights(ask.shop, fresh)
    return Said("", "/begin/3")


def goods(ask: Ask) -> Said:
    """Take example blanks. Raises as ``take_examples`` does."""
    codes = ask.form.texts("blank")
    if not codes and not open_shop(ask.shop).blanks:
        raise ShopError("bad-form", "no blank is chosen", "choose one at least, or bring a price list")
    take_examples(ask.shop, codes)
    said = f"{counted(len(codes), 'blank')} chosen. Put your partner’s costs in before you sell."
    return Said(said if codes else "", "/begin/4")


def places(ask: Ask) -> Said:
    """Take example channels. Raises as ``take_examples`` does."""
    codes = ask.form.texts("channel")
    shop = open_shop(ask.shop)
    if not codes and not shop.channels:
        raise ShopError("bad-form", "no channel is chosen", "choose one at least, or bring its empty sheet")
    rates = {one.currency: ask.form.text(f"rate {one.currency}") for one in examples().channels}
    take_examples(ask.shop, (), codes, {currency: rate for currency, rate in rates.items() if rate})
    return Said("", "/begin/5")


def target(ask: Ask) -> Said:
    """Set what a sale must earn. Raises as ``set_settings`` does."""
    text = ask.form.text("target").replace(",", ".")
    try:
        wrong = not text or not Decimal(text).is_finite()
    except ArithmeticError:
        wrong = True
    if wrong:
        raise ShopError("bad-form", f'"{text[:40]}" is no amount', "write it like 3.00")
    set_settings(ask.shop, {"target_profit": text})
    return Said("", "/begin/6")


ROUTES = (
    screen("/begin", step),
    screen("/begin/{number}", step),
    action("/begin/name", name),
    action("/begin/sample", sample),
    action("/begin/mine", mine),
    action("/begin/goods", goods),
    action("/begin/places", places),
    action("/begin/target", target),
)
