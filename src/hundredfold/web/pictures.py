"""Pictures at the asked size, made once: kept in memory and in the shop's cache, named by what they show."""

import contextlib
import hashlib
import threading
from collections import OrderedDict
from collections.abc import Callable
from pathlib import Path

from starlette.responses import Response

from hundredfold.catalogue.blanks import Blank
from hundredfold.kernel.errors import ShopError
from hundredfold.workshop.shop.paths import ShopPaths
from hundredfold.workshop.views.artbook import ArtBook
from hundredfold.workshop.views.pictures import PictureAsked, bare_blank, made
from hundredfold.workshop.views.shelf import PictureShelf

_HELD_BYTES = 48 * 1024 * 1024
_AT_ONCE = 2  # each holds tens of megabytes while it is made


class PagePictures:
    """The pictures of one shop."""

    def __init__(self, shop: Path) -> None:
        self.book = ArtBook(shop)
        self._shelf = PictureShelf(ShopPaths(shop).cache)
        self._held: OrderedDict[str, bytes] = OrderedDict()
        self._bytes = 0
        self._lock = threading.Lock()
        self._makers = threading.Semaphore(_AT_ONCE)

    def answer(self, wanted: PictureAsked, tag: str) -> Response:
        """The picture, or 304 where the browser holds it. Raises ShopError as ``made`` does."""
        return self._answer(wanted.key, tag, lambda: made(self.book, wanted))

    def _answer(self, key: str, tag: str, make: Callable[[], bytes]) -> Response:
        headers = {"etag": f'"{key[:32]}"', "cache-control": "private, no-cache"}
        if tag == headers["etag"]:
            return Response(status_code=304, headers=headers)
        return Response(self._picture(key, make), media_type="image/webp", headers=headers)

    def drawn(self, key: str, tag: str, make: Callable[[], bytes]) -> Response:
        """A picture of whatever ``make`` draws, named by ``key``."""
        return self._answer(key, tag, make)

    def bare(self, blank: Blank, width: int, tag: str) -> Response:
        """A blank without art."""
        key = hashlib.sha256(f"bare {width} {blank!r}".encode()).hexdigest()
        return self._answer(key, tag, lambda: bare_blank(blank, width))

    def _picture(self, key: str, make: Callable[[], bytes]) -> bytes:
        with self._lock:
            held = self._held.get(key)
            if held is not None:
                self._held.move_to_end(key)
                return held
        data = self._shelf.get(key)
        if data is None:
            with self._makers:
                data = make()
            with contextlib.suppress(ShopError):  # a full disk stops no picture
                self._shelf.put(key, data)
        self._hold(key, data)
        return data

    def _hold(self, key: str, data: bytes) -> None:
        with self._lock:
            if key not in self._held:
                self._held[key] = data
                self._bytes += len(data)
            while self._bytes > _HELD_BYTES:
                self._bytes -= len(self._held.popitem(last=False)[1])
