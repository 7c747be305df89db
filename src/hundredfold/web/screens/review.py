"""Review: a proof sheet at a time, one decision a sheet, by key or by touch; the next is already there."""

from collections.abc import Sequence

from hundredfold.kernel.counting import counted
from hundredfold.web.asking import Ask, Shown, action, screen
from hundredfold.web.said import Said
from hundredfold.web.screens.working import seen
from hundredfold.workshop.listing.choices import choose
from hundredfold.workshop.proof.takingrepair import take_repair
from hundredfold.workshop.views.review import ReviewView, SheetLine, review_view, settling, sheet_view

_PICTURES = 5
_SECONDS_A_SHEET = 10  # nobody has been timed: an assumption, and said as one


def start(ask: Ask) -> Shown:
    """How many proof sheets there are, and why so few want a look."""
    review = review_view(ask.shop)
    return Shown(
        "review-start.html",
        {"review": review, "sentence": _sentence(review), "work": seen(ask), "some": _some},
    )


def _some(lines: Sequence[SheetLine]) -> list[SheetLine]:
    """A few to picture, of as many designs and blanks as there are."""
    chosen = list({one.design: one for one in reversed(lines)}.values())[::-1]
    blanks = {one.blank: one for one in reversed(chosen)}
    first = list(blanks.values())[::-1]
    return [*first, *(one for one in chosen if one not in first), *lines][:_PICTURES]


def _sentence(review: ReviewView) -> str:
    if not review.total:
        return "No proof sheet yet."
    if not review.open:
        return "No proof sheet wants a look."
    sheets = counted(len(review.open), "proof sheet wants", "proof sheets want")
    return f"{sheets} a look, about {_minutes(len(review.open))}."


def _minutes(sheets: int) -> str:
    minutes = -(-sheets * _SECONDS_A_SHEET // 60)
    return counted(minutes, "minute")


def sheet(ask: Ask) -> Shown:
    """One proof sheet."""
    found = sheet_view(ask.shop, ask.keeping.pictures.book, ask.parts["design"], ask.parts["blank"])
    return Shown("review.html", {"sheet": found, "minutes": _minutes(found.of_all)})


def settle(ask: Ask) -> Said:
    """One decision on a proof sheet. Raises as ``choose`` and ``take_repair`` do."""
    form, book = ask.form, ask.keeping.pictures.book
    found = sheet_view(ask.shop, book, form.text("design"), form.text("blank"))
    after = _address(found.next)
    what, where = form.text("what"), f"{found.title} on {found.blank.name}"
    if what == "repair":
        taken = take_repair(ask.shop, found.design, form.whole("repair", -1))
        return Said(f"{found.title}: {taken.words} taken.", after, taken.decision)
    refuse = what == "refuse"
    decision = choose(ask.shop, list(settling(found, form.texts("struck"), refuse)))
    if refuse:
        return Said(f"{where} is left out.", after, decision)
    kept = sum(one.state != "stop" and one.code not in form.texts("struck") for one in found.blank.colours)
    along = f", and {counted(len(found.follows), 'blank')} along with it" if found.follows else ""
    return Said(f"{where}: {counted(kept, 'colour')} kept{along}.", after, decision)


def _address(line: SheetLine | None) -> str:
    return f"/review/{line.design}/{line.blank}" if line is not None else "/review"


ROUTES = (
    screen("/review", start),
    screen("/review/{design}/{blank}", sheet),
    action("/review/settle", settle),
)
