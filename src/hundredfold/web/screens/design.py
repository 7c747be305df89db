"""One design: on every blank and colour, with its findings, choices, repairs, place and words."""

from starlette.responses import JSONResponse, Response

from hundredfold.designs.names import title_from
from hundredfold.designs.nudge import Nudge
from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.choices import Answer, Choice, ChoiceKey
from hundredfold.web.asking import Ask, Shown, action, screen
from hundredfold.web.said import Said
from hundredfold.web.screens.working import seen
from hundredfold.workshop.handover.retiring import retire
from hundredfold.workshop.listing.choices import choose
from hundredfold.workshop.proof.takingrepair import take_repair
from hundredfold.workshop.shop.rights import Rights, set_rights
from hundredfold.workshop.steps.placed import place
from hundredfold.workshop.views.onedesign import DesignSeen, PlaceSeen, design_seen, place_seen


def design(ask: Ask) -> Shown:
    """The page of a design."""
    found = design_seen(ask.shop, ask.keeping.pictures.book, ask.parts["design"])
    shop = ask.keeping.pictures.book.shop()
    wanting = [one for one in found.blanks if any(c.struck or c.state != "passes" for c in one.colours)]
    values = {
        "design": found,
        "sentence": _sentence(found),
        "work": seen(ask),
        "wanting": wanting,
        "passing": [one for one in found.blanks if one not in wanting],
        "channels": {one.code: one.name for one in shop.channels},
        "goods_names": {one.code: one.name for one in shop.blanks},
    }
    return Shown("design.html", values)


def _sentence(found: DesignSeen) -> str:
    if found.retired:
        return "Sold no more."
    if not found.judged:
        return "It has not been proofed yet."
    if not found.blanks:
        return "It cannot be listed on anything."
    out = found.colours - found.listed
    return f"{found.listed} of {found.colours} colours to list" + (f", {out} left out." if out else ".")


def pick(ask: Ask) -> Said:
    """The colours that may go out, of the blanks that the form showed: what is unticked is refused.

    Raises as ``choose`` does.
    """
    form = ask.form
    found = design_seen(ask.shop, ask.keeping.pictures.book, form.text("design"))
    shown, kept = form.texts("blank"), form.texts("colour")
    blanks = [one for one in found.blanks if one.code in shown]
    if not blanks:
        raise ShopError("unknown-blank", "this design has no proof on that blank", "look at the design again")
    choices = []
    for blank, one in ((each, colour) for each in blanks for colour in each.colours):
        key = ChoiceKey(found.id, blank.code, one.code)
        ticked = f"{blank.code}/{one.code}" in kept
        if one.state != "stop" and not ticked and not one.struck:
            choices.append(Choice(key, Answer.REFUSE, form.text("reason")))
        elif one.struck and ticked:
            choices.append(Choice(key, Answer.OPEN))
    back = f"/designs/{found.id}"
    if not choices:
        return Said("Nothing was changed.", back)
    decision = choose(ask.shop, choices)
    out = sum(one.answer is Answer.REFUSE for one in choices)
    again = len(choices) - out
    parts = [f"{counted(out, 'colour')} struck"] if out else []
    parts += [f"{counted(again, 'colour')} brought back"] if again else []
    return Said(f"{found.title}: {', '.join(parts)}.", back, decision)


def word(ask: Ask) -> Said:
    """The seller's yes or no on a whole design. Raises as ``choose`` does."""
    form = ask.form
    said = {
        "allow": "is sold wherever taste alone stops it",
        "refuse": "is kept back",
        "open": "is left to its proof again",
    }
    answer = form.text("answer")
    if answer not in said:
        raise ShopError("bad-form", "it is not said whether to sell it", "press one of the three")
    art = ask.keeping.pictures.book.art(form.text("design"))
    decision = choose(ask.shop, [Choice(ChoiceKey(art.id), Answer(answer), form.text("reason"))])
    return Said(f"{title_from(art.path.rpartition('/')[2])} {said[answer]}.", f"/designs/{art.id}", decision)


def repair(ask: Ask) -> Said:
    """Take a repair. Raises as ``take_repair`` does."""
    design_id = ask.form.text("design")
    taken = take_repair(ask.shop, design_id, ask.form.whole("repair", -1))
    said = f"Taken: {taken.words}. The next proof judges it."
    return Said(said, f"/designs/{design_id}", taken.decision)


def rights(ask: Ask) -> Said:
    """Say whose work a design is."""
    form = ask.form
    art = ask.keeping.pictures.book.art(form.text("design"))
    row = Rights(art.path, *(form.text(name) for name in ("whose", "licence", "credit", "proof")))
    set_rights(ask.shop, [row])
    return Said(f"Noted whose work {art.path} is.", f"/designs/{art.id}")


def retiring(ask: Ask) -> Said:
    """Sell a design no more. Raises as ``retire`` does."""
    art = ask.keeping.pictures.book.art(ask.form.text("design"))
    done = retire(ask.shop, [art.path])
    live = sum(one.live for one in done)
    ends = f" {counted(live, 'live listing ends', 'live listings end')} with the next month." if live else ""
    return Said(f"{art.path} is sold no more.{ends}", f"/designs/{art.id}", done[0].decision if done else 0)


def placing(ask: Ask) -> Shown:
    """The print area of one blank with the art on it; the query tries another place and size."""
    book = ask.keeping.pictures.book
    found = design_seen(ask.shop, book, ask.parts["design"])
    blank = next((one for one in found.blanks if one.code == ask.parts["blank"]), None)
    if blank is None:
        raise ShopError("unknown-blank", "this design has no proof on that blank", "look at the design again")
    tried = _tried(ask) or blank.nudge or Nudge()
    colour = ask.query.get("colour", "") or next((c.code for c in blank.colours if c.state != "stop"), "")
    laid = place_seen(book, found.id, blank.code, tried, colour)
    words = place_words(laid, _scales(ask))
    values = {"design": found, "blank": blank, "nudge": tried, "place": laid, "words": words}
    return Shown("place.html", values)


def tried_place(ask: Ask) -> Response:
    """The same for the page's script: boxes and words."""
    book = ask.keeping.pictures.book
    laid = place_seen(book, ask.parts["design"], ask.parts["blank"], _tried(ask) or Nudge())
    told = {"art": laid.art, "words": place_words(laid, _scales(ask))}
    return JSONResponse(told, headers={"cache-control": "no-store"})


def keep_place(ask: Ask) -> Said:
    """Keep a place and size. Raises as ``place`` does."""
    form = ask.form
    usual = form.text("what") == "usual"
    nudge = Nudge() if usual else _nudge(*(form.number(name, was) for name, was in _FIELDS))
    decision = place(ask.shop, form.text("design"), form.text("blank"), nudge)
    said = (
        "It lies in its usual place again." if usual or nudge.nothing else "Its own place and size are kept."
    )
    return Said(said, f"/designs/{form.text('design')}/place/{form.text('blank')}", decision)


_FIELDS = (("scale", 100.0), ("right", 0.0), ("down", 0.0))


def _nudge(percent: float, right: float, down: float) -> Nudge:
    return Nudge(round(percent / 100, 4), round(right, 2), round(down, 2))


def _tried(ask: Ask) -> Nudge | None:
    if "scale" not in ask.query:
        return None
    try:
        return _nudge(*(float(ask.query.get(name, was)) for name, was in _FIELDS))
    except ValueError:
        raise ShopError("bad-form", "that is no place or size", "give millimetres and per cent") from None


def _scales(ask: Ask) -> bool:
    """Whether the art is a drawing, sharp at any size."""
    book = ask.keeping.pictures.book
    facts = book.facts(book.art(ask.parts["design"]))
    return facts is not None and facts.vector


def place_words(laid: PlaceSeen, drawing: bool) -> str:
    """What the place comes to, in millimetres, and whether the art is sharp enough for it."""
    left, top, width, height = laid.art[0]
    edge = min(left, top, laid.area_width - left - width, laid.area_height - top - height)
    if drawing:
        sharp = "A drawing is sharp at any size"
    elif laid.dpi >= laid.area_dpi:
        sharp = "As sharp as the print"
    else:
        sharp = f"{laid.dpi:.0f} dots an inch, where the print has {laid.area_dpi}"
    return (
        f"{width:.0f} by {height:.0f} mm, {left:.1f} mm from the left and {top:.1f} mm from the top; "
        f"{edge:.1f} mm to the nearest edge. {sharp}."
    )


ROUTES = (
    screen("/designs/{design}", design),
    action("/design/colours", pick),
    action("/design/choose", word),
    action("/design/repair", repair),
    action("/design/rights", rights),
    action("/design/retire", retiring),
    screen("/designs/{design}/place/{blank}", placing),
    screen("/designs/{design}/place/{blank}/tried.json", tried_place),
    action("/design/place", keep_place),
)
