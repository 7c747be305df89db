"""Pictures: flat art, and designs on blanks."""

from starlette.responses import Response

from hundredfold.designs.nudge import Nudge
from hundredfold.kernel.errors import ShopError
from hundredfold.web.asking import Ask, screen
from hundredfold.workshop.shop.beginning import examples
from hundredfold.workshop.shop.newshop import is_shop
from hundredfold.workshop.views.pictures import AS_DRAWN, flat_art, mock_up_of


def art(ask: Ask) -> Response:
    """The design by itself."""
    pictures = ask.keeping.pictures
    wanted = flat_art(
        pictures.book, ask.parts["design"], _whole(ask, "w", 240), _whole(ask, "repair", AS_DRAWN)
    )
    return pictures.answer(wanted, ask.tag)


def goods(ask: Ask) -> Response:
    """The design on a blank's colour, where asked with a repair made, or in a place that is only tried."""
    pictures, parts = ask.keeping.pictures, ask.parts
    nudge = None
    if "scale" in ask.query:
        nudge = Nudge(*(_number(ask, name) for name in ("scale", "right", "down")))
    wanted = mock_up_of(
        pictures.book,
        parts["design"],
        parts["blank"],
        parts["colour"],
        _whole(ask, "w", 320),
        _whole(ask, "repair", AS_DRAWN),
        nudge,
    )
    return pictures.answer(wanted, ask.tag)


def bare(ask: Ask) -> Response:
    """A blank without art: one of the shop, else one of the examples."""
    blanks = {one.code: one for one in examples().blanks}
    if is_shop(ask.shop):
        blanks |= {one.code: one for one in ask.keeping.pictures.book.shop().blanks}
    blank = blanks.get(ask.parts["blank"])
    if blank is None:
        raise ShopError("unknown-blank", "no blank has this code", "look at the blanks again")
    return ask.keeping.pictures.bare(blank, _whole(ask, "w", 240), ask.tag)


def _whole(ask: Ask, name: str, otherwise: int) -> int:
    text = ask.query.get(name, "")
    return int(text) if text.isascii() and text.isdigit() and len(text) < 6 else otherwise


def _number(ask: Ask, name: str) -> float:
    try:
        value = float(ask.query.get(name, "0"))
    except ValueError:
        value = float("nan")
    if not -1000 <= value <= 1000:
        raise ShopError("bad-form", f"{name} is no length or size", "give a number of millimetres")
    return value


ROUTES = (
    screen("/bare/{blank}.webp", bare),
    screen("/art/{design}.webp", art),
    screen("/goods/{design}/{blank}/{colour}.webp", goods),
)
