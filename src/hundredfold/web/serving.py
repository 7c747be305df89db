"""Starts the page on this computer's loopback address, once a shop: a second start finds the first."""

import contextlib
import ipaddress
import json
import secrets
import socket
import threading
import webbrowser
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from urllib.error import URLError
from urllib.request import HTTPRedirectHandler, build_opener

import uvicorn

from hundredfold.kernel.errors import ShopError
from hundredfold.web.app import build
from hundredfold.web.gate import START
from hundredfold.web.seal import Seal
from hundredfold.workshop.shop.opennote import forget_page, note_page, noted_page

_ANSWER_S = 2.0


@dataclass(frozen=True)
class Opened:
    """Where the page is. ``found`` says that an earlier start serves it already."""

    address: str
    found: bool


def first_address(host: str, port: int, seal: Seal) -> str:
    """The address that lets a browser in."""
    name = f"[{host}]" if ":" in host else host
    return f"http://{name}:{port}{START}?key={seal.key}"


def loopback(host: str) -> str:
    """``host`` where it is this computer's own address. Raises ShopError ``not-this-computer``."""
    with contextlib.suppress(ValueError):
        if ipaddress.ip_address("127.0.0.1" if host == "localhost" else host).is_loopback:
            return "127.0.0.1" if host == "localhost" else host
    raise ShopError(
        "not-this-computer",
        f"the page would be open to other computers at {host}",
        "leave --address away, or give 127.0.0.1; the page has no passwords and is for this computer alone",
    )


def serve(shop: Path, host: str, port: int, browser: bool, say: Callable[[Opened], None]) -> None:
    """Serve the page until it is stopped; with another start at work, only open that one's address.

    ``port`` 0 takes a free one. Raises ShopError ``not-this-computer`` and ``port-taken``.
    """
    host = loopback(host)
    held = noted_page(shop)
    if held is not None and _answers(held):
        say(Opened(held, found=True))
        if browser:
            webbrowser.open(held)
        return
    listening = _listen(host, port)
    with listening:
        taken = listening.getsockname()[1]
        seal = Seal(secrets.token_urlsafe(32))
        address = first_address(host, taken, seal)
        note_page(shop, address)
        try:
            say(Opened(address, found=False))
            if browser:
                threading.Timer(0.5, webbrowser.open, (address,)).start()
            _run(shop, seal, host, taken, listening)
        finally:
            forget_page(shop, address)


def hosts(host: str, port: int) -> tuple[str, ...]:
    """The Host headers under which the page may be asked."""
    own = f"[{host}]:{port}" if ":" in host else f"{host}:{port}"
    return (own, f"localhost:{port}")


def _run(shop: Path, seal: Seal, host: str, port: int, listening: socket.socket) -> None:
    config = uvicorn.Config(
        build(shop, seal, hosts(host, port), address=first_address(host, port, seal)),
        log_level="error",
        access_log=False,
        server_header=False,
    )
    uvicorn.Server(config).run(sockets=[listening])


def _listen(host: str, port: int) -> socket.socket:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    listening = socket.socket(family, socket.SOCK_STREAM)
    try:
        listening.bind((host, port))
        listening.listen(128)  # the address may be asked as soon as it is said
    except OSError as error:
        listening.close()
        what = f"another program uses the address {host}, port {port} ({error.strerror})"
        raise ShopError("port-taken", what, "leave --port away: a free one is taken then") from None
    return listening


class _Stay(HTTPRedirectHandler):
    def redirect_request(self, *_args: object, **_names: object) -> None:
        return None


def _answers(address: str) -> bool:
    """Whether a page with this key answers there: it sends the browser on, with a cookie."""
    try:
        build_opener(_Stay).open(address, timeout=_ANSWER_S)
    except URLError as error:
        return getattr(error, "code", None) == 303
    except (OSError, json.JSONDecodeError):
        return False
    return False
