"""A screen is a function from what is asked to what is shown; an action, one from a form to what is said.

The functions are plain ones: they run on a thread beside the server's loop, so that none holds up another.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.routing import Route

from hundredfold.kernel.errors import ShopError
from hundredfold.web.clock import today
from hundredfold.web.forms import SentForm, read_form
from hundredfold.web.keeping import Keeping
from hundredfold.web.rendering import PageHead, Pages
from hundredfold.web.said import Said
from hundredfold.workshop.shop.newshop import is_shop
from hundredfold.workshop.views.names import shop_name


@dataclass(frozen=True)
class Ask:
    """What a screen or an action is asked. ``keeping`` is what this start of the page holds."""

    shop: Path
    parts: Mapping[str, str]
    query: Mapping[str, str]
    keeping: Keeping
    form: SentForm = field(default_factory=SentForm)
    tag: str = ""  # the If-None-Match of the request


@dataclass(frozen=True)
class Shown:
    """A page: its template and the template's values."""

    template: str
    values: Mapping[str, Any] = field(default_factory=dict)
    status: int = 200


Screen = Callable[[Ask], Shown | Response]
Action = Callable[[Ask], Said]


def screen(path: str, run: Screen) -> Route:
    """The route of a screen."""

    async def answer(request: Request) -> Response:
        shown = await run_in_threadpool(run, _ask(request))
        if isinstance(shown, Response):
            return shown
        head = await run_in_threadpool(_head, request)
        pages: Pages = request.app.state.pages
        return pages.show(request, shown.template, shown.values, head, shown.status)

    return Route(path, answer, methods=["GET"], name=path)


def action(path: str, run: Action) -> Route:
    """The route of an action: it says what was done and leads on; a script gets the same as JSON."""

    async def answer(request: Request) -> Response:
        scripted = "application/json" in request.headers.get("accept", "")
        try:
            form = await read_form(request, request.app.state.seal)
            ask = _ask(request, form)
            said = await run_in_threadpool(run, ask)
        except ShopError as error:
            if not scripted:
                raise
            return JSONResponse(error.as_json(), 409)
        ask.keeping.pictures.book.forget()  # what was decided shows at once, whatever was read a moment ago
        ask.keeping.say(said)
        if scripted:
            return JSONResponse(said.as_json(), headers={"cache-control": "no-store"})
        return RedirectResponse(_local(said.goto), status_code=303)

    return Route(path, answer, methods=["POST"], name=f"{path} (action)")


def _ask(request: Request, form: SentForm | None = None) -> Ask:
    state = request.app.state
    parts = {name: str(value) for name, value in request.path_params.items()}
    tag = request.headers.get("if-none-match", "")
    return Ask(state.shop, parts, request.query_params, state.keeping, form or SentForm(), tag)


def _head(request: Request) -> PageHead:
    state = request.app.state
    day = today()
    when = f"{day:%A} {day.day} {day:%B %Y}"
    return PageHead(shop_name(state.shop), when, state.keeping.said_on(request.url.path), is_shop(state.shop))


def _local(address: str) -> str:
    """An address of this page: no other host, whatever a form said."""
    return address if address.startswith("/") and not address.startswith(("//", "/\\")) else "/"
