"""The page as one ASGI application: its routes, its errors, and the gate around all of it."""

import contextlib
import hashlib
import threading
from collections.abc import AsyncIterator, Sequence
from contextlib import asynccontextmanager
from importlib import resources
from pathlib import Path

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route
from starlette.types import ASGIApp

from hundredfold.kernel.errors import ExitCode, ShopError
from hundredfold.web.fonts import face
from hundredfold.web.gate import BodyTooLargeError, Gate, too_much
from hundredfold.web.keeping import Keeping
from hundredfold.web.rendering import PageHead, Pages
from hundredfold.web.screens.every import SCREENS
from hundredfold.web.screens.mend import mend_values
from hundredfold.web.seal import Seal
from hundredfold.workshop.shop.buglog import write_bug_log
from hundredfold.workshop.shop.newshop import is_shop
from hundredfold.workshop.views.names import shop_name
from hundredfold.workshop.views.today import today_view
from hundredfold.workshop.views.wall import wall_view

# Asked for again each time, and answered in a few bytes: an updated program shows its own face at once.
KEPT = {"cache-control": "private, no-cache"}
FOR_LONG = {"cache-control": "private, max-age=604800"}
TYPES = {".css": "text/css", ".js": "text/javascript", ".svg": "image/svg+xml"}


def build(
    shop: Path, seal: Seal, names: Sequence[str], screens: Sequence[BaseRoute] = SCREENS, address: str = ""
) -> ASGIApp:
    """The page of a shop. ``names`` are the hosts, with port, under which it may be asked; ``address`` is the
    first one, to be noted where the shop is only made later."""

    @asynccontextmanager
    async def life(app: Starlette) -> AsyncIterator[None]:
        # The first look reads everything; it begins before the browser asks.
        threading.Thread(target=_warm, args=(shop,), daemon=True).start()
        yield
        await run_in_threadpool(app.state.keeping.close)

    app = Starlette(
        lifespan=life,
        routes=[Route("/static/{name}", _static), Route("/fonts/{name}", _font), *screens],
        exception_handlers={
            BodyTooLargeError: _too_large,
            ShopError: _shop_error,
            HTTPException: _no_such_page,
            Exception: _our_bug,
        },
    )
    app.state.shop = shop
    app.state.seal = seal
    app.state.pages = Pages(seal.form)
    app.state.keeping = Keeping(shop, address)
    return Gate(app, seal, names)


STATUS = {"form-not-ours": 403, "bad-form": 400, "unknown-design": 404, "unknown-blank": 404,
          "unknown-check": 404, "unknown-channel": 404, "unknown-colour": 404,
          "no-shop": 404, "shop-in-use": 423}  # fmt: skip


def _warm(shop: Path) -> None:
    with contextlib.suppress(ShopError, OSError):
        if is_shop(shop):
            today_view(shop)
            wall_view(shop)


def _head(request: Request) -> PageHead:
    return PageHead(shop_name(request.app.state.shop), rooms=is_shop(request.app.state.shop))


async def _static(request: Request) -> Response:
    name = str(request.path_params["name"])
    kind = TYPES.get(Path(name).suffix)
    file = resources.files("hundredfold.web") / "static" / name
    if kind is None or "/" in name or "\\" in name or not file.is_file():
        raise HTTPException(404)
    data = file.read_bytes()
    tag = f'"{hashlib.sha256(data).hexdigest()[:16]}"'
    if request.headers.get("if-none-match") == tag:
        return Response(status_code=304, headers={**KEPT, "etag": tag})
    return Response(data, media_type=kind, headers={**KEPT, "etag": tag})


async def _font(request: Request) -> Response:
    data = face(str(request.path_params["name"]))
    if data is None:
        raise HTTPException(404)
    return Response(data, media_type="font/ttf", headers=FOR_LONG)


async def _shop_error(request: Request, error: Exception) -> Response:
    assert isinstance(error, ShopError)
    pages: Pages = request.app.state.pages
    status = STATUS.get(error.slug, 409)
    if request.method == "GET" and error.where.file.endswith(".toml"):
        with contextlib.suppress(ShopError):  # no file of the shop's own: then it is told, not mended
            values = await run_in_threadpool(mend_values, request.app.state.shop, error.where.file)
            return pages.show(request, "mend.html", values, _head(request), status)
    return pages.trouble(request, error, status, _head(request))


async def _too_large(request: Request, error: Exception) -> Response:
    return too_much()


async def _no_such_page(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 404
    pages: Pages = request.app.state.pages
    said = ShopError("no-page", "there is no such page here", "go back, or begin with This month")
    return pages.trouble(request, said, status, _head(request))


async def _our_bug(request: Request, error: Exception) -> Response:
    """A mistake of ours: a log for whoever mends it, one sentence for the seller, no traceback."""
    log = write_bug_log(error, ["open", request.method, request.url.path], request.app.state.shop)
    place = f"the details are in {log}" if log else "no log could be written"
    what = f"a mistake in Hundredfold itself: {type(error).__name__}; {place}"
    fix = "nothing of yours is lost; try it again, and if it comes back send us that file"
    pages: Pages = request.app.state.pages
    return pages.trouble(request, ShopError("our-bug", what, fix, exit_code=ExitCode.OUR_BUG), 500)
