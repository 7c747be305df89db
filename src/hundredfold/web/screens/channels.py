"""Channels: where listings go: limits, fees, caps, and the table as the partner sees it."""

from hundredfold.catalogue.channels import Channel
from hundredfold.kernel.counting import counted
from hundredfold.web.asking import Ask, Shown, action, screen
from hundredfold.web.said import Said
from hundredfold.workshop.shop.fileedits import channel_stamp, edit_channel
from hundredfold.workshop.shop.folder import open_shop
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


ROUTES = (
    screen("/channels", channels),
    screen("/channels/{channel}", channel),
    action("/channels/save", save),
)
