"""Channels: where listings go: limits, fees, caps, and the table as the partner sees it."""

from hundredfold.catalogue.channels import Channel
from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ShopError
from hundredfold.web.asking import Ask, Shown, action, screen
from hundredfold.web.said import Said
from hundredfold.workshop.handover.adopting import adopt_file
from hundredfold.workshop.shop.bench import bench
from hundredfold.workshop.shop.desk import desk
from hundredfold.workshop.shop.fileedits import channel_stamp, edit_channel
from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.shop.incoming import incoming, keep_incoming
from hundredfold.workshop.shop.learnsheet import LearnedSheet, learn_sheet, write_learned
from hundredfold.workshop.views.sheetsample import sheet_sample


def channels(ask: Ask) -> Shown:
    """All channels."""
    shop = open_shop(ask.shop)
    return Shown(
        "channels.html", {"channels": shop.channels, "sold": {c.code: shop.sold_on(c) for c in shop.channels}}
    )


def channel(ask: Ask) -> Shown:
    """One channel: its table with an example row, and its settings."""
    shop = open_shop(ask.shop)
    asked = ask.query.get("row", "0")
    row = int(asked) if asked.isascii() and asked.isdigit() and len(asked) < 5 else 0
    sample = sheet_sample(ask.shop, ask.parts["channel"], row)
    empty = sum(one.required and not one.example for one in sample.columns) if sample.pack else 0
    values = {
        "channel": sample.channel,
        "sample": sample,
        "stamp": channel_stamp(shop, sample.channel.code),
        "file": shop.channel_files[sample.channel.code],
        "sold": shop.sold_on(sample.channel),
        "sentence": _sentence(sample.channel, empty),
    }
    return Shown("channel.html", values)


def _sentence(channel: Channel, empty: int) -> str:
    if empty:
        are = "is" if empty == 1 else "are"
        return f"{counted(empty, 'column')} of {channel.name} must be filled, and {are} not."
    return f"{channel.name} gets {counted(len(channel.sheet.columns), 'column')}."


def save(ask: Ask) -> Said:
    """Change what the form changed. Raises as ``edit_channel`` does."""
    form = ask.form
    found = open_shop(ask.shop).channel(form.text("channel"))
    changes: dict[tuple[str, ...], str | int] = {}
    if form.text("name") and form.text("name") != found.name:
        changes["name",] = form.text("name")
    if "daily" in form.fields and form.whole("daily") != found.daily_cap:
        changes["cap", "daily"] = form.whole("daily")
    for field, name in (("rate", "rate"), ("fixed", "fixed"), ("minimum", "minimum")):
        given = form.text(field).replace(",", ".")
        if given and given != form.text(f"was {field}"):
            changes["fees", name] = given
    back = f"/channels/{found.code}"
    if not changes:
        return Said("Nothing was changed.", back)
    edit_channel(ask.shop, found.code, changes, form.text("stamp"))
    said = f"{counted(len(changes), 'setting')} of {found.name} changed. Preparing the month takes them in."
    return Said(said, back)


def bring_sheet(ask: Ask) -> Said:
    """Put a partner's sheet aside, to be looked at. Raises as ``keep_incoming`` does."""
    code = ask.form.text("channel").casefold()
    if not code.replace("-", "").isalnum() or not code.isascii() or len(code) > 40:
        raise ShopError(
            "bad-form", "that is no code for a channel", "write small letters and digits, like north"
        )
    return Said("", f"/channels/{code}/learn/{_brought(ask)}")


def _brought(ask: Ask) -> str:
    files = ask.form.files.get("files", ())
    if not files:
        raise ShopError("bad-form", "no file came with it", "choose the partner's file")
    return keep_incoming(ask.shop, files[0].name, files[0].content)


def learned(ask: Ask) -> Shown:
    """What was understood of a partner's sheet; nothing is changed by looking."""
    found, file = _learn(ask, ask.parts["channel"], ask.parts["key"], ask.query.get("sheet", ""))
    columns = sorted(found.columns, key=lambda one: _RANK[_surety(one.kept, one.proposal.surety.value)])
    values = {
        "found": found,
        "file": file,
        "key": ask.parts["key"],
        "sheet": ask.query.get("sheet", ""),
        "columns": [(one, _surety(one.kept, one.proposal.surety.value)) for one in columns],
        "sentence": _learned_sentence(found),
    }
    return Shown("learned.html", values)


_RANK = {"gap": 0, "likely": 1, "sure": 2, "yours": 3}


def _surety(kept: bool, surety: str) -> str:
    return "yours" if kept else surety


def _learned_sentence(found: LearnedSheet) -> str:
    count = len(found.gaps)
    if not count:
        return f"All {counted(len(found.columns), 'column')} are understood."
    return f"{counted(count, 'column has', 'columns have')} nothing to fill {'it' if count == 1 else 'them'}."


def _learn(ask: Ask, code: str, key: str, sheet: str) -> tuple[LearnedSheet, str]:
    path = incoming(ask.shop, key)
    with desk(ask.shop, "") as opened:
        skus = frozenset(opened.ledger().owners)
        return learn_sheet(opened.shop, path, code, sheet, "", None, skus), path.name


def take_sheet(ask: Ask) -> Said:
    """Write what was learned. Raises as ``learn_sheet`` and ``write_learned`` do."""
    form = ask.form
    found, file = _learn(ask, form.text("channel"), form.text("key"), form.text("sheet"))
    write_learned(open_shop(ask.shop), found)
    said = f"{file} is learned: {counted(len(found.columns), 'column')}, {counted(len(found.gaps), 'gap')}."
    return Said(said, f"/channels/{found.channel}", 0, tuple(f"wrote {name}" for name in found.files))


def adopt(ask: Ask) -> Said:
    """Take in a channel's list of what is live. Raises as ``adopt_file`` does."""
    code, key = ask.form.text("channel"), _brought(ask)
    with bench(ask.shop, "adopt") as opened:
        found, decision = adopt_file(opened, incoming(ask.shop, key), code)
    more = tuple(f"{one.item}: {one.what}. {one.fix}" for one in found.findings)
    said = f"{counted(len(found.events), 'row')} taken in as live already."
    return Said(said, f"/channels/{code}", decision, more)


ROUTES = (
    screen("/channels", channels),
    screen("/channels/{channel}", channel),
    screen("/channels/{channel}/learn/{key}", learned),
    action("/channels/save", save),
    action("/channels/learn", bring_sheet),
    action("/channels/learn/take", take_sheet),
    action("/channels/adopt", adopt),
)
