"""Packs: what is due, proved, handed over once, fetched, and what came back."""

from pathlib import PurePosixPath

from starlette.responses import FileResponse, Response

from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Severity, worst
from hundredfold.ledger.answers import Answers
from hundredfold.runner.diskerrors import say_bytes
from hundredfold.web.asking import Ask, Shown, action, screen
from hundredfold.web.clock import today
from hundredfold.web.days import day_words, due_words
from hundredfold.web.plainwords import pack_words
from hundredfold.web.said import Said
from hundredfold.web.screens.working import seen
from hundredfold.workshop.handover.answering import answer
from hundredfold.workshop.handover.manypacks import deliver_many, settle_pack
from hundredfold.workshop.handover.verifying import verify_desk
from hundredfold.workshop.records.state import PackRecord
from hundredfold.workshop.shop.desk import beside, desk
from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.shop.incoming import incoming, keep_incoming
from hundredfold.workshop.views.packs import packs_view
from hundredfold.workshop.views.packsheet import pack_file, pack_sheet

_UNSURE = ("unsure", "handing over")


def packs(ask: Ask) -> Shown:
    """All packs: unsure ones first, then what is due, what comes later, what has gone."""
    every = packs_view(ask.shop).packs
    now = today().isoformat()
    unsure = [one for one in every if one.state in _UNSURE]
    open_ = [one for one in every if one.state in ("made", "planned")]
    due = [one for one in open_ if one.day <= now]
    later = [one for one in open_ if one.day > now]
    gone = [one for one in reversed(every) if one.state == "handed over"]
    channels = {one.code: one.name for one in open_shop(ask.shop).channels}
    values = {
        "unsure": unsure,
        "due": due,
        "later": later,
        "gone": gone,
        "channels": channels,
        "sentence": _sentence(unsure, due, later, gone),
        "day_words": day_words,
        "due_words": due_words,
        "work": seen(ask),
    }
    return Shown("packs.html", values)


def _sentence(
    unsure: list[PackRecord], due: list[PackRecord], later: list[PackRecord], gone: list[PackRecord]
) -> str:
    if unsure:
        they = "it" if len(unsure) == 1 else "they"
        return f"Did {they} arrive? {counted(len(unsure), 'pack')} cannot be told."
    if due:
        return f"{counted(len(due), 'pack')} {'is' if len(due) == 1 else 'are'} due."
    if later:
        return f"Nothing is due today; the next pack is {due_words(later[0].day)}."
    return "All packs are handed over." if gone else "No pack is made yet."


def pack(ask: Ask) -> Shown:
    """One pack: what is in it, its files, its table as they will read it."""
    sheet = pack_sheet(ask.shop, ask.parts["channel"], ask.parts["day"])
    found = None
    if ask.query.get("prove") == "1" and sheet.files:
        with desk(ask.shop, "") as opened:
            found = verify_desk(opened, [sheet.pack.pack]).packs[sheet.pack.pack]
    shop = open_shop(ask.shop)
    values = {
        "sheet": sheet,
        "pack": sheet.pack,
        "found": found,
        "sound": found is not None and worst(found) is not Severity.STOP,
        "day": day_words(sheet.pack.day),
        "due": due_words(sheet.pack.day),
        "to": str(shop.paths.root / shop.settings.delivery_folder),
        "say_bytes": say_bytes,
        "early": sheet.pack.day > today().isoformat(),
        "work": seen(ask),
    }
    return Shown("pack.html", values)


def fetch(ask: Ask) -> Response:
    """A file of a pack, always as a download, never shown in the page."""
    path = pack_file(ask.shop, ask.parts["channel"], ask.parts["day"], ask.parts["file"])
    return FileResponse(path, media_type="application/octet-stream", filename=path.name)


def hand_over(ask: Ask) -> Said:
    """Prove the pack and hand it over, once."""
    name = ask.form.text("pack")
    with desk(ask.shop, "deliver") as opened:
        done = deliver_many(opened, [name], today())
    if done.errors:
        raise done.errors[0]
    one, said = done.done[0], _named(ask, name)
    if one.done:
        size = f"{counted(one.files, 'file')}, {say_bytes(one.bytes)}" if one.files else one.note
        return Said(f"{said} is handed over: {size}, in {one.to}.", f"/packs/{name}")
    worst_first = sorted(one.findings, key=lambda finding: -finding.severity)
    more = tuple(f"{each.item}: {each.what}. {each.fix}" for each in worst_first)
    return Said(f"{said} was kept back: it is not sound.", f"/packs/{name}", 0, more)


def _named(ask: Ask, pack: str) -> str:
    names = {one.code: one.name for one in open_shop(ask.shop).channels}
    code = pack.partition("/")[0]
    return pack_words(names.get(code, code), pack)


def settle(ask: Ask) -> Said:
    """Say what became of a pack whose handing over nobody saw end."""
    name, happened = ask.form.text("pack"), ask.form.text("happened")
    if happened not in ("yes", "no"):
        raise ShopError("bad-form", "it is not said whether the pack arrived", "answer yes or no")
    with beside(ask.shop, "settle") as opened:
        settle_pack(opened, name, happened == "yes")
    ending = "it arrived" if happened == "yes" else "it did not arrive, and can be handed over again"
    return Said(f"{_named(ask, name)} is settled: {ending}.", "/packs")


def take_answer(ask: Ask) -> Said:
    """Read what a channel accepted and refused."""
    files = ask.form.files.get("files", ())
    if not files:
        raise ShopError("bad-form", "no file came with it", "choose the file that the channel sent back")
    key = keep_incoming(ask.shop, files[0].name, files[0].content)
    columns = {
        field: header
        for field in ("sku", "status", "reason", "identifier")
        if (header := ask.form.text(field))
    }
    with beside(ask.shop, "answer") as opened:
        found = answer(opened, incoming(ask.shop, key), ask.form.text("channel"), columns)
    return _answered(PurePosixPath(files[0].name).name, found)


def _answered(name: str, found: Answers) -> Said:
    known = f", {found.known} known already" if found.known else ""
    more = tuple(f"{each.item}: {each.what}. {each.fix}" for each in found.findings)
    return Said(f"{name}: {found.accepted} accepted, {found.refused} refused{known}.", "/packs", 0, more)


ROUTES = (
    screen("/packs", packs),
    screen("/packs/{channel}/{day}", pack),
    screen("/packs/{channel}/{day}/files/{file}", fetch),
    action("/packs/hand-over", hand_over),
    action("/packs/settle", settle),
    action("/packs/answer", take_answer),
)
