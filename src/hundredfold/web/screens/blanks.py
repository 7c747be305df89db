"""Blanks: the goods with their print areas to scale, their costs, and the partner's price list."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import PurePosixPath

from hundredfold.catalogue.blank_changes import BlankChange, ChangeKind
from hundredfold.catalogue.blanks import Blank, PrintArea
from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ShopError
from hundredfold.web.asking import Ask, Shown, action, screen
from hundredfold.web.forms import SentForm
from hundredfold.web.said import Said
from hundredfold.workshop.shop.blanksfile import Import, read_blanks_file, write_blanks
from hundredfold.workshop.shop.fileedits import blank_stamp, edit_blank
from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.shop.incoming import incoming, keep_incoming

_ORDER = (
    (ChangeKind.NEW, "New"),
    (ChangeKind.CHANGED, "Changed"),
    (ChangeKind.OUT, "Out of stock"),
    (ChangeKind.ENDED, "Gone"),
    (ChangeKind.BACK, "Back in stock"),
    (ChangeKind.RETURNED, "Sold again"),
)
_COST = "base cost"


@dataclass(frozen=True)
class AreaDrawn:
    """A print area to scale, millimetres; ``safe`` and ``cut`` lie inside, None where there is none."""

    name: str
    width: float
    height: float
    safe: tuple[float, float, float, float] | None
    cut: tuple[float, float, float, float] | None
    area: PrintArea


def blanks(ask: Ask) -> Shown:
    """All blanks with the cost of each."""
    shop = open_shop(ask.shop)
    values = {
        "blanks": shop.blanks,
        "findings": shop.findings,
        "costs": {b.code: _costs(b) for b in shop.blanks},
    }
    return Shown("blanks.html", values)


def _costs(blank: Blank) -> str:
    amounts = sorted({variant.base_cost.amount for variant in blank.offered()})
    if not amounts:
        return "nothing in stock"
    currency = blank.postage.currency
    low, high = f"{amounts[0]:.2f}", f"{amounts[-1]:.2f}"
    return f"{low} {currency}" if low == high else f"{low} to {high} {currency}"


def blank(ask: Ask) -> Shown:
    """One blank: its areas drawn, its settings to change."""
    shop = open_shop(ask.shop)
    found = shop.blank(ask.parts["blank"])
    findings = [one for one in shop.findings if one.item.startswith(found.code)]
    values = {
        "blank": found,
        "areas": [_drawn(area) for area in found.areas],
        "stamp": blank_stamp(shop, found.code),
        "file": shop.blank_files[found.code],
        "findings": findings,
    }
    return Shown("blank.html", values)


def _drawn(area: PrintArea) -> AreaDrawn:
    width, height = area.width_mm, area.height_mm
    return AreaDrawn(
        area.name,
        width,
        height,
        _inside(width, height, area.bleed_mm + area.safe_margin_mm) if area.safe_margin_mm else None,
        _inside(width, height, area.bleed_mm) if area.bleed_mm else None,
        area,
    )


def _inside(width: float, height: float, by: float) -> tuple[float, float, float, float]:
    return by, by, max(width - 2 * by, 0.0), max(height - 2 * by, 0.0)


def save(ask: Ask) -> Said:
    """Change what the form changed, and nothing else. Raises as ``edit_blank`` does."""
    shop = open_shop(ask.shop)
    found = shop.blank(ask.form.text("blank"))
    changes = _changes(ask.form, found)
    back = f"/blanks/{found.code}"
    if not changes:
        return Said("Nothing was changed.", back)
    edit_blank(ask.shop, found.code, changes, ask.form.text("stamp"))
    said = f"{counted(len(changes), 'setting')} of {found.name} changed. Preparing the month takes them in."
    return Said(said, back)


def _changes(form: SentForm, blank: Blank) -> dict[tuple[str, ...], str | float | bool]:
    found: dict[tuple[str, ...], str | float | bool] = {}

    def text(way: tuple[str, ...], name: str, old: str) -> None:
        if name in form.fields and form.text(name).replace(",", ".") != old:
            found[way] = form.text(name)

    def length(way: tuple[str, ...], name: str, old: float) -> None:
        if name in form.fields and abs(form.number(name) - old) > 1e-9:
            found[way] = form.number(name)

    if form.text("name") and form.text("name") != blank.name:
        found["name",] = form.text("name")
    text(("postage",), "postage", blank.postage.plain())
    if "rim_keep_out_mm" in form.fields:
        length(("rim_keep_out_mm",), "rim_keep_out_mm", blank.rim_keep_out_mm)
    for area in blank.areas:
        length(("areas", area.name, "safe_margin_mm"), f"safe {area.name}", area.safe_margin_mm)
        length(("areas", area.name, "bleed_mm"), f"bleed {area.name}", area.bleed_mm)
    for variant in blank.variants:
        way = ("variants", variant.partner_code)
        text((*way, "base_cost"), f"cost {variant.partner_code}", variant.base_cost.plain())
        stock = form.text(f"stock {variant.partner_code}")
        if stock in ("yes", "no") and (stock == "yes") != variant.in_stock:
            found[*way, "in_stock"] = stock == "yes"
    return found


def bring_list(ask: Ask) -> Said:
    """Put a price list aside, to be looked at. Raises as ``keep_incoming`` does."""
    files = ask.form.files.get("files", ())
    if not files:
        raise ShopError("bad-form", "no file came with it", "choose the partner's price list")
    return Said("", f"/blanks/list/{keep_incoming(ask.shop, files[0].name, files[0].content)}")


def price_list(ask: Ask) -> Shown:
    """What a price list would change; nothing is changed by looking."""
    key, like, sheet = ask.parts["key"], ask.query.get("like", ""), ask.query.get("sheet", "")
    shop = open_shop(ask.shop)
    path = incoming(ask.shop, key)
    done = read_blanks_file(shop, path, sheet, like)
    names = {one.code: one.name for one in shop.blanks}
    values = {
        "key": key,
        "like": like,
        "sheet": sheet,
        "file": PurePosixPath(path.name).name,
        "done": done,
        "groups": _groups(done),
        "names": names,
        "blanks": shop.blanks,
        "sentence": _list_sentence(done),
        "fresh": any(one.kind is ChangeKind.NEW and not one.item for one in done.changes),
    }
    return Shown("pricelist.html", values)


def _groups(done: Import) -> Mapping[str, list[BlankChange]]:
    """The changes by what they are; costs by whether they rose."""
    groups: dict[str, list[BlankChange]] = {}
    for kind, word in _ORDER:
        for one in done.changes:
            if one.kind is kind:
                groups.setdefault(_word(one, word), []).append(one)
    first = ("Dearer", "Gone", "Out of stock", "New")
    ordered = sorted(groups, key=lambda word: first.index(word) if word in first else len(first))
    return {word: groups[word] for word in ordered}


def _word(one: BlankChange, word: str) -> str:
    if one.kind is not ChangeKind.CHANGED or one.what != _COST:
        return word
    try:
        return "Dearer" if float(one.now.split()[0]) > float(one.was.split()[0]) else "Cheaper"
    except (ValueError, IndexError):
        return word


def _list_sentence(done: Import) -> str:
    if not done.changes:
        return f"The list says what the shop has: {counted(done.unchanged, 'variant')}, nothing new."
    parts = [f"{len(found)} {word.lower()}" for word, found in _groups(done).items()]
    return f"{', '.join(parts)}; {done.unchanged} as they were."


def take_list(ask: Ask) -> Said:
    """Write what the list changes. Raises as ``read_blanks_file`` and ``write_blanks`` do."""
    shop = open_shop(ask.shop)
    form = ask.form
    path = incoming(ask.shop, form.text("key"))
    done = read_blanks_file(shop, path, form.text("sheet"), form.text("like"))
    write_blanks(shop, done)
    changes = counted(len(done.changes), "change")
    said = f"{path.name} is taken in: {changes} in {counted(len(done.texts), 'blank')}."
    return Said(said, "/blanks", 0, tuple(f"{one.item}: {one.what}. {one.fix}" for one in done.findings))


ROUTES = (
    screen("/blanks", blanks),
    screen("/blanks/list/{key}", price_list),
    screen("/blanks/{blank}", blank),
    action("/blanks/save", save),
    action("/blanks/list", bring_list),
    action("/blanks/list/take", take_list),
)
