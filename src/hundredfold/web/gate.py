"""Who may ask the page for anything: this computer, by this start's cookie, from this page; and how much.

The rules follow OWASP's cheat sheets on cross-site request forgery, session management and content security
policy; a foreign name that points here (DNS rebinding) is refused by its Host.
"""

from collections.abc import Iterable
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from hundredfold.web.seal import COOKIE, Seal

START = "/start"
FREE = ("/static/", "/fonts/")  # nothing of the shop is in them
LARGEST_BODY = 512 * 1024 * 1024
SAFE_METHODS = frozenset({"GET", "HEAD"})
POLICY = (
    "default-src 'none'; img-src 'self' blob:; style-src 'self'; script-src 'self'; font-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    # "no-referrer" would make browsers send "Origin: null" with our own forms.
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "x-frame-options": "DENY",
}


class BodyTooLargeError(Exception):
    """More came in than the page takes in one request."""


class Gate:
    """An ASGI application around the page's own."""

    def __init__(self, app: ASGIApp, seal: Seal, names: Iterable[str]) -> None:
        self._app = app
        self._seal = seal
        self._hosts = frozenset(names)
        self._origins = frozenset(f"http://{name}" for name in names)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Refuse with a sentence, or hand the request on with its body bounded."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        answer = self._first_address(scope) or self._refusal(scope)

        async def guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                MutableHeaders(scope=message).update(HEADERS)
            await send(message)

        if answer is not None:
            await answer(scope, receive, guarded)
            return
        try:
            await self._app(scope, _bounded(receive), guarded)
        except BodyTooLargeError:
            await too_much()(scope, receive, guarded)

    def _first_address(self, scope: Scope) -> Response | None:
        """The answer to the address that the terminal showed: the cookie, then the page."""
        if scope["path"] != START or Headers(scope=scope).get("host") not in self._hosts:
            return None
        key = parse_qs(scope["query_string"].decode("latin-1")).get("key", [""])[0]
        if not self._seal.opens(key):
            return _closed()
        answer = RedirectResponse("/", status_code=303)
        answer.set_cookie(COOKIE, self._seal.cookie, httponly=True, samesite="strict", path="/")
        return answer

    def _refusal(self, scope: Scope) -> Response | None:
        headers = Headers(scope=scope)
        if headers.get("host") not in self._hosts:
            return _sentence(
                421, "the page answers on this computer only, under the address it showed at its start"
            )
        if _length(headers) > LARGEST_BODY:
            return too_much()
        if scope["path"].startswith(FREE) and scope["method"] in SAFE_METHODS:
            return None
        if not self._seal.knows(_cookie(headers)):
            return _closed()
        if scope["method"] not in SAFE_METHODS and headers.get("origin") not in self._origins:
            return _sentence(403, "this came from another page; use the buttons of this one")
        return None


def _length(headers: Headers) -> int:
    text = headers.get("content-length", "0")
    return int(text) if text.isdecimal() else 0


def _cookie(headers: Headers) -> str:
    try:
        held = SimpleCookie(headers.get("cookie", ""))
    except CookieError:
        return ""
    return held[COOKIE].value if COOKIE in held else ""


def _bounded(receive: Receive) -> Receive:
    taken = 0

    async def reading() -> Message:
        nonlocal taken
        message = await receive()
        taken += len(message.get("body", b""))
        if taken > LARGEST_BODY:
            raise BodyTooLargeError
        return message

    return reading


def _closed() -> Response:
    return _sentence(
        403,
        "this page was opened by an earlier start, or by none; go to the terminal and open the address that "
        "`hundredfold open` shows",
    )


def _sentence(status: int, text: str) -> Response:
    return PlainTextResponse(text + "\n", status_code=status)


def too_much() -> Response:
    """The answer to more than is taken in one request."""
    most = LARGEST_BODY >> 20
    return _sentence(413, f"that is more than {most} MB at once; drop fewer files at a time")
